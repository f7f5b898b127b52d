/** Marks for the eye; each returns its text unchanged when the stream shows no colour. */
export interface Style {
  readonly bold: (text: string) => string;
  readonly dim: (text: string) => string;
  readonly red: (text: string) => string;
  readonly yellow: (text: string) => string;
  readonly green: (text: string) => string;
}

const ESC = '\u001b[';

/** SGR codes of ECMA-48. */
export function styleFor(colour: boolean): Style {
  const mark = (on: number, off: number) => (text: string) =>
    colour && text !== '' ? `${ESC}${on}m${text}${ESC}${off}m` : text;
  return { bold: mark(1, 22), dim: mark(2, 22), red: mark(31, 39), yellow: mark(33, 39), green: mark(32, 39) };
}

/** Text from files may hold anything; characters that steer a terminal must not reach it. */
export function oneLine(text: string): string {
  return text.replace(/[\p{Cc}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]+/gu, ' ').trim();
}

const ASCII: Readonly<Record<string, string>> = {
  '°': ' deg',
  '²': '2',
  '³': '3',
  '·': '*',
  '×': 'x',
  '–': '-',
  '—': '-',
  '−': '-',
  '→': '->',
  '≥': '>=',
  '≤': '<=',
  '±': '+/-',
  Ω: 'ohm',
  '…': '...',
  '½': '1/2',
  '’': "'",
  '“': '"',
  '”': '"',
  '√': 'sqrt ',
};

/** The signs that our own wording uses, in ASCII, for a locale that cannot show them. Letters of names stay. */
export function plainAscii(text: string): string {
  return text
    .replace(/ ?°(?!\p{Lu})/gu, ' deg')
    .replace(/ ?°/g, ' deg ')
    .replace(/\P{ASCII}/gu, (sign) => ASCII[sign] ?? sign);
}
