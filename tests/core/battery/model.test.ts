import { expect, test } from 'vitest';
import { batteryModel, ocvAt, seriesCells, storedWh, tableAt } from '../../../packages/core/src/battery/index.js';
import type { Chemistry } from '../../../packages/core/src/rig/index.js';
import { invented } from '../../published/battery-bank.js';

const CHEMISTRIES: readonly Chemistry[] = ['LFP', 'AGM', 'gel', 'flooded'];

test.each(CHEMISTRIES)('%s: stored energy is the integral of the open-circuit voltage', (chemistry) => {
  const model = batteryModel(invented(chemistry));
  const to = 0.6137; // between two points of the grid
  const n = 200_000;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += ocvAt(model, ((i + 0.5) / n) * to);
  expect(storedWh(model, to)).toBeCloseTo((sum / n) * to * model.capacityAh, 5);
  expect(storedWh(model, 0)).toBe(0);
  expect(storedWh(model, 1)).toBe(model.energyWh[model.points - 1]);
  // below empty the curve goes on, and less is stored than nothing
  expect(storedWh(model, -0.004)).toBeCloseTo(-0.004 * model.capacityAh * ocvAt(model, 0), 0);
});

test.each(CHEMISTRIES)(
  '%s: voltage rises with charge, resistances are positive, efficiency is a share',
  (chemistry) => {
    const model = batteryModel(invented(chemistry));
    for (let i = 0; i < model.points; i++) {
      if (i > 0) expect(model.ocvV[i]).toBeGreaterThan(model.ocvV[i - 1]!);
      expect(model.dischargeOhm[i]).toBeGreaterThan(0);
      expect(model.chargeOhm[i]).toBeGreaterThan(0);
      expect(model.chargeEfficiency[i]).toBeGreaterThan(0);
      expect(model.chargeEfficiency[i]).toBeLessThanOrEqual(1);
    }
  },
);

test.each(CHEMISTRIES)('%s: two in parallel and two in series hold four times the energy', (chemistry) => {
  const one = batteryModel(invented(chemistry));
  const four = batteryModel(invented(chemistry, { count: 2, series: 2 }));
  expect(four.capacityAh).toBe(200);
  expect(storedWh(four, 1)).toBeCloseTo(4 * storedWh(one, 1), 8);
  expect(ocvAt(four, 0.5)).toBeCloseTo(2 * ocvAt(one, 0.5), 10);
  // two resistances in series, twice side by side
  expect(tableAt(four.dischargeOhm, 0.5)).toBeCloseTo(tableAt(one.dischargeOhm, 0.5), 12);
  expect(four.wells.reserveAh).toBeCloseTo(2 * one.wells.reserveAh, 10);
});

test('an aged bank has less capacity and more resistance', () => {
  const fresh = batteryModel(invented('AGM'));
  const aged = batteryModel(invented('AGM', { health: 0.8 }));
  expect(aged.capacityAh).toBeCloseTo(80, 12);
  expect(tableAt(aged.dischargeOhm, 0.5) / tableAt(fresh.dischargeOhm, 0.5)).toBeCloseTo(1.25, 10);
});

test("the owner's resistance and self-discharge stand above the chemistry's", () => {
  const model = batteryModel(invented('LFP', { resistanceOhm: 0.02, selfDischargePerMonth: 0.1 }));
  expect(tableAt(model.dischargeOhm, 0.5)).toBeCloseTo(0.02, 12);
  expect(Math.exp(-model.selfDischargePerH * 730.5)).toBeCloseTo(0.9, 12);
});

test.each([
  ['LFP', 12, 1, 4],
  ['LFP', 12.8, 1, 4],
  ['LFP', 24, 1, 8],
  ['LFP', 25.6, 1, 8],
  ['LFP', 51.2, 1, 16],
  ['LFP', 3.2, 4, 4],
  ['AGM', 12, 2, 12],
  ['flooded', 6, 2, 6],
  ['gel', 2, 6, 6],
] as const)('%s of %s V, %s in series, has %s cells', (chemistry, nominalV, series, cells) => {
  expect(seriesCells({ chemistry, nominalV, series })).toBe(cells);
});

test('LFP at rest when full is 13.5 V, and 14.2 V is reached while charging', () => {
  const model = batteryModel(invented('LFP'));
  expect(ocvAt(model, 1)).toBeCloseTo(13.5, 10);
  expect(ocvAt(model, 0.99) + 20 * tableAt(model.chargeOhm, 0.99)).toBeGreaterThan(14.2);
});

test.each([{ capacityAh: Number.NaN }, { capacityAh: 0 }, { count: 0 }, { health: 0 }, { health: 1.1 }])(
  'batteryModel refuses %o',
  (over) => {
    expect(() => batteryModel(invented('LFP', over))).toThrow(RangeError);
  },
);
