import { finish, finishInSlices, type Task, Z90 } from '../../math/index.js';
import type { CivilDay } from '../../place/index.js';
import { middleVehicle, type Rig, requireSound, someVehicles, vehicleOf } from '../../rig/index.js';
import {
  type Assembled,
  assembleTask,
  type Conditions,
  climateOf,
  layOutSteps,
  type Memo,
  partMemo,
  setChargerShare,
  whenDriven,
} from '../../simulate/index.js';
import type { WeatherNote } from '../../weather/index.js';
import { MAX_ENGINE_MINUTES, withMornings } from '../run/engine-a-day.js';
import { dayStarts } from '../run/open-loop.js';
import { requireStop, type StudyStop, type WeatherCases, weatherCases } from '../run/weather-cases.js';
import { type Lengths, type StayRunOptions, stayLengthsTask } from './stay-runs.js';
import { madeSpread, sampledSpread, yearsOf } from './stay-spread.js';
import { monthOfStay, type Stays, studyMonth } from './stay-sums.js';
import type { OneMore, StayMonth, StayOptions, StayStudy } from './stay-types.js';
import { type Ends, endsOf } from './stay-unknowns.js';
import { type WhatIf, withOneMoreBattery, withOneMorePanel } from './stay-what-if.js';

/** Half hours do for stays of days: against ten minutes they move by hundredths of a day (tests/core/study/stay.test.ts). */
export const STEP_H = 0.5;
/** A stay that lasts this long counts as one without an end, where nothing else is given [days]. */
export const DEFAULT_HORIZON_DAYS = 60;
/** Of a month's days, each of these is a beginning: ten stays a month and weather year. */
const START_EVERY_DAYS = 3;
/** More weather years are made where the shortest stay may be off by more than this share and so many days, for the few there are. */
const OPEN_SHARE = 0.25;
const OPEN_DAYS = 1;
const MORE_YEARS = 20;
/** Years differ little in the dark. */
const DARK_RANGE_YEARS = 3;
/** Vehicles of an ensemble that are followed, each in a mirrored pair of weather years. */
const VEHICLES = 24;
/** Steps of the answer to how much engine a day [min]. */
export const ENGINE_MINUTES = [0, 5, 10, 15, 20, 30, 45, 60, 90, 120, 180, MAX_ENGINE_MINUTES];

/**
 * How long a rig can stay put: with no charging at all, and with the sun of the season and the engine off, month by month
 * over weather years. A stay begins at local midnight of every third day, and ends with the first breach of the owner's
 * floor, the first cut of the loads or the first cut-out of a fridge. Also the spread for what nobody can know, and what
 * some engine every morning, one more panel or one more battery would change.
 * A load too strong for the inverter is no end: it has nothing to do with how long one stays (`checkRig` tells).
 * Of a rig with an ensemble the vehicle in its middle is followed, and others for the spread.
 * Pure: same rig, stop, options and weather text, same result on each machine.
 * @param stop where; of a trip the stop's own place, shade, skyline, months and use
 * @throws ConfigError when place or weather do not serve
 * @throws RangeError for an option out of its documented range
 * @example
 * ```ts
 * import { readRig, stayStudy } from '@stayput/core';
 *
 * const { rig } = readRig(`
 * battery: { chemistry: AGM, capacity: 90 Ah }
 * solar: [{ power: 100 W }]
 * loads: [{ name: fridge, kind: fridge, volume: 30 L, setpoint: 5 degC }]
 * `);
 * const { darkDays, months } = stayStudy(rig, { place: 'Porto' }, { months: [12], years: 2 });
 * console.log(`without sun ${darkDays.toFixed(1)} days`);
 * for (const { month, parkedDaysP50 } of months) console.log(`month ${month}: ${parkedDaysP50.toFixed(1)} days`);
 * ```
 */
export function stayStudy(rig: Rig, stop: StudyStop, options: StayOptions = {}): StayStudy {
  return finish(stayTask(rig, stop, options), options.signal);
}

/**
 * The same in slices, between which the event loop turns: a page stays alive meanwhile, and an abort is heard.
 * @throws the reason of `options.signal` once that is aborted, beside what `stayStudy` throws
 */
export async function stayStudyAsync(rig: Rig, stop: StudyStop, options: StayOptions = {}): Promise<StayStudy> {
  return finishInSlices(stayTask(rig, stop, options), options.signal);
}

function* stayTask(rig: Rig, stop: StudyStop, options: StayOptions): Task<StayStudy> {
  requireSound('stayStudy', 'rig', rig);
  requireStop('stayStudy', stop);
  return yield* stayTaskUnder(rig, options, weatherCases(rig, stop, { stepH: STEP_H, ...options }));
}

