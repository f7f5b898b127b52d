import type { Argument, Command, Option } from 'commander';
import type { Examples } from './command-examples.js';
import { examplesOf } from './examples.js';

/** What may stand at a place of a call: one of these words, a file, both, or anything. */
export interface Fits {
  readonly words: readonly string[];
  readonly files: boolean;
}

export interface OptionShape {
  readonly short?: string;
  readonly long: string;
  /** as written in help: <file> */
  readonly value?: string;
  readonly fits?: Fits;
  readonly says: string;
}

export interface ArgumentShape {
  /** as written in help: <rig>, [trip], <parts...> */
  readonly text: string;
  readonly fits: Fits;
  readonly repeats: boolean;
  readonly says: string;
}

/** A command as data, read off the program's own definitions; what completions and the manual page are made from. */
export interface CommandShape {
  /** the words that call it after the program's name: [], ['check'], ['sweep', 'merge'] */
  readonly path: readonly string[];
  readonly summary: string;
  readonly description: string;
  readonly args: readonly ArgumentShape[];
  readonly options: readonly OptionShape[];
  readonly subs: readonly CommandShape[];
  readonly examples: Examples;
}

/** Words that are known for the value of an option or of an argument, by its name without dashes and brackets. */
export type KnownWords = Readonly<Record<string, readonly string[]>>;

export function shapeOf(command: Command, known: KnownWords, path: readonly string[] = []): CommandShape {
  const help = command.createHelp();
  return {
    path,
    summary: command.summary() || command.description(),
    description: command.description(),
    args: command.registeredArguments.map((argument) => argumentShape(argument, known)),
    options: help.visibleOptions(command).map((option) => optionShape(option, known)),
    subs: help
      .visibleCommands(command)
      .map((sub) => shapeOf(sub, known, [...path, sub.name()]))
      .sort((a, b) => (a.path.at(-1) === 'help' ? 1 : 0) - (b.path.at(-1) === 'help' ? 1 : 0)),
    examples: examplesOf(path),
  };
}

/** The command and all below it, itself first. */
export function allShapes(shape: CommandShape): CommandShape[] {
  return [shape, ...shape.subs.flatMap(allShapes)];
}

function optionShape(option: Option, known: KnownWords): OptionShape {
  const value = /[<[].*[>\]]/.exec(option.flags)?.[0];
  const long = option.long ?? option.short!;
  return {
    ...(option.short && option.long && { short: option.short }),
    long,
    ...(value && { value, fits: fits(long.replace(/^--/, ''), value, option.argChoices, known) }),
    says: option.description,
  };
}

function argumentShape(argument: Argument, known: KnownWords): ArgumentShape {
  const name = argument.name();
  const dots = argument.variadic ? '...' : '';
  return {
    text: argument.required ? `<${name}${dots}>` : `[${name}${dots}]`,
    fits: fits(name, name, argument.argChoices, known),
    repeats: argument.variadic,
    says: argument.description,
  };
}

/** Arguments and values of these names are files. */
const FILES = /^<?(file|rig|trip|parts|log|out)>?$/;

function fits(name: string, value: string, choices: readonly string[] | undefined, known: KnownWords): Fits {
  return { words: choices ?? known[name] ?? [], files: FILES.test(value) || name === 'weather' };
}
