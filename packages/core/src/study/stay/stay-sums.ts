import { percentile } from '../../math/index.js';
import { END_CAUSES, type EndCause } from '../run/outcome.js';
import type { Lengths } from './stay-runs.js';
import { sampledSpread, spreadAbout, yearsOf } from './stay-spread.js';
import type { StayLengths, StayMonth } from './stay-types.js';

/** All stays of one weather year; every list has one value a stay, in the same order. */
export interface Stays {
  /** in which each begins, 1 = January */
  readonly months: readonly number[];
  readonly parked: Lengths;
  readonly dark: Lengths;
  readonly darkFromFull?: Lengths;
  readonly low: Lengths;
  readonly high: Lengths;
  readonly darkLow?: Lengths;
  readonly darkHigh?: Lengths;
  readonly panel?: Lengths;
  readonly battery: Lengths;
  readonly darkBattery: Lengths;
  /** engine every morning with which each outlasts the horizon; NaN where it was not looked for [min] */
  readonly engineNeeds?: Float64Array;
}

export const monthOfStay = (date: string) => Number(date.slice(5, 7));

/** @param kind of weather; `madeSpread` = how far the P10 of made weather may be off, as a standard deviation of the logarithm, else 0 */
export function studyMonth(
  month: number,
  years: readonly Stays[],
  horizonDays: number,
  kind: { readonly isMade: boolean; readonly isReal: boolean; readonly madeSpread: number },
): StayMonth {
  const all = (pick: (stays: Stays) => Lengths | undefined) => {
    const days: number[] = [];
    const causes: number[] = [];
    for (const stays of years) {
      const lengths = pick(stays);
      stays.months.forEach((begun, k) => {
        if (begun !== month || !lengths) return;
        days.push(lengths.days[k]!);
        causes.push(lengths.cause[k]!);
      });
    }
    return { days, causes };
  };
  const median = (pick: (stays: Stays) => Lengths | undefined) => percentile(all(pick).days, 0.5);
  const lengths = (pick: (stays: Stays) => Lengths | undefined) => lengthsOf(all(pick).days, horizonDays);
  const parked = all((stays) => stays.parked);
  const dark = all((stays) => stays.dark);
  const [one] = years;
  const darkDays = percentile(dark.days, 0.5);
  // The ends were looked at in some of the years only: what counts is how far they are from those years' median.
  const sameYears = median((stays) => (stays.darkLow ? stays.dark : undefined));
  const darkEnd = (pick: (stays: Stays) => Lengths | undefined) =>
    sameYears > 0 ? (darkDays * median(pick)) / sameYears : median(pick);
  const needs = years.flatMap(({ months, engineNeeds }) =>
    months.flatMap((begun, k) =>
      begun === month && engineNeeds && !Number.isNaN(engineNeeds[k]) ? [engineNeeds[k]!] : [],
    ),
  );
  const units = yearsOf(month, years, kind.isMade);
  const sampled = sampledSpread(units);
  const isSpread = (kind.isMade || kind.isReal) && !Number.isNaN(sampled);
  const [low, high] = spreadAbout(
    percentile(parked.days, 0.1),
    Math.hypot(sampled, kind.madeSpread),
    darkDays,
    horizonDays,
  );
  return {
    month,
    stays: parked.days.length,
    weatherYears: years.filter(({ months }) => months.includes(month)).length,
    ...(isSpread && { parkedDaysP10Low: low, parkedDaysP10High: high }),
    outlasts: parked.causes.filter((cause) => cause < 0).length / parked.causes.length,
    darkDays,
    ...(one?.darkFromFull && { darkDaysFromFull: median((stays) => stays.darkFromFull) }),
    darkDaysLow: darkEnd((stays) => stays.darkLow),
    darkDaysHigh: darkEnd((stays) => stays.darkHigh),
    ...lengthsOf(parked.days, horizonDays),
    parkedDaysLow: median((stays) => stays.low),
    parkedDaysHigh: median((stays) => stays.high),
    endedBy: sharesOf(parked.causes),
    ...mostOf(dark.causes),
    ...(needs.length > 0 && { engineMinutes: minutesFor(needs) }),
    ...(one?.panel && { oneMorePanel: lengths((stays) => stays.panel) }),
    oneMoreBattery: {
      ...lengths((stays) => stays.battery),
      darkDays: median((stays) => stays.darkBattery),
    },
  };
}

/** Percentiles of stays. */
export function lengthsOf(days: readonly number[], horizonDays: number): StayLengths {
  const parkedDaysP10 = percentile(days, 0.1);
  return {
    parkedDaysP10,
    parkedDaysP50: percentile(days, 0.5),
    parkedDaysP90: percentile(days, 0.9),
    indefinite: parkedDaysP10 >= horizonDays,
  };
}

/** The least with which nine in ten need no more: as `indefinite` counts them. */
function minutesFor(needs: readonly number[]): number {
  const rank = Math.ceil((needs.length - 1) * 0.9);
  return needs.toSorted((a, b) => a - b)[rank]!;
}

/** Of those that end, the share by what ends them. */
export function sharesOf(causes: readonly number[]): Partial<Record<EndCause, number>> {
  const ended = causes.filter((cause) => cause >= 0);
  return Object.fromEntries(
    END_CAUSES.map((cause, k) => [cause, ended.filter((found) => found === k).length / ended.length] as const).filter(
      ([, share]) => share > 0,
    ),
  );
}

/** What ends most of them; absent when none has an end. */
function mostOf(causes: readonly number[]): { darkEndedBy?: EndCause } {
  const [most] = Object.entries(sharesOf(causes)).toSorted(([, a], [, b]) => b - a);
  return most ? { darkEndedBy: most[0] as EndCause } : {};
}
