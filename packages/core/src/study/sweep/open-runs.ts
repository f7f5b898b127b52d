import { finish, finishInSlices, type Task, type TaskOptions } from '../../math/index.js';
import { type Rig, requireSound, type Trip } from '../../rig/index.js';
import type { ConditionOptions } from '../../simulate/index.js';
import type { Outcome } from '../run/outcome.js';
import { SweepBench } from './sweep-bench.js';

/** Runs of any number of rigs through one trip, each as its outcome alone. */
export interface Runs {
  /**
   * What a rig comes to.
   * @param year of the weather, from 0
   * @throws ConfigError when rig, trip and weather do not fit together
   */
  outcome(rig: Rig, year?: number): Outcome;
  /** The same in slices, between which the event loop turns. @throws the signal's reason once it is aborted */
  outcomeAsync(rig: Rig, options?: TaskOptions & { readonly year?: number }): Promise<Outcome>;
}

/**
 * Follows rigs through one trip for what they come to, without traces and days: the same figures as the summary of `simulate`, at
 * the cost of a built-in sweep. Weather, and the columns of whatever part a rig has in common with those before it, are worked out
 * once: a year with another battery takes a few milliseconds.
 * @example
 * ```ts
 * import { openRuns, readRig, withoutTrip } from '@stayput/core';
 *
 * const text = `
 * battery: { chemistry: LFP, capacity: 100 Ah }
 * solar: [{ power: 175 W, mount: bonded }]
 * loads: [{ name: fridge, kind: fridge, volume: 45 L, setpoint: 4 degC }]
 * `;
 * const runs = openRuns(withoutTrip({ place: 'Porto', from: '2026-10-03', days: 14 }));
 * for (const ah of [50, 100, 200]) {
 *   const { rig } = readRig(text, { set: { 'battery.capacity': `${ah} Ah` } });
 *   const { lowestSoc, unservedHours } = runs.outcome(rig);
 *   console.log(ah, lowestSoc.toFixed(2), unservedHours.toFixed(1));
 * }
 * ```
 */
export function openRuns(trip: Trip, options: ConditionOptions = {}): Runs {
  requireSound('openRuns', 'trip', trip);
  const bench = new SweepBench(options);
  function* outcomeTask(rig: Rig, year = options.year ?? 0): Task<Outcome> {
    requireSound('outcome', 'rig', rig);
    return yield* bench.outcomeTask(rig, trip, year);
  }
  return {
    outcome: (rig, year) => finish(outcomeTask(rig, year)),
    outcomeAsync: async (rig, { year, signal } = {}) => finishInSlices(outcomeTask(rig, year), signal),
  };
}
