import { HOUR_MS, normalQuantile } from '../../math/index.js';
import type { Place } from '../../place/index.js';
import { climateAt } from '../../place/index.js';
import type { MonthlyClimate } from '../../rig/index.js';
import type { Grid, SunColumns, WeatherColumns } from '../../sky/index.js';
import { ambientColumn } from './ambient-course.js';
import { LIGHT_AIR_MS } from './clear-weather.js';
import { clearnessAt, clearnessCurve } from './clearness-distribution.js';
import { dayStatistics } from './day-statistics.js';
import { meanDailyAir } from './mean-daily-air.js';

/** The dull day is the darkest of so many. */
export const DULL_ONE_IN = 20;
/** An overcast day anywhere: where even the darkest of 20 is brighter (deserts), this is taken. Common practice, no source. */
const OVERCAST_CLEARNESS = 0.25;
/** Daily range of temperature under cloud, as a share of the month's mean. Common practice, no source. */
const DULL_SWING = 0.5;

/**
 * Overcast every day, for the worst case: each day has the clearness that one day in twenty falls below in its month at that
 * place (see `clearnessCurve`), at most 0.25; all of its light is diffuse, spread over the day
 * as cos(zenith). Half the usual daily range of temperature, wind 2 m/s.
 * @param climate absent = interpolated from the table of places
 * @param sun the sun on the same grid, at the place
 */
export function dullWeather(
  place: Place,
  climate: MonthlyClimate | undefined,
  grid: Grid,
  sun: SunColumns,
): WeatherColumns {
  const months = climate ?? climateAt(place.latDeg, place.lonDeg, place.elevationM).climate;
  const clearness = dullClearness(place, months);
  const { cosZenith, extraNormalWm2 } = sun;
  const ghiWm2 = new Float64Array(grid.steps);
  const localMs = (place.lonDeg / 15) * HOUR_MS;
  const perDay = Math.round(24 / grid.stepH);
  for (let first = 0; first < grid.steps; first += perDay) {
    const month = new Date(grid.startMs + (first + perDay / 2) * grid.stepH * HOUR_MS + localMs).getUTCMonth();
    const share = clearness[month]!;
    const end = Math.min(grid.steps, first + perDay);
    for (let i = first; i < end; i++) {
      const cosZ = cosZenith[i]!;
      if (cosZ > 0) ghiWm2[i] = share * extraNormalWm2[i]! * cosZ;
    }
  }
  return {
    ghiWm2,
    dniWm2: new Float64Array(grid.steps),
    dhiWm2: ghiWm2.slice(),
    ambientC: ambientColumn(place.latDeg, place.lonDeg, grid, meanDailyAir(months, place.lonDeg, grid, DULL_SWING)),
    windMs: new Float64Array(grid.steps).fill(LIGHT_AIR_MS),
  };
}

/** Clearness of a dull day in each month. */
export function dullClearness(
  place: Pick<Place, 'latDeg' | 'lonDeg' | 'elevationM'>,
  climate: MonthlyClimate,
): number[] {
  const { mean, clearest, spread } = dayStatistics(place, climate);
  const score = normalQuantile(1 / DULL_ONE_IN);
  return mean.map((k, month) => {
    const curve = clearnessCurve({ mean: k, clearest: clearest[month]!, spread: spread[month]! });
    return Math.min(OVERCAST_CLEARNESS, clearnessAt(curve, score));
  });
}
