import {
  DAY_MS,
  dayStream,
  LEAP_MONTH_DAYS,
  normal,
  normalQuantile,
  normalShare,
  uniform,
  type WeatherDraw,
} from '../../math/index.js';
import { type ClearnessCurve, clearnessAt, curveSpread } from './clearness-distribution.js';

/** Day-to-day correlation of clearness, on the scale of the normal distribution: gives 0.35 for clearness itself. */
const CLEARNESS_LAG = 0.37;
/** Eight station years, detrended by month: 0.15 to 0.66, which the detrending lowers. */
export const TEMPERATURE_LAG = 0.68;
const WIND_LAG = 0.4;
/** Days before New Year from which the sequences are run in; 0.68³⁰ is 1e-5. */
const RUN_IN_DAYS = 30;
const INNOVATIONS = 1;
export const CLEARNESS_RANKS = 2;
const TEMPERATURE_RANKS = 5;
const YEARS_A_BLOCK = 10;

/** Standard normal daily sequences of a calendar year, 1 January first. */
export interface YearSequence {
  readonly clearness: Float64Array;
  readonly temperature: Float64Array;
  readonly wind: Float64Array;
}

/**
 * Daily sequences of one calendar year for a draw. Each is a first-order autoregression on innovations of the day itself,
 * run in over the December before, so that years join and a day is the same whatever run asks for it. Monthly means of
 * temperature are spread evenly over weather years (see `monthRank`); those of clearness by `monthClearness`.
 */
export function yearSequence(draw: WeatherDraw, calendarYear: number): YearSequence {
  const firstDay = Math.round(Date.UTC(calendarYear, 0, 1) / DAY_MS);
  const days = Math.round(Date.UTC(calendarYear + 1, 0, 1) / DAY_MS) - firstDay;
  const clearness = new Float64Array(days);
  const temperature = new Float64Array(days);
  const wind = new Float64Array(days);
  let c = 0;
  let t = 0;
  let w = 0;
  for (let i = -RUN_IN_DAYS; i < days; i++) {
    const stream = dayStream(draw, firstDay + i, INNOVATIONS);
    c = CLEARNESS_LAG * c + Math.sqrt(1 - CLEARNESS_LAG ** 2) * normal(stream);
    t = TEMPERATURE_LAG * t + Math.sqrt(1 - TEMPERATURE_LAG ** 2) * normal(stream);
    w = WIND_LAG * w + Math.sqrt(1 - WIND_LAG ** 2) * normal(stream);
    if (i < 0) continue;
    clearness[i] = c;
    temperature[i] = t;
    wind[i] = w;
  }
  let from = 0;
  for (let month = 0; month < 12; month++) {
    const to = from + (month === 1 ? days - 337 : LEAP_MONTH_DAYS[month]!);
    const rank = monthRank(draw, calendarYear, month, TEMPERATURE_RANKS);
    moveToRank(temperature.subarray(from, to), TEMPERATURE_LAG, rank);
    from = to;
  }
  return { clearness, temperature, wind };
}

/**
 * Where a month's mean stands among the weather years of its draw, 0..1: every ten years (0 to 9, 10 to 19 …) have one in
 * each tenth, in an order of their own for each month, and in mirrored pairs. Chance alone would leave the mean of 30
 * years 1.5 % off; so it is not, while each year by itself stays as likely as the next.
 */
export function monthRank(draw: WeatherDraw, calendarYear: number, month: number, purpose: number): number {
  const block = Math.floor(draw.year / YEARS_A_BLOCK);
  const stream = dayStream({ ...draw, year: block }, calendarYear * 12 + month, purpose);
  const order = Array.from({ length: YEARS_A_BLOCK }, (_, i) => i);
  for (let i = YEARS_A_BLOCK - 1; i > 0; i--) {
    const j = Math.floor(uniform(stream) * (i + 1));
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  const within = Array.from({ length: YEARS_A_BLOCK / 2 }, () => uniform(stream));
  const tenth = order[draw.year - block * YEARS_A_BLOCK]!;
  const mirror = YEARS_A_BLOCK - 1 - tenth;
  return (tenth + (tenth < mirror ? within[tenth]! : 1 - within[mirror]!)) / YEARS_A_BLOCK;
}

/** How each day of an autoregression of n days follows their mean (its regression on it), and the variance of that mean. */
function onMean(n: number, lag: number): { follows: Float64Array; variance: number } {
  const follows = new Float64Array(n);
  let variance = 0;
  for (let i = 0; i < n; i++) {
    // sum over j of lag^|i−j|, both sides as geometric series
    const left = (1 - lag ** (i + 1)) / (1 - lag);
    const right = (1 - lag ** (n - i)) / (1 - lag);
    follows[i] = (left + right - 1) / n;
    variance += follows[i]! / n;
  }
  for (let i = 0; i < n; i++) follows[i]! /= variance;
  return { follows, variance };
}

/** Moves a month of a normal sequence, in place, so that its mean has the given rank among such means. */
function moveToRank(z: Float64Array, lag: number, rank: number): void {
  const { follows, variance } = onMean(z.length, lag);
  let mean = 0;
  for (let i = 0; i < z.length; i++) mean += z[i]! / z.length;
  const shift = normalQuantile(rank) * Math.sqrt(variance) - mean;
  for (let i = 0; i < z.length; i++) z[i]! += follows[i]! * shift;
}

/**
 * Turns a month of the normal sequence (changed in place) into daily clearness whose mean, weighted by the day's light
 * outside the atmosphere, is that of the month's rank. Each day moves by its regression on the month's mean, as in the
 * conditional distribution of a normal sequence, so that order and spread stay those of the autoregression.
 */
export function monthClearness(
  z: Float64Array,
  curve: ClearnessCurve,
  mean: number,
  rank: number,
  outside: Float64Array,
  clearness: Float64Array,
): void {
  const n = z.length;
  const { follows, variance } = onMean(n, CLEARNESS_LAG);
  const room = 0.9 * Math.min(mean - curve[0]!, curve[curve.length - 1]! - mean);
  const away = normalQuantile(rank) * curveSpread(curve) * Math.sqrt(variance);
  const wanted = mean + Math.max(-room, Math.min(room, away));
  const meanAt = (shift: number): number => {
    let sum = 0;
    let weight = 0;
    for (let i = 0; i < n; i++) {
      const k = clearnessAt(curve, normalShare(z[i]! + follows[i]! * shift));
      clearness[i] = k;
      sum += k * outside[i]!;
      weight += outside[i]!;
    }
    return weight > 0 ? sum / weight : wanted;
  };
  let low = -4;
  let high = 4;
  let shift = 0;
  for (let pass = 0; pass < 40; pass++) {
    const error = meanAt(shift) - wanted;
    if (Math.abs(error) < 1e-7) break;
    if (error > 0) high = shift;
    else low = shift;
    shift = (low + high) / 2;
  }
  for (let i = 0; i < n; i++) z[i]! += follows[i]! * shift;
}
