import { HOUR_MS } from '../../math/index.js';
import { seriesFromRows, type WeatherColumnName, type WeatherSeries } from './weather-series.js';

/** Own weather as columns: a value for each of equal intervals, NaN where nothing was measured. */
export interface OwnWeather {
  /** shown in messages and notes; "own weather" unless given */
  readonly name?: string;
  /** beginning of the first interval, UTC [ms] */
  readonly startMs: number;
  /** length of each: an hour, or so many to the hour [h] */
  readonly stepH: number;
  /** mean irradiance on the horizontal, or the beam with the diffuse [W/m²] */
  readonly ghiWm2?: ArrayLike<number>;
  readonly dniWm2?: ArrayLike<number>;
  readonly dhiWm2?: ArrayLike<number>;
  /** air temperature [°C] */
  readonly ambientC: ArrayLike<number>;
  /** at 10 m [m/s] */
  readonly windMs?: ArrayLike<number>;
}

const COLUMNS: Readonly<Record<WeatherColumnName, 'ghiWm2' | 'dniWm2' | 'dhiWm2' | 'ambientC' | 'windMs'>> = {
  ghi: 'ghiWm2',
  dni: 'dniWm2',
  dhi: 'dhiWm2',
  air: 'ambientC',
  wind: 'windMs',
};

/**
 * Weather from columns in memory, to be handed in as `weatherFile` where a trip's weather names a file. Gaps are filled as in a file.
 * @throws TypeError that names what is no column or has another length
 * @throws ConfigError when more than 10 % of the light or of the temperature is missing, or intervals do not divide the hour
 * @example
 * ```ts
 * import { readRig, simulate, weatherFromColumns, withoutTrip } from '@stayput/core';
 *
 * const hours = Array.from({ length: 4 * 24 }, (_, i) => i);
 * const weatherFile = weatherFromColumns({
 *   startMs: Date.UTC(2026, 6, 1),
 *   stepH: 1,
 *   ghiWm2: hours.map((hour) => Math.max(0, 800 * Math.sin(((hour % 24) - 6) * (Math.PI / 12)))),
 *   ambientC: hours.map(() => 21),
 * });
 * const { rig } = readRig('battery: { chemistry: LFP, capacity: 100 Ah }\nsolar: [{ power: 175 W }]');
 * const trip = withoutTrip({ at: '41.2,-8.6', from: '2026-07-02', days: 2, weather: 'mine' });
 * console.log(Math.round(simulate(rig, trip, { weatherFile }).summary.pvAvailableWh) > 1000); // → true
 * ```
 */
export function weatherFromColumns(weather: OwnWeather): WeatherSeries {
  const { name = 'own weather', startMs, stepH } = weather;
  const refuse = (what: string): never => {
    throw new TypeError(`weatherFromColumns: ${what}`);
  };
  if (!Number.isFinite(startMs)) refuse(`startMs is ${startMs}, and a time in UTC milliseconds is needed`);
  if (!(stepH > 0)) refuse(`stepH is ${stepH}, and the length of an interval in hours is needed`);
  const steps = weather.ambientC?.length;
  if (!(steps > 0)) refuse('ambientC is missing, and a number for each interval is needed');
  const given = (Object.keys(COLUMNS) as WeatherColumnName[]).filter((role) => weather[COLUMNS[role]] !== undefined);
  if (!given.includes('ghi') && !(given.includes('dni') && given.includes('dhi')))
    refuse('ghiWm2 is missing, or dniWm2 with dhiWm2');
  const columns = Object.fromEntries(
    given.map((role) => {
      const key = COLUMNS[role];
      const column = Float64Array.from(weather[key]!);
      if (column.length !== steps) refuse(`${key} has ${column.length} values, and ambientC has ${steps}`);
      return [role, column];
    }),
  );
  const stepMs = Math.round(stepH * HOUR_MS);
  const beginMs = Float64Array.from({ length: steps }, (_, i) => startMs + i * stepMs);
  return seriesFromRows({ file: name, beginMs, stepMs, columns, year: 'by stamps', utcOffsetH: 0, notes: [] });
}
