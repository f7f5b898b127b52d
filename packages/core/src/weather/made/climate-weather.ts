import type { WeatherDraw } from '../../math/index.js';
import type { Place } from '../../place/index.js';
import type { MonthlyClimate } from '../../rig/index.js';
import type { Grid, SunColumns, WeatherColumns } from '../../sky/index.js';
import { ambientColumn } from './ambient-course.js';
import { globalLight } from './climate-light.js';
import { dailyWeather } from './daily-weather.js';
import { splitByTheHour } from './hour-split.js';
import { windColumn } from './wind-column.js';

/** Which of the endless weather years to make. */
export interface ClimateDraw {
  readonly seed: number;
  /** which of the seed's weather years, from 0; may go on without end */
  readonly year: number;
}

/**
 * Weather made from monthly means. Daily clearness: distribution of Aguiar et al. 1988 (its mean exact, no day clearer than
 * a cloudless one) in an autoregressive order (observed lag-1 0.2 to 0.6, median 0.35; here 0.35). Within the day: the clear
 * sky's course times a correlated texture (Graham & Hollands 1990) that keeps the day's sum. Beam and diffuse: Erbs by the
 * hour. Air: months' mean extremes, anomalies that persist, wider swing on clear days, Parton & Logan's course. Wind:
 * Rayleigh about 3 m/s, stronger in the afternoon. The same seed, year and place give the same day on each machine, whatever the run's span.
 * Accuracy: monthly light over 30 years within 1.1 %, mean extremes of air within 0.5 K (12 places); daily spread and order as
 * observed (tests/published/climate.checks.ts). The weather of neighbouring places is not linked.
 * @param sun the sun on the same grid, at the place
 */
export function climateWeather(
  place: Place,
  climate: MonthlyClimate,
  grid: Grid,
  sun: SunColumns,
  which: ClimateDraw,
): WeatherColumns {
  const draw: WeatherDraw = { ...which, latDeg: place.latDeg, lonDeg: place.lonDeg };
  const days = dailyWeather(place, climate, grid, draw);
  const ghiWm2 = globalLight(place, grid, sun, draw, days);
  const { dniWm2, dhiWm2 } = splitByTheHour(grid, sun, ghiWm2);
  return {
    ghiWm2,
    dniWm2,
    dhiWm2,
    ambientC: ambientColumn(place.latDeg, place.lonDeg, grid, days.air),
    windMs: windColumn(grid, place.lonDeg, draw, days),
  };
}
