import { expect, test } from 'vitest';
import { arrayColumns, pwmCurrentA } from '../../../packages/core/src/solar/index.js';
import { inputOf, pwm, someArray } from './array-fixture.js';

const noon = { sunWm2: 900, airC: 25, windMs: 2 };
const heron = { vocV: 24.3, iscA: 9.2, vmpV: 20.4, impA: 8.6, tempPowerPerK: -0.0036 };
/** Beam 700 and diffuse 200 W/m², so much of the panel in hard shadow. */
const shadowed = (share: number) => ({
  sunWm2: 700 * (1 - share) + 200,
  airC: 20,
  windMs: 3,
  share,
  beamWm2: 700 * (1 - share),
});

test('strings in series add voltage, strings in parallel leave it', () => {
  const [one, two, four] = [someArray(), someArray({ count: 2, series: 2 }), someArray({ count: 4, series: 2 })].map(
    (array) => arrayColumns(array, inputOf(noon)),
  );
  expect(two!.voltageV[0]! / one!.voltageV[0]!).toBeCloseTo(2, 12);
  expect(four!.voltageV[0]! / one!.voltageV[0]!).toBeCloseTo(2, 12);
  expect(four!.availableW[0]! / one!.availableW[0]!).toBeCloseTo(4, 12);
});

test('with a datasheet the voltage is the datasheet’s, and the nameplate stays the nameplate', () => {
  // Wind without end holds the cell at the air's 25 °C.
  const standard = inputOf({ sunWm2: 1000, airC: 25, windMs: 1e9 });
  const columns = arrayColumns(someArray({ powerW: 180, mount: 'rack', datasheet: heron }), standard);
  expect(columns.availableW[0]).toBeCloseTo(180, 1);
  expect(columns.voltageV[0]).toBeCloseTo(20.4, 2);
});

test('named losses multiply, dirt a little less than in proportion where dim light suits the module', () => {
  const clean = arrayColumns(someArray(), inputOf(noon)).availableW[0]!;
  const power = (losses: { soiling: number; mismatch: number; ageing: number }) =>
    arrayColumns(someArray({ losses }), inputOf(noon)).availableW[0]! / clean;
  expect(power({ soiling: 0, mismatch: 0.02, ageing: 0.1 })).toBeCloseTo(0.98 * 0.9, 12);
  expect(power({ soiling: 0.05, mismatch: 0, ageing: 0 })).toBeGreaterThan(0.94);
  expect(power({ soiling: 0.05, mismatch: 0, ageing: 0 })).toBeLessThan(0.96);
});

test('a slim shadow on one 12 V module leaves a tracker only diffuse light: half its voltage does not reach the battery', () => {
  const columns = arrayColumns(someArray({ powerW: 100 }), inputOf(shadowed(0), shadowed(0.02)));
  const left = columns.availableW[1]! / columns.availableW[0]!;
  expect(left).toBeGreaterThan(0.15);
  expect(left).toBeLessThan(0.25);
  expect(columns.voltageV[1]!).toBeGreaterThan(14);
});

test('two 12 V modules in series keep three groups of four under the same shadow', () => {
  const columns = arrayColumns(someArray({ count: 2, series: 2 }), inputOf(shadowed(0), shadowed(0.02)));
  expect(columns.availableW[1]! / columns.availableW[0]!).toBeCloseTo(0.75, 1);
});

test('power falls by groups: 30 % and 50 % in shadow both take two groups of four, and leave half of full sun', () => {
  const array = someArray({ count: 2, series: 2, mount: 'rack' });
  // Wind without end keeps every case at the air's temperature.
  const still = (share: number) => ({ ...shadowed(share), windMs: 1e9 });
  const [open, third, half] = arrayColumns(array, inputOf(still(0), still(0.3), still(0.5))).availableW;
  expect(third! / half!).toBeCloseTo(1, 6);
  // Half the voltage less two diode drops of half a volt, of 40 V.
  expect(half! / open!).toBeCloseTo(0.5 - 1 / 40.8, 2);
});

test('thin film loses in proportion to the shadow', () => {
  const columns = arrayColumns(someArray({ technology: 'thin film' }), inputOf(shadowed(0), shadowed(0.5)));
  const light = shadowed(0.5).sunWm2 / shadowed(0).sunWm2;
  expect(Math.abs(columns.availableW[1]! / columns.availableW[0]! - light)).toBeLessThan(0.06);
});

test('a PWM controller gets module current at battery voltage, less than tracking most of all when cold', () => {
  const share = (airC: number) => {
    const columns = arrayColumns(pwm(), inputOf({ sunWm2: 700, airC, windMs: 3 }));
    return (pwmCurrentA(columns.currentAtV!, 0, 12.8) * 12.8) / columns.availableW[0]!;
  };
  expect(share(0)).toBeLessThan(share(35));
  expect(share(35)).toBeLessThan(1);
  expect(share(0)).toBeGreaterThan(0.6);
});

test('with one group bypassed a 12 V module cannot push more than diffuse current into a 12 V battery', () => {
  const columns = arrayColumns(pwm(), inputOf(shadowed(0), shadowed(0.02), shadowed(1)));
  const [open, slim, whole] = [0, 1, 2].map((step) => pwmCurrentA(columns.currentAtV!, step, 13));
  expect(slim! / open!).toBeCloseTo(200 / 900, 1);
  expect(whole! / open!).toBeCloseTo(200 / 900, 1);
});

test('a 24 V bank reads its currents at twice the voltage', () => {
  const series = pwm({ count: 2, series: 2 });
  const [double] = [arrayColumns(series, inputOf(noon), { nominalV: 24 })];
  const single = arrayColumns(pwm(), inputOf(noon));
  expect(pwmCurrentA(double!.currentAtV!, 0, 26)).toBeCloseTo(pwmCurrentA(single.currentAtV!, 0, 13), 9);
});

test('columns of different length, or shade without its beam, are refused', () => {
  const input = inputOf(noon);
  expect(() => arrayColumns(someArray(), { ...input, windMs: new Float64Array(2) })).toThrow(RangeError);
  expect(() => arrayColumns(someArray(), { ...input, beamShade: new Float64Array(1) })).toThrow(/beamWm2/);
});
