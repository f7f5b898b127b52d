import { expect, test } from 'vitest';
import { cellTemperatureC, cellTemperatureColumn, windFactor } from '../../../packages/core/src/solar/index.js';

const MOUNTS = ['rack', 'ground', 'gap', 'bonded'] as const;

test('a column has the same temperatures as one at a time, and the air’s in the dark', () => {
  const [poa, air, wind] = [Float64Array.of(0, 200, 1000), Float64Array.of(-5, 10, 35), Float64Array.of(3, 0, 6)];
  for (const mount of MOUNTS) {
    const column = cellTemperatureColumn(mount, poa, air, wind);
    column.forEach((cellC, i) => {
      expect(cellC).toBeCloseTo(cellTemperatureC(mount, poa[i]!, air[i]!, wind[i]!), 12);
    });
    expect(column[0]).toBe(-5);
  }
});

test('in full sun the order is rack, ground, gap or bonded, in any wind', () => {
  for (let wind = 0; wind <= 12; wind += 0.5) {
    const [rack, ground, gap, bonded] = MOUNTS.map((mount) => cellTemperatureC(mount, 1000, 20, wind));
    expect(rack!).toBeLessThanOrEqual(ground!);
    expect(rack!).toBeLessThan(gap!);
    expect(ground!).toBeLessThan(bonded!);
    expect(gap!).toBeLessThan(bonded!);
  }
});

test('wind at 10 m is itself, and less below', () => {
  expect(windFactor(10)).toBe(1);
  expect(windFactor(2)).toBeCloseTo(0.65, 2);
  expect(windFactor(0.5)).toBeLessThan(windFactor(2));
});