/** The same under weather years that may be kept for other rigs. */
export function* stayTaskUnder(
  written: Rig,
  options: StayOptions,
  cases: Pick<WeatherCases, 'count' | 'conditionsTask'>,
): Task<StayStudy> {
  const { fromSoc, endAt, horizonDays, months } = stayAsked(options);
  const { onProgress } = options;
  const rig = middleVehicle(written);
  const vehicles = written.ensemble && someVehicles(written.ensemble, VEHICLES);
  const pairs = Math.ceil(cases.count / 2);
  const panel = withOneMorePanel(rig);
  const battery = { ...withOneMoreBattery(rig), what: withOneMoreBattery(written).what };
  const stays: Stays[] = [];
  let ends: Ends | undefined;
  let first: Conditions | undefined;
  const notes: WeatherNote[] = [];
  function* follow(year: number, wanted: readonly number[]): Task<void> {
    const conditions = yield* cases.conditionsTask(year);
    first ??= conditions;
    for (const note of conditions.notes) if (!notes.some(({ text }) => text === note.text)) notes.push(note);
    const { days } = conditions.itinerary;
    const starts = startsIn(days, wanted);
    const how: StayRunOptions = { starts, startSoc: fromSoc, endAt, horizonDays };
    const memo = partMemo();
    const once = (variant: Rig) => assembledOnce(variant, conditions, memo);
    const asIs = yield* once(rig);
    if (!vehicles) ends ??= endsOf(asIs.assembled, options.weather ?? { kind: 'climate' });
    const parked = yield* run(asIs, how);
    const dark = yield* darkRun(asIs, how);
    const darkFromFull = fromSoc < 1 ? yield* darkRun(asIs, { ...how, startSoc: 1 }) : undefined;
    const range = ends && (yield* rangeOf(ends, once, how, year < DARK_RANGE_YEARS));
    const others = new Map<number, Pick<Stays, 'parked' | 'dark'>>();
    for (const [k, vehicle] of (vehicles ?? []).entries()) {
      if (k % pairs !== year >> 1) continue;
      const other = yield* once(vehicleOf(written, vehicle));
      others.set(k, { parked: yield* run(other, how), dark: yield* darkRun(other, how) });
    }
    const more = panel && (yield* run(yield* once(panel.rig), how));
    const larger = yield* once(battery.rig);
    stays.push({
      months: starts.map((day) => monthOfStay(days[day]!.date)),
      parked,
      dark,
      ...(darkFromFull && { darkFromFull }),
      ...(range && { range }),
      ...(vehicles && { vehicles: others }),
      ...(more && { panel: more }),
      battery: yield* run(larger, how),
      darkBattery: yield* darkRun(larger, how),
      ...(rig.alternator && { engineNeeds: yield* engineNeeds(rig, conditions, how, parked, memo) }),
    });
  }
  for (let year = 0; year < cases.count; year++) {
    yield* follow(year, months);
    onProgress?.((year + 1) / cases.count);
  }
  const { kind: weatherKind } = options.weather ?? { kind: 'climate' as const };
  const [leg] = first!.itinerary.legs;
  const kind = {
    isMade: weatherKind === 'climate',
    isReal: weatherKind === 'file',
    madeSpread: weatherKind === 'climate' ? madeSpread(leg!.place, climateOf(leg!, rig).climate) : 0,
  };
  const rowOf = (month: number) => studyMonth(month, stays, horizonDays, kind);
  let rows = months.map(rowOf);
  if (kind.isMade && options.years === undefined) {
    // the answer is the shortest stay of nine in ten: where ten years leave it open, more are made
    const short = rows.reduce((a, b) => (b.parkedDaysP10 < a.parkedDaysP10 ? b : a));
    const off = Z90 * sampledSpread(yearsOf(short.month, stays, true));
    if (off > OPEN_SHARE && off * short.parkedDaysP10 > OPEN_DAYS && short.parkedDaysP10 < horizonDays) {
      for (let year = cases.count; year < cases.count + MORE_YEARS; year++) yield* follow(year, [short.month]);
      rows = months.map(rowOf);
    }
  }
  const darkest = rows.reduce((a, b) => (b.darkDays < a.darkDays ? b : a));
  const isHarder = (b: StayMonth, a: StayMonth) =>
    b.parkedDaysP10 === a.parkedDaysP10 ? b.parkedDaysP50 < a.parkedDaysP50 : b.parkedDaysP10 < a.parkedDaysP10;
  const hardest = rows.reduce((a, b) => (isHarder(b, a) ? b : a));
  const { place } = leg!;
  return {
    place,
    weatherYears: cases.count,
    fromSoc,
    endAt,
    horizonDays,
    darkDays: darkest.darkDays,
    darkMonth: darkest.month,
    hardestMonth: hardest.month,
    months: rows,
    unknowns: ends?.unknowns ?? [],
    ...(vehicles && { vehicles: vehicles.length }),
    ...(panel && { panel: withoutRig(panel) }),
    battery: withoutRig(battery),
    notes,
  };
}

