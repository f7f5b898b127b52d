import type { WeatherDraw } from '../../math/index.js';
import { DAY_MS, LEAP_MONTH_DAYS, MONTH_OF_DAY, monthlyCourse, normalShare } from '../../math/index.js';
import type { Place } from '../../place/index.js';
import type { MonthlyClimate } from '../../rig/index.js';
import { dailyExtraterrestrialKwhM2, type Grid } from '../../sky/index.js';
import { leapCalendarDay } from '../read/weather-series.js';
import type { DailyAir } from './ambient-course.js';
import { type ClearnessCurve, clearnessAt, clearnessCurve } from './clearness-distribution.js';
import { yearSequence } from './day-sequence.js';
import { type DayParameters, type DayStatistics, dayStatistics } from './day-statistics.js';
import { solarDaysOf } from './mean-daily-air.js';

/** Daily range of temperature: a day clearer by a tenth swings wider by so many tenths. Eight station years: 0.3 to 1.05. */
const SWING_BY_CLEARNESS = 0.6;
/** The season's own course within a month takes up no more than so much of the month's spread of temperature. */
const LEAST_OWN_SPREAD = 0.5;

/** Per solar day, the first one `firstDay` (days since 1970 of mean solar time). */
export interface DailyWeather {
  readonly firstDay: number;
  readonly clearness: Float64Array;
  readonly wind: Float64Array;
  readonly air: DailyAir;
}

/**
 * Clearness of days that are known, by their ISO date (of the place's mean solar time): light on the horizontal over that outside
 * the atmosphere, 0..1; undefined leaves a day to the climate.
 */
export type KnownClearness = (date: string) => number | undefined;

/**
 * The days that a grid touches and one more at each end.
 * @param parameters of the days' statistics; those fitted to all known places unless given
 * @param known      days whose light is not drawn; their air goes with it
 */
export function dailyWeather(
  place: Place,
  climate: MonthlyClimate,
  grid: Grid,
  draw: WeatherDraw,
  parameters?: DayParameters,
  known?: KnownClearness,
): DailyWeather {
  const { first, count } = solarDaysOf(place.lonDeg, grid);
  const statistics = dayStatistics(place, climate, parameters);
  const { mean, clearest, spread, airLag, warmth } = statistics;
  const curves = mean.map((k, month) =>
    clearnessCurve({ mean: k, clearest: clearest[month]!, spread: spread[month]! }),
  );
  const range = climate.tMaxC.map((high, month) => high - climate.tMinC[month]!);
  const sdK = ownSpread(climate, statistics);
  const highC = monthlyCourse(climate.tMaxC.map((high, m) => high - midnightExcess(0.7 * range[m]!, sdK[m]!, airLag)));
  const lowC = monthlyCourse(climate.tMinC.map((low, m) => low + midnightExcess(0.3 * range[m]!, sdK[m]!, airLag)));
  const clearness = new Float64Array(count);
  const wind = new Float64Array(count);
  const minC = new Float64Array(count);
  const maxC = new Float64Array(count);
  for (let i = 0; i < count; ) {
    const year = new Date((first + i) * DAY_MS).getUTCFullYear();
    const newYear = Math.round(Date.UTC(year, 0, 1) / DAY_MS);
    const sequence = yearSequence(draw, year, statistics);
    const kts = yearClearness(place.latDeg, sequence.clearness, mean, curves);
    for (; i < count && first + i - newYear < sequence.clearness.length; i++) {
      const of = first + i - newYear;
      const day = leapCalendarDay((first + i) * DAY_MS);
      const month = MONTH_OF_DAY[day]!;
      const score = sequence.clearness[of]!;
      const kt = known?.(new Date((first + i) * DAY_MS).toISOString().slice(0, 10)) ?? kts[of]!;
      const bright = mean[month]! > 0 ? kt / mean[month]! - 1 : 0;
      const swing = Math.min(1.6, Math.max(0.4, 1 + SWING_BY_CLEARNESS * bright));
      const warm = warmth[month]!;
      const z = warm * score + Math.sqrt(1 - warm * warm) * sequence.temperature[of]!;
      const middle = (highC[day]! + lowC[day]!) / 2 + sdK[month]! * z;
      const half = ((highC[day]! - lowC[day]!) / 2) * swing;
      clearness[i] = kt;
      wind[i] = sequence.wind[of]!;
      minC[i] = middle - half;
      maxC[i] = middle + half;
    }
  }
  return { firstDay: first, clearness, wind, air: { firstDay: first, minC, maxC } };
}

/**
 * Daily clearness of a calendar year. Each month is scaled, by 1 % or so, until it and its mirror image, which is another weather
 * year, have the month's mean together, each day weighted by the light outside the atmosphere.
 */
function yearClearness(
  latDeg: number,
  scores: Float64Array,
  mean: readonly number[],
  curves: readonly ClearnessCurve[],
): Float64Array {
  const clearness = new Float64Array(scores.length);
  let from = 0;
  for (let month = 0; month < 12; month++) {
    const to = from + (month === 1 ? scores.length - 337 : LEAP_MONTH_DAYS[month]!);
    let outside = 0;
    let light = 0;
    for (let day = from; day < to; day++) {
      const kwh = dailyExtraterrestrialKwhM2(latDeg, day + 1);
      clearness[day] = clearnessAt(curves[month]!, scores[day]!);
      outside += kwh;
      light += (kwh * (clearness[day]! + clearnessAt(curves[month]!, -scores[day]!))) / 2;
    }
    const factor = light > 0 ? (mean[month]! * outside) / light : 1;
    for (let day = from; day < to; day++) clearness[day]! *= factor;
    from = to;
  }
  return clearness;
}

/** Standard deviation of daily mean temperature about the season's course: without what that course does within the month. */
function ownSpread({ tMaxC, tMinC }: MonthlyClimate, { airSdK }: DayStatistics): number[] {
  const course = monthlyCourse(tMaxC.map((high, month) => (high + tMinC[month]!) / 2));
  let from = 0;
  return airSdK.map((sdK, month) => {
    const days = course.subarray(from, from + LEAP_MONTH_DAYS[month]!);
    from += days.length;
    const mean = days.reduce((a, b) => a + b, 0) / days.length;
    const drift = days.reduce((a, b) => a + (b - mean) ** 2, 0) / days.length;
    return Math.max(LEAST_OWN_SPREAD * sdK, Math.sqrt(Math.max(0, sdK ** 2 - drift)));
  });
}

/**
 * A day's extreme is now and then at midnight, on the way to a colder or warmer day, and not at sunrise or after noon: by how much
 * that moves the mean extreme [K]. Expected excess of a normal change between days over the usual gap to midnight, at either
 * end of the day.
 * @param gapC how far midnight usually is from the extreme; @param sdC standard deviation of a day's mean temperature, @param lag its correlation from day to day
 */
function midnightExcess(gapC: number, sdC: number, lag: number): number {
  const change = 0.7 * sdC * Math.sqrt(2 * (1 - lag));
  const x = gapC / change;
  const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  return 2 * (change * density - gapC * normalShare(-x));
}
