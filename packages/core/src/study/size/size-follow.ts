import { type LoopOutput, loopOutput, runPart } from '../../simulate/index.js';
import type { Prepared } from './size-variant.js';
import type { SizeYear } from './size-year.js';

/** How far loads went without power in one run. */
export interface Shortage {
  /** in which some load asked for power and did not get all of it: the outcome's `unservedHours` */
  readonly hours: number;
  /** from noon to noon */
  readonly nights: number;
  readonly lowestSoc: number;
  /** false when it was stopped at the hours that were enough to know */
  readonly isWhole: boolean;
}

/** Less of a step than this is rounding. */
const NOTHING = 1e-9;

/**
 * Follows one run day by day, only for its shortage.
 * @param enoughHours stops at the end of the day on which so many are reached
 */
export function shortageOf(
  year: SizeYear,
  { input, state, fill }: Prepared,
  enoughHours = Number.POSITIVE_INFINITY,
): Shortage {
  const { dayFrom, socDraw } = year;
  const longestDay = dayFrom.reduce((most, from, k) => Math.max(most, (dayFrom[k + 1] ?? from) - from), 1);
  const out = loopOutput(longestDay, input.fridges, input.chargers);
  const socAskedW = new Float64Array(longestDay);
  const run = { input, ...(socDraw && { socDraw }) };
  const count = { steps: 0, nights: 0, lastNight: -1, lowestSoc: input.startSoc };
  const enoughSteps = enoughHours / input.stepH;
  for (let day = 0; day + 1 < dayFrom.length; day++) {
    const [from, to] = [dayFrom[day]!, dayFrom[day + 1]!];
    fill(from, to);
    runPart(run, out, state, from, to, socAskedW);
    countDay(year, out, socAskedW, from, to, count);
    if (count.steps >= enoughSteps) return shortage(count, input.stepH, day + 2 === dayFrom.length);
  }
  return shortage(count, input.stepH, true);
}

interface Count {
  steps: number;
  nights: number;
  lastNight: number;
  lowestSoc: number;
}

function shortage({ steps, nights, lowestSoc }: Count, stepH: number, isWhole: boolean): Shortage {
  return { hours: steps * stepH, nights, lowestSoc, isWhole };
}

function countDay(
  { asks, fallsShort, holdW, nightOf }: SizeYear,
  { rows, soc, onShare, fridgeOnShare }: LoopOutput,
  socAskedW: Float64Array,
  from: number,
  to: number,
  count: Count,
): void {
  const fridges = holdW.length;
  let { steps, lowestSoc } = count;
  for (let i = from, row = from % rows; i < to; i++, row = row + 1 < rows ? row + 1 : 0) {
    if (soc[row]! < lowestSoc) lowestSoc = soc[row]!;
    const on = onShare[row]!;
    let missed = asks[i]! > 0 || socAskedW[row]! > 0 ? 1 - on : 0;
    if (on === 1 && fallsShort[i]! > 0) missed = 1;
    for (let k = 0, at = row; k < fridges; k++, at += rows) {
      const offShare = 1 - fridgeOnShare[at]!;
      if (offShare > missed && holdW[k]![i]! !== 0) missed = offShare;
    }
    if (!(missed > NOTHING)) continue;
    steps += missed;
    if (nightOf[i]! !== count.lastNight) {
      count.lastNight = nightOf[i]!;
      count.nights++;
    }
  }
  count.steps = steps;
  count.lowestSoc = lowestSoc;
}
