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
  /** at the ends of what nobody can know */
  readonly range?: {
    readonly low: Lengths;
    readonly high: Lengths;
    readonly darkLow?: Lengths;
    readonly darkHigh?: Lengths;
  };
  /** of an ensemble, by their place in it: those that were followed in this year */
  readonly vehicles?: ReadonlyMap<number, Pick<Stays, 'parked' | 'dark'>>;
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
  // What was looked at in some of the years only counts by how far it is from the same figure of those years.
  const scaled = (whole: number, sameYears: number, found: number) =>
    sameYears > 0 ? Math.min(horizonDays, (whole * found) / sameYears) : found;
  const darkEnd = (end: 'darkLow' | 'darkHigh') =>
    scaled(
      darkDays,
      median((stays) => (stays.range?.darkLow ? stays.dark : undefined)),
      median((stays) => stays.range?.[end]),
    );
  const vehicles = [...new Set(years.flatMap((stays) => [...(stays.vehicles?.keys() ?? [])]))];
  const eachVehicle = (of: 'parked' | 'dark', share: number) => {
    const whole = percentile(all((stays) => stays[of]).days, share);
    return vehicles.map((k) =>
      scaled(
        whole,
        percentile(all((stays) => (stays.vehicles?.has(k) ? stays[of] : undefined)).days, share),
        percentile(all((stays) => stays.vehicles?.get(k)?.[of]).days, share),
      ),
    );
  };
  const endOf = (end: 'low' | 'high', of: 'parked' | 'dark') =>
    percentile(eachVehicle(of, 0.5), end === 'low' ? 0.05 : 0.95);
  const isEnsemble = vehicles.length > 0;
  const needs = years.flatMap(({ months, engineNeeds }) =>
    months.flatMap((begun, k) =>
      begun === month && engineNeeds && !Number.isNaN(engineNeeds[k]) ? [engineNeeds[k]!] : [],
    ),
  );
  const units = yearsOf(month, years, kind.isMade);
  const sampled = sampledSpread(units);
  const isYears = (kind.isMade || kind.isReal) && !Number.isNaN(sampled);
  const ofVehicles = isEnsemble ? logSpread(eachVehicle('parked', 0.1)) : 0;
  const [low, high] = spreadAbout(
    percentile(parked.days, 0.1),
    Math.hypot(isYears ? Math.hypot(sampled, kind.madeSpread) : 0, ofVehicles),
    isEnsemble ? endOf('low', 'dark') : darkDays,
    horizonDays,
  );
  return {
    month,
    stays: parked.days.length,
    weatherYears: years.filter(({ months }) => months.includes(month)).length,
    ...((isYears || isEnsemble) && { parkedDaysP10Low: low, parkedDaysP10High: high }),
    outlasts: parked.causes.filter((cause) => cause < 0).length / parked.causes.length,
    darkDays,
    ...(one?.darkFromFull && { darkDaysFromFull: median((stays) => stays.darkFromFull) }),
    darkDaysLow: isEnsemble ? endOf('low', 'dark') : darkEnd('darkLow'),
    darkDaysHigh: isEnsemble ? endOf('high', 'dark') : darkEnd('darkHigh'),
    ...lengthsOf(parked.days, horizonDays),
    parkedDaysLow: isEnsemble ? endOf('low', 'parked') : median((stays) => stays.range?.low),
    parkedDaysHigh: isEnsemble ? endOf('high', 'parked') : median((stays) => stays.range?.high),
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

/** Standard deviation of the logarithm. */
function logSpread(days: readonly number[]): number {
  const logs = days.map((one) => Math.log(Math.max(1e-3, one)));
  const mean = logs.reduce((a, b) => a + b, 0) / logs.length;
  return Math.sqrt(logs.reduce((sum, one) => sum + (one - mean) ** 2, 0) / logs.length);
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
