import { expect, test } from 'vitest';
import {
  batteryTemperature,
  capacityFactor,
  chargeFactor,
  chargeLimitA,
  heatCapacityWhPerK,
  heatedTemperature,
  resistanceFactor,
} from '../../../packages/core/src/battery/index.js';
import { invented } from '../../published/battery-bank.js';

const constant = (n: number, value: number) => new Float64Array(n).fill(value);

test('after one time constant in new air, 1 − 1/e of the way is done', () => {
  const cellC = batteryTemperature(constant(61, 10), 0.1, 6, 20);
  const end = 10 + 10 * Math.exp(-1);
  // the mean of the step that begins at 6 h, halfway at 6.05 h
  expect(cellC[60]).toBeCloseTo(10 + (end - 10) * Math.exp(-0.05 / 6), 4);
});

test('the step does not matter: six steps of ten minutes average to one of an hour', () => {
  const hour = batteryTemperature(constant(24, 5), 1, 8, 25);
  const fine = batteryTemperature(constant(144, 5), 1 / 6, 8, 25);
  for (let i = 0; i < 24; i++) {
    let mean = 0;
    for (let j = 0; j < 6; j++) mean += fine[6 * i + j]! / 6;
    expect(mean).toBeCloseTo(hour[i]!, 10);
  }
});

test('without a lag the cells are as warm as the air', () => {
  expect(batteryTemperature(Float64Array.of(1, 5, -3), 1, 0)).toEqual(Float64Array.of(1, 5, -3));
});

test('a daily swing is damped and late: amplitude 1/√(1 + (2π·lag/24)²)', () => {
  const stepH = 1 / 6;
  const air = Float64Array.from({ length: 144 * 20 }, (_, i) => 10 * Math.sin((2 * Math.PI * (i + 0.5) * stepH) / 24));
  const last = batteryTemperature(air, stepH, 6).subarray(144 * 19);
  expect(Math.max(...last)).toBeCloseTo(10 / Math.hypot(1, (2 * Math.PI * 6) / 24), 2);
});

test('cold takes capacity and adds resistance, warmth gives it back', () => {
  for (const chemistry of ['LFP', 'AGM', 'gel', 'flooded'] as const) {
    expect(capacityFactor(chemistry, 25)).toBeCloseTo(1, 12);
    expect(resistanceFactor(chemistry, 25)).toBe(1);
    expect(chargeFactor(chemistry, 25)).toBe(1);
    for (let c = -30; c < 40; c += 5) {
      expect(capacityFactor(chemistry, c + 5)).toBeGreaterThanOrEqual(capacityFactor(chemistry, c));
      expect(resistanceFactor(chemistry, c + 5)).toBeLessThan(resistanceFactor(chemistry, c));
      expect(chargeFactor(chemistry, c + 5)).toBeLessThan(chargeFactor(chemistry, c));
      if (c >= 25) continue;
      // the slower the discharge, the less the cold takes
      const slow = capacityFactor(chemistry, c, 500) / capacityFactor(chemistry, 25, 500);
      expect(slow).toBeGreaterThan(capacityFactor(chemistry, c, 20) / capacityFactor(chemistry, 25, 20));
      expect(slow).toBeGreaterThan(0.9);
    }
  }
});

test('LFP: no charge below its limit, above 50 °C or at an unknown temperature', () => {
  expect(chargeLimitA('LFP', 100, -0.01, 0)).toBe(0);
  expect(chargeLimitA('LFP', 100, 4.9, 5)).toBe(0);
  expect(chargeLimitA('LFP', 100, 51, 0)).toBe(0);
  expect(chargeLimitA('LFP', 100, Number.NaN, 0)).toBe(0);
  expect(chargeLimitA('LFP', 100, 25, 0)).toBe(100);
});

test('a heater holds the cells between its two limits, and its heat is what the air takes', () => {
  const stepH = 1 / 6;
  const heater = { powerW: 60, belowC: 5 };
  const whPerK = heatCapacityWhPerK(invented('LFP', { massKg: 11.5 }));
  expect(whPerK).toBeCloseTo(11.5 / 3.6, 10);
  const n = 144 * 10;
  const { cellC, powerW, onShare } = heatedTemperature(constant(n, -10), stepH, 6, heater, whPerK, 20);
  const settled = cellC.subarray(144);
  expect(Math.min(...settled)).toBeGreaterThanOrEqual(5 - 1e-9);
  expect(Math.max(...settled)).toBeLessThanOrEqual(8 + 1e-9);
  let heatWh = 0;
  let lossWh = 0;
  for (let i = 144; i < n; i++) {
    heatWh += powerW[i]! * stepH;
    lossWh += (whPerK / 6) * (cellC[i]! + 10) * stepH;
    expect(onShare[i]).toBeLessThanOrEqual(1);
  }
  // what is stored in 3 K of the cells is the only difference
  expect(Math.abs(heatWh - lossWh)).toBeLessThanOrEqual(3 * whPerK + 1e-6);
});

test('a heater that is too weak runs all the time and the cells stay at air + P·lag/C', () => {
  const heated = heatedTemperature(constant(500, -20), 0.5, 6, { powerW: 4, belowC: 5 }, 3, 0);
  expect(heated.onShare[499]).toBeCloseTo(1, 12);
  expect(heated.cellC[499]).toBeCloseTo(-20 + (4 * 6) / 3, 8);
});

test('a heater in warm air never runs', () => {
  const heated = heatedTemperature(constant(100, 15), 0.5, 6, { powerW: 60, belowC: 5 }, 3);
  expect(heated.powerW.every((w) => w === 0)).toBe(true);
  expect(heated.cellC).toEqual(batteryTemperature(constant(100, 15), 0.5, 6));
});

test.each([
  [0, 6],
  [Number.NaN, 6],
  [1, -1],
])('a step of %s h with a lag of %s h is refused', (stepH, lagH) => {
  expect(() => batteryTemperature(constant(3, 0), stepH, lagH)).toThrow(RangeError);
});

test('cells without a lag are as warm as the air, whichever sign their 0 was written with', () => {
  const airC = Float64Array.of(5, -3, 21);
  for (const lagH of [0, -0]) expect(batteryTemperature(airC, 0.5, lagH)).toEqual(airC);
});
