import { type Assembled, type BatteryRows, loopState, runSteps, warmUp } from '../../simulate/index.js';
import { dayOutput, type OpenLoop, openLoopOf } from './open-loop.js';
import { OutcomeSums } from './outcome-sums.js';

/**
 * What ends a stay. `disconnect` is any cut of the loads at a low battery, by its voltage, its charge or as it is empty;
 * `overload` one by more power than the battery may give; `inverter` its own cut-out, `thin cable` one that brings a load's power at no
 * current.
 */
export const END_CAUSES = ['floor', 'disconnect', 'fridge cut-out', 'inverter', 'thin cable', 'overload'] as const;
/** What ends a stay. */
export type EndCause = (typeof END_CAUSES)[number];

/** What a run comes to, without its trace: memory stays flat whatever its length. */
export interface Outcome {
  /** followed; less than asked for when it stopped at its end [h] */
  readonly hours: number;
  readonly endSoc: number;
  readonly lowestSoc: number;
  readonly hoursBelowFloor: number;
  /** hours in which the disconnect or an empty battery kept the loads off */
  readonly hoursOff: number;
  /** hours in which some load that was asked for was not (wholly) served, by cut-off, overload or its own cut-out */
  readonly unservedHours: number;
  readonly unservedWh: number;
  readonly loadWh: number;
  readonly pvAvailableWh: number;
  readonly pvHarvestWh: number;
  readonly alternatorWh: number;
  readonly mainsWh: number;
  readonly equivalentCycles: number;
  /** civil days on which the battery was full at some moment */
  readonly fullDays: number;
  /** the first end of the stay: see `endAt`; absent = never */
  readonly firstEnd?: End;
}

/** How a stay ends. */
export interface End {
  /** from the first step followed, 0 */
  readonly step: number;
  /** from the beginning, within the step too [h] */
  readonly afterH: number;
  readonly cause: EndCause;
}

/** From where and how far a rig is followed, and what counts as its end. */
export interface OutcomeOptions {
  /** stop at the first end, else follow the whole run */
  readonly untilEnd?: boolean;
  /** what counts as the end: the owner's floor or anything below; or `off`, only loads cut off or a fridge's cut-out */
  readonly endAt?: 'floor' | 'off';
  /** instead of the one assembled with, 0..1 */
  readonly startSoc?: number;
  /** first step followed, and how many; after the last of the grid it goes on with the first, as a year does */
  readonly fromStep?: number;
  readonly steps?: number;
}

/** The same figures as the summary of `simulateUnder`, day by day without keeping a trace. */
export function outcomeOf(assembled: Assembled, options: OutcomeOptions = {}): Outcome {
  return follower(assembled)(options);
}

/**
 * Follows one assembled run as often as wanted, from any step and state of charge, without laying it out anew.
 * @param open    from another run with the same sun and loads, for variants of the battery
 * @param battery laid out before, by a caller whose loop has run before
 */
export function follower(assembled: Assembled, open: OpenLoop = openLoopOf(assembled), battery?: BatteryRows) {
  const { input } = assembled;
  const { dayFrom } = open;
  const laidOut = loopState(input, open.laidOut, battery?.rows);
  if (!battery) warmUp(input, laidOut);
  const { out, socAskedW } = dayOutput(input, dayFrom);
  const sums = new OutcomeSums(assembled, open, out, socAskedW);

  return ({ untilEnd = false, endAt = 'floor', ...options }: OutcomeOptions): Outcome => {
    const { startSoc = input.startSoc, fromStep = 0, steps = input.steps } = options;
    const state = loopState({ ...input, startSoc }, open.laidOut, laidOut.battery);
    sums.begin(startSoc, endAt === 'floor');
    let at = fromStep;
    let day = dayFrom.findLastIndex((from) => from <= at);
    for (let left = steps; left > 0 && !(untilEnd && sums.end); ) {
      if (at >= input.steps) {
        at = 0;
        day = 0;
      }
      const to = Math.min(dayFrom[day + 1]!, at + left);
      runSteps(assembled, out, state, at, to, socAskedW);
      sums.addDay(at, to, untilEnd);
      left -= to - at;
      at = to;
      day++;
    }
    return sums.outcome();
  };
}
