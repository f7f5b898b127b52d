import { DAY_MS, finish, HOUR_MS, type Task } from '../../math/index.js';
import { addDays, findPlace, standardOffsetH, zoneAt } from '../../place/index.js';
import { ConfigError, type Rig, type Stop, type Trip, type WeatherChoice } from '../../rig/index.js';
import {
  type ConditionOptions,
  type Conditions,
  type GivenWeather,
  type OwnLoad,
  type WeatherYears,
  weatherSeriesOf,
  weatherYearsTask,
  withEndlessFuel,
} from '../../simulate/index.js';
import type { WeatherSeries } from '../../weather/index.js';

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
  readonly weatherFile?: GivenWeather;
  /** weather years: 10 for `climate` unless given; the others have one, or as many as a dated file holds */
  readonly years?: number;
  readonly seed?: number;
  readonly stepH?: number;
  /** loads beside the rig's own: see `ConditionOptions` */
  readonly ownLoads?: readonly OwnLoad[];
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
  /** the same with pauses */
  conditionsTask(index: number): Task<Conditions>;
}

/**
 * The weather years of a study, each of 365 days at one place. Made weather begins on 1 January; each dated file is cut into
 * as many whole years as it holds, from its first full day; a typical year is one.
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
    ...(options.ownLoads && { ownLoads: options.ownLoads }),
  };
  const laid = (from: string, series?: WeatherSeries) =>
    weatherYearsTask(withEndlessFuel(rig), stopTrip(stop, from, YEAR_DAYS, weather), conditionOptions, series);
  const casesOf = (count: number, conditionsTask: WeatherCases['conditionsTask']): WeatherCases => ({
    count,
    conditions: (index) => finish(conditionsTask(index)),
    conditionsTask,
  });
  if (weather.kind !== 'file') {
    let made: WeatherYears | undefined;
    return casesOf(weather.kind === 'climate' ? (years ?? DEFAULT_WEATHER_YEARS) : 1, function* (index) {
      made ??= yield* laid(`${ANY_YEAR}-01-01`);
      return yield* made.yearTask(index);
    });
  }
  const { weatherFile } = options;
  if (!weatherFile) throw new RangeError(`the weather is the file ${weather.path}: pass its text as weatherFile`);
  const cut = weatherSeriesOf(weatherFile).flatMap((series) => {
    const starts = series.kind === 'typical' ? [`${ANY_YEAR}-01-01`] : yearStarts(series, stop);
    return starts.map((from) => ({ from, series }));
  });
  const used = cut.slice(0, years ?? cut.length);
  return casesOf(used.length, function* (index) {
    const made = yield* laid(used[index]!.from, used[index]!.series);
    return yield* made.yearTask(0);
  });
}

/** A trip in one of the years that weather files hold. */
export interface TripYear {
  readonly trip: Trip;
  readonly series: WeatherSeries;
}

/**
 * A trip in each year that weather files hold: on its own days and months of every year that a dated file covers, and as it
 * is under a typical year. Where no file covers any, the trip as it is, so that the run says what is missing.
 */
export function tripYears(trip: Trip, all: readonly WeatherSeries[]): TripYear[] {
  const { from } = trip.stops[0]!;
  if (from === undefined) return [{ trip, series: all[0]! }];
  const nights = trip.stops.reduce((sum, stop) => sum + stop.nights, 0);
  const years = all.flatMap((series): TripYear[] => {
    if (series.kind === 'typical') return [{ trip, series }];
    const dayOf = (ms: number) => Math.round(ms / DAY_MS);
    const [first, end] = [dayOf(series.startMs), dayOf(series.startMs + series.intervals * series.stepMs)];
    const [firstYear, lastYear] = [first, end].map((day) => new Date(day * DAY_MS).getUTCFullYear());
    return Array.from({ length: lastYear! - firstYear! + 1 }, (_, k) => firstYear! + k).flatMap((year) => {
      const by = year - Number(from.slice(0, 4));
      const begins = dayOf(Date.parse(movedBy(from, by)));
      if (begins < first || begins + nights > end) return [];
      return [
        {
          trip:
            by === 0
              ? trip
              : {
                  ...trip,
                  stops: trip.stops.map((stop) =>
                    stop.from === undefined ? stop : { ...stop, from: movedBy(stop.from, by) },
                  ),
                },
          series,
        },
      ];
    });
  });
  return years.length > 0 ? years : [{ trip, series: all[0]! }];
}

/** A date so many years later; 29 February becomes the 28th where there is none. */
function movedBy(date: string, years: number): string {
  const year = Number(date.slice(0, 4)) + years;
  const isLeap = new Date(Date.UTC(year, 1, 29)).getUTCMonth() === 1;
  return `${year}${date.slice(4, 10) === '-02-29' && !isLeap ? '-02-28' : date.slice(4)}`;
}

/** Parked at a stop for so many nights, whatever drives and mains the stop itself has. @param from local date, ISO */
export function stopTrip(stop: StudyStop, from: string, nights: number, weather: WeatherChoice): Trip {
  const whole: Stop = {
    ...stop,
    from,
    nights,
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
        hint: 'take a typical year, or the climate of the place',
      },
    ]);
  return Array.from({ length: count }, (_, k) => addDays(first, k * YEAR_DAYS));
}
