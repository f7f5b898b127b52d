import { expect, test } from 'vitest';
import { batteryModel, capacityAtHoursAh, kineticCoefficients } from '../../../packages/core/src/battery/index.js';
import { invented } from '../../published/battery-bank.js';

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

test.each([
  ['flooded', 1.25],
  ['gel', 1.175],
  ['AGM', 1.1],
] as const)('c and k of %s are the least-squares fit to an exponent of %s at 1, 2, 5, 10 and 20 h', (chemistry, n) => {
  const squares = (c: number, k: number) =>
    [1, 2, 5, 10, 20].reduce((sum, h) => {
      const share = capacityAtHoursAh(1, h, c, k) / capacityAtHoursAh(1, 20, c, k);
      return sum + (share / (h / 20) ** ((n - 1) / n) - 1) ** 2;
    }, 0);
  const { c, kPerH } = batteryModel(invented(chemistry)).wells;
  for (const [dc, dk] of [
    [0.01, 0],
    [-0.01, 0],
    [0, 0.03],
    [0, -0.03],
    [0.01, 0.03],
    [-0.01, -0.03],
  ] as const)
    expect(squares(c + dc, kPerH + dk)).toBeGreaterThan(squares(c, kPerH));
});
