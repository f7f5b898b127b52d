import type { Task } from '../../math/index.js';
import type { Place } from '../../place/index.js';
import type { MonthlyClimate, Range, Rig, SolarArray, WeatherChoice } from '../../rig/index.js';
import { type Conditions, climateOf, DEFAULT_SEED, type StopClimate } from '../../simulate/index.js';
import { clearSkyColumns, linkeTurbidity, type WeatherColumns } from '../../sky/index.js';
import { climateWeather, dullWeather } from '../../weather/index.js';
import { type Calendar, calendarOf } from '../run/calendar.js';
import { arrayYieldWh } from './array-year.js';
import { hourlyOf } from './hourly.js';
import type { YieldRange } from './yield-types.js';

/**
 * How far monthly means of irradiation may be off, as a share, with about 90 % confidence.
 * Interpolated: each place of the table left out in turn is met with a mean error of 6.2 % by its neighbours
 * (tests/core/place/places.test.ts), which for a normal spread is 13 % nine times in ten. A row of the table: data sets of
 * one place differ by about half of that; common practice, no source. A row recalled from memory is trusted no more than an
 * interpolation. The owner's own: taken as well known.
 */
export const LIGHT_OFF: Readonly<Record<StopClimate['light'], number>> = {
  given: 0.03,
  table: 0.07,
  recalled: 0.13,
  interpolated: 0.13,
};

/** What follows from one unknown: yield in each month over that of the values used. */
export interface RangeEffect {
  readonly what: YieldRange['what'];
  readonly assumed: Range;
  /** twelve factors each; low belongs to less yield */
  readonly low: readonly number[];
  readonly high: readonly number[];
}

/**
 * The unknowns of a yield, each turned by itself from its low to its high end, on hourly means of one weather year:
 * only ratios are taken from them.
 * @param conditions of that year; `seed` and weather year 0 made its weather
 */
export function* rangeEffects(
  rig: Rig,
  weather: WeatherChoice,
  conditions: Conditions,
  seed = DEFAULT_SEED,
): Task<RangeEffect[]> {
  const hourly = hourlyOf(conditions);
  const calendar = calendarOf(hourly.itinerary);
  const base = totalWh(rig.solar, rig, hourly, calendar);
  const factors = (arrays: readonly SolarArray[], under: Conditions) => {
    const changed = totalWh(arrays, rig, under, calendar);
    return Array.from(base, (wh, month) => (wh > 0 ? changed[month]! / wh : 1));
  };
  const effects: RangeEffect[] = [];
  const dirt = {
    low: Math.min(...rig.solar.map(({ soilingRange }) => soilingRange.low)),
    high: Math.max(...rig.solar.map(({ soilingRange }) => soilingRange.high)),
  };
  yield;
  if (dirt.high > dirt.low) {
    const low = factors(rig.solar.map(soiled('high')), hourly);
    yield;
    effects.push({ what: 'soiling', assumed: dirt, low, high: factors(rig.solar.map(soiled('low')), hourly) });
    yield;
  }
  const { kind } = weather;
  if (kind === 'file') return effects;
  const { place } = conditions.itinerary.legs[0]!;
  const under = (columns: WeatherColumns) => factors(rig.solar, hourlyOf({ ...conditions, weather: columns }));
  if (kind === 'clear') {
    const low = under(hazySky(place, conditions, 'high'));
    yield;
    const high = under(hazySky(place, conditions, 'low'));
    effects.push({ what: 'turbidity', assumed: { low: 0.7, high: 1.5 }, low, high });
  } else {
    const { climate, light } = climateOf(conditions.itinerary.legs[0]!, rig);
    const off = LIGHT_OFF[light];
    const made = (factor: number) => under(brighter(kind, place, climate, conditions, factor, seed));
    const low = made(1 - off);
    yield;
    effects.push({ what: 'irradiation', assumed: { low: 1 - off, high: 1 + off }, low, high: made(1 + off) });
  }
  return effects;
}

/**
 * Independent unknowns together: their effects on a month, added as squares.
 * @returns factors on the month's yield
 */
export function combined(effects: readonly RangeEffect[], month: number): Range {
  const spread = (factors: (effect: RangeEffect) => readonly number[]) =>
    Math.hypot(...effects.map((effect) => factors(effect)[month]! - 1));
  return { low: Math.max(0, 1 - spread(({ low }) => low)), high: 1 + spread(({ high }) => high) };
}

function totalWh(arrays: readonly SolarArray[], rig: Rig, conditions: Conditions, calendar: Calendar): Float64Array {
  const sums = new Float64Array(12);
  for (const array of arrays)
    arrayYieldWh(array, rig, conditions, calendar).forEach((wh, month) => {
      sums[month] = sums[month]! + wh;
    });
  return sums;
}

function soiled(end: keyof Range): (array: SolarArray) => SolarArray {
  return (array) => ({ ...array, losses: { ...array.losses, soiling: array.soilingRange[end] } });
}

function hazySky(place: Place, { sun, grid, weather }: Conditions, end: keyof Range): WeatherColumns {
  const { latDeg, elevationM } = place;
  const turbidity = Array.from({ length: 12 }, (_, k) => linkeTurbidity({ latDeg, elevationM, month: k + 1 })[end]);
  return { ...weather, ...clearSkyColumns(sun, elevationM, turbidity, grid) };
}

function brighter(
  kind: 'climate' | 'dull',
  place: Place,
  climate: MonthlyClimate,
  { sun, grid }: Conditions,
  factor: number,
  seed: number,
): WeatherColumns {
  const months = { ...climate, ghiKwhM2Day: climate.ghiKwhM2Day.map((kwh) => kwh * factor) };
  return kind === 'dull'
    ? dullWeather(place, months, grid, sun)
    : climateWeather(place, months, grid, sun, { seed, year: 0 });
}
