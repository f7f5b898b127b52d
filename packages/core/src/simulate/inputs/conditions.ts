import { cabinColumn } from '../../load/index.js';
import { DAY_MS, finish, HOUR_MS, type Task } from '../../math/index.js';
import {
  begunAt,
  climateAt,
  type Itinerary,
  type Leg,
  standardOffsetH,
  startStep,
  wholeDays,
} from '../../place/index.js';
import { type MonthlyClimate, type Rig, requireSound, type Trip } from '../../rig/index.js';
import { type Grid, type SunColumns, sunColumns, type WeatherColumns } from '../../sky/index.js';
import {
  clearWeather,
  climateWeatherTask,
  dullWeather,
  readWeatherFile,
  type WeatherNote,
  type WeatherSeries,
  weatherOnGrid,
} from '../../weather/index.js';
import type { Conditions } from '../types.js';
import { type OwnLoad, ownLoadColumns } from './own-loads.js';

/** A weather file's text, read by the caller: core touches no files. */
export interface WeatherText {
  /** shown in messages and notes */
  readonly name: string;
  readonly text: string;
  /** which column of a CSV holds what, where its wording does not say */
  readonly columns?: Readonly<Record<string, string>>;
  /** more years of the same place, in files of their own with the same columns */
  readonly more?: readonly { readonly name: string; readonly text: string }[];
}

/** Weather that the caller hands in: a file's text, or a series made before by `readWeatherFile` or `weatherFromColumns`. */
export type GivenWeather = WeatherText | WeatherSeries;

/** What it is called in messages and notes. */
export const weatherName = (given: GivenWeather): string => ('kind' in given ? given.file : given.name);

/** The series of a weather file and of those that go with it. @throws ConfigError naming the file that does not serve */
export function weatherSeriesOf(given: GivenWeather): WeatherSeries[] {
  if ('kind' in given) return [given];
  const { name, text, columns, more = [] } = given;
  if (typeof text !== 'string') throw new TypeError('weatherFile needs the text of the file as its text, a string');
  return [{ name, text }, ...more].map((one) =>
    readWeatherFile(one.text, { file: one.name, ...(columns && { columns }) }),
  );
}

/** On which grid, in which weather and with which loads beside its own a rig is followed. */
export interface ConditionOptions {
  /** needed when the trip's weather is a file */
  readonly weatherFile?: GivenWeather;
  /** 1/60 to 1, a whole number of steps to the hour; 1/6 unless given [h] */
  readonly stepH?: number;
  /** of made weather: same seed, same weather on any machine */
  readonly seed?: number;
  /** which of the seed's weather years, from 0 */
  readonly year?: number;
  /** loads with hours or times a day run at random moments of their windows, by seed and year, instead of evenly */
  readonly randomLoads?: boolean;
  /**
   * of made `climate`, days whose light is known, as by a forecast: clearness (light on the horizontal over that outside the
   * atmosphere, 0..1) by the ISO date and the weather year; undefined leaves a day to the climate
   */
  readonly knownClearness?: (date: string, year: number) => number | undefined;
  /** loads beside the rig's own, by the caller's function: see `readLoadProfile` for a measured one */
  readonly ownLoads?: readonly OwnLoad[];
}

/** Step where none is given: ten minutes [h]. */
export const DEFAULT_STEP_H = 1 / 6;
/** Seed of made weather where none is given. */
export const DEFAULT_SEED = 1;

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
  return finish(conditionsTask(rig, trip, options));
}

/** The same with pauses. */
export function* conditionsTask(
  rig: Pick<Rig, 'cabin' | 'months'>,
  trip: Trip,
  options: ConditionOptions = {},
): Task<Conditions> {
  requireSound('conditionsFor', 'air', rig);
  requireSound('conditionsFor', 'trip', trip);
  const years = yield* weatherYearsTask(rig, trip, options);
  return yield* years.yearTask(options.year ?? 0);
}

/** @throws TypeError that names the function and the column, when what it was given are no conditions */
export function requireConditions(caller: string, conditions: Conditions): void {
  const { grid, itinerary, sun, weather, cabinC } = conditions ?? {};
  const refuse = (what: string) => {
    throw new TypeError(`${caller}: ${what}; conditionsFor makes the conditions of a run`);
  };
  if (!itinerary || !sun || !weather || !(grid?.steps >= 0)) refuse('its conditions are none');
  for (const [name, column] of Object.entries({ ...sun, ...weather, cabinC }))
    if (!(column instanceof Float64Array) || column.length !== grid.steps)
      refuse(`the column ${name} of its conditions is no Float64Array of ${grid.steps} steps`);
}

