import { describe, expect, test } from 'vitest';
import { monthlyCourse } from '../../../packages/core/src/math/monthly-course.js';
import {
  dailyExtraterrestrialKwhM2,
  declinationDeg,
  extraterrestrialMonths,
  type Grid,
  monthlyClearness,
  sunsetHourAngleDeg,
} from '../../../packages/core/src/sky/index.js';
import { ambientColumn, type DailyAir, solarDayOf } from '../../../packages/core/src/weather/made/ambient-course.js';
import { meanDailyAir, solarDaysOf } from '../../../packages/core/src/weather/made/mean-daily-air.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
const MONTH_DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

describe('air through the day (Parton & Logan, Agricultural Meteorology 23, 1981, p. 205)', () => {
  const stepH = 0.1;
  const days = 3;
  // three days of their own and one more at each end
  const minC = Float64Array.of(6, 10, 8, -3, 5);
  const maxC = Float64Array.of(15, 22, 18, 4, 9);

  /** Three solar days from a date, at 0 or any other longitude. */
  function courseOf(latDeg: number, date: string, lonDeg = 0) {
    const firstDay = Date.parse(date) / DAY_MS;
    const grid: Grid = { startMs: firstDay * DAY_MS - (lonDeg / 15) * HOUR_MS, stepH, steps: days * 240 };
    return ambientColumn(latDeg, lonDeg, grid, { firstDay: firstDay - 1, minC, maxC });
  }
  const hourOf = (i: number) => (i + 0.5) * stepH;

  /** The formula, for the hour of the day d of the arrays above, when all days have the same length. */
  function byFormula(d: number, hour: number, lengthH: number): number {
    const rise = 12 - lengthH / 2;
    const arch = (day: number, since: number) =>
      minC[day]! + (maxC[day]! - minC[day]!) * Math.sin((Math.PI * since) / (lengthH + 2 * 1.86));
    if (hour >= rise && hour <= rise + lengthH) return arch(d, hour - rise);
    const [evening, morning] = hour < rise ? [d - 1, d] : [d, d + 1];
    const sinceSunset = hour < rise ? hour + 24 - (rise + lengthH) : hour - (rise + lengthH);
    // cooling by exp(−2.2 of the night), stretched so that the morning's minimum is met
    const left = (Math.exp((-2.2 * sinceSunset) / (24 - lengthH)) - Math.exp(-2.2)) / (1 - Math.exp(-2.2));
    return minC[morning]! + (arch(evening, lengthH) - minC[morning]!) * left;
  }

  test.each([
    ['on the equator, where each day has twelve hours', 0, '2026-05-10', 12],
    ['in polar day, taken as twenty hours', 78, '2026-06-20', 20],
    ['in polar night, taken as four', 78, '2026-12-20', 4],
    ['in southern polar night', -78, '2026-06-20', 4],
  ])('%s', (_, latDeg, date, lengthH) => {
    const air = courseOf(latDeg, date);
    for (let d = 1; d <= days; d++)
      for (let i = 0; i < 240; i++) expect(air[(d - 1) * 240 + i]!).toBeCloseTo(byFormula(d, hourOf(i), lengthH), 9);
  });

  test('takes each day’s length from the height of its sun', () => {
    const air = courseOf(50, '2026-03-20');
    const lengthH = (2 / 15) * sunsetHourAngleDeg(50, declinationDeg(Date.parse('2026-03-21T12:00Z')));
    // the days grow by four minutes each, which moves the air by less than a tenth of a degree
    for (let i = 0; i < 240; i++) expect(Math.abs(air[240 + i]! - byFormula(2, hourOf(i), lengthH))).toBeLessThan(0.1);
  });

  test.each([0, 35, 60, 75])('runs on without a jump at latitude %d', (latDeg) => {
    for (const date of ['2026-03-20', '2026-06-20', '2026-12-20']) {
      const air = courseOf(latDeg, date);
      // the steepest is the evening's end: 2.2 of 20 K in a night of four hours
      for (let i = 1; i < air.length; i++) expect(Math.abs(air[i]! - air[i - 1]!)).toBeLessThan(1.7);
      expect(Math.min(...air.subarray(240, 480))).toBeGreaterThanOrEqual(-3);
    }
  });

  test.each([150, -97, 7.5])('goes by the sun’s own time at longitude %d', (lonDeg) => {
    const there = courseOf(0, '2026-05-10', lonDeg);
    courseOf(0, '2026-05-10').forEach((air, i) => {
      expect(there[i]!).toBeCloseTo(air, 6);
    });
  });

  test('is the same for a part of the time', () => {
    const firstDay = Date.parse('2026-03-20') / DAY_MS;
    const known: DailyAir = { firstDay: firstDay - 1, minC, maxC };
    const whole = courseOf(40, '2026-03-20');
    const part = ambientColumn(40, 0, { startMs: firstDay * DAY_MS + 30 * HOUR_MS, stepH, steps: 240 }, known);
    part.forEach((air, i) => {
      expect(air).toBeCloseTo(whole[300 + i]!, 9);
    });
  });
});

