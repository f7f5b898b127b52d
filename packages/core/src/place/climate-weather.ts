import type { MonthlyClimate } from '../rig/index.js';
import { airMassOf } from './air-mass.js';
import { ambientColumn, type DailyAir } from './ambient-course.js';
import { clearSkyColumns, monthlyTurbidity } from './clear-sky.js';
import { type ClearnessCurve, clearnessCurve } from './clearness-distribution.js';
import { dayStream, normal, TEXTURE_PER_DAY, TEXTURE_PER_HOUR, type WeatherDraw } from './day-draws.js';
import {
  CLEARNESS_RANKS,
  monthClearness,
  monthRank,
  TEMPERATURE_LAG,
  type YearSequence,
  yearSequence,
} from './day-sequence.js';
import { cleanAirBeamWm2, erbsDiffuseFraction } from './decomposition.js';
import { dailyExtraterrestrialKwhM2 } from './extraterrestrial.js';
import { monthlyClearness, solarDaysOf } from './month-means.js';
import { LEAP_MONTH_DAYS, MONTH_OF_DAY, monthlyCourse } from './monthly-course.js';
import { normalShare } from './normal-distribution.js';
import { drawTexture, hourlyScatter, TEN_MINUTE_FACTOR, texturedDay } from './sky-texture.js';
import { sunColumns } from './sun.js';
import type { Grid, Place, SunColumns, WeatherColumns } from './types.js';
import { leapCalendarDay } from './weather-series.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 86_400_000;
/** A cloudless day may be clearer than the default turbidity makes it. */
const CLEAREST_DAY = 1.06;
/** Daily range of temperature: a day clearer by a tenth swings wider by so many tenths. Eight station years: 0.3 to 1.05. */
const SWING_BY_CLEARNESS = 0.6;
/** Correlation of a day's mean temperature with its clearness, in the warm season; reversed in a cold one. */
const WARMTH_BY_CLEARNESS = 0.35;
/** Mean wind at 10 m where nothing is known. Eight station years: 2.1 to 4.5 m/s. Common practice, no source. */
const MEAN_WIND_MS = 3;
const WIND = 4;
const LOW_SUN_COS = 0.065;

export interface ClimateDraw {
  readonly seed: number;
  /** which of the seed's weather years, from 0; may go on without end */
  readonly year: number;
}

/**
 * Weather made from monthly means. Daily clearness: distribution of Aguiar et al. 1988 (its mean exact, no day clearer than
 * a cloudless one) in an autoregressive order (observed lag-1 0.2 to 0.6, median 0.35; here 0.35). Within the day: the clear
 * sky's course times a correlated texture (Graham & Hollands 1990) that keeps the day's sum. Beam and diffuse: Erbs by the
 * hour. Air: months' mean extremes, anomalies that persist, wider swing on clear days, Parton & Logan's course. Wind: Rayleigh about 3 m/s,
 * stronger in the afternoon. The same seed, year and place give the same day on each machine, whatever the run's span.
 * Accuracy: see `tests/published/climate-generator.test.ts`; no link between the weather of neighbouring places.
 * @param sun the sun on the same grid, at the place
 */
export function climateWeather(
  place: Place,
  climate: MonthlyClimate,
  grid: Grid,
  sun: SunColumns,
  which: ClimateDraw,
): WeatherColumns {
  const draw: WeatherDraw = { ...which, latDeg: place.latDeg, lonDeg: place.lonDeg };
  const days = dailyWeather(place, climate, grid, draw);
  const ghiWm2 = globalLight(place, grid, sun, draw, days);
  const { dniWm2, dhiWm2 } = splitByTheHour(grid, sun, ghiWm2);
  return {
    ghiWm2,
    dniWm2,
    dhiWm2,
    ambientC: ambientColumn(place.latDeg, place.lonDeg, grid, days.air),
    windMs: windColumn(grid, place.lonDeg, draw, days),
  };
}

/** Per solar day, the first one `firstDay` (days since 1970 of mean solar time). */
interface Days {
  readonly firstDay: number;
  readonly clearness: Float64Array;
  readonly wind: Float64Array;
  readonly air: DailyAir;
}

