import { CAUTION } from '../show/findings.js';
import { plainAscii } from '../show/style.js';
import { wrapped } from '../show/table.js';
import { foldedCall } from './examples.js';
import { ENVIRONMENT, EXIT_CODES } from './manual-words.js';
import { type ArgumentShape, allShapes, type CommandShape, type OptionShape } from './shape.js';
import { TOPICS } from './topics.js';

/** Characters of a line of text before it is escaped. */
const LINE = 66;

/** The manual page, in the man macros of roff, from the program's own definitions. */
export function manualPage(root: CommandShape, version: string): string {
  const commands = allShapes(root).filter(({ path }) => path.length > 0);
  const lines = [
    `.TH STAYPUT 1 "" "stayput ${version}" "User Commands"`,
    '.SH NAME',
    `stayput \\- ${roffText(lowerFirst(root.description)).replace(/\?$/, '')}`,
    '.SH SYNOPSIS',
    '.B stayput',
    '.I command',
    '.RI [ argument ...\\&]',
    '.RI [ option ...\\&]',
    '.SH DESCRIPTION',
    roffText(
      'For people who live out of a vehicle on 12 V. A rig file says what is bolted in, a trip file where and when; stayput follows the energy step by step and tells whether the fridge ever stops, when, and why. Results go to standard output, all else to standard error.',
    ),
    '.PP',
    roffText(`${CAUTION} LFP must not be charged below freezing; lead-acid vents hydrogen.`),
    '.SH OPTIONS',
    ...root.options.flatMap(optionLines),
    '.SH COMMANDS',
    ...commands.flatMap(commandLines),
    '.SH TOPICS',
    roffText('stayput help TOPIC tells about:'),
    ...TOPICS.flatMap(({ name, summary }) => ['.TP', `.B ${roffLine(name)}`, roffText(summary)]),
    '.SH EXIT STATUS',
    ...EXIT_CODES.flatMap(([code, says]) => ['.TP', `.B ${code}`, roffText(says)]),
    '.SH ENVIRONMENT',
    ...ENVIRONMENT.flatMap(([names, says]) => ['.TP', `.B ${roffLine(names)}`, roffText(says)]),
  ];
  return `${lines.join('\n')}\n`;
}

function commandLines({ path, description, args, options, examples }: CommandShape): string[] {
  const name = path.join(' ');
  return [
    `.SS ${roffLine(`stayput ${name}`)}${args.map(({ text }) => ` ${roffLine(text)}`).join('')}`,
    roffText(description),
    ...args.flatMap(argumentLines),
    ...options.filter(({ long }) => long !== '--help').flatMap(optionLines),
    ...Object.entries(examples).flatMap(([call, does]) => [
      '.PP',
      roffText(`Example: ${does}`),
      '.PP',
      '.nf',
      '.RS',
      ...foldedCall(call, LINE).map((line) => roffLine(line.slice(2))),
      '.RE',
      '.fi',
    ]),
  ];
}

function argumentLines({ text, says }: ArgumentShape): string[] {
  return ['.TP', `.I ${roffLine(text)}`, roffText(says || text)];
}

function optionLines({ short, long, value, says }: OptionShape): string[] {
  const names = [...(short ? [short] : []), long].map((name) => `\\fB${roffLine(name)}\\fR`).join(', ');
  const of = value ? ` \\fI${roffLine(value.replace(/[<>]/g, ''))}\\fR` : '';
  return ['.TP', `${names}${of}`, roffText(says)];
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);

/** ASCII text for roff: nothing in it is taken for a request or an escape, and hyphens can be copied. */
export function roffText(text: string): string {
  return wrapped(plainAscii(text).replace(/\s+/g, ' ').trim(), LINE).map(roffLine).join('\n');
}

function roffLine(line: string): string {
  const escaped = line.replaceAll('\\', '\\e').replaceAll('-', '\\-').replaceAll("'", '\\(aq').replaceAll('"', '\\(dq');
  return escaped.startsWith('.') ? `\\&${escaped}` : escaped;
}
