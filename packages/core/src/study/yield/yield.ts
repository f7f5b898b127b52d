import { finish, finishInSlices, type Task, type TaskOptions } from '../../math/index.js';
import { ConfigError, middleVehicle, type Rig, requireSound, type SolarArray } from '../../rig/index.js';
import type { Conditions } from '../../simulate/index.js';
import { calendarOf } from '../run/calendar.js';
import { requireStop, type StudyStop, type WeatherCaseOptions, weatherCases } from '../run/weather-cases.js';
import { arrayYear, arrayYieldWh } from './array-year.js';
import { tilted, tiltScan } from './best-tilt.js';
import { rangeEffects } from './yield-range.js';
import { ArraySums, addInto, type SetupSums, yieldResult } from './yield-sums.js';
import type { YieldStudy } from './yield-types.js';

/** Best tilts are sought on the first of so many weather years: the maximum is flat, and years differ little in it. */
const SCANNED_YEARS = 5;
const REAIMED_TIMES = 2;

/** Which weather years a yield runs through, and how its caller hears and stops that. */
export interface YieldOptions extends WeatherCaseOptions, TaskOptions {
  /** called after each weather year with the share that is done, 0..1 */
  readonly onProgress?: (done: number) => void;
}

/**
 * What a rig's arrays can give at one place, month by month, over weather years of 365 days: light on the planes, what is
 * available at their terminals, and what the controllers could give to a battery that takes everything. Also where the rest
 * is lost, the best fixed tilt, other setups beside it, and the ranges that follow from what nobody can know.
 * The battery's fullness and charge stages are not in it: `simulate` tells what is spilled.
 * Pure: same rig, stop, options and weather text, same result on each machine.
 * @param stop where; of a trip the stop's own place, shade, skyline and months
 * @throws ConfigError without an array, or when place or weather do not serve
 * @throws RangeError for an option out of its documented range
 */
export function yieldStudy(rig: Rig, stop: StudyStop, options: YieldOptions = {}): YieldStudy {
  return finish(yieldTask(rig, stop, options), options.signal);
}

/**
 * The same in slices, between which the event loop turns: a page stays alive meanwhile, and an abort is heard.
 * @throws the reason of `options.signal` once that is aborted, beside what `yieldStudy` throws
 */
export async function yieldStudyAsync(rig: Rig, stop: StudyStop, options: YieldOptions = {}): Promise<YieldStudy> {
  return finishInSlices(yieldTask(rig, stop, options), options.signal);
}

function* yieldTask(written: Rig, stop: StudyStop, options: YieldOptions): Task<YieldStudy> {
  requireSound('yieldStudy', 'rig', written);
  const rig = middleVehicle(written);
  requireStop('yieldStudy', stop);
  if (rig.solar.length === 0)
    throw new ConfigError([
      { code: 'missing', path: 'solar', message: 'the rig has no solar array, so there is no yield to work out' },
    ]);
  const cases = weatherCases(rig, stop, options);
  const scanned: Conditions[] = [];
  for (let year = 0; year < Math.min(cases.count, SCANNED_YEARS); year++)
    scanned.push(yield* cases.conditionsTask(year));
  const first = scanned[0]!;
  const { place } = first.itinerary.legs[0]!;
  const scan = tiltScan(rig);
  for (const conditions of scanned) yield* scan.add(conditions);
  const best = scan.best();

  const arrays = rig.solar.map((array) => new ArraySums(array));
  const setups = setupsOf(rig.solar, best.yearDeg, place.latDeg);
  const days = new Float64Array(12);
  for (let year = 0; year < cases.count; year++) {
    const conditions = scanned[year] ?? (yield* cases.conditionsTask(year));
    const calendar = calendarOf(conditions.itinerary);
    addInto(days, calendar.days);
    for (const sums of arrays) {
      sums.add(arrayYear(sums.array, rig, conditions, calendar));
      yield;
    }
    for (const { arrays: set, wh } of setups)
      for (const [k, array] of set.entries()) {
        // An array that already stands so need not be worked out again.
        const same = sameSetup(array, rig.solar[k]!) ? arrays[k]!.last.yieldWh : undefined;
        addInto(wh, same ?? arrayYieldWh(array, rig, conditions, calendar));
        yield;
      }
    options.onProgress?.((year + 1) / cases.count);
  }
  const weather = options.weather ?? { kind: 'climate' };
  const effects = yield* rangeEffects(rig, weather, first, options.seed);
  return yieldResult({ place, notes: first.notes, years: cases.count, days, arrays, setups, effects, best });
}

function setupsOf(arrays: readonly SolarArray[], bestDeg: number, latDeg: number): SetupSums[] {
  const fixed = (tiltDeg: number) => arrays.map((array) => tilted(array, tiltDeg, latDeg));
  const wh = () => new Float64Array(12);
  return [
    { how: { setup: 'flat', tiltDeg: 0 }, arrays: fixed(0), wh: wh() },
    { how: { setup: 'best tilt', tiltDeg: bestDeg }, arrays: fixed(bestDeg), wh: wh() },
    {
      how: { setup: 're-aimed', timesPerDay: REAIMED_TIMES },
      arrays: arrays.map((array) => ({ ...array, reaimedPerDay: REAIMED_TIMES })),
      wh: wh(),
    },
  ];
}

function sameSetup(one: SolarArray, other: SolarArray): boolean {
  if (one.reaimedPerDay !== other.reaimedPerDay) return false;
  if (one.reaimedPerDay > 0) return true;
  return one.tiltDeg === other.tiltDeg && (one.tiltDeg === 0 || one.azimuthDeg === other.azimuthDeg);
}
