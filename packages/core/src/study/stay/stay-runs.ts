import { finish, type Task } from '../../math/index.js';
import { type Assembled, copyState, loopState, runSteps, warmUp } from '../../simulate/index.js';
import { dayOutput } from '../run/open-loop.js';
import { END_CAUSES } from '../run/outcome.js';
import { endWithin } from '../run/outcome-sums.js';

/** How long stays last that begin on given days, one value each. */
export interface Lengths {
  /** from the beginning to the end; the horizon for one without an end by then [days] */
  readonly days: Float64Array;
  /** place in END_CAUSES, or −1 without an end */
  readonly cause: Int8Array;
}

/** Which stays of a year to follow. */
export interface StayRunOptions {
  /** days of the year at whose first minute stays begin, in order, 0 = its first */
  readonly starts: readonly number[];
  readonly startSoc: number;
  readonly endAt: 'floor' | 'off';
  readonly horizonDays: number;
}

/** Two runs whose batteries are so near at midnight go the same way from there. */
const SAME_SOC = 1e-4;
const ENDLESS = -1;

/**
 * Follows stays through one year of weather, which goes round at its end. A stay that meets a later one, as both
 * do that are full on a sunny day, ends when that one did: it is followed no further, and a sunny season costs little.
 * @param rows    the loop's, as `layOutSteps` gives them
 * @param dayFrom first step of each civil day of the year, and the number of steps at its end
 */
export function stayLengths(
  assembled: Assembled,
  rows: Float64Array,
  dayFrom: readonly number[],
  how: StayRunOptions,
): Lengths {
  return finish(stayLengthsTask(assembled, rows, dayFrom, how));
}

/** The same with pauses. */
export function* stayLengthsTask(
  assembled: Assembled,
  rows: Float64Array,
  dayFrom: readonly number[],
  { starts, startSoc, endAt, horizonDays }: StayRunOptions,
): Task<Lengths> {
  const { input, rig } = assembled;
  const yearDays = dayFrom.length - 1;
  const { out } = dayOutput(input, dayFrom);
  const begun = loopState({ ...input, startSoc }, rows);
  warmUp(input, begun);
  const { now, fridges, chargers } = begun;
  const state = copyState(begun);

  const days = new Float64Array(starts.length).fill(horizonDays);
  const cause = new Int8Array(starts.length).fill(ENDLESS);
  // For each day, counted on past the year's end: the stay last followed to its end, and the charge it then had.
  const latest = new Int32Array(yearDays + horizonDays).fill(-1);
  const midnightSoc = new Float64Array(yearDays + horizonDays);
  for (let k = starts.length - 1; k >= 0; k--) {
    const start = starts[k]!;
    yield;
    if (endAt === 'floor' && startSoc < rig.battery.floor) {
      days[k] = 0;
      cause[k] = END_CAUSES.indexOf('floor');
      continue;
    }
    state.now.set(now);
    state.fridges.set(fridges);
    state.chargers.set(chargers);
    let soc = startSoc;
    let steps = 0;
    for (let day = start; day < start + horizonDays; day++) {
      const from = dayFrom[day % yearDays]!;
      const to = dayFrom[(day % yearDays) + 1]!;
      runSteps(assembled, out, state, from, to);
      const end = endWithin(assembled, out, from, to, soc, steps, endAt === 'floor');
      if (end) {
        days[k] = end.afterH / 24;
        cause[k] = END_CAUSES.indexOf(end.cause);
        break;
      }
      steps += to - from;
      soc = out.soc[(to - 1) % out.rows]!;
      const other = latest[day]!;
      const isSame = other >= 0 && Math.abs(midnightSoc[day]! - soc) < SAME_SOC;
      latest[day] = k;
      midnightSoc[day] = soc;
      if (!isSame) continue;
      const between = dayFrom[starts[other]!]! - dayFrom[start]!;
      const afterDays = days[other]! + (between * input.stepH) / 24;
      if (cause[other]! >= 0 && afterDays < horizonDays) {
        days[k] = afterDays;
        cause[k] = cause[other]!;
      }
      break;
    }
  }
  return { days, cause };
}
