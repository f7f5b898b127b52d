import type { Task } from '../../math/index.js';
import type { Runner } from './size-runs.js';
import type { Variant } from './size-variant.js';

/** Load is raised no further than to this multiple. */
export const MAX_LOAD = 4;
const TOLERANCE = 0.01;

/**
 * How much more all loads together could draw before the target is no longer met: the largest factor found by halving
 * intervals, to 0.01. Each load draws so many times as much while it runs, at the same hours; cables lose as that current
 * makes them.
 * Assumption: what meets the target with a load meets it with less of it; between the bounds that were tried this holds but
 * for the freaks of a cut-off.
 * @param meetsNow whether it meets the target as it is
 */
export function* loadFactorOf(
  runner: Runner,
  variant: Variant,
  meetsNow: boolean,
): Task<{ factor: number; isAtLeast: boolean }> {
  let low = meetsNow ? 1 : 0;
  let high = meetsNow ? 1.25 : 1;
  while (meetsNow && (yield* runner.meets(variant, high))) {
    low = high;
    if (high >= MAX_LOAD) return { factor: high, isAtLeast: true };
    high = Math.min(MAX_LOAD, high * 1.5);
  }
  while (high - low > TOLERANCE) {
    const middle = (low + high) / 2;
    if (yield* runner.meets(variant, middle)) low = middle;
    else high = middle;
  }
  return { factor: low, isAtLeast: false };
}
