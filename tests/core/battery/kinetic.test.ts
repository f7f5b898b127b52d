import { expect, test } from 'vitest';
import { kineticCoefficients } from '../../../packages/core/src/battery/index.js';

test('a one-second step keeps its digits', () => {
  const { keep, share, gainH } = kineticCoefficients(0.4, 0.5, 1 / 3600);
  expect(keep + share / 0.4).toBeCloseTo(1, 15);
  // to first order all of the current lands in the available well
  expect(gainH * 3600).toBeCloseTo(1, 3);
});

test.each([
  [Number.NaN, 0.5, 1],
  [0, 0.5, 1],
  [1.1, 0.5, 1],
  [0.4, 0, 1],
  [0.4, 0.5, 0],
])('kineticCoefficients(%s, %s, %s) is refused', (c, k, h) => {
  expect(() => kineticCoefficients(c, k, h)).toThrow(RangeError);
});
