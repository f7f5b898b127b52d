import { DAY_MS, HOUR_MS } from '../../math/index.js';

/** Longer is no step of a log but a gap, or a clock that was set. */
export const MAX_STEP_MS = DAY_MS;

/** How the rows of a log follow each other. */
export interface Rhythm {
  /** the usual time between rows [ms]; NaN = fewer than two rows */
  readonly usualMs: number;
  /** rows are written when something changes: one holds so long at most [ms]; undefined = rows come evenly */
  readonly holdMs: number | undefined;
}

/** Steps within this of the usual one are alike … */
const ALIKE = 0.3;
/** … and rows are even when so many steps are alike, or three usual steps hold so many of them. */
const EVEN_SHARE = 0.6;
const NEARLY_ALL = 0.98;
/** What is longer than the longest usual wait, with this margin, is a gap. */
const LONGEST_SHARE = 0.99;
const MARGIN = 1.3;
const FEWEST = 20;
/** A column with so many empty cells in rows that are not empty is written apart from the others. */
const SPARSE_SHARE = 0.15;

/** Rows written on change may leave a cell out so long at most [ms]. Assumption: what nobody wrote for a day is not known. */
const MAX_HELD_MS = 24 * HOUR_MS;
const HELD_MARGIN = 1.5;

/** How long a cell that is written on change holds [ms]: the rows between show that its writer lives. */
export const changeHoldMs = (steps: readonly number[]): number =>
  Math.min(MAX_HELD_MS, HELD_MARGIN * steps.reduce((a, b) => Math.max(a, b), 0));

/** The same of a cell that is rarely left out: a wait that is no rarer than one in a hundred. */
export function usualHoldMs(steps: readonly number[]): number {
  const sorted = steps.filter((ms) => ms <= MAX_STEP_MS).sort((a, b) => a - b);
  return HELD_MARGIN * (sorted[Math.min(sorted.length - 1, Math.floor(LONGEST_SHARE * sorted.length))] ?? 0);
}

/** @param steps times between neighbouring rows [ms], of different times; sorted in place */
export function rhythmOf(steps: number[]): Rhythm {
  const usable = steps.filter((ms) => ms > 0 && ms <= MAX_STEP_MS).sort((a, b) => a - b);
  const usualMs = usable[Math.floor(usable.length / 2)] ?? Number.NaN;
  const alike = usable.filter((ms) => Math.abs(ms - usualMs) <= ALIKE * usualMs).length;
  const within = usable.filter((ms) => ms <= 3 * usualMs).length;
  if (usable.length < FEWEST || alike >= EVEN_SHARE * usable.length || within >= NEARLY_ALL * usable.length)
    return { usualMs, holdMs: undefined };
  const longest = usable[Math.min(usable.length - 1, Math.floor(LONGEST_SHARE * usable.length))]!;
  return { usualMs, holdMs: Math.max(3 * usualMs, MARGIN * longest) };
}

/** Whether a column is filled in some rows only, and often enough to be read on. */
export function isSparse(column: Float64Array): boolean {
  let filled = 0;
  for (let i = 0; i < column.length; i++) if (!Number.isNaN(column[i]!)) filled++;
  return filled > FEWEST / 2 && column.length - filled > SPARSE_SHARE * column.length;
}