/** Stays at the ends of what nobody can know, those in the dark only where asked for. */
function* rangeOf(
  ends: Ends,
  once: (variant: Rig) => Task<Once>,
  how: StayRunOptions,
  isDarkToo: boolean,
): Task<NonNullable<Stays['range']>> {
  const low = yield* run(yield* once(ends.low), how);
  const high = yield* run(yield* once(ends.high), how);
  if (!isDarkToo) return { low, high };
  const darkLow = yield* darkRun(yield* once(ends.darkLow), how);
  const darkHigh = yield* darkRun(yield* once(ends.darkHigh), how);
  return { low, high, darkLow, darkHigh };
}

/** Days of a year at whose first minute stays begin. */
export const startsIn = (days: readonly CivilDay[], months: readonly number[]) =>
  Array.from(days.keys()).filter(
    (day) => day % START_EVERY_DAYS === 0 && months.includes(monthOfStay(days[day]!.date)),
  );

/** A rig under a year of weather, laid out for the loop. */
export interface Once {
  readonly assembled: Assembled;
  readonly rows: Float64Array;
  readonly dayFrom: readonly number[];
}

export function* assembledOnce(rig: Rig, conditions: Conditions, memo: Memo): Task<Once> {
  const assembled = yield* assembleTask(rig, conditions, 1, memo);
  return { assembled, rows: layOutSteps(assembled.input), dayFrom: dayStarts(assembled) };
}

export function* run({ assembled, dayFrom, rows }: Once, how: StayRunOptions): Task<Lengths> {
  yield;
  return yield* stayLengthsTask(assembled, rows, dayFrom, how);
}

/** In the same air, with no charger giving anything; what the controllers themselves draw stays. */
export function* darkRun(once: Once, how: StayRunOptions): Task<Lengths> {
  const { input } = once.assembled;
  const rows = once.rows.slice();
  for (let lane = 0; lane < input.chargers; lane++) setChargerShare(rows, input, lane, 0);
  return yield* run({ ...once, rows }, how);
}

/**
 * For every second stay the least of `ENGINE_MINUTES` every morning with which it outlasts the horizon, Infinity when none
 * does; NaN for the others. More engine never shortens a stay, so the least is found by halving.
 */
function* engineNeeds(
  rig: Rig,
  conditions: Conditions,
  how: StayRunOptions,
  parked: Lengths,
  memo: Memo,
): Task<Float64Array> {
  const once = yield* assembledOnce(rig, withMornings(conditions, MAX_ENGINE_MINUTES / 60), whenDriven(memo, rig));
  const { input, solar } = once.assembled;
  const needs = new Float64Array(how.starts.length).fill(Number.NaN);
  function* halve(stays: readonly number[], fails: number, does: number): Task<void> {
    if (stays.length === 0) return;
    if (does - fails === 1) {
      for (const k of stays) needs[k] = ENGINE_MINUTES[does] ?? Infinity;
      return;
    }
    const middle = (fails + does) >> 1;
    const { driving } = withMornings(conditions, ENGINE_MINUTES[middle]! / 60).itinerary;
    setChargerShare(once.rows, input, solar.length, driving);
    const { cause } = yield* run(once, { ...how, starts: stays.map((k) => how.starts[k]!) });
    const fitting = (outlasts: boolean) => stays.filter((_, n) => cause[n]! < 0 === outlasts);
    yield* halve(fitting(true), fails, middle);
    yield* halve(fitting(false), middle, does);
  }
  const tried = Array.from(how.starts.keys()).filter((k) => k % 2 === 0);
  for (const k of tried) if (parked.cause[k]! < 0) needs[k] = 0;
  yield* halve(
    tried.filter((k) => parked.cause[k]! >= 0),
    0,
    ENGINE_MINUTES.length,
  );
  return needs;
}

/** Options with what is left out filled in. @throws RangeError for one out of its documented range */
export function stayAsked(options: StayOptions) {
  const { fromSoc = 1, endAt = 'floor', horizonDays = DEFAULT_HORIZON_DAYS } = options;
  if (!(fromSoc >= 0 && fromSoc <= 1)) throw new RangeError(`fromSoc must be 0 to 1, got ${fromSoc}`);
  if (!(Number.isInteger(horizonDays) && horizonDays >= 1 && horizonDays <= 365))
    throw new RangeError(`horizonDays must be a whole number from 1 to 365, got ${horizonDays}`);
  return { fromSoc, endAt, horizonDays, months: monthsAsked(options) };
}

function monthsAsked({ months }: StayOptions): readonly number[] {
  if (!months) return Array.from({ length: 12 }, (_, k) => k + 1);
  const wrong = months.find((month) => !(Number.isInteger(month) && month >= 1 && month <= 12));
  if (wrong !== undefined || months.length === 0) throw new RangeError(`months are 1 to 12, got ${wrong ?? 'none'}`);
  return [...new Set(months)].toSorted((a, b) => a - b);
}

function withoutRig({ rig: _, ...more }: WhatIf): OneMore {
  return more;
}
