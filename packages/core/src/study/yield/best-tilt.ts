import type { Task } from '../../math/index.js';
import type { Rig, SolarArray } from '../../rig/index.js';
import type { Conditions } from '../../simulate/index.js';
import { calendarOf } from '../run/calendar.js';
import { arrayYieldWh } from './array-year.js';
import { hourlyOf } from './hourly.js';
import { addInto } from './yield-sums.js';

/** Tilts that are tried; between them yield follows a parabola closely, since it goes with the cosine of the tilt. */
const TRIED_STEP_DEG = 15;
const TRIED = Array.from({ length: 90 / TRIED_STEP_DEG + 1 }, (_, k) => k * TRIED_STEP_DEG);

/** The same array fixed at another tilt toward the equator. */
export function tilted(array: SolarArray, tiltDeg: number, latDeg: number): SolarArray {
  return { ...array, tiltDeg, azimuthDeg: latDeg >= 0 ? 180 : 0, reaimedPerDay: 0 };
}

/** Yield of all arrays by tilt toward the equator, gathered over weather years. */
export interface TiltScan {
  add(conditions: Conditions): Task<void>;
  /** in whole degrees: for the year, and for each month (undefined without any yield) */
  best(): { readonly yearDeg: number; readonly monthDeg: readonly (number | undefined)[] };
}

/** On hourly means, which is enough for a maximum as flat as this. */
export function tiltScan(rig: Rig): TiltScan {
  const byTilt = TRIED.map(() => new Float64Array(12));
  return {
    *add(conditions) {
      const hourly = hourlyOf(conditions);
      const calendar = calendarOf(hourly.itinerary);
      const { latDeg } = conditions.itinerary.legs[0]!.place;
      for (const [k, tiltDeg] of TRIED.entries())
        for (const array of rig.solar) {
          addInto(byTilt[k]!, arrayYieldWh(tilted(array, tiltDeg, latDeg), rig, hourly, calendar));
          yield;
        }
    },
    best: () => ({
      yearDeg: bestOf(byTilt.map((months) => months.reduce((sum, wh) => sum + wh, 0))) ?? 0,
      monthDeg: Array.from({ length: 12 }, (_, month) => bestOf(byTilt.map((months) => months[month]!))),
    }),
  };
}

/** Top of the parabola through the best tilt tried and its neighbours [whole deg]. */
function bestOf(yields: readonly number[]): number | undefined {
  const top = yields.indexOf(Math.max(...yields));
  if (!(yields[top]! > 0)) return undefined;
  const at = Math.min(TRIED.length - 2, Math.max(1, top));
  const [before, here, after] = [yields[at - 1]!, yields[at]!, yields[at + 1]!];
  const bend = before - 2 * here + after;
  const shift = bend < 0 ? (before - after) / (2 * bend) : top - at;
  return Math.round(Math.min(90, Math.max(0, (at + Math.min(1, Math.max(-1, shift))) * TRIED_STEP_DEG)));
}
