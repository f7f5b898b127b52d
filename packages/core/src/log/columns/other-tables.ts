import type { ConfigIssue } from '../../rig/index.js';
import type { LineCells } from '../cells/line-cells.js';
import { splitLine } from '../cells/split-line.js';
import { readHeading, timeRoleOf } from './heading-wording.js';
import type { LogLayout } from './log-layout.js';

/** Throws with a code, a sentence and what would help. */
export type Refuse = (code: string, message: string, extra?: Partial<ConfigIssue>) => never;

const WIDE_SHARE = 0.1;
/** Names of devices in a column of text: so many at most, changing in so many rows. */
const MAX_DEVICES = 12;
const CHANGES_SHARE = 0.3;
const FEWEST_ROWS = 12;

/** Rows with more filled cells than there are headings cannot be told apart into columns. */
export function refuseWideRows(
  rows: readonly string[],
  { delimiter, headings, firstLine }: LogLayout,
  refuse: Refuse,
): void {
  let [wide, widest] = [0, 0];
  for (const row of rows) {
    const cells = splitLine(row, delimiter);
    if (cells.length <= headings.length || cells.slice(headings.length).every((cell) => cell.trim() === '')) continue;
    wide++;
    widest = Math.max(widest, cells.length);
  }
  if (wide <= WIDE_SHARE * rows.length || wide < 2) return;
  refuse('log_wide_rows', `rows have up to ${widest} cells below ${headings.length} headings`, {
    line: firstLine + 1,
    hint:
      delimiter === ','
        ? 'numbers with decimal commas between commas cannot be told apart: export with points, with semicolons, or with each cell in quotes'
        : 'each column needs a heading',
  });
}

/** Whether a row has filled cells beyond the headings. */
export function isWide(cells: LineCells, width: number): boolean {
  for (let k = width; k < cells.count; k++) if (cells.text(k) !== '') return true;
  return false;
}

/** Whether a row is a row of headings, and not the first once more. */
export function isOtherHeadings(cells: LineCells, { headingCells }: LogLayout): boolean {
  let [times, measured, other] = [0, 0, 0];
  for (let k = 0; k < cells.count; k++) {
    const text = cells.text(k);
    if (text !== (headingCells[k] ?? '').trim()) other++;
    if (text === '' || /^[\d.,+-]*$/.test(text)) continue;
    if (timeRoleOf(text) !== undefined) times++;
    else if (readHeading(text) !== undefined) measured++;
  }
  return times > 0 && measured > 0 && other > 0;
}

/** A column of names that change from row to row: devices that share the other columns. */
export function deviceColumn(
  rows: readonly string[],
  { headings, columns, time, date }: LogLayout,
  cells: LineCells,
): { index: number; names: string[] } | undefined {
  const used = new Set([time, date, ...columns.flatMap(({ parts }) => parts.map(({ index }) => index))]);
  for (let index = 0; index < headings.length; index++) {
    if (used.has(index)) continue;
    const names = new Set<string>();
    let [changes, filled, last] = [0, 0, ''];
    for (const row of rows) {
      cells.cut(row);
      const text = cells.text(index);
      if (text === '' || !/\p{L}/u.test(text)) continue;
      filled++;
      names.add(text);
      if (text !== last) changes++;
      last = text;
      if (names.size > MAX_DEVICES) break;
    }
    if (filled < FEWEST_ROWS || filled < rows.length / 2) continue;
    if (names.size > 1 && names.size <= MAX_DEVICES && changes > CHANGES_SHARE * filled)
      return { index, names: [...names] };
  }
  return undefined;
}
