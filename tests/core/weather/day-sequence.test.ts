import { describe, expect, test } from 'vitest';
import { dayStream, normal, type WeatherDraw } from '../../../packages/core/src/math/day-draws.js';
import { findPlace } from '../../../packages/core/src/place/index.js';
import { dailyWeather } from '../../../packages/core/src/weather/made/daily-weather.js';
import { yearSequence } from '../../../packages/core/src/weather/made/day-sequence.js';
import { drawTexture, hourlyScatter, texturedDay } from '../../../packages/core/src/weather/made/sky-texture.js';

const DAY_MS = 86_400_000;
const draw: WeatherDraw = { seed: 1, year: 0, latDeg: 41.15, lonDeg: -8.61 };
const mean = (values: ArrayLike<number>) => Array.from(values).reduce((a, b) => a + b, 0) / values.length;
const together = (a: ArrayLike<number>, b: ArrayLike<number>) => {
  const [ma, mb] = [mean(a), mean(b)];
  return mean(Array.from(a, (value, i) => (value - ma) * (b[i]! - mb)));
};
const correlation = (a: ArrayLike<number>, b: ArrayLike<number>) =>
  together(a, b) / Math.sqrt(together(a, a) * together(b, b));
/** Correlation of each value with the one before. */
const lagOne = (values: Float64Array) => correlation(values.subarray(1), values.subarray(0, values.length - 1));

const law = { clearnessLag: 0.35, airLag: 0.7 };
const SLOW_SHARE = 0.09;

/** Sequences of many weather years of 2026, one after the other. */
function years(count: number) {
  const all = Array.from({ length: count }, (_, year) => yearSequence({ ...draw, year }, 2026, law));
  const joined = (name: 'clearness' | 'temperature' | 'wind') =>
    Float64Array.from(all.flatMap((one) => Array.from(one[name])));
  return { all, clearness: joined('clearness'), temperature: joined('temperature'), wind: joined('wind') };
}

describe('daily sequences', () => {
  test('have a value for each day of the year', () => {
    for (const [year, days] of [
      [2026, 365],
      [2028, 366],
    ] as const) {
      const { clearness, temperature, wind } = yearSequence(draw, year, law);
      for (const one of [clearness, temperature, wind]) {
        expect(one).toHaveLength(days);
        expect(one.every(Number.isFinite)).toBe(true);
      }
    }
  });

  test('are standard normal, persist from day to day as asked, and do not follow each other', () => {
    const { clearness, temperature, wind } = years(40);
    for (const [one, lag] of [
      [clearness, 1.05 * law.clearnessLag],
      [temperature, law.airLag],
      [wind, 0.4],
    ] as const) {
      expect(Math.abs(mean(one))).toBeLessThan(1e-9); // mirrored pairs
      expect(Math.abs(together(one, one) - 1)).toBeLessThan(0.06);
      expect(Math.abs(lagOne(one) - lag)).toBeLessThan(0.04);
    }
    for (const [a, b] of [
      [clearness, temperature],
      [clearness, wind],
      [temperature, wind],
    ] as const)
      expect(Math.abs(correlation(a, b))).toBeLessThan(0.06);
  });

  test('of clearness remember beyond what a first-order memory leaves: a tenth of the variance after ten days', () => {
    const { all } = years(60);
    const kept = (days: number) =>
      mean(all.map(({ clearness }) => together(clearness.subarray(days), clearness.subarray(0, 365 - days))));
    // first order alone: 0.3675¹⁰ = 4e-5. The slow part keeps some 0.8 of itself over ten days, and none over fifty
    expect(Math.abs(kept(10) - 0.8 * SLOW_SHARE)).toBeLessThan(0.03);
    expect(Math.abs(kept(50))).toBeLessThan(0.03);
    const own = all.map(({ temperature }) => together(temperature.subarray(12), temperature.subarray(0, 353)));
    expect(Math.abs(mean(own))).toBeLessThan(0.06);
  });

  test('come in mirrored pairs of weather years, each pair of its own', () => {
    for (const year of [0, 2, 8]) {
      const [one, other] = [year, year + 1].map((y) => yearSequence({ ...draw, year: y }, 2026, law));
      for (const name of ['clearness', 'temperature', 'wind'] as const)
        one![name].forEach((value, i) => {
          expect(other![name][i]!).toBeCloseTo(-value, 12);
        });
    }
    const [a, b] = [0, 2].map((year) => yearSequence({ ...draw, year }, 2026, law).clearness);
    expect(Math.abs(correlation(a!, b!))).toBeLessThan(0.25);
  });

  test('go on over New Year by the same rule, from the day’s own draws', () => {
    for (const year of [2026, 2027, 2028]) {
      const before = yearSequence(draw, year, law);
      const after = yearSequence(draw, year + 1, law);
      const stream = dayStream(draw, Date.UTC(year + 1, 0, 1) / DAY_MS, 1);
      const [, air, wind] = [normal(stream), normal(stream), normal(stream)];
      expect(after.temperature[0]!).toBeCloseTo(0.7 * before.temperature.at(-1)! + Math.sqrt(1 - 0.7 ** 2) * air, 3);
      expect(after.wind[0]!).toBeCloseTo(0.4 * before.wind.at(-1)! + Math.sqrt(1 - 0.4 ** 2) * wind, 6);
    }
    // clearness joins too: jumps over New Year are as large as those of other days
    const jumps = Array.from({ length: 200 }, (_, k) => {
      const last = yearSequence(draw, 1900 + k, law).clearness.at(-1)!;
      return yearSequence(draw, 1901 + k, law).clearness[0]! - last;
    });
    expect(Math.abs(mean(jumps.map((j) => j * j)) - 2 * (1 - 1.05 * 0.35))).toBeLessThan(0.3);
  });
});

