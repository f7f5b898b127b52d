import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { batteryModel, ocvAt, resistanceFactor, tableAt } from '../../packages/core/src/battery/index.js';
import { invented } from './battery-bank.js';

// One aged LiFePO4 26650 cell (2.6 Ah rated, 2.19 Ah left), ARTS-Lab, University of South Carolina, 2023, CC BY-SA 4.0.
// Measured: rested 0.12 V too high on average (the cell was reached from the discharge side and is aged), worst 0.195 V;
// at 1 C 0.08 V on average, worst 0.18 V, mostly too low. Checked against only: no table of the model is built from it. Voltages of the model are divided by its four cells.
const DATA = new URL('../../../shared/data/battery/', import.meta.url);
const present = existsSync(DATA);
const FULL_AH = 2.19;
const rows = (name: string) =>
  readFileSync(new URL(name, DATA), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(',').map(Number));
const cell = batteryModel(invented('LFP', { capacityAh: FULL_AH }));

describe.skipIf(!present)('LFP against one measured cell, per four cells (skipped without ../shared)', () => {
  test.each([20, 40])('rested voltage at %s °C, 10 to 90 %: within the stated 0.2 V', (celsius) => {
    const errors = rows(`lfp-26650-cell-rested-voltage-${celsius}c.csv`)
      .map(([, ah, volts]) => ({ soc: 1 - ah! / FULL_AH, volts: volts! * 4 }))
      .filter(({ soc }) => soc > 0.09 && soc < 0.91)
      .map(({ soc, volts }) => ocvAt(cell, soc) - volts);
    expect(errors.length).toBeGreaterThan(8);
    expect(Math.max(...errors.map(Math.abs))).toBeLessThanOrEqual(0.2);
  });

  test.each([20, 40])('discharge at 1 C and %s °C, 10 to 95 %: within the stated 0.2 V', (celsius) => {
    const errors = rows(`lfp-26650-cell-discharge-1c-${celsius}c.csv`)
      .map(([, amps, volts, ah, cellC]) => ({ amps: amps!, volts: volts! * 4, soc: 1 - ah! / FULL_AH, cellC: cellC! }))
      .filter(({ soc }) => soc > 0.1 && soc < 0.95)
      .map(({ amps, volts, soc, cellC }) => {
        const ohm = tableAt(cell.dischargeOhm, soc) * resistanceFactor('LFP', cellC);
        return ocvAt(cell, soc) + amps * ohm - volts;
      });
    expect(errors.length).toBeGreaterThan(100);
    expect(Math.max(...errors.map(Math.abs))).toBeLessThanOrEqual(0.2);
  });
});