/** What all weather years of a trip have in common, and each year's conditions when asked for. */
export interface WeatherYears {
  readonly itinerary: Itinerary;
  readonly sun: SunColumns;
  /** conditions of the seed's weather year, from 0; the same each time, and for every year unless weather is `climate` */
  year(year: number): Conditions;
  /** the same with pauses */
  yearTask(year: number): Task<Conditions>;
}

/**
 * The same in parts, for studies over many weather years: places, clock, sun and weather file are worked out once.
 * @param given a weather file read before, for another trip with the same file
 * @throws ConfigError for a trip that does not join up, a place not known, or a weather file that does not serve
 */
export function weatherYears(
  rig: Pick<Rig, 'cabin' | 'months'>,
  trip: Trip,
  options: ConditionOptions = {},
  given?: WeatherSeries,
): WeatherYears {
  return finish(weatherYearsTask(rig, trip, options, given));
}

/** The same with pauses. */
export function* weatherYearsTask(
  rig: Pick<Rig, 'cabin' | 'months'>,
  trip: Trip,
  options: ConditionOptions = {},
  given?: WeatherSeries,
): Task<WeatherYears> {
  const whole = wholeDays(trip, options.stepH ?? DEFAULT_STEP_H);
  const start = startStep(whole, trip);
  yield;
  const series = given ?? tripSeries(trip, begunAt(whole, start), options);
  yield;
  // Made weather is drawn for whole days, so that a later start meets the same sky; a file need not hold the hours before it.
  const itinerary = series ? begunAt(whole, start) : whole;
  const before = series ? 0 : start;
  const begun = begunAt(itinerary, before);
  const { grid } = itinerary;
  const column = () => new Float64Array(grid.steps);
  const sun = { cosZenith: column(), azimuthDeg: column(), extraNormalWm2: column() };
  const legSuns: SunColumns[] = [];
  for (const leg of itinerary.legs) {
    const legSun = sunColumns(leg.place.latDeg, leg.place.lonDeg, spanOf(leg, grid));
    for (const key of ['cosZenith', 'azimuthDeg', 'extraNormalWm2'] as const) sun[key].set(legSun[key], leg.firstStep);
    legSuns.push(legSun);
    yield;
  }

  const laidSun = columnsFrom(sun, before);

  function* yearTask(which: number): Task<Conditions> {
    const weather = { ghiWm2: column(), dniWm2: column(), dhiWm2: column(), ambientC: column(), windMs: column() };
    const notes: WeatherNote[] = [];
    for (const [k, leg] of itinerary.legs.entries()) {
      const made = yield* legWeather(
        leg,
        spanOf(leg, grid),
        legSuns[k]!,
        rig,
        trip,
        { ...options, year: which },
        series,
      );
      for (const key of ['ghiWm2', 'dniWm2', 'dhiWm2', 'ambientC', 'windMs'] as const)
        weather[key].set(made.columns[key], leg.firstStep);
      for (const note of made.notes) if (!notes.some((known) => known.text === note.text)) notes.push(note);
      yield;
    }
    const cabinC = cabinAir(rig, { itinerary, grid, weather }).slice(before);
    if (options.randomLoads)
      notes.push({
        code: 'random_loads',
        text: `loads with hours or times a day run at random moments of their windows, drawn with seed ${options.seed ?? DEFAULT_SEED}`,
      });
    const loadDraw = options.randomLoads && { seed: options.seed ?? DEFAULT_SEED, year: which };
    const made = {
      itinerary: begun,
      grid: begun.grid,
      sun: laidSun,
      weather: columnsFrom(weather, before),
      cabinC,
      notes,
      ...(loadDraw && { loadDraw }),
    };
    const { ownLoads = [] } = options;
    return ownLoads.length > 0 ? { ...made, ownLoads: ownLoadColumns(ownLoads, made) } : made;
  }
  return { itinerary: begun, sun: laidSun, yearTask, year: (which) => finish(yearTask(which)) };
}

/** Columns from a step on. */
function columnsFrom<Columns extends { readonly [name in keyof Columns]: Float64Array }>(
  columns: Columns,
  step: number,
): Columns {
  if (step === 0) return columns;
  return Object.fromEntries(
    Object.entries<Float64Array>(columns).map(([name, column]) => [name, column.slice(step)]),
  ) as Columns;
}

/**
 * The cabin's air over a run.
 * @param powered share of each step in which loads have power, where the heater needs it; absent = always
 */
