import { DAY_MS, finish, HOUR_MS } from '../../math/index.js';
import {
  clearSkyColumns,
  dailyExtraterrestrialKwhM2,
  type Grid,
  linkeTurbidity,
  type SunColumns,
  sunColumns,
  type WeatherColumns,
} from '../../sky/index.js';
import { ambientColumn } from '../made/ambient-course.js';
import { LIGHT_AIR_MS } from '../made/clear-weather.js';
import { globalLight } from '../made/climate-light.js';
import { splitByTheHour } from '../made/hour-split.js';
import { solarDaysOf } from '../made/mean-daily-air.js';
import { fillFromNearest, linesText } from '../read/daily-table.js';
import type { WeatherNote } from '../read/note.js';
import type { WeatherSeries } from '../read/weather-series.js';

/** A day with more light than this times that of the cleanest air is no measurement. */
const MAX_OF_CLEAR = 1.05;
/** Linke turbidity of very clean cold air. Common practice, no source. */
const CLEANEST = 2;
/** Clouds within the day are made up, the same in each run. */
const CLOUD_SEED = 1;

type Site = { readonly latDeg: number; readonly lonDeg: number; readonly elevationM: number };

/**
 * A table of days on the grid of a run: each day's light by the clear sky's course times made clouds that keep its sum, and air
 * between its lowest and highest by the daily course, as in made weather. Days with more light than 1.05 of a cloudless day in
 * the cleanest air are told by their lines, and the nearest day's clearness stands for them. Wind 2 m/s.
 * @param notes gets what was left out
 */
export function dailyOnGrid(
  series: WeatherSeries,
  site: Site,
  grid: Grid,
  sun: SunColumns,
  notes: WeatherNote[],
): WeatherColumns {
  const { first, count } = solarDaysOf(site.lonDeg, grid);
  const { ghi, daily, intervals, startMs } = series;
  const clearness = new Float64Array(count);
  const minC = new Float64Array(count);
  const maxC = new Float64Array(count);
  const cleanest = cleanestDays(site);
  const tooBright: number[] = [];
  for (let i = 0; i < count; i++) {
    const day = first + i;
    const at = Math.min(intervals - 1, Math.max(0, day - Math.round(startMs / DAY_MS)));
    const date = new Date(day * DAY_MS);
    const dayOfYear = day - Date.UTC(date.getUTCFullYear(), 0, 1) / DAY_MS + 1;
    const outside = dailyExtraterrestrialKwhM2(site.latDeg, dayOfYear);
    const kwh = (ghi![at]! * 24) / 1000;
    clearness[i] = outside > 0 ? kwh / outside : 0;
    minC[i] = daily!.minC[at]!;
    maxC[i] = daily!.maxC[at]!;
    const ten = 3 * date.getUTCMonth() + Math.min(2, Math.floor((date.getUTCDate() - 1) / 10));
    if (kwh > MAX_OF_CLEAR * cleanest[ten]!) {
      clearness[i] = Number.NaN;
      if (daily!.line[at]! > 0 && !tooBright.includes(daily!.line[at]!)) tooBright.push(daily!.line[at]!);
    }
  }
  if (tooBright.length > 0) {
    fillFromNearest(clearness);
    notes.push({
      code: 'weather_too_bright',
      text: `${series.file}: ${tooBright.length} ${tooBright.length === 1 ? 'day' : 'days'} left out for more light than a cloudless day has there, on ${linesText(tooBright)}; the nearest days’ clearness stands for them`,
    });
  }
  const year = new Date((first + 1) * DAY_MS).getUTCFullYear();
  const draw = { seed: CLOUD_SEED, year, latDeg: site.latDeg, lonDeg: site.lonDeg };
  const air = { firstDay: first, minC, maxC };
  const days = { firstDay: first, clearness, wind: new Float64Array(count), air };
  const ghiWm2 = finish(globalLight(site, grid, sun, draw, days));
  return {
    ghiWm2,
    ...splitByTheHour(grid, sun, ghiWm2),
    ambientC: ambientColumn(site.latDeg, site.lonDeg, grid, air),
    windMs: new Float64Array(grid.steps).fill(LIGHT_AIR_MS),
  };
}

/** Light of cloudless days in the cleanest air [kWh/m²], by ten days of each month. */
function cleanestDays({ latDeg, lonDeg, elevationM }: Site): number[] {
  return Array.from({ length: 36 }, (_, k) => {
    const month = Math.floor(k / 3);
    const startMs = Date.UTC(2021, month, 6 + 10 * (k % 3)) - (lonDeg / 15) * HOUR_MS;
    const sun = sunColumns(latDeg, lonDeg, { startMs, stepH: 0.25, steps: 96 });
    const cleanest = Math.min(CLEANEST, linkeTurbidity({ latDeg, elevationM, month: month + 1 }).low);
    return clearSkyColumns(sun, elevationM, cleanest).ghiWm2.reduce((a, b) => a + b, 0) / 4000;
  });
}
