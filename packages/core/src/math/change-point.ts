import { meanOf } from './sums.js';

/** Days on each side of a step, at least. */
const MIN_DAYS = 3;
/**
 * Standard errors that the two levels must lie apart. Generous, for the best of many places is looked at and days that
 * follow each other are alike: with 30 independent days, chance gives it less than once in a thousand logs (Bonferroni
 * bound on Student's t).
 */
const SIGNIFICANT_ERRORS = 5;
/** Differences and spreads below this are next to nothing: those of the histogram that a draw is read from, in A. */
const RESOLUTION = 0.02;

/** A day from which something stands at another level, in the unit of what it was found in. */
export interface ChangePoint {
  /** first day of the new level: civil date, ISO */
  readonly date: string;
  readonly before: number;
  readonly after: number;
  /** of their difference */
  readonly standardError: number;
}

/**
 * The day from which a steady level is another one: two levels fitted to the days by least squares, kept when they differ by
 * five standard errors and two levels fit better than a straight line (what creeps is no step). One step, the plainest.
 * @param days    in order of time
 * @param levelOf of each; any unit of which 0.02 is next to nothing
 * @returns undefined with fewer than six days, or without a step
 */
export function changePoint<Day extends { readonly date: string }>(
  days: readonly Day[],
  levelOf: (day: Day) => number,
): ChangePoint | undefined {
  const values = days.map(levelOf);
  const count = values.length;
  if (count < 2 * MIN_DAYS) return undefined;
  let best = { at: 0, squares: Infinity, before: 0, after: 0 };
  for (let at = MIN_DAYS; at <= count - MIN_DAYS; at++) {
    const [before, after] = [meanOf(values.slice(0, at)), meanOf(values.slice(at))];
    const squares = values.reduce((sum, value, k) => sum + (value - (k < at ? before : after)) ** 2, 0);
    if (squares < best.squares) best = { at, squares, before, after };
  }
  const { at, squares, before, after } = best;
  const spread = Math.max(RESOLUTION / 2, Math.sqrt(squares / (count - 2)));
  const standardError = spread * Math.sqrt(1 / at + 1 / (count - at));
  const apart = Math.abs(after - before);
  if (apart < Math.max(SIGNIFICANT_ERRORS * standardError, RESOLUTION) || squares > squaresAboutLine(values))
    return undefined;
  return { date: days[at]!.date, before, after, standardError };
}

function squaresAboutLine(values: readonly number[]): number {
  const [middle, level] = [(values.length - 1) / 2, meanOf(values)];
  let [rise, run] = [0, 0];
  values.forEach((value, k) => {
    rise += (k - middle) * (value - level);
    run += (k - middle) ** 2;
  });
  return values.reduce((sum, value, k) => sum + (value - level - (rise / run) * (k - middle)) ** 2, 0);
}
