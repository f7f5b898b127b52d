import { readRig } from '@stayput/core';
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

test('a heater keeps it from falling below what it is set to, and the sun still warms it beyond', () => {
  const ambient = Float64Array.of(-15, -15, 12, 12);
  const sun = Float64Array.of(0, 300, 1000, 1000);
  const heated = { gainK: 8, lagH: 0, heatedC: 18 };
  expect([...cabinColumn(ambient, sun, heated, undefined, 1)]).toEqual([18, 18, 20, 20]);
  for (const lagH of [0, 1, 6])
    for (const cabinC of cabinColumn(ambient, sun, { ...heated, lagH }, undefined, 1))
      expect(cabinC).toBeGreaterThanOrEqual(18);
});

test('how it is aired gives gain and lag where they are not known, and both shrink alike', () => {
  const cabinOf = (cabin: string) =>
    readRig(`
name: invented
battery: { chemistry: LFP, capacity: 100 Ah }
cabin: ${cabin}
loads: [{ name: lamp, power: 5 W }]`).rig.cabin;
  const [shut, vents, open] = ['shut', 'vents', 'open'].map((how) => cabinOf(`{ ventilation: ${how} }`));
  expect(vents).toEqual(cabinOf('{}'));
  expect(shut!.gainK).toBeGreaterThan(vents!.gainK);
  expect(open!.gainK).toBeLessThan(vents!.gainK);
  // Both go with 1 / (heat that leaves per kelvin): their ratio stays, to the rounding of the figures.
  for (const { gainK, lagH } of [shut!, vents!, open!]) expect(Math.abs(gainK / lagH - 8)).toBeLessThan(0.6);
  expect(cabinOf('{ ventilation: shut, gain: 12 K }')).toEqual({ gainK: 12, lagH: shut!.lagH });
});
