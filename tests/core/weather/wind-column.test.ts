import { describe, expect, test } from 'vitest';
import type { WeatherDraw } from '../../../packages/core/src/math/day-draws.js';
import { normalQuantile } from '../../../packages/core/src/math/normal-distribution.js';
import type { DailyWeather } from '../../../packages/core/src/weather/made/daily-weather.js';
import { windColumn } from '../../../packages/core/src/weather/made/wind-column.js';

const DAY_MS = 8.64e7;
const FIRST = Date.UTC(2026, 0, 1) / DAY_MS;
const DRAW: WeatherDraw = { seed: 7, year: 0, latDeg: 40, lonDeg: 0 };

/** Days of wind as a standard normal value each. */
const daysOf = (wind: readonly number[]) => ({ firstDay: FIRST, wind: Float64Array.from(wind) }) as DailyWeather;
/** An even spread of n normal values, in an order that repeats no neighbours. */
const spread = (n: number) => Array.from({ length: n }, (_, i) => normalQuantile((((i * 377) % n) + 0.5) / n));

/** Wind from solar midnight of the first day, `perHour` values an hour. */
function wind(days: DailyWeather, hours: number, { perHour = 1, fromH = 0, lonDeg = 0, draw = DRAW } = {}): number[] {
  const startMs = FIRST * DAY_MS + fromH * 3.6e6;
  return Array.from(windColumn({ startMs, stepH: 1 / perHour, steps: hours * perHour }, lonDeg, draw, days));
}
const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
const year = spread(1000);
const column = wind(daysOf(year), 24_000);
const atHour = (hour: number) => column.filter((_, i) => i % 24 === hour);

describe('made wind', () => {
  // Rayleigh: standard deviation / mean = √(4/π − 1) = 0.523, median / mean = √(ln 4) / √(π/2) = 0.939; 3 m/s and the course of
  // the day are the model's own (common practice). The sampling error of 1000 days is some 2 %.
  test('is Rayleigh distributed about 3 m/s', () => {
    expect(mean(column)).toBeGreaterThan(2.9);
    expect(mean(column)).toBeLessThan(3.1);
    const morning = atHour(8);
    const middle = mean(morning);
    const sd = Math.sqrt(mean(morning.map((v) => (v - middle) ** 2)));
    // at half past, a mean of two hourly draws: a little narrower
    expect(sd / middle).toBeGreaterThan(0.46);
    expect(sd / middle).toBeLessThan(0.55);
    expect(morning.toSorted((a, b) => a - b)[500]! / middle).toBeCloseTo(0.939, 1);
    expect(column.every((v) => v >= 0 && Number.isFinite(v))).toBe(true);
  });

  test('is strongest about 14:30 solar time, by a quarter, and weakest twelve hours from it', () => {
    expect(mean(atHour(14))).toBeGreaterThan(3 * 1.25 * 0.96);
    expect(mean(atHour(14))).toBeLessThan(3 * 1.25 * 1.04);
    expect(mean(atHour(2))).toBeGreaterThan(3 * 0.75 * 0.96);
    expect(mean(atHour(2))).toBeLessThan(3 * 0.75 * 1.04);
    expect(mean(atHour(8)) / 3).toBeCloseTo(1, 1);
    expect(mean(atHour(20)) / 3).toBeCloseTo(1, 1);
  });

  test('half of its variance is the day’s: a windy day is windy throughout', () => {
    const of = (z: number) => mean(wind(daysOf(Array(30).fill(z)), 720));
    // the hours' middle one stands at the day's z / √2: Rayleigh quantiles √(−2 ln(1 − Φ)) of 0.76, 0.5 and 0.24 are 1.69, 1.18, 0.74
    expect(of(1) / of(0)).toBeCloseTo(1.69 / 1.18, 1);
    expect(of(-1) / of(0)).toBeCloseTo(0.74 / 1.18, 1);
    // a calm one still has its hours
    const calm = wind(daysOf(Array(30).fill(0)), 720);
    expect(Math.max(...calm) / Math.min(...calm)).toBeGreaterThan(3);
    const normed = (i: number) => column[i]! / (1 + 0.25 * Math.cos((Math.PI * ((i % 24) + 0.5 - 14.5)) / 12));
    const lag = (hours: number) => {
      const pairs = column.flatMap((_, i) =>
        i % 24 === 6 && i + hours < column.length ? [[normed(i), normed(i + hours)] as const] : [],
      );
      const [a, b] = [mean(pairs.map((p) => p[0])), mean(pairs.map((p) => p[1]))];
      const cov = mean(pairs.map((p) => (p[0] - a) * (p[1] - b)));
      return cov / Math.sqrt(mean(pairs.map((p) => (p[0] - a) ** 2)) * mean(pairs.map((p) => (p[1] - b) ** 2)));
    };
    // between steps: the day's half and the hour's half × 0.8 a lag, somewhat more by the straight lines between hours
    expect(lag(1)).toBeGreaterThan(0.87);
    expect(lag(12)).toBeGreaterThan(0.42);
    expect(lag(12)).toBeLessThan(0.65);
    expect(Math.abs(lag(24 * 2))).toBeLessThan(0.1);
  });

  test('runs straight between the hours, through midnight too', () => {
    const fine = wind(daysOf(year), 96, { perHour: 60 });
    for (let hour = 0; hour < 96; hour++) {
      const step = (m: number) => fine[hour * 60 + m + 1]! - fine[hour * 60 + m]!;
      for (const m of [1, 17, 30, 58]) expect(step(m)).toBeCloseTo(step(0), 9);
      if (hour < 95)
        expect(Math.abs(step(59))).toBeLessThanOrEqual(
          Math.abs(step(58)) + Math.abs(fine[hour * 60 + 61]! - fine[hour * 60 + 60]!),
        );
    }
    const hourly = wind(daysOf(year), 96);
    hourly.forEach((v, hour) => {
      expect(v).toBeCloseTo((fine[hour * 60 + 29]! + fine[hour * 60 + 30]!) / 2, 9);
    });
  });

  test('of a day does not depend on when a run begins, and goes by solar time', () => {
    const whole = wind(daysOf(year), 96, { perHour: 6 });
    expect(wind(daysOf(year), 48, { perHour: 6, fromH: 29 })).toEqual(whole.slice(29 * 6, 77 * 6));
    wind(daysOf(year), 48, { perHour: 6, fromH: 29 - 5, lonDeg: 75 }).forEach((v, i) => {
      expect(v).toBeCloseTo(whole[29 * 6 + i]!, 9);
    });
    expect(wind(daysOf(year.slice(0, 4)), 96, { perHour: 6 }).slice(0, -6)).toEqual(whole.slice(0, -6));
  });

  test('differs by day, seed, year and place, and is the same again', () => {
    const flat = daysOf(Array(4).fill(0));
    const base = wind(flat, 48);
    expect(wind(flat, 48)).toEqual(base);
    expect(base.slice(24)).not.toEqual(base.slice(0, 24));
    for (const other of [{ seed: 8 }, { year: 1 }, { latDeg: 41 }, { lonDeg: 1 }])
      expect(wind(flat, 48, { draw: { ...DRAW, ...other } })[5]).not.toBeCloseTo(base[5]!, 3);
  });

  test('of the wildest day stays finite', () => {
    expect(Math.max(...wind(daysOf([40, 40]), 24))).toBeLessThan(3 * 1.25 * 6);
  });
});
