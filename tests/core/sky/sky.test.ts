import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  clearSkyColumns,
  decomposeGhi,
  erbsDailyDiffuseFraction,
  erbsDiffuseFraction,
  erbsMonthlyDiffuseFraction,
  haurwitzGhiWm2,
  linkeTurbidity,
  monthlyTurbidity,
  sunColumns,
} from '../../../packages/core/src/sky/index.js';

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
/** A missing or negative value counts as no light. */
const lit = (wm2: number) => (Number.isNaN(wm2) ? 0 : Math.max(0, wm2));
const latitude = fc.oneof(fc.constantFrom(-90, 0, 90), real(-90, 90));
const startMs = fc.integer({ min: Date.UTC(2020, 0, 1), max: Date.UTC(2030, 0, 1) });

test('clear sky is never negative or NaN, closes (dni cos z + dhi = ghi), and is dark at night, anywhere', () => {
  fc.assert(
    fc.property(latitude, startMs, real(-400, 5000), real(1.5, 8), (lat, start, elevationM, linke) => {
      const sun = sunColumns(lat, 10, { startMs: start, stepH: 0.5, steps: 96 });
      const { ghiWm2, dniWm2, dhiWm2 } = clearSkyColumns(sun, elevationM, linke);
      for (let i = 0; i < 96; i++) {
        const cosZ = sun.cosZenith[i]!;
        expect(ghiWm2[i]! >= 0 && dniWm2[i]! >= 0 && dhiWm2[i]! >= 0).toBe(true);
        expect(dniWm2[i]! <= sun.extraNormalWm2[i]!).toBe(true);
        if (cosZ <= 0) expect(ghiWm2[i]! + dniWm2[i]! + dhiWm2[i]!).toBe(0);
        else expect(Math.abs(dniWm2[i]! * cosZ + dhiWm2[i]! - ghiWm2[i]!)).toBeLessThan(1e-9);
      }
    }),
  );
});

test('more haze lets less beam through, and thinner air more', () => {
  const sun = sunColumns(35, 0, { startMs: Date.UTC(2026, 2, 20), stepH: 1 / 6, steps: 144 });
  const sum = (column: Float64Array) => column.reduce((a, b) => a + b, 0);
  const beams = [2, 3, 4, 5, 6].map((linke) => sum(clearSkyColumns(sun, 0, linke).dniWm2));
  expect([...beams].sort((a, b) => b - a)).toEqual(beams);
  expect(sum(clearSkyColumns(sun, 2000, 3).dniWm2)).toBeGreaterThan(beams[1]!);
});

test('monthly turbidity takes each month’s own value, and needs the grid', () => {
  const grid = { startMs: Date.UTC(2026, 0, 31), stepH: 1, steps: 48 };
  const sun = sunColumns(20, 0, grid);
  const months = [2, 6, 6, 6, 6, 6, 6, 6, 6, 6, 6, 6];
  const mixed = clearSkyColumns(sun, 0, months, grid).dniWm2;
  expect(mixed[12]).toBe(clearSkyColumns(sun, 0, 2).dniWm2[12]);
  expect(mixed[36]).toBe(clearSkyColumns(sun, 0, 6).dniWm2[36]);
  expect(() => clearSkyColumns(sun, 0, months)).toThrow(RangeError);
});

test('two independent clear skies agree within 10 % from 30 deg of height up (Haurwitz 1945; Ineichen & Perez 2002, Linke 3)', () => {
  const sun = sunColumns(45, 0, { startMs: Date.UTC(2026, 5, 1), stepH: 1 / 6, steps: 144 });
  const { ghiWm2 } = clearSkyColumns(sun, 0, 3);
  for (let i = 0; i < 144; i++)
    if (sun.cosZenith[i]! > 0.5) expect(ghiWm2[i]! / haurwitzGhiWm2(sun.cosZenith[i]!)).toBeCloseTo(1, 0.7);
});

test('default turbidity: 2 to 5, hazier in summer and in the tropics, clearer high up (common practice, no source)', () => {
  for (let lat = -80; lat <= 80; lat += 10)
    for (let month = 1; month <= 12; month++) {
      const { value, low, high } = linkeTurbidity({ latDeg: lat, elevationM: 0, month });
      expect(value >= 1.8 && value <= 5 && low < value && high > value).toBe(true);
    }
  expect(monthlyTurbidity(50, 0)[6]!).toBeGreaterThan(monthlyTurbidity(50, 0)[0]!);
  expect(monthlyTurbidity(-50, 0)[6]!).toBeLessThan(monthlyTurbidity(-50, 0)[0]!);
  expect(monthlyTurbidity(0, 0)[0]!).toBeGreaterThan(monthlyTurbidity(60, 0)[6]!);
  expect(monthlyTurbidity(0, 3000)[0]!).toBeLessThan(monthlyTurbidity(0, 0)[0]!);
});

test('diffuse fractions stay between 0 and 1 for any clearness', () => {
  fc.assert(
    fc.property(real(-0.5, 2), real(0, 180), (k, sunset) => {
      for (const f of [
        erbsDiffuseFraction(k),
        erbsDailyDiffuseFraction(k, sunset),
        erbsMonthlyDiffuseFraction(k, sunset),
      ])
        expect(f > 0 && f <= 1).toBe(true);
    }),
  );
});

test('decomposition keeps global, never gives a negative, NaN or more beam than outside the air', () => {
  const column = fc.array(fc.oneof(real(-50, 1500), fc.constantFrom(NaN, 0, 1e-9)), { minLength: 96, maxLength: 96 });
  fc.assert(
    fc.property(latitude, startMs, column, (lat, start, values) => {
      const sun = sunColumns(lat, -70, { startMs: start, stepH: 0.25, steps: 96 });
      const ghi = Float64Array.from(values);
      const { dniWm2, dhiWm2 } = decomposeGhi(sun, ghi);
      for (let i = 0; i < 96; i++) {
        const up = Math.max(0, sun.cosZenith[i]!);
        expect(dniWm2[i]! >= 0 && dhiWm2[i]! >= 0 && dniWm2[i]! <= sun.extraNormalWm2[i]!).toBe(true);
        if (up === 0) expect(dniWm2[i]!).toBe(0);
        expect(Math.abs(dniWm2[i]! * up + dhiWm2[i]! - lit(ghi[i]!))).toBeLessThan(1e-9);
      }
    }),
  );
});
