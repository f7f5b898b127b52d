import { expect, test } from 'vitest';
import { anyOnShare, inverterInputColumns, inverterInputW } from '../../../packages/core/src/load/index.js';
import { inverter, sum } from './example.js';

test('its best efficiency is the one it was given, and it falls to both sides', () => {
  const at = (outW: number) => outW / inverterInputW(inverter, outW);
  expect(Math.max(...Array.from({ length: 600 }, (_, i) => at(i + 1)))).toBeCloseTo(0.9, 6);
  expect(at(20)).toBeLessThan(0.75);
  expect(at(600)).toBeLessThan(0.9);
});

test('standby runs all day or only with loads', () => {
  const acW = Float64Array.of(0, 60, 0);
  const always = inverterInputColumns({ ...inverter, on: 'always' }, acW);
  const withLoads = inverterInputColumns(inverter, acW);
  expect([...always.standbyW]).toEqual([7, 7, 7]);
  expect([...withLoads.standbyW]).toEqual([0, 7, 0]);
  expect(sum(always.inputW) - sum(withLoads.inputW)).toBeCloseTo(14, 12);
  expect(withLoads.inputW[1]).toBeCloseTo(inverterInputW(inverter, 60), 12);
});

test('a load that runs a tenth of the step is converted at its own power, not at the mean', () => {
  const { inputW } = inverterInputColumns(inverter, Float64Array.of(50), Float64Array.of(0.1));
  expect(inputW[0]).toBeCloseTo(0.1 * inverterInputW(inverter, 500), 12);
});

test('more than the rating is served up to the rating and counted', () => {
  const { servedW, inputW, overloadedSteps } = inverterInputColumns(
    inverter,
    Float64Array.of(600, 900, 90),
    Float64Array.of(1, 1, 0.1),
  );
  expect([...servedW]).toEqual([600, 600, 60]);
  expect(overloadedSteps).toBe(2);
  expect(inputW[1]).toBeCloseTo(inverterInputW(inverter, 600), 12);
});

test('any of two loads is on', () => {
  expect([...anyOnShare([Float64Array.of(0, 0.5, 1.5), Float64Array.of(0, 0.5, 0)])]).toEqual([0, 0.75, 1]);
});
