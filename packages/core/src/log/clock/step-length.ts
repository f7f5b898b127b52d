import { MINUTE_MS } from '../../math/index.js';
import { MAX_STEP_MS } from '../columns/rhythm.js';

/** Follows the usual time between rows, also where a log grows coarser or finer. */
export interface StepLength {
  /** [ms]; NaN before two rows were seen */
  usualMs: number;
  observe(betweenMs: number): void;
}

/** So many equal steps in a row are the new usual. */
const ENOUGH = 6;

/** Three usual steps without a row are a gap, if they are longer than a minute. */
const GAP_STEPS = 3;
const MIN_GAP_MS = MINUTE_MS;

export function isGap(betweenMs: number, usualMs: number): boolean {
  return betweenMs > Math.max(GAP_STEPS * usualMs, MIN_GAP_MS);
}

/** @param usualMs a first guess; absent = the first step seen */
export function createStepLength(usualMs = Number.NaN): StepLength {
  let candidate = Number.NaN;
  let seen = 0;
  return {
    usualMs,
    observe(betweenMs) {
      if (!(betweenMs <= MAX_STEP_MS)) return;
      if (Number.isNaN(this.usualMs)) this.usualMs = betweenMs;
      else if (Math.abs(betweenMs - this.usualMs) <= 0.25 * this.usualMs) seen = 0;
      else if (Math.abs(betweenMs - candidate) <= 0.25 * candidate) {
        seen++;
        if (seen >= ENOUGH) {
          this.usualMs = candidate;
          seen = 0;
        }
      } else {
        candidate = betweenMs;
        seen = 1;
      }
    },
  };
}
