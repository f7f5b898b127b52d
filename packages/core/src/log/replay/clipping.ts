import { percentile } from '../../math/index.js';
import type { LogSteps } from './log-steps.js';

/** A plateau: the harvest expected is so far above the most that is ever seen … */
export const ABOVE_TOP = 1.15;
/** … and what is seen there lies within this of it. */
export const FLAT = 0.06;
const MIN_STEPS = 12;
const MIN_DAYS = 3;

/** A harvest that is capped. */
export interface Clipping {
  readonly topW: number;
  /** harvest over offer below the plateau */
  readonly ratio: number;
  readonly steps: number;
  readonly days: number;
}

/**
 * A harvest that stays flat at its highest while the light goes on rising.
 * @param free 1 where nothing but sun, panel and controller holds the harvest back
 */
export function clippingOf(
  { harvestW }: LogSteps,
  free: Uint8Array,
  availableW: Float64Array,
  dayOf: Int32Array,
): Clipping | undefined {
  const at = Array.from(free.keys()).filter((i) => free[i] === 1 && harvestW[i]! > 0 && availableW[i]! > 0);
  if (at.length < 2 * MIN_STEPS) return undefined;
  const topW = percentile(
    at.map((i) => harvestW[i]!),
    0.98,
  );
  const below = at.filter((i) => harvestW[i]! > 0.25 * topW && harvestW[i]! < 0.7 * topW);
  if (below.length < MIN_STEPS) return undefined;
  const ratio = percentile(
    below.map((i) => harvestW[i]! / availableW[i]!),
    0.5,
  );
  const above = at.filter((i) => availableW[i]! * ratio > ABOVE_TOP * topW);
  const flat = above.filter((i) => Math.abs(harvestW[i]! / topW - 1) < FLAT);
  const days = new Set(flat.map((i) => dayOf[i]!)).size;
  const isFlat = flat.length >= MIN_STEPS && days >= MIN_DAYS && flat.length > 0.8 * above.length;
  return isFlat ? { topW, ratio, steps: flat.length, days } : undefined;
}
