import { describe, expect, test } from 'vitest';
import { normal } from '../../../packages/core/src/math/day-draws.js';
import { dayStream, uniform, type WeatherDraw } from '../../../packages/core/src/math/index.js';
import { normalQuantile, normalShare } from '../../../packages/core/src/math/normal-distribution.js';

const density = (z: number) => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/** Share below z by Simpson's rule from the middle. */
function shareBySum(z: number): number {
  const n = 400;
  const h = z / n;
  let sum = density(0) + density(z);
  for (let i = 1; i < n; i++) sum += (i % 2 === 1 ? 4 : 2) * density(i * h);
  return 0.5 + (sum * h) / 3;
}

/** Share beyond z of 10 or more: Laplace's series, of which the terms left out are below 945/z^10. */
function farTail(z: number): number {
  const q = 1 / (z * z);
  return (density(z) / z) * (1 - q * (1 - 3 * q * (1 - 5 * q * (1 - 7 * q))));
}

const GRID = Array.from({ length: 101 }, (_, i) => (i - 50) / 10);

describe('the normal distribution', () => {
  test('has the share below z that its density adds up to', () => {
    for (const z of GRID) expect(Math.abs(normalShare(z) - shareBySum(z))).toBeLessThan(7.5e-8);
  });

  test('has a share that rises from 0 to 1, with halves that mirror each other', () => {
    expect(normalShare(-40)).toBe(0);
    expect(normalShare(40)).toBe(1);
    for (const z of GRID) {
      expect(normalShare(z) + normalShare(-z)).toBeCloseTo(1, 8);
      expect(normalShare(z + 0.1)).toBeGreaterThan(normalShare(z));
    }
  });

  test('has quantiles that lead back to the share', () => {
    for (const z of GRID) if (z < 4) expect(Math.abs(normalQuantile(shareBySum(z)) - z)).toBeLessThan(1e-6);
  });

  test('has the quantiles by which the author of AS 241 lets it be checked, and some of the far tail', () => {
    // Wichura 1988, p. 480: p = 0.25, 0.001, 1e-20; from memory
    expect(normalQuantile(0.25)).toBeCloseTo(-0.6744897501960817, 6);
    expect(normalQuantile(0.001)).toBeCloseTo(-3.090232306167814, 6);
    expect(normalQuantile(1e-20)).toBeCloseTo(-9.262340089408, 5);
    for (const z of [10, 12, 15, 20, 25, 30, 36]) expect(normalQuantile(farTail(z)) / -z).toBeCloseTo(1, 6);
  });

  test('has quantiles that mirror each other and join where the formulas change', () => {
    for (const p of [1e-9, 1e-4, 0.01, 0.0749, 0.075, 0.0751, 0.3, 0.49])
      expect(normalQuantile(1 - p) + normalQuantile(p)).toBeCloseTo(0, 6);
    expect(normalQuantile(0.5)).toBe(0);
    for (const edge of [0.075, 0.925, Math.exp(-25)]) {
      const [below, above] = [normalQuantile(edge * (1 - 1e-9)), normalQuantile(edge * (1 + 1e-9))];
      expect(Math.abs(above - below)).toBeLessThan(1e-6);
    }
  });
});

describe('random streams', () => {
  const draw: WeatherDraw = { seed: 1, year: 0, latDeg: 41.15, lonDeg: -8.61 };
  const numbers = (of: WeatherDraw, day: number, purpose: number) => {
    const stream = dayStream(of, day, purpose);
    return [uniform(stream), uniform(stream), uniform(stream)];
  };
  const first = numbers(draw, 20_000, 1);

  test('are the same for the same day, place and purpose, and for a place within half a hundredth of a degree', () => {
    expect(numbers({ ...draw }, 20_000, 1)).toEqual(first);
    expect(numbers({ ...draw, latDeg: 41.152, lonDeg: -8.608 }, 20_000, 1)).toEqual(first);
  });

  test('are others for any other seed, year, place, day and purpose', () => {
    const others = [
      numbers({ ...draw, seed: 2 }, 20_000, 1),
      numbers({ ...draw, seed: 1 + 2 ** 32 }, 20_000, 1),
      numbers({ ...draw, seed: 1 + 2 ** 33 }, 20_000, 1),
      numbers({ ...draw, year: 1 }, 20_000, 1),
      numbers({ ...draw, latDeg: 41.16 }, 20_000, 1),
      numbers({ ...draw, latDeg: -41.15 }, 20_000, 1),
      numbers({ ...draw, lonDeg: -8.6 }, 20_000, 1),
      numbers({ ...draw, lonDeg: 8.61 }, 20_000, 1),
      numbers(draw, 20_001, 1),
      numbers(draw, 20_000, 2),
    ];
    const all = [first, ...others].flat();
    expect(new Set(all).size).toBe(all.length);
  });

  test('are normal over days: mean 0, variance 1, no day like the next', () => {
    const n = 4000;
    const values = Array.from({ length: n }, (_, day) => normal(dayStream(draw, day, 1)));
    const mean = (of: number[]) => of.reduce((a, b) => a + b, 0) / of.length;
    const four = 4 / Math.sqrt(n); // four standard errors of a mean
    expect(Math.abs(mean(values))).toBeLessThan(four);
    expect(Math.abs(mean(values.map((z) => z * z)) - 1)).toBeLessThan(four * Math.SQRT2);
    expect(Math.abs(mean(values.slice(1).map((z, i) => z * values[i]!)))).toBeLessThan(four);
    const share = values.filter((z) => z < -1).length / n;
    expect(Math.abs(share - 0.1587)).toBeLessThan(four * Math.sqrt(0.1587 * 0.8413));
  });

  test('give even numbers above 0 and below 1', () => {
    const stream = dayStream(draw, 0, 9);
    const tenths = new Array<number>(10).fill(0);
    for (let i = 0; i < 10_000; i++) tenths[Math.floor(10 * uniform(stream))]!++;
    for (const count of tenths) expect(Math.abs(count - 1000)).toBeLessThan(4 * Math.sqrt(900));
    const next = (bits: number) => ({ next: () => bits }) as unknown as Parameters<typeof uniform>[0];
    expect(uniform(next(0))).toBe(0.5 / 2 ** 32);
    expect(uniform(next(-1))).toBe(1 - 0.5 / 2 ** 32);
    expect(uniform(next(-(2 ** 31)))).toBeCloseTo(0.5, 9);
  });
});