test('a solar day begins where the mean sun is lowest: later in the west', () => {
  expect(solarDayOf(0, 0)).toBe(0);
  expect(solarDayOf(-1, 0)).toBe(-1);
  expect(solarDayOf(DAY_MS - 1, 0)).toBe(0);
  expect(solarDayOf(23 * HOUR_MS, 15)).toBe(1);
  expect(solarDayOf(23 * HOUR_MS - 1, 15)).toBe(0);
  expect(solarDayOf(HOUR_MS - 1, -15)).toBe(-1);
  expect(solarDayOf(HOUR_MS, -15)).toBe(0);
});

describe('a course through the year', () => {
  const means = [-8, -5, 1, 9, 15, 20, 23, 21, 16, 9, 1, -6];
  const course = () => monthlyCourse(means);

  test('keeps the mean of each month', () => {
    let first = 0;
    const values = course();
    MONTH_DAYS.forEach((days, month) => {
      const sum = values.subarray(first, first + days).reduce((a, b) => a + b, 0);
      expect(sum / days).toBeCloseTo(means[month]!, 7);
      first += days;
    });
    expect(values).toHaveLength(366);
  });

  test('is straight between the middles of the months, over New Year too', () => {
    const middles: number[] = [];
    let first = 0;
    for (const days of MONTH_DAYS) {
      middles.push(first + days / 2);
      first += days;
    }
    const values = course();
    const at = (day: number) => values[(day + 366) % 366]!;
    let bends = 0;
    for (let day = 0; day < 366; day++) {
      const bend = Math.abs(at(day + 1) - 2 * at(day) + at(day - 1));
      if (bend < 1e-9) continue;
      bends++;
      // the value of a day is that of its noon
      expect(middles.some((middle) => Math.abs(middle - (day + 0.5)) < 1)).toBe(true);
    }
    expect(bends).toBeGreaterThan(12);
  });

  test('of even months is even', () => {
    for (const value of monthlyCourse(new Array<number>(12).fill(7))) expect(value).toBeCloseTo(7, 12);
  });

  test.each([
    [[1, 2, 3]],
    [[...means, 3]],
    [[...means.slice(0, 11), Number.NaN]],
    [[...means.slice(0, 11), Number.POSITIVE_INFINITY]],
  ])('needs twelve finite months, not %s', (wrong) => {
    expect(() => monthlyCourse(wrong)).toThrow(RangeError);
    expect(() => monthlyCourse(wrong)).toThrow(`12 finite values, got ${wrong.join(', ')}`);
  });
});

