import type { Draw } from './random.js';
import { KEYS, LETTERS, NUMBERS, TABLE, YAML } from './words.js';

export type Kind = 'yaml' | 'table';

const TOKEN = /[A-Za-z_]+|\d+(?:\.\d+)?|[^\s\w]/g;
/** A mutated file is kept below the size from which every reader refuses it. */
const MAX_LENGTH = 900_000;

/** The same file with a few things done to it that no writer would do. */
export function mutated(text: string, kind: Kind, others: readonly string[], draw: Draw): Uint8Array {
  let now = text;
  const rounds = 1 + Math.floor(-2 * Math.log(1 - draw.next()));
  for (let i = 0; i < rounds && now.length < MAX_LENGTH; i++) now = draw.one(TEXT_CHANGES)(now, kind, others, draw);
  if (draw.chance(0.08)) now = draw.one(WHOLE_CHANGES)(now, kind, draw);
  const bytes = encoded(now, draw);
  return draw.chance(0.15) ? flipped(bytes, draw) : bytes;
}

/** Nothing of a file at all. */
export function randomBytes(draw: Draw): Uint8Array {
  const bytes = new Uint8Array(draw.whole(draw.chance(0.1) ? 20_000 : 400));
  const high = draw.one([128, 256]);
  for (let i = 0; i < bytes.length; i++) bytes[i] = draw.whole(high);
  return bytes;
}

type Change = (text: string, kind: Kind, others: readonly string[], draw: Draw) => string;

const TEXT_CHANGES: readonly Change[] = [
  (text, _kind, _others, draw) => replaceMatch(text, /\d+(?:\.\d+)?/g, () => draw.one(NUMBERS), draw),
  (text, _kind, _others, draw) => replaceMatch(text, /\d+(?:\.\d+)?/g, () => nearNumber(draw), draw),
  (text, _kind, _others, draw) => replaceMatch(text, TOKEN, () => draw.one(text.match(TOKEN) ?? ['']), draw),
  (text, _kind, others, draw) => replaceMatch(text, TOKEN, () => draw.one(draw.one(others).match(TOKEN) ?? ['']), draw),
  (text, kind, _others, draw) => replaceMatch(text, TOKEN, () => word(kind, draw), draw),
  (text, kind, _others, draw) => inserted(text, draw.whole(text.length + 1), word(kind, draw)),
  (text, _kind, _others, draw) => inserted(text, draw.whole(text.length + 1), draw.one(LETTERS)),
  (text, _kind, _others, draw) => {
    const [from, to] = span(text, draw);
    return text.slice(0, from) + text.slice(to);
  },
  (text, _kind, _others, draw) => {
    const [from, to] = span(text, draw);
    return inserted(text, draw.whole(text.length + 1), text.slice(from, to));
  },
  (text, _kind, _others, draw) => ofLines(text, (lines) => lines.splice(draw.whole(lines.length), 1 + draw.whole(3))),
  (text, _kind, _others, draw) =>
    ofLines(text, (lines) => lines.splice(draw.whole(lines.length), 0, draw.one(lines), draw.one(lines))),
  (text, _kind, _others, draw) =>
    ofLines(text, (lines) => {
      const [a, b] = [draw.whole(lines.length), draw.whole(lines.length)];
      [lines[a], lines[b]] = [lines[b]!, lines[a]!];
    }),
  (text, kind, _others, draw) => ofLines(text, (lines) => lines.splice(draw.whole(lines.length), 0, line(kind, draw))),
  (text, _kind, others, draw) => {
    const other = draw.one(others);
    return text.slice(0, draw.whole(text.length + 1)) + other.slice(draw.whole(other.length + 1));
  },
  (text, kind, _others, draw) => {
    const piece = draw.chance(0.5) ? draw.one(text.match(TOKEN) ?? ['x']) : word(kind, draw);
    const times = 2 ** draw.whole(draw.chance(0.1) ? 17 : 9);
    return inserted(text, draw.whole(text.length + 1), piece.repeat(Math.min(times, MAX_LENGTH / (piece.length + 1))));
  },
];

