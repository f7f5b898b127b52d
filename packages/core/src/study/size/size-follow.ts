import { runSteps } from '../../simulate/index.js';
import { type DayOutput, dayOutput } from '../run/open-loop.js';
import { unservedShare } from '../run/unserved.js';
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
  const day = dayOutput(input, dayFrom);
  const run = { input, ...(socDraw && { socDraw }) };
  const count = { steps: 0, nights: 0, lastNight: -1, lowestSoc: input.startSoc };
  const enoughSteps = enoughHours / input.stepH;
  for (let d = 0; d + 1 < dayFrom.length; d++) {
    const [from, to] = [dayFrom[d]!, dayFrom[d + 1]!];
    fill(from, to);
    runSteps(run, day.out, state, from, to, day.socAskedW);
    countDay(year, day, from, to, count);
    if (count.steps >= enoughSteps) return shortage(count, input.stepH, d + 2 === dayFrom.length);
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

function countDay(year: SizeYear, { out, socAskedW }: DayOutput, from: number, to: number, count: Count): void {
  const { rows, soc } = out;
  let { steps, lowestSoc } = count;
  for (let i = from, row = from % rows; i < to; i++, row = row + 1 < rows ? row + 1 : 0) {
    if (soc[row]! < lowestSoc) lowestSoc = soc[row]!;
    const missed = unservedShare(year, out, socAskedW[row]!, i, row);
    if (missed === 0) continue;
    steps += missed;
    if (year.nightOf[i]! !== count.lastNight) {
      count.lastNight = year.nightOf[i]!;
      count.nights++;
    }
  }
  count.steps = steps;
  count.lowestSoc = lowestSoc;
}
