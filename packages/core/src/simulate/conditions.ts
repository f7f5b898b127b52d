import { cabinColumn } from '../load/index.js';
import {
  clearWeather,
  climateAt,
  climateWeather,
  dullWeather,
  type Grid,
  type Itinerary,
  itineraryFor,
  type Leg,
  readWeatherFile,
  type SunColumns,
  standardOffsetH,
  sunColumns,
  type WeatherColumns,
  type WeatherNote,
  type WeatherSeries,
  weatherOnGrid,
} from '../place/index.js';
import type { MonthlyClimate, Rig, Trip } from '../rig/index.js';
import type { Conditions } from './types.js';

/** A weather file's text, read by the caller: core touches no files. */
export interface WeatherText {
  /** shown in messages and notes */
  readonly name: string;
  readonly text: string;
  /** which column of a CSV holds what, where its wording does not say */
  readonly columns?: Readonly<Record<string, string>>;
}

export interface ConditionOptions {
  /** needed when the trip's weather is a file */
  readonly weatherFile?: WeatherText;
  /** 1/60 to 1, a whole number of steps to the hour; 1/6 unless given [h] */
  readonly stepH?: number;
  /** of made weather: same seed, same weather on any machine */
  readonly seed?: number;
  /** which of the seed's weather years, from 0 */
  readonly year?: number;
}

export const DEFAULT_STEP_H = 1 / 6;
const DEFAULT_SEED = 1;

/**
 * Everything that the rig meets from outside over a trip: sun, weather, what the stop's trees leave of the beam, and
 * the cabin's air. Pure: same trip, options and weather text, same columns.
 * @throws ConfigError for a trip that does not join up, a place not known, or a weather file that does not serve
 */
export function conditionsFor(
  rig: Pick<Rig, 'cabin' | 'months'>,
  trip: Trip,
  options: ConditionOptions = {},
): Conditions {
  const itinerary = itineraryFor(trip, options.stepH ?? DEFAULT_STEP_H);
  const { grid } = itinerary;
  const column = () => new Float64Array(grid.steps);
  const sun = { cosZenith: column(), azimuthDeg: column(), extraNormalWm2: column() };
  const weather = { ghiWm2: column(), dniWm2: column(), dhiWm2: column(), ambientC: column(), windMs: column() };
  const beamKeeps = column();
  const shade = column();
  const notes: WeatherNote[] = [];
  const series = trip.weather.kind === 'file' ? weatherSeries(trip.weather.path, options) : undefined;

  for (const leg of itinerary.legs) {
    const span: Grid = { startMs: leg.startMs, stepH: grid.stepH, steps: leg.steps };
    const legSun = sunColumns(leg.place.latDeg, leg.place.lonDeg, span);
    const made = legWeather(leg, span, legSun, rig, trip, options, series);
    for (const key of ['cosZenith', 'azimuthDeg', 'extraNormalWm2'] as const) sun[key].set(legSun[key], leg.firstStep);
    for (const key of ['ghiWm2', 'dniWm2', 'dhiWm2', 'ambientC', 'windMs'] as const)
      weather[key].set(made.columns[key], leg.firstStep);
    beamKeeps.fill(1 - leg.stop.shade, leg.firstStep, leg.firstStep + leg.steps);
    shade.fill(leg.stop.shade, leg.firstStep, leg.firstStep + leg.steps);
    for (const note of made.notes) if (!notes.some((known) => known.text === note.text)) notes.push(note);
  }
  const cabinC = cabinColumn(weather.ambientC, weather.ghiWm2, rig.cabin, shade, grid.stepH);
  return { itinerary, grid, sun, weather, beamKeeps, cabinC, notes };
}

function weatherSeries(path: string, options: ConditionOptions): WeatherSeries {
  const { weatherFile } = options;
  if (!weatherFile) throw new RangeError(`the trip's weather is the file ${path}: pass its text as weatherFile`);
  return readWeatherFile(weatherFile.text, {
    file: weatherFile.name,
    ...(weatherFile.columns && { columns: weatherFile.columns }),
  });
}

function legWeather(
  leg: Leg,
  grid: Grid,
  sun: SunColumns,
  rig: Pick<Rig, 'months'>,
  trip: Trip,
  options: ConditionOptions,
  series: WeatherSeries | undefined,
): { columns: WeatherColumns; notes: readonly WeatherNote[] } {
  const { place } = leg;
  if (series) {
    const site = {
      latDeg: place.latDeg,
      lonDeg: place.lonDeg,
      elevationM: place.elevationM,
      utcOffsetH: standardOffsetH(leg.startMs, place.zone),
    };
    return weatherOnGrid(series, site, grid, sun);
  }
  const found = climateAt(place.latDeg, place.lonDeg, place.elevationM);
  const own = { ...rig.months, ...leg.stop.months };
  const climate: MonthlyClimate = { ...found.climate, ...own };
  const notes: WeatherNote[] = [{ code: 'climate_place', text: ownMonthsText(own, found.note) }];
  const { kind } = trip.weather;
  if (kind === 'clear') return { columns: clearWeather(place, climate, grid, sun), notes };
  if (kind === 'dull') return { columns: dullWeather(place, climate, grid, sun), notes };
  const draw = { seed: options.seed ?? DEFAULT_SEED, year: options.year ?? 0 };
  return { columns: climateWeather(place, climate, grid, sun, draw), notes };
}

function ownMonthsText(own: Partial<MonthlyClimate>, tableNote: string): string {
  const given = [
    own.ghiKwhM2Day && 'irradiation',
    own.tMaxC && 'highest temperatures',
    own.tMinC && 'lowest temperatures',
  ].filter((what) => what !== undefined);
  if (given.length === 3) return 'climate: the months given in the file';
  return given.length
    ? `climate: ${given.join(' and ')} as given in the file, the rest from the table: ${tableNote}`
    : tableNote;
}

/** The trip's places in order, each once. */
export function placesOf(itinerary: Itinerary): Leg['place'][] {
  const places = itinerary.legs.map((leg) => leg.place);
  return places.filter(
    (place, k) => places.findIndex((other) => other.latDeg === place.latDeg && other.lonDeg === place.lonDeg) === k,
  );
}
