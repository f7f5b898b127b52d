import { readRig } from '@stayput/core';
import { expect, test } from 'vitest';
import { withOneMoreBattery, withOneMorePanel } from '../../../packages/core/src/study/stay/stay-what-if.js';

const rigOf = (battery: string, rest = 'loads: [{ name: lamp, power: 5 W }]') =>
  readRig(`battery: { chemistry: LFP, capacity: 100 Ah, ${battery} }\n${rest}`).rig;

test.each([
  [1, 6, 3],
  [2, 6, 4],
  [3, 4, 3],
])(
  '%d equal batteries of %d mOhm together are %d mOhm with one more (conductances in parallel add)',
  (count, mohm, more) => {
    const { rig } = withOneMoreBattery(rigOf(`count: ${count}, resistance: ${mohm} mohm`));
    expect(rig.battery.count).toBe(count + 1);
    expect(rig.battery.resistanceOhm).toBeCloseTo(more / 1000, 12);
  },
);

test('one more battery brings its own limits; without a resistance of its own the bank keeps the chemistry’s', () => {
  const { rig } = withOneMoreBattery(rigOf('count: 2, maxCharge: 80 A, maxDischarge: 120 A'));
  expect(rig.battery.maxChargeA).toBeCloseTo(120, 9);
  expect(rig.battery.maxDischargeA).toBeCloseTo(180, 9);
  expect(rig.battery).not.toHaveProperty('resistanceOhm');
});

test('one more battery is a whole string: what it is, weighs and costs', () => {
  const single = withOneMoreBattery(rigOf('count: 3, mass: 11 kg, price: 400'));
  expect(single).toMatchObject({ what: '100 Ah LFP battery', massKg: 11, price: 400 });
  const string = withOneMoreBattery(
    readRig(
      'battery: { chemistry: AGM, capacity: 200 Ah, nominal: 12 V, series: 2, mass: 30 kg }\nloads: [{ name: lamp, power: 5 W }]',
    ).rig,
  );
  expect(string).toMatchObject({ what: 'string of 2 200 Ah AGM batteries', massKg: 60 });
  expect(string).not.toHaveProperty('price');
});

test('one more panel joins the first array, a string at a time; without an array there is none', () => {
  expect(withOneMorePanel(rigOf('count: 1'))).toBeUndefined();
  const one = withOneMorePanel(
    rigOf('', 'solar: [{ name: roof, power: 100 W, mass: 7 kg, price: 90 }, { name: side, power: 60 W }]'),
  )!;
  expect(one).toMatchObject({ what: '100 W panel', massKg: 7, price: 90 });
  expect(one.rig.solar.map(({ count }) => count)).toEqual([2, 1]);
  const string = withOneMorePanel(rigOf('', 'solar: [{ power: 100 W, count: 4, series: 2, mass: 7 kg }]'))!;
  expect(string).toMatchObject({ what: 'string of 2 panels of 100 W', massKg: 14 });
  expect(string.rig.solar[0]).toMatchObject({ count: 6, series: 2 });
});
