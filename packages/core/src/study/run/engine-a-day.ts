import type { Rig } from '../../rig/index.js';
import { assemble, type Conditions, partMemo, type Run, simulateUnder, whenDriven } from '../../simulate/index.js';
import { outcomeOf } from './outcome.js';

/** More driving than this every morning is no longer staying put [min]. */
export const MAX_ENGINE_MINUTES = 240;
/** The answer is a whole number of these [min]. */
const ANSWER_MINUTES = 5;
const FROM_H = 10;

/**
 * Least driving every morning from 10:00, besides the trip's own, that would have kept the battery at its floor or
 * above through the whole run, in steps of five minutes; found by running it again with more and less.
 * @param run of the same rig
 * @returns 0 when it never was below; Infinity when four hours do not do, as when it begins below [min]
 */
export function engineMinutesADay(rig: Rig, run: Run): number {
  const { summary, conditions } = run;
  const memo = whenDriven(partMemo(), rig);
  const holds = (minutes: number) => {
    const again = withMornings(conditions, minutes / 60);
    const { hoursBelowFloor } = rig.cabin.heater?.needsPower
      ? simulateUnder(rig, again, summary.startSoc).summary
      : outcomeOf(assemble(rig, again, summary.startSoc, memo), { untilEnd: true });
    return hoursBelowFloor === 0;
  };
  if (summary.hoursBelowFloor === 0) return 0;
  if (!rig.alternator || summary.startSoc < rig.battery.floor || !holds(MAX_ENGINE_MINUTES)) return Infinity;
  let fails = 0;
  let does = MAX_ENGINE_MINUTES / ANSWER_MINUTES;
  while (does - fails > 1) {
    const middle = (fails + does) >> 1;
    if (holds(middle * ANSWER_MINUTES)) does = middle;
    else fails = middle;
  }
  return does * ANSWER_MINUTES;
}

/** The engine on for so long every morning from 10:00. */
export function withMornings(conditions: Conditions, hours: number): Conditions {
  const { itinerary, grid } = conditions;
  const { localHour } = itinerary;
  const driving = itinerary.driving.slice();
  for (let i = 0; i < driving.length; i++) {
    const from = localHour[i]! - grid.stepH / 2;
    const inside = Math.min(from + grid.stepH, FROM_H + hours) - Math.max(from, FROM_H);
    if (inside > 0) driving[i] = Math.max(driving[i]!, inside / grid.stepH);
  }
  return { ...conditions, itinerary: { ...itinerary, driving } };
}
