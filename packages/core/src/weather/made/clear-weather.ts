import type { Place } from '../../place/index.js';
import { climateAt } from '../../place/index.js';
import type { MonthlyClimate } from '../../rig/index.js';
import type { Grid, SunColumns, WeatherColumns } from '../../sky/index.js';
import { clearSkyColumns, monthlyTurbidity } from '../../sky/index.js';
import { ambientColumn } from './ambient-course.js';
import { meanDailyAir } from './mean-daily-air.js';

/** Light air, on the cautious side for a hot panel. Common practice, no source [m/s]. */
export const LIGHT_AIR_MS = 2;

/**
 * A cloudless sky every day (Ineichen & Perez with the default turbidity of the place and month), air temperature between the
 * climate's mean daily extremes, wind 2 m/s: the best case.
 * @param climate absent = interpolated from the table of places
 * @param sun the sun on the same grid, at the place
 */
export function clearWeather(
  place: Place,
  climate: MonthlyClimate | undefined,
  grid: Grid,
  sun: SunColumns,
): WeatherColumns {
  const months = climate ?? climateAt(place.latDeg, place.lonDeg, place.elevationM).climate;
  const sky = clearSkyColumns(sun, place.elevationM, monthlyTurbidity(place.latDeg, place.elevationM), grid);
  return {
    ghiWm2: sky.ghiWm2,
    dniWm2: sky.dniWm2,
    dhiWm2: sky.dhiWm2,
    ambientC: ambientColumn(place.latDeg, place.lonDeg, grid, meanDailyAir(months, place.lonDeg, grid)),
    windMs: new Float64Array(grid.steps).fill(LIGHT_AIR_MS),
  };
}