const WHOLE_CHANGES: readonly ((text: string, kind: Kind, draw: Draw) => string)[] = [
  (text) => `\ufeff${text}`,
  (text) => text.replaceAll('\n', '\r\n'),
  (text) => text.replaceAll('\n', '\r'),
  (text) => text.replaceAll('\n', ' '),
  (text) => text.replaceAll(',', ';').replaceAll('.', ','),
  (text) => text.toUpperCase(),
  (text, _kind, draw) => '[{'[draw.whole(2)]!.repeat(10 ** (1 + draw.whole(5))) + text,
  (text, _kind, draw) => `${'- '.repeat(10 ** (1 + draw.whole(5)))}${text}`,
  (text, _kind, draw) => Array.from({ length: 2 ** draw.whole(9) }, (_, i) => `${' '.repeat(i)}a:`).join('\n') + text,
  (text, _kind, draw) => `x: ${draw.one(['"', "'", '|\n', '>\n', '&', '*', '!'])}${text}`,
  (text) => {
    const laughs = Array.from({ length: 12 }, (_, i) =>
      i === 0 ? 'l0: &l0 [x, x, x, x, x, x, x, x, x, x]' : `l${i}: &l${i} [${`*l${i - 1}, `.repeat(9)}*l${i - 1}]`,
    );
    return `${laughs.join('\n')}\n${text}`;
  },
  (text, kind, draw) => {
    const lines = text.split('\n');
    const some = draw.one(lines);
    return kind === 'table' ? `${text}\n${`${some}\n`.repeat(Math.min(3000, MAX_LENGTH / (some.length + 1)))}` : text;
  },
  (text, _kind, draw) => text.split('\n').slice(0, draw.whole(4)).join('\n'),
  () => '',
];

function word(kind: Kind, draw: Draw): string {
  return draw.one(draw.one([NUMBERS, KEYS, LETTERS, kind === 'yaml' ? YAML : TABLE, kind === 'yaml' ? YAML : TABLE]));
}

function line(kind: Kind, draw: Draw): string {
  if (kind === 'table')
    return Array.from({ length: 1 + draw.whole(8) }, () => draw.one([...NUMBERS, ...TABLE])).join(
      draw.one([',', ';', '\t']),
    );
  return `${' '.repeat(draw.whole(7))}${draw.chance(0.3) ? '- ' : ''}${draw.one([...KEYS, ...YAML])}: ${word(kind, draw)}`;
}

/** A number that might be meant, of any size. */
function nearNumber(draw: Draw): string {
  const value = (draw.next() * 10) ** draw.one([0, 1, 1, 2, 3, 5]);
  return draw.chance(0.3) ? String(Math.round(value)) : value.toPrecision(1 + draw.whole(6));
}

function replaceMatch(text: string, pattern: RegExp, by: () => string, draw: Draw): string {
  const found = [...text.matchAll(pattern)];
  if (found.length === 0) return text;
  const { index, 0: old } = draw.one(found);
  return text.slice(0, index) + by() + text.slice(index + old.length);
}

const inserted = (text: string, at: number, piece: string) => text.slice(0, at) + piece + text.slice(at);

function span(text: string, draw: Draw): [number, number] {
  const from = draw.whole(text.length + 1);
  return [from, Math.min(text.length, from + 1 + draw.whole(draw.chance(0.2) ? 2000 : 30))];
}

function ofLines(text: string, change: (lines: string[]) => unknown): string {
  const lines = text.split('\n');
  change(lines);
  return lines.join('\n');
}

function encoded(text: string, draw: Draw): Uint8Array {
  if (draw.chance(0.02)) return Buffer.from(`\ufeff${text}`, 'utf16le');
  if (draw.chance(0.02)) return Buffer.from(text, 'latin1');
  return Buffer.from(text, 'utf8');
}

function flipped(bytes: Uint8Array, draw: Draw): Uint8Array {
  const changed = Uint8Array.from(bytes);
  const count = changed.length === 0 ? 0 : 1 + draw.whole(4);
  for (let i = 0; i < count; i++)
    changed[draw.whole(changed.length)] = draw.chance(0.5) ? draw.whole(256) : 1 << draw.whole(8);
  return changed;
}
