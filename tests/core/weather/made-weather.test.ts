import { describe, expect, test } from 'vitest';
import { findPlace } from '../../../packages/core/src/place/index.js';
import { type Grid, sunColumns, sunTimes, type WeatherColumns } from '../../../packages/core/src/sky/index.js';
import { clearWeather, climateWeather, dullClearness, dullWeather } from '../../../packages/core/src/weather/index.js';

const HOUR_MS = 3_600_000;
const COLUMNS = ['ghiWm2', 'dniWm2', 'dhiWm2', 'ambientC', 'windMs'] as const;
const porto = findPlace('Porto');
const tromso = findPlace('Tromso');

function made(place: typeof porto, grid: Grid, year = 0): WeatherColumns {
  return climateWeather(place, place.climate, grid, sunColumns(place.latDeg, place.lonDeg, grid), { seed: 1, year });
}

describe('made weather', () => {
  test.each([1, 0.5, 1 / 6])('of a run cut anywhere in a day is that of the whole, at steps of %d h', (stepH) => {
    for (const lonDeg of [-8.6, 100, 172.3]) {
      const place = { ...porto, lonDeg };
      const startMs = Date.parse('2026-12-30T00:00Z');
      const whole = made(place, { startMs, stepH, steps: 96 / stepH });
      for (const [from, to] of [
        [7, 15],
        [13, 37],
        [36, 61],
        [50, 51],
      ] as const) {
        const part = made(place, { startMs: startMs + from * HOUR_MS, stepH, steps: (to - from) / stepH });
        for (const name of COLUMNS)
          part[name].forEach((value, i) => {
            // the sun runs straight from day to day of the run, up to 0.001 deg off: 0.02 W/m² of the strongest
            const bound = name === 'ambientC' || name === 'windMs' ? 1e-6 : 0.1;
            expect(Math.abs(value - whole[name][from / stepH + i]!)).toBeLessThan(bound);
          });
      }
    }
  });

  test('in hours is about the mean of its ten minutes, and in ten minutes that of its minutes', () => {
    const startMs = Date.parse('2026-05-10T00:30Z');
    const [hours, tens, minutes] = [1, 1 / 6, 1 / 60].map(
      (stepH) => made(porto, { startMs, stepH, steps: Math.round(96 / stepH) }).ghiWm2,
    );
    const offBy = (coarse: Float64Array, fine: Float64Array) => {
      const n = fine.length / coarse.length;
      let [off, all] = [0, 0];
      coarse.forEach((value, i) => {
        const mean = fine.subarray(n * i, n * (i + 1)).reduce((a, b) => a + b, 0) / n;
        off += Math.abs(value - mean);
        all += value;
      });
      return off / all;
    };
    expect(offBy(hours!, tens!)).toBeLessThan(0.05);
    // ten minutes of the run may lie across two of the texture's
    expect(offBy(tens!, minutes!)).toBeLessThan(0.1);
  });

  test('has light between sunrise and sunset only, and some in each such hour', () => {
    for (const lonDeg of [-8.6, 172.3]) {
      const place = { ...porto, lonDeg };
      const grid = { startMs: Date.parse('2026-06-10T00:00Z') - (lonDeg / 15) * HOUR_MS, stepH: 0.25, steps: 96 };
      const { sunriseMs, sunsetMs } = sunTimes(grid.startMs, place.latDeg, lonDeg);
      made(place, grid).ghiWm2.forEach((ghi, i) => {
        const middle = grid.startMs + (i + 0.5) * 0.25 * HOUR_MS;
        // refraction and the sun's edge lift sunrise by some six minutes
        if (middle < sunriseMs! || middle > sunsetMs!) expect(ghi).toBe(0);
        if (middle > sunriseMs! + 0.25 * HOUR_MS && middle < sunsetMs! - 0.25 * HOUR_MS) expect(ghi).toBeGreaterThan(0);
      });
    }
  });

  test('on the way into polar night and out of it is dark on days without sun, and a number on each', () => {
    for (const from of ['2026-11-20', '2026-01-08']) {
      const grid = { startMs: Date.parse(from) - (tromso.lonDeg / 15) * HOUR_MS, stepH: 0.5, steps: 48 * 15 };
      const sun = sunColumns(tromso.latDeg, tromso.lonDeg, grid);
      const weather = made(tromso, grid);
      for (const name of COLUMNS) expect(weather[name].every(Number.isFinite)).toBe(true);
      expect(Math.max(...weather.ghiWm2)).toBeGreaterThan(0);
      for (let day = 0; day < 15; day++) {
        const [a, b] = [48 * day, 48 * (day + 1)];
        expect(Math.max(...weather.ghiWm2.subarray(a, b)) > 0).toBe(Math.max(...sun.cosZenith.subarray(a, b)) > 0);
      }
    }
  });

  test('is a number in a climate without seasons, in one without light, and in the brightest', () => {
    const even = (value: number) => new Array<number>(12).fill(value);
    const grid = { startMs: Date.parse('2026-03-10'), stepH: 1, steps: 240 };
    for (const ghi of [0, 5, 20]) {
      const climate = { ghiKwhM2Day: even(ghi), tMaxC: even(25), tMinC: even(15) };
      const place = { ...porto, latDeg: 0, lonDeg: 0 };
      const weather = climateWeather(place, climate, grid, sunColumns(0, 0, grid), { seed: 1, year: 0 });
      for (const name of COLUMNS) expect(weather[name].every(Number.isFinite)).toBe(true);
      expect(Math.max(...weather.ghiWm2) > 0).toBe(ghi > 0);
      const mean = weather.ambientC.reduce((a, b) => a + b, 0) / 240;
      expect(Math.abs(mean - 19.5)).toBeLessThan(2);
    }
  });
});

