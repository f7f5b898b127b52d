import type { Conditions } from '../simulate/index.js';

/** The civil day that each step of a run belongs to, counted from 0. */
export function stepDays({ itinerary, grid }: Pick<Conditions, 'itinerary' | 'grid'>): Int32Array {
  const dayOf = new Int32Array(grid.steps);
  const stepMs = grid.stepH * 3_600_000;
  itinerary.days.forEach(({ startMs }, k) => {
    dayOf.fill(k, Math.max(0, Math.round((startMs - grid.startMs) / stepMs)));
  });
  return dayOf;
}
