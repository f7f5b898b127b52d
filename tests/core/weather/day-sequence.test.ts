import { describe, expect, test } from 'vitest';
import { dayStream, normal, type WeatherDraw } from '../../../packages/core/src/math/day-draws.js';
import { normalQuantile, normalShare } from '../../../packages/core/src/math/normal-distribution.js';
import { findPlace } from '../../../packages/core/src/place/index.js';
import { clearnessAt, clearnessCurve } from '../../../packages/core/src/weather/index.js';
import { curveSpread } from '../../../packages/core/src/weather/made/clearness-distribution.js';
import { dailyWeather } from '../../../packages/core/src/weather/made/daily-weather.js';
import { monthClearness, monthRank, yearSequence } from '../../../packages/core/src/weather/made/day-sequence.js';
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

/** Sequences of many weather years of 2026, one after the other. */
function years(count: number) {
  const all = Array.from({ length: count }, (_, year) => yearSequence({ ...draw, year }, 2026));
  const joined = (name: 'clearness' | 'temperature' | 'wind') =>
    Float64Array.from(all.flatMap((one) => Array.from(one[name])));
  return { clearness: joined('clearness'), temperature: joined('temperature'), wind: joined('wind') };
}

describe('daily sequences', () => {
  test('have a value for each day of the year', () => {
    for (const [year, days] of [
      [2026, 365],
      [2028, 366],
    ] as const) {
      const { clearness, temperature, wind } = yearSequence(draw, year);
      for (const one of [clearness, temperature, wind]) {
        expect(one).toHaveLength(days);
        expect(one.every(Number.isFinite)).toBe(true);
      }
    }
  });

  test('are standard normal, persist from day to day by 0.37, 0.68 and 0.4, and do not follow each other', () => {
    const { clearness, temperature, wind } = years(20);
    // of 7300 days the mean has a standard error of √((1+lag)/(1−lag)/7300), at most 0.027, the others are smaller
    for (const [one, lag] of [
      [clearness, 0.37],
      [temperature, 0.68],
      [wind, 0.4],
    ] as const) {
      expect(Math.abs(mean(one))).toBeLessThan(0.08);
      expect(Math.abs(together(one, one) - 1)).toBeLessThan(0.08);
      expect(Math.abs(lagOne(one) - lag)).toBeLessThan(0.05);
    }
    for (const [a, b] of [
      [clearness, temperature],
      [clearness, wind],
      [temperature, wind],
    ] as const)
      expect(Math.abs(correlation(a, b))).toBeLessThan(0.06);
  });

  test('go on over New Year by the same rule, from the day’s own draws', () => {
    for (const year of [2026, 2027, 2028]) {
      const before = yearSequence(draw, year);
      const after = yearSequence(draw, year + 1);
      const stream = dayStream(draw, Date.UTC(year + 1, 0, 1) / DAY_MS, 1);
      const [clearness, , wind] = [normal(stream), normal(stream), normal(stream)];
      expect(after.clearness[0]!).toBeCloseTo(
        0.37 * before.clearness.at(-1)! + Math.sqrt(1 - 0.37 ** 2) * clearness,
        6,
      );
      expect(after.wind[0]!).toBeCloseTo(0.4 * before.wind.at(-1)! + Math.sqrt(1 - 0.4 ** 2) * wind, 6);
    }
  });

  test('of ten weather years have ten different mean temperatures a month, one in each tenth of what chance gives', () => {
    const spreadOf = (n: number, lag: number) => {
      let sum = 0;
      for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) sum += lag ** Math.abs(i - j);
      return Math.sqrt(sum) / n;
    };
    const all = Array.from({ length: 10 }, (_, year) => yearSequence({ ...draw, year }, 2028).temperature);
    let from = 0;
    for (const days of [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]) {
      const tenths = all.map((year) =>
        Math.floor(10 * normalShare(mean(year.subarray(from, from + days)) / spreadOf(days, 0.68))),
      );
      expect(tenths.sort((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
      from += days;
    }
  });
});

describe('the rank of a month’s mean', () => {
  const ranksOf = (block: number, calendarYear: number, month: number, purpose = 2) =>
    Array.from({ length: 10 }, (_, i) => monthRank({ ...draw, year: 10 * block + i }, calendarYear, month, purpose));

  test('falls once into each tenth over ten weather years, and in pairs that mirror each other', () => {
    for (const block of [0, 1, 7])
      for (let month = 0; month < 12; month++) {
        const ranks = ranksOf(block, 2026, month);
        const sorted = [...ranks].sort((a, b) => a - b);
        sorted.forEach((rank, tenth) => {
          expect(rank).toBeGreaterThan(tenth / 10);
          expect(rank).toBeLessThan((tenth + 1) / 10);
          expect(rank + sorted[9 - tenth]!).toBeCloseTo(1, 12);
        });
        expect(mean(ranks)).toBeCloseTo(0.5, 12);
      }
  });

  test('comes in another order each month, calendar year, ten years, and for each purpose', () => {
    const orders = [
      ranksOf(0, 2026, 0),
      ranksOf(0, 2026, 1),
      ranksOf(0, 2026, 11),
      ranksOf(0, 2027, 0),
      ranksOf(1, 2026, 0),
      ranksOf(0, 2026, 0, 5),
    ];
    expect(new Set(orders.map((ranks) => ranks.map((rank) => Math.floor(10 * rank)).join(''))).size).toBe(6);
    expect(new Set(orders.flat()).size).toBe(60);
  });

  test('is as likely to be any in the first year as in the last', () => {
    for (const year of [0, 9]) {
      const months = Array.from({ length: 600 }, (_, m) =>
        monthRank({ ...draw, year }, 2000 + Math.floor(m / 12), m % 12, 2),
      );
      // standard error of the mean of 600 even values 0.012
      expect(Math.abs(mean(months) - 0.5)).toBeLessThan(0.05);
      for (let tenth = 0; tenth < 10; tenth++)
        expect(Math.abs(months.filter((rank) => Math.floor(10 * rank) === tenth).length - 60)).toBeLessThan(30);
    }
  });
});

describe('the clearness of a month', () => {
  const curve = clearnessCurve(0.45, 0.75);
  const even = (n: number) => new Float64Array(n).fill(4);
  /** Days of a month by a rank of its mean, with the sequence as it was left. */
  function monthOf(rank: number, outside: Float64Array, first = 0, usual = 0.45, days = curve) {
    const z = yearSequence(draw, 2026).clearness.slice(first, first + outside.length);
    const before = z.slice();
    const clearness = new Float64Array(outside.length);
    monthClearness(z, days, usual, rank, outside, clearness);
    return { z, before, clearness };
  }

  test('has the mean of its rank: that of the curve, and the spread of an autoregression’s mean about it', () => {
    for (const n of [28, 31])
      for (const rank of [0.05, 0.3, 0.5, 0.7, 0.95]) {
        let sum = 0;
        for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) sum += 0.37 ** Math.abs(i - j);
        const wanted = 0.45 + (normalQuantile(rank) * curveSpread(curve) * Math.sqrt(sum)) / n;
        expect(mean(monthOf(rank, even(n)).clearness)).toBeCloseTo(wanted, 5);
      }
  });

  test('counts each day by its light outside the atmosphere', () => {
    const outside = Float64Array.from({ length: 31 }, (_, i) => 1 + i / 3);
    const { clearness } = monthOf(0.5, outside);
    expect(mean(clearness.map((k, i) => k * outside[i]!)) / mean(outside)).toBeCloseTo(0.45, 5);
    expect(Math.abs(mean(clearness) - 0.45)).toBeGreaterThan(1e-4);
  });

  test('keeps a tenth of the room that there is on the nearer side, to the darkest or to the clearest day', () => {
    for (const usual of [0.2, 0.45]) {
      const days = clearnessCurve(usual, 0.75);
      const [darkest, clearest] = [days[0]!, days.at(-1)!];
      const most = 0.9 * Math.min(usual - darkest, clearest - usual);
      for (const [rank, wanted] of [
        [1e-30, usual - most],
        [1 - 1e-15, usual + most],
      ] as const) {
        const { clearness } = monthOf(rank, even(30), 0, usual, days);
        expect(mean(clearness)).toBeCloseTo(wanted, 5);
        expect(Math.min(...clearness)).toBeGreaterThanOrEqual(darkest);
        expect(Math.max(...clearness)).toBeLessThanOrEqual(clearest);
      }
    }
  });

  test('is that of its sequence on the curve; each day moves as far as it follows the month', () => {
    const { z, before, clearness } = monthOf(0.9, even(30), 31);
    const moves = z.map((value, i) => value - before[i]!);
    clearness.forEach((k, i) => {
      expect(k).toBeCloseTo(clearnessAt(curve, normalShare(z[i]!)), 6);
      // regression on the mean: the sum of 0.37^|i−j| over j, the same for all but the days at the ends
      const follows = (day: number) => moves.reduce((sum, _, j) => sum + 0.37 ** Math.abs(day - j), 0);
      expect(moves[i]! / moves[15]!).toBeCloseTo(follows(i) / follows(15), 6);
    });
  });

  test('without any light is left as it comes', () => {
    const { z, before, clearness } = monthOf(0.9, new Float64Array(30));
    expect(z).toEqual(before);
    clearness.forEach((k, i) => {
      expect(k).toBeCloseTo(clearnessAt(curve, normalShare(before[i]!)), 9);
    });
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
  /** Ten weather years of a place, day by day of 2026. */
  function tenYears(name: string) {
    const place = findPlace(name);
    const grid = { startMs: Date.UTC(2026, 0, 1) - (place.lonDeg / 15) * 3.6e6, stepH: 1, steps: 8760 };
    return Array.from({ length: 10 }, (_, year) =>
      dailyWeather(place, place.climate, grid, { seed: 3, year, latDeg: place.latDeg, lonDeg: place.lonDeg }),
    );
  }
  /** Daily means of air, the highest less the lowest, and clearness, in one month of all years. */
  function monthOf(all: ReturnType<typeof tenYears>, month: number) {
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
    const cold = tenYears('International Falls');
    const [tropics, winter, summer] = [monthOf(tenYears('Singapore'), 0), monthOf(cold, 0), monthOf(cold, 6)];
    // eight station years: 0.7 K in San Juan, 7 K in a Minnesota January
    expect(Math.abs(deviation(tropics.middle) - 0.9)).toBeLessThan(0.3);
    expect(Math.abs(deviation(winter.middle) - 6.5)).toBeLessThan(1.2);
    expect(deviation(summer.middle)).toBeLessThan(0.6 * deviation(winter.middle));
    expect(deviation(summer.middle)).toBeGreaterThan(deviation(tropics.middle));
    // clear days are warmer in summer and in the tropics, colder in winter: 0.35 on the normal scale; of 310 days, standard error 0.05
    const warmth = (month: typeof winter) => correlation(month.clearness, month.middle);
    expect(Math.abs(warmth(summer) - 0.34)).toBeLessThan(0.15);
    expect(Math.abs(warmth(winter) + 0.34)).toBeLessThan(0.15);
    expect(Math.abs(warmth(tropics) - 0.3)).toBeLessThan(0.15);
  });

  test('swings by its clearness, not below 0.4 nor above 1.6 of the month’s', () => {
    const { clearness, swing } = monthOf(tenYears('Porto'), 0);
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
    expect(whole.wind.slice(newYear, newYear + 60)).toEqual(yearSequence(draw, 2028).wind.slice(0, 60));
  });
});
