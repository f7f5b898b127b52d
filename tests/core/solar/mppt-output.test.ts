import { expect, test } from 'vitest';
import {
  arrayColumns,
  converterCoefficients,
  harvestFromOutputW,
  inputFromOutputW,
  mpptConverter,
  mpptMaxOutputW,
} from '../../../packages/core/src/solar/index.js';
import { inputOf, someArray } from './array-fixture.js';

const day = inputOf(
  { sunWm2: 0, airC: 10, windMs: 2 },
  { sunWm2: 3, airC: 10, windMs: 2 },
  { sunWm2: 150, airC: 15, windMs: 2 },
  { sunWm2: 900, airC: 25, windMs: 2 },
);

test('harvest from the greatest output is what was available, and nothing for no output', () => {
  const array = someArray({ powerW: 175 });
  const columns = arrayColumns(array, day);
  const converter = mpptConverter(array.controller, 12);
  const outputW = mpptMaxOutputW(columns, 0.03, converter);
  expect(outputW[0]).toBe(0);
  for (const step of [2, 3])
    expect(harvestFromOutputW(outputW[step]!, columns.voltageV[step]!, 0.03, converter)).toBeCloseTo(
      columns.availableW[step]!,
      9,
    );
  expect(harvestFromOutputW(0, 20, 0.03, converter)).toBe(0);
});

test('a few watts per square metre do not cover what the tracker itself takes', () => {
  const array = someArray({ powerW: 50 });
  const columns = arrayColumns(array, day);
  expect(columns.availableW[1]!).toBeGreaterThan(0);
  expect(mpptMaxOutputW(columns, 0, mpptConverter(array.controller, 12))[1]).toBe(0);
});

test('a cable with resistance and a lossy converter each lower the output', () => {
  const columns = arrayColumns(someArray(), day);
  const at = (ohm: number, efficiency: number) =>
    mpptMaxOutputW(columns, ohm, converterCoefficients({ efficiency, ratingW: 280 }))[3]!;
  expect(at(0.1, 0.97)).toBeLessThan(at(0, 0.97));
  expect(at(0, 0.94)).toBeLessThan(at(0, 0.97));
  // 80 W at 20 V are 4 A: 1.6 W in 0.1 ohm.
  expect(at(0, 0.97) - at(0.1, 0.97)).toBeGreaterThan(1);
  expect(at(0, 0.97) - at(0.1, 0.97)).toBeLessThan(2);
});

test('own use that leaves no room for other losses moves the best point up, and the peak stays', () => {
  const c = converterCoefficients({ efficiency: 0.9, ratingW: 300, standbyW: 12 });
  expect(c.a).toBe(0);
  const bestW = Math.sqrt(c.p0W / c.bPerW);
  expect(bestW).toBeCloseTo(216, 6);
  expect(bestW / inputFromOutputW(c, bestW)).toBeCloseTo(0.9, 12);
});

test.each([
  { efficiency: 0, ratingW: 100 },
  { efficiency: 1.1, ratingW: 100 },
  { efficiency: Number.NaN, ratingW: 100 },
  { efficiency: 0.9, ratingW: 0 },
  { efficiency: 0.9, ratingW: 100, standbyW: -1 },
])('a converter of %o is refused', (rating) => {
  expect(() => converterCoefficients(rating)).toThrow(RangeError);
});
