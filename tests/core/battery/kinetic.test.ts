import { expect, test } from 'vitest';
import {
  batteryModel,
  capacityAtHoursAh,
  kineticCoefficients,
  kineticMaxChargeA,
  kineticMaxDischargeA,
  kineticStep,
} from '../../../packages/core/src/battery/index.js';
import { invented } from '../../published/battery-bank.js';

/** The two differential equations of Manwell & McGowan by a fine midpoint rule; heights are q1/c and q2/(1 − c). */
function integrate(q1: number, q2: number, currentA: number, hours: number, c: number, k: number) {
  const n = 100_000;
  const dt = hours / n;
  const flow = (a: number, b: number) => k * c * (1 - c) * (b / (1 - c) - a / c);
  for (let i = 0; i < n; i++) {
    const half = flow(q1, q2) * (dt / 2);
    const mid = flow(q1 + half + currentA * (dt / 2), q2 - half);
    q1 += (mid + currentA) * dt;
    q2 -= mid * dt;
  }
  return q1;
}

test.each([
  [40, 30, -12, 3, 0.4, 0.5],
  [10, 60, 15, 2, 0.3, 0.8],
  [30, 70, 0, 5, 0.3, 0.2],
])('kineticStep agrees with integrating the two wells (%s Ah, %s Ah, %s A, %s h)', (q1, q2, a, h, c, k) => {
  expect(kineticStep(q1, q2, a, h, c, k)).toBeCloseTo(integrate(q1, q2, a, h, c, k), 7);
});

test('two half steps are one whole step', () => {
  const half = kineticStep(40, 30, -12, 0.5, 0.4, 0.5);
  const whole = kineticStep(half, 70 - 6 - half, -12, 0.5, 0.4, 0.5);
  expect(whole).toBeCloseTo(kineticStep(40, 30, -12, 1, 0.4, 0.5), 12);
});

test('a single well (c = 1) counts charge and nothing else', () => {
  expect(kineticStep(50, 0, -7, 2, 1, 1)).toBeCloseTo(36, 12);
  expect(capacityAtHoursAh(100, 0.1, 1, 1)).toBeCloseTo(100, 10);
});

test('the largest currents just empty and just fill the available well', () => {
  const dischargeA = kineticMaxDischargeA(20, 50, 0.5, 0.4, 0.6);
  expect(kineticStep(20, 50, -dischargeA, 0.5, 0.4, 0.6)).toBeCloseTo(0, 10);
  const chargeA = kineticMaxChargeA(20, 50, 100, 0.5, 0.4, 0.6);
  expect(kineticStep(20, 50, chargeA, 0.5, 0.4, 0.6)).toBeCloseTo(40, 10);
});

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
