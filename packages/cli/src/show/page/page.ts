import type { FindingLine } from '../../words/finding-words.js';
import { type NamedParts, partAndKeys } from '../../words/path-words.js';
import type { Chart } from '../charts/chart.js';
import { type Column, textWidth } from '../table.js';
import { plain } from './plain.js';

/**
 * A page before it is written: plain data. `pageHtml` writes it as one file that needs nothing else. Every text may hold
 * anything; the writer escapes it.
 */
export interface Page {
  /** the one heading of the first level: whose page it is */
  readonly title: string;
  /** what it rests on: place, time, weather */
  readonly about: string;
  /** the answer in a sentence or two, and whether it is good news */
  readonly answers: readonly Answer[];
  /** the answer as one figure, in the largest letters: "4.3 days", and of what that is said */
  readonly largest?: { readonly figure: string; readonly words: string };
  /** what would help, most first, each with its figure */
  readonly helps?: readonly string[];
  readonly sections: readonly Section[];
}

export interface Answer {
  readonly tone: 'good' | 'low' | 'bad';
  readonly text: string;
}

export interface Section {
  /** a word, unlike that of every other section */
  readonly id: string;
  readonly heading: string;
  /** stands unfolded on a screen: the picture that goes with the answer, and what must not be overlooked; paper shows all */
  readonly isOpen?: true;
  /** undefined ones are left out, and so is a section without any */
  readonly blocks: readonly (Block | undefined)[];
}

export type Block =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'terms'; readonly entries: readonly (readonly [string, string])[] }
  | { readonly kind: 'findings'; readonly findings: readonly Omit<FindingLine, 'path'>[] }
  | { readonly kind: 'chart'; readonly chart: Chart }
  | TableBlock;

export interface TableBlock {
  readonly kind: 'table';
  readonly caption: string;
  /** has no room on a phone: each row is shown there as a few lines, no column left out */
  readonly isBroad: boolean;
  readonly heads: readonly TableHead[];
  /** the first cell of each names the row */
  readonly rows: readonly (readonly string[])[];
}

export interface TableHead {
  readonly text: string;
  readonly isNumber: boolean;
  /** holds text that may be broken over lines */
  readonly isText: boolean;
}

/** Letters that a table has room for on a phone. */
const PHONE_LETTERS = 42;

/** Sections as one, for a page on which each is only a part. */
export function joined(id: string, heading: string, sections: readonly Section[]): Section {
  return { id, heading, blocks: sections.flatMap(({ blocks }) => blocks) };
}

export const text = (words: string): Block => ({ kind: 'text', text: words });
export const heading = (words: string): Block => ({ kind: 'heading', text: words });
export const chart = (picture: Chart | undefined): Block | undefined => picture && { kind: 'chart', chart: picture };
export const terms = (entries: readonly (readonly [string, string])[]): Block => ({ kind: 'terms', entries });

export function list(items: readonly string[]): Block | undefined {
  return items.length > 0 ? { kind: 'list', items } : undefined;
}

/** Findings with the place that each is about in words, gravest first. */
export function findingsBlock(parts: NamedParts, findings: readonly FindingLine[]): Block | undefined {
  if (findings.length === 0) return undefined;
  const worded = findings.map(({ level, path, text: said }) => ({ level, text: placed(parts, path, said) }));
  return { kind: 'findings', findings: worded.sort((a, b) => GRAVITY[a.level] - GRAVITY[b.level]) };
}

const GRAVITY = { danger: 0, caution: 1, note: 2 } as const;

/** A finding's text with the place it is about before it, unless it names that itself. */
export function placed(parts: NamedParts, path: string, text: string): string {
  const said = plain(text);
  const { part, keys } = partAndKeys(path, parts);
  return part === '' || said.startsWith(part) ? said : `${part}${keys ? ` (${keys})` : ''}: ${said}`;
}

/** The same rows and columns as in a terminal, but for bars drawn with letters. */
export function tableBlock<Row>(
  caption: string,
  rows: readonly Row[],
  columns: readonly Column<Row>[],
): TableBlock | undefined {
  if (rows.length === 0) return undefined;
  const shown = columns.filter(({ isBar }) => !isBar);
  return {
    kind: 'table',
    caption,
    isBroad: lettersAcross(rows, shown) > PHONE_LETTERS,
    heads: shown.map((column) => ({
      text: column.head,
      isNumber: column.align === 'right',
      isText: column.wrap ?? false,
    })),
    rows: rows.map((row) => shown.map(({ cell }) => cell(row).trim())),
  };
}

/** Room between two columns, and for a column whose text is broken over lines [letters]. */
const GAP = 2;
const MIN_WORDS = 16;

function lettersAcross<Row>(rows: readonly Row[], columns: readonly Column<Row>[]): number {
  const widths = columns.map(({ head, cell, wrap }) =>
    wrap ? MIN_WORDS : Math.max(textWidth(head), ...rows.map((row) => textWidth(cell(row).trim()))),
  );
  return widths.reduce((sum, width) => sum + width + GAP, -GAP);
}
