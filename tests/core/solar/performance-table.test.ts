import { expect, test } from 'vitest';
import {
  arrayColumns,
  arrayModule,
  currentAtVoltageA,
  curveAt,
  maximumPower,
  pwmCurrentA,
} from '../../../packages/core/src/solar/index.js';
import { locate, tableValue } from '../../../packages/core/src/solar/performance-table.js';
import { inputOf, pwm } from './array-fixture.js';

/** Park–Miller generator: the same states every run. */
function* states(count: number, minWm2: number) {
  let seed = 1;
  const draw = () => {
    seed = (seed * 16807) % 2147483647;
    return seed / 2147483647;
  };
  for (let i = 0; i < count; i++) yield { sunWm2: minWm2 + (1450 - minWm2) * draw() ** 2, cellC: -20 + 115 * draw() };
}

for (const technology of ['mono', 'poly', 'thin film'] as const) {
  test(`${technology}: power read from the table is within 0.1 % of the diode solved, voltage within 10 mV`, () => {
    const { table } = arrayModule({ powerW: 100, technology });
    const place = { node: 0, sunShare: 0, heatShare: 0 };
    for (const { sunWm2, cellC } of states(5000, 10)) {
      const direct = maximumPower(curveAt(table.module, sunWm2, cellC));
      locate(place, sunWm2, cellC);
      expect(Math.abs((tableValue(table.powerPerWm2, place) * sunWm2) / direct.powerW - 1)).toBeLessThan(1e-3);
      expect(Math.abs(tableValue(table.voltageV, place) - direct.voltageV)).toBeLessThan(0.01);
    }
  });

  test(`${technology}: below 10 W/m² the table is within 5 mW of the diode solved, for 100 W`, () => {
    const { table } = arrayModule({ powerW: 100, technology });
    const place = { node: 0, sunShare: 0, heatShare: 0 };
    for (let sunWm2 = 0.05; sunWm2 < 10; sunWm2 += 0.05) {
      locate(place, sunWm2, 20);
      const direct = maximumPower(curveAt(table.module, sunWm2, 20)).powerW;
      expect(Math.abs(tableValue(table.powerPerWm2, place) * sunWm2 - direct)).toBeLessThan(5e-3);
    }
  });

  test(`${technology}: a PWM's current read from the table is within 1 % of short circuit of the diode solved, 0.3 % below Vmp`, () => {
    const array = pwm({ technology, mount: 'rack' });
    const { table, scale } = arrayModule(array);
    let [worst, worstBelow, sum, count] = [0, 0, 0, 0];
    for (const { sunWm2, cellC } of states(3000, 10)) {
      const columns = arrayColumns(array, inputOf({ sunWm2, airC: cellC, windMs: 1e9 }));
      const curve = curveAt(table.module, sunWm2, columns.cellC[0]!);
      const { voltageV } = maximumPower(curve);
      for (const volt of [10.1, 12.3, 13.25, 14.6, 15.9]) {
        const direct = scale * Math.max(0, currentAtVoltageA(curve, volt));
        const error = Math.abs(pwmCurrentA(columns.currentAtV!, 0, volt) - direct) / (scale * curve.photoA);
        worst = Math.max(worst, error);
        if (volt < voltageV) worstBelow = Math.max(worstBelow, error);
        sum += error;
        count += 1;
      }
    }
    expect(worst).toBeLessThan(1e-2);
    expect(worstBelow).toBeLessThan(3e-3);
    expect(sum / count).toBeLessThan(5e-4);
  });
}
