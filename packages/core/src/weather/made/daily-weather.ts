import type { WeatherDraw } from '../../math/index.js';
import { DAY_MS, HOUR_MS, LEAP_MONTH_DAYS, MONTH_OF_DAY, monthlyCourse, normalShare } from '../../math/index.js';
import type { Place } from '../../place/index.js';
import type { MonthlyClimate } from '../../rig/index.js';
import type { Grid } from '../../sky/index.js';
import {
  clearSkyColumns,
  dailyExtraterrestrialKwhM2,
  monthlyClearness,
  monthlyTurbidity,
  sunColumns,
} from '../../sky/index.js';
import { leapCalendarDay } from '../read/weather-series.js';
import type { DailyAir } from './ambient-course.js';
import { type ClearnessCurve, clearnessCurve } from './clearness-distribution.js';
import {
  CLEARNESS_RANKS,
  monthClearness,
  monthRank,
  TEMPERATURE_LAG,
  type YearSequence,
  yearSequence,
} from './day-sequence.js';
import { solarDaysOf } from './mean-daily-air.js';

/** A cloudless day may be clearer than the default turbidity makes it. */
const CLEAREST_DAY = 1.06;
/** Daily range of temperature: a day clearer by a tenth swings wider by so many tenths. Eight station years: 0.3 to 1.05. */
const SWING_BY_CLEARNESS = 0.6;
/** Correlation of a day's mean temperature with its clearness, in the warm season; reversed in a cold one. */
const WARMTH_BY_CLEARNESS = 0.35;

/** Per solar day, the first one `firstDay` (days since 1970 of mean solar time). */
export interface DailyWeather {
  readonly firstDay: number;
  readonly clearness: Float64Array;
  readonly wind: Float64Array;
  readonly air: DailyAir;
}

/** The days that a grid touches and one more at each end. */
export function dailyWeather(place: Place, climate: MonthlyClimate, grid: Grid, draw: WeatherDraw): DailyWeather {
  const { first, count } = solarDaysOf(place.lonDeg, grid);
  const means = monthlyClearness(place.latDeg, climate.ghiKwhM2Day);
  const ceilings = cloudlessClearness(place);
  const curves = means.map((mean, month): ClearnessCurve => clearnessCurve(mean, CLEAREST_DAY * ceilings[month]!));
  const spread = temperatureSpread(climate);
  const range = climate.tMaxC.map((high, month) => high - climate.tMinC[month]!);
  const highC = monthlyCourse(climate.tMaxC.map((high, m) => high - midnightExcess(0.7 * range[m]!, spread[m]!.sdC)));
  const lowC = monthlyCourse(climate.tMinC.map((low, m) => low + midnightExcess(0.3 * range[m]!, spread[m]!.sdC)));
  const clearness = new Float64Array(count);
  const wind = new Float64Array(count);
  const minC = new Float64Array(count);
  const maxC = new Float64Array(count);
  for (let i = 0; i < count; ) {
    const year = new Date((first + i) * DAY_MS).getUTCFullYear();
    const newYear = Math.round(Date.UTC(year, 0, 1) / DAY_MS);
    const sequence = yearSequence(draw, year);
    const kt = yearClearness(place.latDeg, draw, year, sequence, means, curves);
    for (; i < count && first + i - newYear < kt.length; i++) {
      const of = first + i - newYear;
      const day = leapCalendarDay((first + i) * DAY_MS);
      const month = MONTH_OF_DAY[day]!;
      const bright = means[month]! > 0 ? kt[of]! / means[month]! - 1 : 0;
      const swing = Math.min(1.6, Math.max(0.4, 1 + SWING_BY_CLEARNESS * bright));
      const { sdC, warmth } = spread[month]!;
      const z = warmth * sequence.clearness[of]! + Math.sqrt(1 - warmth * warmth) * sequence.temperature[of]!;
      const middle = (highC[day]! + lowC[day]!) / 2 + sdC * z;
      const half = ((highC[day]! - lowC[day]!) / 2) * swing;
      clearness[i] = kt[of]!;
      wind[i] = sequence.wind[of]!;
      minC[i] = middle - half;
      maxC[i] = middle + half;
    }
  }
  return { firstDay: first, clearness, wind, air: { firstDay: first, minC, maxC } };
}