describe('texture of a day', () => {
  test('is standard normal, ten minutes by ten minutes, and its hourly means follow each other by about 0.4', () => {
    const days = 200;
    const all = new Float64Array(144 * days);
    for (let day = 0; day < days; day++) drawTexture(draw, day, all.subarray(144 * day, 144 * (day + 1)));
    expect(Math.abs(mean(all))).toBeLessThan(0.05);
    expect(Math.abs(together(all, all) - 1)).toBeLessThan(0.05);
    // within the day; from day to day it begins anew
    expect(Math.abs(lagOne(all) - Math.exp(-1 / (6 * 0.63)))).toBeLessThan(0.02);
    const firsts = Float64Array.from({ length: days - 1 }, (_, day) => all[144 * (day + 1)]!);
    const lasts = Float64Array.from({ length: days - 1 }, (_, day) => all[144 * day + 143]!);
    expect(Math.abs(correlation(firsts, lasts))).toBeLessThan(0.2);
    const hours = Float64Array.from({ length: 24 * days }, (_, h) => mean(all.subarray(6 * h, 6 * h + 6)));
    expect(Math.abs(lagOne(hours) - 0.4)).toBeLessThan(0.05);
    // an hour keeps 0.63 of the variance
    expect(Math.abs(together(hours, hours) - 0.63)).toBeLessThan(0.05);
  });

  test('scatters by 0.16 sin(π·K/0.90) (Graham & Hollands 1990; from memory)', () => {
    expect(hourlyScatter(0.45)).toBeCloseTo(0.16, 12);
    expect(hourlyScatter(0.15)).toBeCloseTo(0.08, 12);
    expect(hourlyScatter(0.75)).toBeCloseTo(0.08, 12);
    for (const k of [-1, 0, 0.9, 1.2]) expect(hourlyScatter(k)).toBeCloseTo(0, 12);
  });

  const clear = Float64Array.from({ length: 144 }, (_, i) => Math.max(0, 900 * Math.sin((Math.PI * (i - 36)) / 72)));
  const clearSum = clear.reduce((a, b) => a + b, 0);
  function dayOf(index: number, scatter: number) {
    const texture = new Float64Array(144);
    drawTexture(draw, 5, texture);
    const ghi = new Float64Array(144);
    texturedDay(clear, texture, 0, 144, index * clearSum, clearSum, scatter, 0.75, ghi);
    return { ghi, texture };
  }

  test.each([0.05, 0.3, 0.6, 0.9, 1, 1.05])('keeps the light of a day of %d of a clear one', (index) => {
    for (const scatter of [0, hourlyScatter(0.75 * index) / Math.sqrt(0.63)]) {
      const { ghi } = dayOf(index, scatter);
      expect(ghi.reduce((a, b) => a + b, 0) / (index * clearSum)).toBeCloseTo(1, 9);
      ghi.forEach((value, i) => {
        const top = Math.max(1, index) + 0.1 * Math.sin(Math.PI * Math.min(1, index));
        // the sum goes before the limits, which a cloudless day may pass by up to 1 %
        expect(value).toBeLessThanOrEqual(clear[i]! * top * 1.01 + 1e-9);
        expect(value).toBeGreaterThanOrEqual(clear[i]! * 0.1 * index * 0.99);
        if (clear[i] === 0) expect(value).toBe(0);
      });
    }
  });

  test('without scatter is the clear day’s course, dimmed', () => {
    dayOf(0.4, 0).ghi.forEach((value, i) => {
      expect(value).toBeCloseTo(0.4 * clear[i]!, 9);
    });
  });

  test('moves a step by its texture, times the scatter over the clear day’s clearness', () => {
    const { ghi, texture } = dayOf(0.6, 0.06);
    // small enough that nothing is cut: clearness index 0.6 + 0.06/0.75 · texture, all scaled alike
    const bare = clear.map((value, i) => value * (0.6 + (0.06 / 0.75) * texture[i]!));
    const scale = (0.6 * clearSum) / bare.reduce((a, b) => a + b, 0);
    ghi.forEach((value, i) => {
      expect(Math.abs(value - bare[i]! * scale)).toBeLessThan(1);
    });
  });

  test('fills its own steps and leaves the others', () => {
    const ghi = new Float64Array(144).fill(-1);
    texturedDay(clear, new Float64Array(144), 60, 84, 0.5 * clearSum, clearSum, 0.1, 0.75, ghi);
    ghi.forEach((value, i) => {
      expect(value === -1).toBe(i < 60 || i >= 84);
    });
  });
});

