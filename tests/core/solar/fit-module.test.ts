import { expect, test } from 'vitest';
import { ConfigError, type Datasheet } from '../../../packages/core/src/rig/index.js';
import {
  fitModule,
  genericDatasheet,
  genericModule,
  maximumPower,
  openCircuitV,
  powerTempPerK,
  voltageTempPerK,
} from '../../../packages/core/src/solar/index.js';

/** Invented: a 175 W module of 36 cells. */
const heron: Datasheet = { vocV: 24.3, iscA: 9.2, vmpV: 20.4, impA: 8.6, tempPowerPerK: -0.0036 };

test('cells are counted from the open-circuit voltage when the datasheet has no count', () => {
  expect(fitModule(heron, undefined, 'mono').cells).toBe(36);
  expect(fitModule({ ...heron, cells: 72 }, undefined, 'mono').cells).toBe(72);
  expect(fitModule({ ...heron, cells: 72 }, 40, 'mono').cells).toBe(40);
});

test('a fit to power meets its temperature coefficient and lands near a usual one of voltage', () => {
  const module = fitModule(heron, undefined, 'mono');
  expect(powerTempPerK(module)).toBeCloseTo(-0.0036, 8);
  // Common datasheet range of crystalline silicon: −0.33 to −0.24 %/K.
  expect(voltageTempPerK(module)).toBeGreaterThan(-0.0033);
  expect(voltageTempPerK(module)).toBeLessThan(-0.0024);
});

test('a fit to voltage meets that coefficient', () => {
  const module = fitModule({ ...heron, tempVoltagePerK: -0.0028 }, undefined, 'mono', 'voltage');
  expect(voltageTempPerK(module)).toBeCloseTo(-0.0028, 8);
  expect(() => fitModule(heron, undefined, 'mono', 'voltage')).toThrow(RangeError);
});

test.each([
  ['vmp above voc', { vmpV: 25 }, /vmp \(25 V\) must be less than voc/],
  ['imp above isc', { impA: 9.2 }, /imp \(9.2 A\) must be less than isc/],
  ['a peak below half the voltage', { vmpV: 12 }, /more than half/],
  ['a positive temperature coefficient', { tempPowerPerK: 0.0036 }, /must be negative/],
  ['no current', { iscA: 0 }, /more than 0/],
  ['a voltage that is not a number', { vocV: Number.NaN }, /more than 0/],
  ['a fill factor of 0.96', { vmpV: 23.9, impA: 9.0 }, /no single-diode module .* fill factor 0.96/],
])('%s is refused as no module', (_, change, message) => {
  const fit = () => fitModule({ ...heron, ...change }, undefined, 'mono');
  expect(fit).toThrow(ConfigError);
  expect(fit).toThrow(message);
});

test.each(['mono', 'poly', 'thin film'] as const)(
  'the generic %s module has its watts, and a voltage made for 12 V unless its cells say otherwise',
  (technology) => {
    for (const [powerW, cells] of [[50], [100], [220], [221], [400], [400, 60], [400, 72]] as const) {
      const array = { powerW, technology, ...(cells && { cells }) };
      const module = genericModule(array);
      const point = maximumPower(module);
      expect(point.powerW).toBeCloseTo(powerW, 6);
      if (cells === undefined) expect(point.voltageV > 18 && point.voltageV < 20.5).toBe(true);
      else expect(point.voltageV > 28 && point.voltageV < 41).toBe(true);
      const sheet = genericDatasheet(array);
      expect(openCircuitV(module)).toBeCloseTo(sheet.vocV, 6);
      // Its voltage coefficient is not fitted, but comes out within 0.02 %/K of the one stated.
      expect(Math.abs(voltageTempPerK(module) - sheet.tempVoltagePerK!)).toBeLessThan(2e-4);
    }
  },
);

test.each([0, -1, Number.NaN])('a generic module of %s W is refused', (powerW) => {
  expect(() => genericDatasheet({ powerW, technology: 'mono' })).toThrow(RangeError);
});
