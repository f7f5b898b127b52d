import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normalQuantile, normalShare } from '../../../packages/core/src/math/normal-distribution.js';
import { clearnessAt, clearnessCurve } from '../../../packages/core/src/weather/index.js';
import { DARKEST_DAY, widestSpread } from '../../../packages/core/src/weather/made/day-statistics.js';

const SHARES = [0.001, 0.01, 0.05, 0.2, 0.5, 0.8, 0.95, 0.99, 0.999];
/** Of the standard normal distribution, in a thousand equal parts. */
const SCORES = Array.from({ length: 1000 }, (_, i) => normalQuantile((i + 0.5) / 1000));

/** The distribution with exponents p and q between the darkest day and 0.8. */
function beta(p: number, q: number) {
  const mean = DARKEST_DAY + (0.8 - DARKEST_DAY) * (p / (p + q));
  return clearnessCurve({ mean, clearest: 0.8, spread: 1 / Math.sqrt(1 + p + q) });
}

describe('the days of a month', () => {
  // closed forms of beta quantiles, from memory (Johnson, Kotz & Balakrishnan 1995, ch. 25): p = 1: 1 − (1 − u)^(1/q),
  // q = 1: u^(1/p), p = q = 2: the root of 3x² − 2x³ = u, p = q = ½ (arcsine): sin²(πu/2)
  test.each([
    { name: 'an even distribution', p: 1, q: 1, quantile: (u: number) => u },
    { name: 'more dark days', p: 1, q: 3, quantile: (u: number) => 1 - (1 - u) ** (1 / 3) },
    { name: 'more clear days', p: 4, q: 1, quantile: (u: number) => u ** (1 / 4) },
    { name: 'most days in the middle', p: 2, q: 2, quantile: (u: number) => 0.5 - Math.sin(Math.asin(1 - 2 * u) / 3) },
    { name: 'days clear or dark', p: 0.5, q: 0.5, quantile: (u: number) => Math.sin((Math.PI * u) / 2) ** 2 },
  ])('are a beta distribution: $name', ({ p, q, quantile }) => {
    const curve = beta(p, q);
    for (const share of SHARES) {
      const wanted = DARKEST_DAY + (0.8 - DARKEST_DAY) * quantile(share);
      expect(Math.abs(clearnessAt(curve, normalQuantile(share)) - wanted)).toBeLessThan(0.002);
    }
  });

  test('have the mean and the spread asked for, rise, and lie between the darkest and the clearest', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 0.75, noNaN: true }),
        fc.double({ min: 0.08, max: 0.6, noNaN: true }),
        (mean, spread) => {
          const clearest = Math.max(0.78, mean + 0.06);
          const curve = clearnessCurve({ mean, clearest, spread });
          const days = SCORES.map((score) => clearnessAt(curve, score));
          const found = days.reduce((a, b) => a + b) / days.length;
          expect(Math.abs(found - mean)).toBeLessThan(5e-4);
          for (let i = 1; i < days.length; i++) expect(days[i]!).toBeGreaterThanOrEqual(days[i - 1]!);
          expect(days[0]!).toBeGreaterThan(0.9 * DARKEST_DAY);
          expect(days.at(-1)!).toBeLessThan(1.02 * clearest);
          const sd = Math.sqrt(days.reduce((a, k) => a + (k - found) ** 2, 0) / days.length);
          const height = (mean - DARKEST_DAY) / (clearest - DARKEST_DAY);
          // exponents are at least a half, so that next to its ends a mean leaves less room
          const most = 1 / Math.sqrt(1 + 0.5 / Math.min(height, 1 - height));
          const wanted = widestSpread(mean, clearest) * Math.min(spread, most);
          expect(Math.abs(sd / wanted - 1)).toBeLessThan(0.03);
        },
      ),
    );
  });

  test.each([0, 0.003, 0.02, 0.1, 0.4, 0.7, 0.9])('have the mean asked for, also next to the ends: %d', (mean) => {
    const curve = clearnessCurve({ mean, clearest: Math.max(0.78, mean + 0.06), spread: 0.4 });
    const found = SCORES.reduce((sum, score) => sum + clearnessAt(curve, score), 0) / SCORES.length;
    expect(Math.abs(found - mean)).toBeLessThan(1e-3);
    expect(curve.every((k) => k >= 0 && Number.isFinite(k))).toBe(true);
  });

  test('cannot be narrower than nothing, wider than their range, or of a mean that is none', () => {
    for (const mean of [-1e-9, 0.9001, Number.NaN])
      expect(() => clearnessCurve({ mean, clearest: 1, spread: 0.4 })).toThrow(`0 to 0.9, got ${mean}`);
    for (const spread of [0, 1, Number.NaN])
      expect(() => clearnessCurve({ mean: 0.5, clearest: 1, spread })).toThrow(RangeError);
    for (const clearest of [0.5, 0.2, Number.NaN])
      expect(() => clearnessCurve({ mean: 0.5, clearest, spread: 0.4 })).toThrow(RangeError);
  });
});

test('a curve by score is straight between its points and stops at its ends', () => {
  const curve = clearnessCurve({ mean: 0.5, clearest: 0.8, spread: 0.4 });
  const [a, b] = [clearnessAt(curve, 0.5), clearnessAt(curve, 0.55)];
  expect(clearnessAt(curve, 0.5 + 0.0125)).toBeCloseTo(0.75 * a + 0.25 * b, 12);
  expect(clearnessAt(curve, -9)).toBe(clearnessAt(curve, -4.5));
  expect(clearnessAt(curve, 9)).toBe(clearnessAt(curve, 4.5));
  expect(normalShare(-1.6449)).toBeCloseTo(0.05, 4);
});
