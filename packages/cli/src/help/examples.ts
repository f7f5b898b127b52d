import type { Command } from 'commander';
import { wrapped } from '../show/table.js';
import { COMMAND_EXAMPLES, type Examples } from './command-examples.js';

/** Ends the help of each command below with its examples. */
export function addExamples(above: Command, path: readonly string[] = []): void {
  for (const command of above.commands) {
    const words = [...path, command.name()];
    const examples = examplesOf(words);
    if (Object.keys(examples).length > 0)
      command.addHelpText('after', () => `\n${exampleLines(examples, helpWidth(command)).join('\n')}`);
    addExamples(command, words);
  }
}

/** @param path the words that call a command */
export const examplesOf = (path: readonly string[]): Examples => COMMAND_EXAMPLES[path.join(' ')] ?? {};

/** Columns that help may fill. */
export function helpWidth(command: Command): number {
  return command.configureOutput().getOutHelpWidth?.() ?? 80;
}

function exampleLines(examples: Examples, width: number): string[] {
  const list = Object.entries(examples);
  return [
    list.length === 1 ? 'Example:' : 'Examples:',
    ...list.flatMap(([call, does]) => [...wrapped(does, width, '  # ', '  # '), ...foldedCall(call, width)]),
  ];
}

/** A call over as many lines as it needs, broken before options, so that it can still be copied into a shell. */
export function foldedCall(call: string, width: number): string[] {
  const [first, ...more] = call.split(/ (?=--|>)/);
  const lines = [`  ${first}`];
  for (const part of more) {
    const last = lines.length - 1;
    if (`${lines[last]} ${part} \\`.length <= width) lines[last] += ` ${part}`;
    else {
      lines[last] += ' \\';
      lines.push(`    ${part}`);
    }
  }
  return lines;
}
