import { DAY_MS, HOUR_MS } from '../../math/index.js';
import { addDays, findPlace, standardOffsetH, zoneAt } from '../../place/index.js';
import { ConfigError, type Rig, type Stop, type Trip, type WeatherChoice } from '../../rig/index.js';
import {
  type ConditionOptions,
  type Conditions,
  type WeatherText,
  weatherYears,
  withEndlessFuel,
} from '../../simulate/index.js';
import { readWeatherFile, type WeatherSeries } from '../../weather/index.js';

/** Where a study stands: a stop of a trip serves, and so does a position alone. Dates, drives and mains are of no account. */
export type StudyStop = Pick<Stop, 'at' | 'place'> &
  Partial<Pick<Stop, 'name' | 'elevationM' | 'zone' | 'shade' | 'use' | 'horizon' | 'months'>>;

/** @throws TypeError that names the function, when what it was given says no place */
export function requireStop(caller: string, stop: StudyStop): void {
  const { at, place } = stop ?? {};
  const isAt = Number.isFinite(at?.latDeg) && Number.isFinite(at?.lonDeg);
  if (!isAt && typeof place !== 'string')
    throw new TypeError(`${caller}: the stop needs at: { latDeg, lonDeg }, or place, a name such as 'Porto'`);
}

/** Which weather years a study runs through. */
export interface WeatherCaseOptions {
  readonly weather?: WeatherChoice;
  /** needed when the weather is a file */
  readonly weatherFile?: WeatherText;
  /** weather years: 10 for `climate` unless given; the others have one, or as many as a dated file holds */
  readonly years?: number;
  readonly seed?: number;
  readonly stepH?: number;
}

/** Weather years where none are given. */
export const DEFAULT_WEATHER_YEARS = 10;
/** The most weather years a study takes. */
export const MAX_WEATHER_YEARS = 1000;
const YEAR_DAYS = 365;
/** The calendar of made weather and of typical years. Which year moves the sun by less than 0.3° of declination. */
const ANY_YEAR = 2025;

/** Whole years of weather at one place, each worked out when asked for, so that one at a time is in memory. */
export interface WeatherCases {
  readonly count: number;
  /** the columns of one of them, from 0 */
  conditions(index: number): Conditions;
}

/**
 * The weather years of a study, each of 365 days at one place. Made weather begins on 1 January; a dated file is cut into
 * as many whole years as it holds, from its first full day.
 * @throws RangeError for a number of years that is none
 * @throws ConfigError for a place not known, or a weather file that does not serve or holds less than a year
 */
export function weatherCases(
  rig: Pick<Rig, 'cabin' | 'months'>,
  stop: StudyStop,
  options: WeatherCaseOptions = {},
): WeatherCases {
  const { weather = { kind: 'climate' }, years } = options;
  if (years !== undefined && !(Number.isInteger(years) && years >= 1 && years <= MAX_WEATHER_YEARS))
    throw new RangeError(`years must be a whole number from 1 to ${MAX_WEATHER_YEARS}, got ${years}`);
  const conditionOptions: ConditionOptions = {
    ...(options.weatherFile && { weatherFile: options.weatherFile }),
    ...(options.stepH !== undefined && { stepH: options.stepH }),
    ...(options.seed !== undefined && { seed: options.seed }),
  };
  const laid = (from: string, series?: WeatherSeries) =>
    weatherYears(withEndlessFuel(rig), yearAt(stop, weather, from), conditionOptions, series);
  if (weather.kind !== 'file') {
    const { year } = laid(`${ANY_YEAR}-01-01`);
    return { count: weather.kind === 'climate' ? (years ?? DEFAULT_WEATHER_YEARS) : 1, conditions: year };
  }
  const { weatherFile } = options;
  if (!weatherFile) throw new RangeError(`the weather is the file ${weather.path}: pass its text as weatherFile`);
  const { name, text, columns } = weatherFile;
  const series = readWeatherFile(text, { file: name, ...(columns && { columns }) });
  const starts = series.kind === 'typical' ? [`${ANY_YEAR}-01-01`] : yearStarts(series, stop);
  const used = starts.slice(0, years ?? starts.length);
  return { count: used.length, conditions: (index) => laid(used[index]!, series).year(0) };
}

function yearAt(stop: StudyStop, weather: WeatherChoice, from: string): Trip {
  const whole: Stop = {
    ...stop,
    from,
    nights: YEAR_DAYS,
    driveH: 0,
    driveFromH: 0,
    shade: stop.shade ?? 0,
    use: stop.use ?? {},
    mainsH: 0,
    mainsFromH: 0,
    horizon: stop.horizon ?? [],
  };
  return { name: '', startSoc: 1, weather, stops: [whole] };
}

/** Local dates from which a dated file holds 365 days; two hours may be missing at either end. */
function yearStarts(series: WeatherSeries, stop: StudyStop): string[] {
  const { latDeg, lonDeg } = stop.at ?? findPlace(stop.place ?? '');
  const zone = stop.zone ?? zoneAt(latDeg, lonDeg);
  const placeOffsetMs = standardOffsetH(series.startMs, zone) * HOUR_MS;
  const fileOffsetMs = series.utcOffsetH === undefined ? placeOffsetMs : series.utcOffsetH * HOUR_MS;
  const startMs = series.startMs - fileOffsetMs + placeOffsetMs;
  const endMs = startMs + series.intervals * series.stepMs;
  const firstDay = Math.ceil((startMs - 2 * HOUR_MS) / DAY_MS);
  const lastDay = Math.floor((endMs + 2 * HOUR_MS) / DAY_MS);
  const first = new Date(firstDay * DAY_MS).toISOString().slice(0, 10);
  const count = Math.floor((lastDay - firstDay) / YEAR_DAYS);
  if (count < 1)
    throw new ConfigError([
      {
        code: 'weather_span',
        path: '',
        file: series.file,
        message: `the file holds ${Math.max(0, lastDay - firstDay)} whole days, and a study by month needs ${YEAR_DAYS}`,
        hint: 'take a typical year, or --weather climate',
      },
    ]);
  return Array.from({ length: count }, (_, k) => addDays(first, k * YEAR_DAYS));
}