function dailyWeather(place: Place, climate: MonthlyClimate, grid: Grid, draw: WeatherDraw): Days {
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

/** Global irradiance on the grid. Days are made whole, beyond the grid's ends, so that a cut day is the same day. */
function globalLight(place: Place, grid: Grid, sun: SunColumns, draw: WeatherDraw, days: Days): Float64Array {
  const { steps, stepH } = grid;
  const stepMs = stepH * HOUR_MS;
  const solarMs = (place.lonDeg / 15) * HOUR_MS;
  const middleOf = (i: number) => grid.startMs + (i + 0.5) * stepMs + solarMs;
  const before = Math.floor((middleOf(0) - Math.floor(middleOf(0) / DAY_MS) * DAY_MS) / stepMs);
  const after = Math.ceil((Math.ceil(middleOf(steps - 1) / DAY_MS) * DAY_MS - middleOf(steps - 1)) / stepMs) - 1;
  const lead: Grid = { startMs: grid.startMs - before * stepMs, stepH, steps: before };
  const tail: Grid = { startMs: grid.startMs + steps * stepMs, stepH, steps: Math.max(0, after) };
  const [sunBefore, sunAfter] = [lead, tail].map((part) => sunColumns(place.latDeg, place.lonDeg, part));
  const total = before + steps + tail.steps;
  const joined = (pick: (s: SunColumns) => Float64Array) => {
    const out = new Float64Array(total);
    out.set(pick(sunBefore!));
    out.set(pick(sun), before);
    out.set(pick(sunAfter!), before + steps);
    return out;
  };
  const whole: SunColumns = {
    cosZenith: joined((s) => s.cosZenith),
    azimuthDeg: sun.azimuthDeg,
    extraNormalWm2: joined((s) => s.extraNormalWm2),
  };
  const span: Grid = { startMs: lead.startMs, stepH, steps: total };
  const turbidity = monthlyTurbidity(place.latDeg, place.elevationM);
  const clearWm2 = clearSkyColumns(whole, place.elevationM, turbidity, span).ghiWm2;
  const ghiWm2 = new Float64Array(total);
  const texture = new Float64Array(total);
  const bins = new Float64Array(TEXTURE_PER_DAY);

  for (let from = 0; from < total; ) {
    const middle = span.startMs + (from + 0.5) * stepMs + solarMs;
    const day = Math.floor(middle / DAY_MS);
    const left = Math.ceil(((day + 1) * DAY_MS - middle) / stepMs);
    const to = Math.min(total, from + Math.max(1, left));
    let clearSum = 0;
    let outside = 0;
    for (let i = from; i < to; i++) {
      clearSum += clearWm2[i]!;
      if (whole.cosZenith[i]! > 0) outside += whole.cosZenith[i]! * whole.extraNormalWm2[i]!;
    }
    const kt = days.clearness[day - days.firstDay]!;
    if (clearSum > 0 && kt > 0) {
      drawTexture(draw, day, bins);
      spreadTexture(bins, (middle - day * DAY_MS) / HOUR_MS, stepH, texture, from, to);
      const scatter = hourlyScatter(kt) * TEN_MINUTE_FACTOR;
      texturedDay(clearWm2, texture, from, to, kt * outside, clearSum, scatter, clearSum / outside, ghiWm2);
    }
    from = to;
  }
  return ghiWm2.subarray(before, before + steps).slice();
}

/** Ten-minute texture to the run's steps: the value at the middle of short steps, the mean over long ones. */
function spreadTexture(
  bins: Float64Array,
  firstMiddleH: number,
  stepH: number,
  texture: Float64Array,
  from: number,
  to: number,
): void {
  const perStep = Math.max(1, Math.round(stepH * TEXTURE_PER_HOUR));
  for (let i = from; i < to; i++) {
    const hour = firstMiddleH + (i - from) * stepH;
    const start = Math.floor(hour * TEXTURE_PER_HOUR - (perStep - 1) / 2);
    let sum = 0;
    for (let b = start; b < start + perStep; b++) sum += bins[Math.min(TEXTURE_PER_DAY - 1, Math.max(0, b))]!;
    texture[i] = sum / perStep;
  }
}

/** Beam and diffuse by Erbs' hourly curve: steps share the diffuse share of their hour. */
function splitByTheHour(
  grid: Grid,
  sun: SunColumns,
  ghiWm2: Float64Array,
): { dniWm2: Float64Array; dhiWm2: Float64Array } {
  const { cosZenith, extraNormalWm2 } = sun;
  const { steps, stepH } = grid;
  const stepMs = stepH * HOUR_MS;
  const dniWm2 = new Float64Array(steps);
  const dhiWm2 = new Float64Array(steps);
  for (let from = 0; from < steps; ) {
    const start = grid.startMs + from * stepMs;
    const to = Math.min(
      steps,
      from + Math.max(1, Math.round((HOUR_MS - (((start % HOUR_MS) + HOUR_MS) % HOUR_MS)) / stepMs)),
    );
    let given = 0;
    let outside = 0;
    for (let i = from; i < to; i++) {
      given += ghiWm2[i]!;
      if (cosZenith[i]! > 0) outside += Math.max(LOW_SUN_COS, cosZenith[i]!) * extraNormalWm2[i]!;
    }
    const share = outside > 0 ? erbsDiffuseFraction(given / outside) : 1;
    for (let i = from; i < to; i++) {
      const ghi = ghiWm2[i]!;
      const cosZ = cosZenith[i]!;
      if (!(ghi > 0)) continue;
      const extra = extraNormalWm2[i]!;
      let beam = cosZ > 0 ? (ghi * (1 - share)) / cosZ : 0;
      if (beam > 0.3 * extra) beam = Math.min(beam, cleanAirBeamWm2(airMassOf(cosZ), extra));
      dniWm2[i] = beam;
      dhiWm2[i] = Math.max(0, ghi - beam * Math.max(0, cosZ));
    }
    from = to;
  }
  return { dniWm2, dhiWm2 };
}

/** Rayleigh wind, half of whose variance lasts the day, stronger after noon. One draw an hour, straight lines between. */
function windColumn(grid: Grid, lonDeg: number, draw: WeatherDraw, days: Days): Float64Array {
  const out = new Float64Array(grid.steps);
  const solarMs = (lonDeg / 15) * HOUR_MS;
  const stepMs = grid.stepH * HOUR_MS;
  const hours = new Float64Array(25);
  let day = Number.NaN;
  for (let i = 0; i < grid.steps; i++) {
    const solar = grid.startMs + (i + 0.5) * stepMs + solarMs;
    const now = Math.floor(solar / DAY_MS);
    if (now !== day) {
      day = now;
      drawWind(draw, day, days, hours);
    }
    const hour = (solar - day * DAY_MS) / HOUR_MS;
    const h = Math.floor(hour);
    out[i] = hours[h]! + (hours[h + 1]! - hours[h]!) * (hour - h);
  }
  return out;
}

const RAYLEIGH_MEAN = Math.sqrt(Math.PI / 2);
const WIND_HOUR_LAG = 0.8;

function drawWind(draw: WeatherDraw, day: number, days: Days, hours: Float64Array): void {
  const stream = dayStream(draw, day, WIND);
  const z0 = days.wind[day - days.firstDay]!;
  const z1 = days.wind[day - days.firstDay + 1] ?? z0;
  const fresh = Math.sqrt(1 - WIND_HOUR_LAG ** 2);
  let z = normal(stream);
  for (let h = 0; h <= 24; h++) {
    if (h === 24) z = normal(dayStream(draw, day + 1, WIND)); // midnight is the next day's first hour
    const mixed = Math.SQRT1_2 * ((h === 24 ? z1 : z0) + z);
    const rayleigh = Math.sqrt(-2 * Math.log(1 - Math.min(1 - 1e-9, normalShare(mixed))));
    const diurnal = 1 + 0.25 * Math.cos((Math.PI * (h - 14.5)) / 12);
    hours[h] = (MEAN_WIND_MS * diurnal * rayleigh) / RAYLEIGH_MEAN;
    z = WIND_HOUR_LAG * z + fresh * normal(stream);
  }
}