/** Daily clearness of a whole calendar year, month by month; the sequence's own values move with their month. */
function yearClearness(
  latDeg: number,
  draw: WeatherDraw,
  year: number,
  sequence: YearSequence,
  means: readonly number[],
  curves: readonly ClearnessCurve[],
): Float64Array {
  const days = sequence.clearness.length;
  const outside = Float64Array.from({ length: days }, (_, day) => dailyExtraterrestrialKwhM2(latDeg, day + 1));
  const clearness = new Float64Array(days);
  let from = 0;
  for (let month = 0; month < 12; month++) {
    const to = from + (month === 1 ? days - 337 : LEAP_MONTH_DAYS[month]!);
    monthClearness(
      sequence.clearness.subarray(from, to),
      curves[month]!,
      means[month]!,
      monthRank(draw, year, month, CLEARNESS_RANKS),
      outside.subarray(from, to),
      clearness.subarray(from, to),
    );
    from = to;
  }
  return clearness;
}

/** Clearness of a cloudless mid-month day by the clear-sky model. */
function cloudlessClearness(place: Place): number[] {
  const turbidity = monthlyTurbidity(place.latDeg, place.elevationM);
  return turbidity.map((value, month) => {
    const startMs = Date.UTC(2021, month, 15) - (place.lonDeg / 15) * HOUR_MS;
    const sun = sunColumns(place.latDeg, place.lonDeg, { startMs, stepH: 0.5, steps: 48 });
    const { ghiWm2 } = clearSkyColumns(sun, place.elevationM, value);
    let clear = 0;
    let outside = 0;
    for (let i = 0; i < 48; i++) {
      clear += ghiWm2[i]!;
      outside += Math.max(0, sun.cosZenith[i]!) * sun.extraNormalWm2[i]!;
    }
    return outside > 0 ? clear / outside : 0.7;
  });
}

/**
 * Standard deviation of daily mean temperature, and its correlation with clearness. It grows with the year's range of monthly means
 * and is largest in the cold season: fitted by eye to eight station years (0.7 K in San Juan, 7 K in a Minnesota January).
 */
function temperatureSpread(climate: MonthlyClimate): { sdC: number; warmth: number }[] {
  const means = climate.tMaxC.map((high, m) => (high + climate.tMinC[m]!) / 2);
  const yearMean = means.reduce((a, b) => a + b, 0) / 12;
  const range = Math.max(...means) - Math.min(...means);
  const seasonal = Math.min(1, range / 15);
  return means.map((mean) => {
    const season = range > 0 ? (mean - yearMean) / (range / 2) : 0;
    return {
      sdC: (0.8 + 0.11 * range) * (1 - 0.4 * seasonal * season),
      warmth: WARMTH_BY_CLEARNESS * (seasonal * Math.max(-1, Math.min(1, season)) + 1 - seasonal),
    };
  });
}

/**
 * A day's extreme is now and then at midnight, on the way to a colder or warmer day, and not at sunrise or after noon: by how much
 * that moves the mean extreme [K]. Expected excess of a normal change between days over the usual gap to midnight, at either
 * end of the day.
 * @param gapC how far midnight usually is from the extreme; @param sdC standard deviation of a day's mean temperature
 */
function midnightExcess(gapC: number, sdC: number): number {
  const change = 0.7 * sdC * Math.sqrt(2 * (1 - TEMPERATURE_LAG));
  const x = gapC / change;
  const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  return 2 * (change * density - gapC * normalShare(-x));
}