describe('months of light', () => {
  test('outside the atmosphere are the means of their days in a common year', () => {
    for (const latDeg of [-40, 0, 55]) {
      const sums = new Array<number>(12).fill(0);
      const counts = new Array<number>(12).fill(0);
      for (let day = 1; day <= 365; day++) {
        const month = new Date(Date.UTC(2026, 0, day)).getUTCMonth();
        sums[month]! += dailyExtraterrestrialKwhM2(latDeg, day);
        counts[month]!++;
      }
      extraterrestrialMonths(latDeg).forEach((kwh, month) => {
        expect(kwh).toBeCloseTo(sums[month]! / counts[month]!, 9);
      });
    }
    expect(extraterrestrialMonths(85)[11]).toBe(0);
    expect(extraterrestrialMonths(85)).toHaveLength(12);
  });

  test('as a share of it are between 0 and 0.85, and 0 where it is dark', () => {
    const outside = extraterrestrialMonths(40);
    const shares = [0.5, 0.85, 0.9, 2, 0, -0.1, 0.3, 0.4, 0.6, 0.7, 0.8, 0.84];
    const clearness = monthlyClearness(
      40,
      shares.map((share, m) => share * outside[m]!),
    );
    const held = [0.5, 0.85, 0.85, 0.85, 0, 0, 0.3, 0.4, 0.6, 0.7, 0.8, 0.84];
    clearness.forEach((value, m) => {
      expect(value).toBeCloseTo(held[m]!, 9);
    });
    // 70 N: 0.02 kWh/m² outside in January, nothing in December
    const north = extraterrestrialMonths(70);
    monthlyClearness(70, new Array<number>(12).fill(0.01)).forEach((value, m) => {
      expect(value > 0).toBe(north[m]! > 0.02);
    });
  });
});

describe('the days of a grid', () => {
  test('are those that it touches, and one more at each end', () => {
    const day = Date.parse('2026-05-10') / DAY_MS;
    const grid: Grid = { startMs: day * DAY_MS + 12 * HOUR_MS, stepH: 0.5, steps: 48 };
    // noon to noon
    expect(solarDaysOf(0, grid)).toEqual({ first: day - 1, count: 4 });
    // ten hours ahead or behind: 22 to 22 h, 2 to 2 h
    expect(solarDaysOf(150, grid)).toEqual({ first: day - 1, count: 4 });
    expect(solarDaysOf(-150, grid)).toEqual({ first: day - 1, count: 4 });
    expect(solarDaysOf(-170, { ...grid, startMs: day * DAY_MS })).toEqual({ first: day - 2, count: 4 });
    expect(solarDaysOf(0, { ...grid, steps: 12 })).toEqual({ first: day - 1, count: 3 });
  });

  test('have the air of their month, with a swing wider or narrower about the same middle', () => {
    const climate = {
      ghiKwhM2Day: new Array<number>(12).fill(3),
      tMaxC: [10, 11, 14, 17, 20, 24, 28, 28, 25, 20, 14, 11],
      tMinC: [2, 2, 4, 6, 9, 12, 15, 15, 12, 9, 5, 3],
    };
    const startMs = Date.parse('2027-12-30');
    const grid: Grid = { startMs, stepH: 1, steps: 24 * 400 };
    const air = meanDailyAir(climate, 0, grid);
    const half = meanDailyAir(climate, 0, grid, 0.5);
    expect(air.firstDay).toBe(startMs / DAY_MS - 1);
    for (let month = 0; month < 12; month++) {
      let [high, low, highHalf, days] = [0, 0, 0, 0];
      air.maxC.forEach((value, i) => {
        const at = new Date((air.firstDay + i) * DAY_MS);
        // 2028 has 366 days
        if (at.getUTCFullYear() !== 2028 || at.getUTCMonth() !== month) return;
        high += value;
        low += air.minC[i]!;
        highHalf += half.maxC[i]!;
        days++;
        expect(half.maxC[i]! + half.minC[i]!).toBeCloseTo(value + air.minC[i]!, 9);
      });
      expect(high / days).toBeCloseTo(climate.tMaxC[month]!, 6);
      expect(low / days).toBeCloseTo(climate.tMinC[month]!, 6);
      expect(highHalf / days).toBeCloseTo(0.75 * climate.tMaxC[month]! + 0.25 * climate.tMinC[month]!, 6);
    }
  });
});
