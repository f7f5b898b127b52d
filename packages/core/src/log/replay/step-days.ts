import { HOUR_MS } from '../../math/index.js';
import type { Conditions } from '../../simulate/index.js';

/** The civil day that each step of a run belongs to, counted from 0. */
export function stepDays({ itinerary, grid }: Pick<Conditions, 'itinerary' | 'grid'>): Int32Array {
  const dayOf = new Int32Array(grid.steps);
  const stepMs = grid.stepH * HOUR_MS;
  itinerary.days.forEach(({ startMs }, k) => {
    dayOf.fill(k, Math.max(0, Math.round((startMs - grid.startMs) / stepMs)));
  });
  return dayOf;
}

/** The first step of each day, and at the end how many steps there are: day k is the steps from [k] to [k + 1]. */
export function firstSteps(dayOf: Int32Array, days: number): Int32Array {
  const first = new Int32Array(days + 1);
  for (const day of dayOf) first[day + 1]!++;
  for (let k = 0; k < days; k++) first[k + 1] = first[k + 1]! + first[k]!;
  return first;
}

/** Share of each day that the steps' rows account for, 0..1. */
export function coverByDay(cover: Float64Array, dayOf: Int32Array, days: number): Float64Array {
  const sums = new Float64Array(days);
  const counts = new Float64Array(days);
  cover.forEach((share, i) => {
    const day = dayOf[i]!;
    sums[day] = sums[day]! + Math.min(1, share);
    counts[day] = counts[day]! + 1;
  });
  return sums.map((sum, day) => sum / counts[day]!);
}
