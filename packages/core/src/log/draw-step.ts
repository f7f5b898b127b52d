/** Nights on each side of a step, at least. */
const LEAST_NIGHTS = 3;
/**
 * Standard errors that the two levels must lie apart. Generous, for the best of many places is looked at and nights that
 * follow each other are alike: with 30 independent nights, chance gives it less than once in a thousand logs (Bonferroni
 * bound on Student's t).
 */
const SURE = 5;
/** Differences and spreads below this are those of the histogram that the draw is read from [A]. */
const RESOLUTION_A = 0.02;

/** What is drawn on one night. */
export interface NightDraw {
  /** civil date, ISO */
  readonly date: string;
  readonly alwaysOnA: number;
}

/** A night from which another draw flows. */
export interface DrawStep {
  /** first night of the new level */
  readonly date: string;
  readonly beforeA: number;
  readonly afterA: number;
  /** standard error of the difference */
  readonly seA: number;
}

/**
 * The night from which a steady draw is another one: two levels fitted to the nights by least squares, kept when they differ by
 * five standard errors and two levels fit better than a straight line (what creeps is no step). One step, the plainest.
 * @param nights in order of time; any unit will do in place of A, if 0.02 of it is next to nothing
 * @returns undefined with fewer than six nights, or without a step
 */
export function drawStep(nights: readonly NightDraw[]): DrawStep | undefined {
  const values = nights.map(({ alwaysOnA }) => alwaysOnA);
  const count = values.length;
  if (count < 2 * LEAST_NIGHTS) return undefined;
  let best = { at: 0, squares: Infinity, before: 0, after: 0 };
  for (let at = LEAST_NIGHTS; at <= count - LEAST_NIGHTS; at++) {
    const [before, after] = [mean(values.slice(0, at)), mean(values.slice(at))];
    const squares = values.reduce((sum, value, k) => sum + (value - (k < at ? before : after)) ** 2, 0);
    if (squares < best.squares) best = { at, squares, before, after };
  }
  const { at, squares, before, after } = best;
  const spread = Math.max(RESOLUTION_A / 2, Math.sqrt(squares / (count - 2)));
  const seA = spread * Math.sqrt(1 / at + 1 / (count - at));
  const apart = Math.abs(after - before);
  if (apart < Math.max(SURE * seA, RESOLUTION_A) || squares > squaresAboutLine(values)) return undefined;
  return { date: nights[at]!.date, beforeA: before, afterA: after, seA };
}

function squaresAboutLine(values: readonly number[]): number {
  const [middle, level] = [(values.length - 1) / 2, mean(values)];
  let [rise, run] = [0, 0];
  values.forEach((value, k) => {
    rise += (k - middle) * (value - level);
    run += (k - middle) ** 2;
  });
  return values.reduce((sum, value, k) => sum + (value - level - (rise / run) * (k - middle)) ** 2, 0);
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
