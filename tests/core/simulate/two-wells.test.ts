import { expect, test } from 'vitest';
import { kineticMaxDischargeA, kineticStep } from '../../oracle/kinetic.js';
import { wellsRun } from '../../published/battery-wells.js';

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
])('the closed form agrees with integrating the two wells (%s Ah, %s Ah, %s A, %s h)', (q1, q2, a, h, c, k) => {
  expect(kineticStep(q1, q2, a, h, c, k)).toBeCloseTo(integrate(q1, q2, a, h, c, k), 7);
});

test.each([
  [100, 0.4, 0.5, -12, 3],
  [70, 0.3, 0.8, 15, 2],
  [100, 0.3, 0.2, -3, 7],
])(
  'the loop moves the available well as the closed form does (%s Ah, c %s, k %s/h, %s A, %s h)',
  (startAh, c, kPerH, currentA, hours) => {
    const one = kineticStep(c * startAh, (1 - c) * startAh, currentA, hours, c, kPerH);
    for (const stepH of [1 / 60, 1 / 6, 1])
      expect(wellsRun({ qmaxAh: 150, startAh, c, kPerH, currentA, hours, stepH }).availableAh).toBeCloseTo(one, 6);
  },
);

test('the loop drops the loads when the largest current has emptied the available well', () => {
  const [c, kPerH] = [0.4, 0.6];
  const currentA = -kineticMaxDischargeA(c * 70, (1 - c) * 70, 0.5, c, kPerH);
  expect(wellsRun({ qmaxAh: 100, startAh: 70, c, kPerH, currentA, hours: 2 }).onH).toBeCloseTo(0.5, 5);
});
