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

const HEATER = { powerW: 2000, upToK: 30, needsPower: true };
const cold = new Float64Array(12).fill(-5);
const dark = new Float64Array(12);

test('it is warmer by its offsets, by day and at night', () => {
  const sun = Float64Array.of(0, 500, 500, 0);
  const offset = { dayK: 1, nightK: 4 };
  const free = { gainK: 8, lagH: 0, offset };
  expect([...cabinColumn(Float64Array.of(10, 10, 10, 10), sun, free, undefined, 1)]).toEqual([14, 15, 15, 14]);
});

test('a heater warms it no further than it can, and not without power: then it falls back with its time constant', () => {
  const heated = { gainK: 0, lagH: 2, heatedC: 20, heater: HEATER };
  expect(cabinColumn(cold, dark, heated, undefined, 1)[11]).toBeCloseTo(20, 12);
  expect(
    cabinColumn(
      cold.map(() => -20),
      dark,
      heated,
      undefined,
      1,
    )[11],
  ).toBeCloseTo(10, 12);
  const powered = Float64Array.from({ length: 12 }, (_, i) => (i < 6 ? 1 : 0));
  const air = cabinColumn(cold, dark, heated, undefined, 1, { powered });
  expect(air[5]).toBeCloseTo(20, 12);
  // means of hours after the sixth of −5 + 25·exp(−t/2 h)
  for (const i of [6, 11])
    expect(air[i]).toBeCloseTo(-5 + 25 * 2 * (Math.exp(-(i - 6) / 2) - Math.exp(-(i - 5) / 2)), 9);
});

test('fuel lasts as long as the heat it takes: 25 of 30 K at 2 kW is 1,667 W, and a drive fills the tank', () => {
  const heated = { gainK: 0, lagH: 0, heatedC: 20, heater: { ...HEATER, fuelWh: (4 * (2000 * 25)) / 30 } };
  const warm = (filledAt: number[]) =>
    [...cabinColumn(cold, dark, heated, undefined, 1, { filledAt })].map((c) => c > 19.9);
  expect(warm([])).toEqual(Array.from({ length: 12 }, (_, i) => i < 4));
  expect(warm([6])).toEqual(Array.from({ length: 12 }, (_, i) => i < 4 || (i >= 6 && i < 10)));
});
