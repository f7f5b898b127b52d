/**
 * Percentile of a few values, straight between their ranks (the definition with h = (n − 1)·p; Hyndman & Fan, The American
 * Statistician 50, 1996, type 7).
 * @param values at least one, in any order
 * @param share 0 (the least) to 1 (the most)
 */
export function percentile(values: readonly number[], share: number): number {
  if (values.length === 0) throw new RangeError('percentile needs at least one value');
  const sorted = values.toSorted((a, b) => a - b);
  const at = (sorted.length - 1) * share;
  const below = Math.floor(at);
  const low = sorted[below]!;
  return low + (at - below) * ((sorted[below + 1] ?? low) - low);
}

/** One in ten is below p10, half below p50, nine in ten below p90. */
export interface Percentiles {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

/** @param values at least one, in any order */
export function percentilesOf(values: readonly number[]): Percentiles {
  return { p10: percentile(values, 0.1), p50: percentile(values, 0.5), p90: percentile(values, 0.9) };
}