export function cabinAir(
  { cabin }: Pick<Rig, 'cabin'>,
  { itinerary, grid, weather }: Pick<Conditions, 'itinerary' | 'grid' | 'weather'>,
  powered?: Float64Array,
): Float64Array {
  const filledAt = itinerary.legs.filter(({ stop }) => stop.driveH > 0).map(({ firstStep }) => firstStep);
  return cabinColumn(weather.ambientC, weather.ghiWm2, cabin, shadeColumn(itinerary), grid.stepH, {
    filledAt,
    ...(powered && { powered }),
  });
}

/** The same cabin with a tank that never ends: for years of stays, each of which begins with a full one. */
export function withEndlessFuel<R extends Pick<Rig, 'cabin'>>(rig: R): R {
  const { heater } = rig.cabin;
  if (heater?.fuelWh === undefined) return rig;
  const { fuelWh: _, ...endless } = heater;
  return { ...rig, cabin: { ...rig.cabin, heater: endless } };
}

/** Share of the sun that the stops' trees take from the vehicle, a value a step. */
export function shadeColumn({ legs, grid }: Pick<Itinerary, 'legs' | 'grid'>): Float64Array {
  const shade = new Float64Array(grid.steps);
  for (const { stop, firstStep, steps } of legs) shade.fill(stop.shade, firstStep, firstStep + steps);
  return shade;
}

function spanOf(leg: Leg, grid: Grid): Grid {
  return { startMs: leg.startMs, stepH: grid.stepH, steps: leg.steps };
}

/** Of several files the one that holds the run's time, else a typical year, else the first, which says what it lacks. */
function tripSeries(trip: Trip, itinerary: Itinerary, { weatherFile }: ConditionOptions): WeatherSeries | undefined {
  if (trip.weather.kind !== 'file') return undefined;
  if (!weatherFile)
    throw new RangeError(`the trip's weather is the file ${trip.weather.path}: pass its text as weatherFile`);
  const all = weatherSeriesOf(weatherFile);
  const { startMs, stepH, steps } = itinerary.grid;
  const endMs = startMs + steps * stepH * HOUR_MS;
  const holds = (series: WeatherSeries) =>
    series.kind === 'dated' &&
    series.startMs <= startMs + DAY_MS &&
    series.startMs + series.intervals * series.stepMs >= endMs - DAY_MS;
  return all.find(holds) ?? all.find(({ kind }) => kind === 'typical') ?? all[0];
}

function* legWeather(
  leg: Leg,
  grid: Grid,
  sun: SunColumns,
  rig: Pick<Rig, 'months'>,
  trip: Trip,
  options: ConditionOptions,
  series: WeatherSeries | undefined,
): Task<{ columns: WeatherColumns; notes: readonly WeatherNote[] }> {
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
  const { climate, note } = climateOf(leg, rig);
  const notes: WeatherNote[] = [{ code: 'climate_place', text: note }];
  const { kind } = trip.weather;
  if (kind === 'clear') return { columns: clearWeather(place, climate, grid, sun), notes };
  if (kind === 'dull') return { columns: dullWeather(place, climate, grid, sun), notes };
  const draw = { seed: options.seed ?? DEFAULT_SEED, year: options.year ?? 0 };
  const { knownClearness } = options;
  const known = knownClearness && ((date: string) => knownClearness(date, draw.year));
  return { columns: yield* climateWeatherTask(place, climate, grid, sun, draw, known), notes };
}

/** The months from which a stop's weather is made: its own, the rig's, or the table's. */
export function climateOf(leg: Leg, rig: Pick<Rig, 'months'>): StopClimate {
  const { latDeg, lonDeg, elevationM } = leg.place;
  const found = climateAt(latDeg, lonDeg, elevationM);
  const own = { ...rig.months, ...leg.stop.months };
  return {
    climate: { ...found.climate, ...own },
    note: ownMonthsText(own, found.note),
    light: own.ghiKwhM2Day ? 'given' : lightOrigin(found.places),
  };
}

/** The monthly means of a stop, and where they are from. */
export interface StopClimate {
  readonly climate: MonthlyClimate;
  readonly note: string;
  /** where the irradiation is from: the file, a row of the table, such a row recalled from memory, or several rows */
  readonly light: 'given' | 'table' | 'recalled' | 'interpolated';
}

function lightOrigin(places: readonly { readonly place: { readonly source: string } }[]): StopClimate['light'] {
  if (places.length > 1) return 'interpolated';
  return places[0]?.place.source.startsWith('memory') ? 'recalled' : 'table';
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
