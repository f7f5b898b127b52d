import type { FindingLine } from '../../words/finding-words.js';
import type { Chart } from '../charts/chart.js';
import { type Column, columnsWithin } from '../table.js';

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
  /** undefined ones are left out, and so is a section without any */
  readonly blocks: readonly (Block | undefined)[];
}

export type Block =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'terms'; readonly entries: readonly (readonly [string, string])[] }
  | { readonly kind: 'findings'; readonly findings: readonly FindingLine[] }
  | { readonly kind: 'chart'; readonly chart: Chart }
  | TableBlock;

export interface TableBlock {
  readonly kind: 'table';
  readonly caption: string;
  readonly heads: readonly TableHead[];
  /** the first cell of each names the row */
  readonly rows: readonly (readonly string[])[];
}

export interface TableHead {
  readonly text: string;
  readonly isNumber: boolean;
  /** holds text that may be broken over lines */
  readonly isText: boolean;
  /** left out where the screen is narrow, as in a narrow terminal */
  readonly isExtra: boolean;
}

/** Letters that a table has room for on a phone. */
const PHONE_LETTERS = 42;

export const text = (words: string): Block => ({ kind: 'text', text: words });
export const heading = (words: string): Block => ({ kind: 'heading', text: words });
export const chart = (picture: Chart | undefined): Block | undefined => picture && { kind: 'chart', chart: picture };
export const terms = (entries: readonly (readonly [string, string])[]): Block => ({ kind: 'terms', entries });

export function list(items: readonly string[]): Block | undefined {
  return items.length > 0 ? { kind: 'list', items } : undefined;
}

export function findingsBlock(findings: readonly FindingLine[]): Block | undefined {
  return findings.length > 0 ? { kind: 'findings', findings } : undefined;
}

/** The same rows and columns as in a terminal, but for bars drawn with letters. */
export function tableBlock<Row>(
  caption: string,
  rows: readonly Row[],
  columns: readonly Column<Row>[],
): TableBlock | undefined {
  if (rows.length === 0) return undefined;
  const shown = columns.filter(({ isBar }) => !isBar);
  const onPhone = columnsWithin(rows, shown, PHONE_LETTERS);
  return {
    kind: 'table',
    caption,
    heads: shown.map((column) => ({
      text: column.head,
      isNumber: column.align === 'right',
      isText: column.wrap ?? false,
      isExtra: !onPhone.includes(column),
    })),
    rows: rows.map((row) => shown.map(({ cell }) => cell(row).trim())),
  };
}