describe('dull weather', () => {
  test.each([-172, -8.6, 0, 172])('takes the month of the day by the sun’s own time at longitude %d', (lonDeg) => {
    const place = { ...porto, lonDeg };
    const clearness = dullClearness(place, porto.climate);
    expect(new Set(clearness.slice(10)).size + new Set(clearness.slice(0, 2)).size).toBe(4);
    for (const stepH of [1, 1 / 6]) {
      const grid = { startMs: Date.parse('2026-11-29') - (lonDeg / 15) * HOUR_MS, stepH, steps: 96 / stepH };
      const sun = sunColumns(place.latDeg, lonDeg, grid);
      const { ghiWm2, dhiWm2, dniWm2, windMs } = dullWeather(place, porto.climate, grid, sun);
      for (let i = 0; i < grid.steps; i++) {
        const month = Math.floor((i * stepH) / 24) < 2 ? 10 : 11;
        const outside = Math.max(0, sun.cosZenith[i]!) * sun.extraNormalWm2[i]!;
        expect(ghiWm2[i]!).toBeCloseTo(clearness[month]! * outside, 9);
        expect([dhiWm2[i], dniWm2[i], windMs[i]]).toEqual([ghiWm2[i], 0, 2]);
      }
    }
  });

  test('is nowhere clearer than an overcast sky, 0.25, and is that in a desert', () => {
    for (const name of ['Porto', 'Tucson', 'Singapore', 'Bergen']) {
      const place = findPlace(name);
      for (const value of dullClearness(place, place.climate)) expect(value >= 0 && value <= 0.25).toBe(true);
    }
    const tucson = findPlace('Tucson');
    expect(dullClearness(tucson, tucson.climate)[5]).toBe(0.25);
  });
});

test('clear and dull weather without months take those of the table of places', () => {
  const grid = { startMs: Date.parse('2026-07-10'), stepH: 1, steps: 48 };
  const sun = sunColumns(porto.latDeg, porto.lonDeg, grid);
  for (const make of [clearWeather, dullWeather])
    expect(make(porto, undefined, grid, sun)).toEqual(make(porto, porto.climate, grid, sun));
  const { windMs } = clearWeather(porto, porto.climate, grid, sun);
  expect(windMs.every((wind) => wind === 2)).toBe(true);
});