describe('daily weather', () => {
  /** Weather years of a place, day by day of 2026. */
  function yearsOf(name: string, count = 10) {
    const place = findPlace(name);
    const grid = { startMs: Date.UTC(2026, 0, 1) - (place.lonDeg / 15) * 3.6e6, stepH: 1, steps: 8760 };
    return Array.from({ length: count }, (_, year) =>
      dailyWeather(place, place.climate, grid, { seed: 3, year, latDeg: place.latDeg, lonDeg: place.lonDeg }),
    );
  }
  /** Daily means of air, the highest less the lowest, and clearness, in one month of all years. */
  function monthOf(all: ReturnType<typeof yearsOf>, month: number) {
    const days = all.flatMap((one) =>
      Array.from(one.clearness, (clearness, i) => ({
        at: new Date((one.firstDay + i) * DAY_MS),
        clearness,
        middle: (one.air.minC[i]! + one.air.maxC[i]!) / 2,
        swing: one.air.maxC[i]! - one.air.minC[i]!,
      })).filter(({ at }) => at.getUTCFullYear() === 2026 && at.getUTCMonth() === month),
    );
    return {
      clearness: days.map((day) => day.clearness),
      middle: days.map((day) => day.middle),
      swing: days.map((day) => day.swing),
    };
  }
  const deviation = (values: number[]) => Math.sqrt(together(values, values));

  test('spreads the mean temperature of days little in the tropics, and much in a continental winter', () => {
    const cold = yearsOf('International Falls', 60); // of ten, the spread of a month with such memory is known to 10 % only
    const [tropics, winter, summer] = [monthOf(yearsOf('Singapore'), 0), monthOf(cold, 0), monthOf(cold, 6)];
    // typical years: 0.55 K in San Juan, 7.9 K in International Falls, which are 0.89 of what many years have
    expect(Math.abs(deviation(tropics.middle) - 0.9)).toBeLessThan(0.3);
    expect(Math.abs(deviation(winter.middle) / (7.9 / 0.89) - 1)).toBeLessThan(0.25);
    expect(deviation(summer.middle)).toBeLessThan(0.6 * deviation(winter.middle));
    expect(deviation(summer.middle)).toBeGreaterThan(deviation(tropics.middle));
    // clear days are warmer in summer and in the tropics, colder in winter. Stations with years of days have −0.14 to −0.36
    // in winter beyond 30 N, 0.12 to 0.42 in the tropics, typical years 0.28 to 0.62 in summer; of 310 days, standard error 0.06
    const warmth = (month: typeof winter) => correlation(month.clearness, month.middle);
    expect(Math.abs(warmth(summer) - 0.2)).toBeLessThan(0.15);
    expect(Math.abs(warmth(winter) + 0.23)).toBeLessThan(0.15);
    expect(Math.abs(warmth(tropics) - 0.26)).toBeLessThan(0.15);
  });

  test('swings by its clearness, not below 0.4 nor above 1.6 of the month’s', () => {
    const { clearness, swing } = monthOf(yearsOf('Porto'), 0);
    expect(correlation(clearness, swing)).toBeGreaterThan(0.95);
    const usual = mean(swing);
    expect(Math.min(...swing) / usual).toBeGreaterThan(0.35);
    expect(Math.max(...swing) / usual).toBeLessThan(1.7);
    expect(Math.max(...swing) / Math.min(...swing)).toBeGreaterThan(2);
  });

  test('covers the days of the grid and one more at each end, each the same in any grid, over New Year and leap day', () => {
    const place = findPlace('Porto');
    const of = (from: string, days: number) => {
      const grid = { startMs: Date.parse(from) - (place.lonDeg / 15) * 3.6e6 + 3.6e6, stepH: 1, steps: 24 * days - 2 };
      return dailyWeather(place, place.climate, grid, draw);
    };
    const whole = of('2027-12-20', 90);
    expect(whole.firstDay).toBe(Date.UTC(2027, 11, 19) / DAY_MS);
    expect(whole.clearness).toHaveLength(92);
    for (const from of ['2027-12-30', '2028-01-01', '2028-02-28', '2028-03-01']) {
      const part = of(from, 3);
      expect(part.clearness).toHaveLength(5);
      const skip = part.firstDay - whole.firstDay;
      for (let i = 0; i < 5; i++) {
        expect(part.clearness[i]).toBe(whole.clearness[skip + i]);
        expect(part.wind[i]).toBe(whole.wind[skip + i]);
        expect(part.air.minC[i]).toBe(whole.air.minC[skip + i]);
        expect(part.air.maxC[i]).toBe(whole.air.maxC[skip + i]);
      }
    }
    const newYear = Date.UTC(2028, 0, 1) / DAY_MS - whole.firstDay;
    expect(whole.wind.slice(newYear, newYear + 60)).toEqual(yearSequence(draw, 2028, law).wind.slice(0, 60));
  });
});
