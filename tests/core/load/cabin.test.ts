import { expect, test } from 'vitest';
import { cabinColumn } from '../../../packages/core/src/load/index.js';

const cabin = { gainK: 8, lagH: 2 };

test('at steady full sun it is warmer by its gain, in shade by the share left', () => {
  const ambient = new Float64Array(10).fill(20);
  const sun = new Float64Array(10).fill(1000);
  expect(cabinColumn(ambient, sun, cabin, undefined, 1)[9]).toBeCloseTo(28, 12);
  expect(cabinColumn(ambient, sun, cabin, new Float64Array(10).fill(0.75), 1)[9]).toBeCloseTo(22, 12);
});

test('a step of the sun is followed by 1 − exp(−t / lag), whatever the step', () => {
  for (const stepH of [1 / 60, 1 / 6, 1]) {
    const steps = Math.round(6 / stepH);
    const sun = Float64Array.from({ length: steps }, (_, i) => (i * stepH < 1 ? 0 : 1000));
    const cabinC = cabinColumn(new Float64Array(steps), sun, cabin, undefined, stepH);
    const wantMean = 8 * (1 - (2 / stepH) * (Math.exp(-(4 - stepH) / 2) - Math.exp(-4 / 2)));
    expect(cabinC[Math.round(5 / stepH) - 1]).toBeCloseTo(wantMean, 9);
  }
});

test('without lag it follows at once', () => {
  expect([
    ...cabinColumn(Float64Array.of(10, 20), Float64Array.of(0, 500), { gainK: 8, lagH: 0 }, undefined, 1),
  ]).toEqual([10, 24]);
});
