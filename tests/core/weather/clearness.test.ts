import { describe, expect, test } from 'vitest';
import { clearnessAt, clearnessCurve } from '../../../packages/core/src/weather/index.js';
import { curveSpread } from '../../../packages/core/src/weather/made/clearness-distribution.js';

/**
 * Daily clearness in months of mean 0.334, 0.526 and 0.668: lowest and highest value, and long-run share of days in each tenth between.
 * Source: matrices 2, 6 and 9 of Aguiar, Collares-Pereira & Conde, Solar Energy 40(3), 1988, p. 269, as public transcriptions have them.
 */
// biome-ignore format: a table
const CLASSES = [
  { mean: 0.334, low: 0.058, high: 0.694, share: [0.0965, 0.1447, 0.1232, 0.1337, 0.1033, 0.0979, 0.1032, 0.0887, 0.0754, 0.0332] },
  { mean: 0.526, low: 0.053, high: 0.856, share: [0.0209, 0.0308, 0.0413, 0.063, 0.126, 0.1612, 0.2268, 0.2309, 0.0882, 0.0108] },
  { mean: 0.668, low: 0.01, high: 0.842, share: [0.0021, 0.0021, 0.0075, 0.0152, 0.0266, 0.0482, 0.0577, 0.1937, 0.5203, 0.1265] },
];
/** Means of the lowest and of the highest class. */
const [LOWEST, HIGHEST] = [0.241, 0.728];

const RANKS = Array.from({ length: 41 }, (_, i) => i / 40);

describe('the days of a month', () => {
  test.each(CLASSES)('of mean $mean spread as published', ({ mean, low, high, share }) => {
    const curve = clearnessCurve(mean);
    expect(clearnessAt(curve, 0)).toBeCloseTo(low, 2);
    let below = 0;
    share.forEach((one, tenth) => {
      // days below the middle of a tenth: all tenths before and half of its own
      const middle = clearnessAt(curve, below + one / 2);
      // in the tails a tenth may have less than the two days in 200 to which a curve is known
      if (one > 0.01) expect(Math.abs(middle - (low + ((high - low) * (tenth + 0.5)) / 10))).toBeLessThan(0.01);
      below += one;
    });
    expect(clearnessAt(curve, 1)).toBeCloseTo(high, 2);
  });

  test('of a mean between two classes have values between theirs, as far from each as the mean', () => {
    // classes 8 and 9
    const [a, b, between] = [0.62, 0.668, 0.632].map((mean) => clearnessCurve(mean));
    for (const rank of RANKS) {
      const straight = 0.75 * clearnessAt(a!, rank) + 0.25 * clearnessAt(b!, rank);
      expect(Math.abs(clearnessAt(between!, rank) - straight)).toBeLessThan(0.002);
    }
  });

  test('darker than any class are those of the darkest, dimmed, under a low ceiling too', () => {
    const darkest = clearnessCurve(LOWEST);
    for (const ceiling of [1, 0.4]) {
      const dimmed = clearnessCurve(LOWEST / 3, ceiling);
      for (const rank of RANKS) expect(3 * clearnessAt(dimmed, rank)).toBeCloseTo(clearnessAt(darkest, rank), 2);
    }
  });

  test('clearer than any class are those of the clearest, lifted, while there is room', () => {
    const clearest = clearnessCurve(HIGHEST);
    const lifted = clearnessCurve(HIGHEST + 0.05);
    for (const rank of RANKS)
      expect(Math.abs(clearnessAt(lifted, rank) - clearnessAt(clearest, rank) - 0.05)).toBeLessThan(0.002);
  });

  test.each([0, 0.003, 0.1, 0.241, 0.4, 0.55, 0.7, 0.8, 0.9])('have the mean asked for: %d', (mean) => {
    for (const ceiling of [1, 0.75, 0.5]) {
      const curve = clearnessCurve(mean, ceiling);
      let sum = 0;
      for (let i = 0; i < 1000; i++) sum += clearnessAt(curve, (i + 0.5) / 1000) / 1000;
      expect(sum).toBeCloseTo(mean, 5);
      // a ceiling too low for the mean gives way, with 5 % of room
      expect(clearnessAt(curve, 1)).toBeLessThanOrEqual(Math.max(ceiling, mean / 0.95) + 1e-6);
      for (const rank of RANKS) expect(clearnessAt(curve, rank)).toBeGreaterThanOrEqual(0);
    }
  });

  test('under a low ceiling stand at it in numbers, and the others make up for what they lack', () => {
    const open = clearnessCurve(0.55);
    const capped = clearnessCurve(0.55, 0.62);
    expect(clearnessAt(capped, 1)).toBeCloseTo(0.62, 6);
    expect(clearnessAt(capped, 0.8)).toBeCloseTo(0.62, 6);
    expect(clearnessAt(open, 1)).toBeGreaterThan(0.8);
    for (const rank of [0.1, 0.2, 0.3, 0.4]) expect(clearnessAt(capped, rank)).toBeGreaterThan(clearnessAt(open, rank));
  });

  test.each([-1e-9, 0.9001, Number.NaN])('cannot have a mean of %s', (mean) => {
    expect(() => clearnessCurve(mean)).toThrow(RangeError);
    expect(() => clearnessCurve(mean)).toThrow(`0 to 0.9, got ${mean}`);
  });
});

describe('a curve by rank', () => {
  const square = Float64Array.from({ length: 201 }, (_, i) => i * i);

  test('is straight between its points and stops at its ends', () => {
    expect(clearnessAt(square, 100 / 200)).toBe(10_000);
    expect(clearnessAt(square, 100.25 / 200)).toBeCloseTo(10_000 + 0.25 * 201, 6);
    expect(clearnessAt(square, 199.5 / 200)).toBeCloseTo((199 ** 2 + 200 ** 2) / 2, 6);
    expect([-1, -0.001, 0].map((rank) => clearnessAt(square, rank))).toEqual([0, 0, 0]);
    expect([1, 1.001, 2].map((rank) => clearnessAt(square, rank))).toEqual([40_000, 40_000, 40_000]);
  });

  test('spreads as its values do: of an even spread over 1 the deviation is 1/√12; of one value, none', () => {
    const even = Float64Array.from({ length: 201 }, (_, i) => 3 + i / 200);
    expect(curveSpread(even)).toBeCloseTo(1 / Math.sqrt(12), 4);
    expect(curveSpread(even.map((value) => 2 * value))).toBeCloseTo(2 / Math.sqrt(12), 4);
    expect(curveSpread(new Float64Array(201).fill(0.4))).toBeCloseTo(0, 12);
    // two values, half of the days each: half their distance
    expect(curveSpread(Float64Array.from({ length: 201 }, (_, i) => (i > 100 ? 0.9 : 0.1)))).toBeCloseTo(0.4, 2);
  });
});
