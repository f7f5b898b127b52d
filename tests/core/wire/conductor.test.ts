import { describe, expect, test } from 'vitest';
import { awgSectionMm2 } from '../../../packages/core/src/quantity/index.js';
import {
  ampacityA,
  bundleFactor,
  cableLoopOhm,
  circuitLoopOhm,
  class5OhmPerKm,
  conductorC,
  TERMINAL_OHM,
} from '../../../packages/core/src/wire/index.js';
import { cable } from './example.js';

describe('cableLoopOhm', () => {
  test('is out and back: 5 m of 2.5 mm² are 10 m of 7.98 Ω/km (IEC 60228 class 5)', () => {
    expect(cableLoopOhm(cable(5, 2.5), 20)).toBeCloseTo(0.0798, 12);
  });
  test('grows by (234.5 + 70) / 254.5 at 70 °C (IEC 60228)', () => {
    expect(cableLoopOhm(cable(5, 2.5), 70) / cableLoopOhm(cable(5, 2.5), 20)).toBeCloseTo(1.19646, 5);
  });
  test('a section between two of the standard lies between them', () => {
    expect(class5OhmPerKm(3)).toBeLessThan(7.98);
    expect(class5OhmPerKm(3)).toBeGreaterThan(4.95);
    expect(class5OhmPerKm(400)).toBeCloseTo((0.0641 * 300) / 400, 12);
    expect(class5OhmPerKm(0.25)).toBeCloseTo(78, 9);
  });
  test.each([
    ['length', cable(-1, 2.5), 20],
    ['length', cable(Number.NaN, 2.5), 20],
    ['length', cable(1001, 2.5), 20],
    ['section', cable(1, 0), 20],
    ['section', cable(1, Number.NaN), 20],
    ['temperature', cable(1, 2.5), Number.NaN],
    ['temperature', cable(1, 2.5), 300],
  ])('refuses a %s out of range', (_what, wire, c) => {
    expect(() => cableLoopOhm(wire, c)).toThrow(RangeError);
  });
  test('terminals and fuse are what is left without a cable, or with a stub', () => {
    expect(circuitLoopOhm(undefined, 20)).toBe(TERMINAL_OHM);
    expect(circuitLoopOhm(cable(0, 2.5), 20)).toBe(TERMINAL_OHM);
    expect(circuitLoopOhm(cable(5, 2.5), 20)).toBe(cableLoopOhm(cable(5, 2.5), 20));
  });
});

describe('ampacity', () => {
  test('stays below the small-craft figures for 105 °C insulation at every gauge (ABYC E-11, from memory)', () => {
    const abyc = {
      18: 20,
      16: 25,
      14: 35,
      12: 45,
      10: 60,
      8: 80,
      6: 120,
      4: 160,
      2: 210,
      1: 245,
      '1/0': 285,
      '2/0': 330,
      '3/0': 385,
      '4/0': 445,
    };
    for (const [gaugeAwg, limitA] of Object.entries(abyc)) {
      const wire = cable(1, awgSectionMm2(gaugeAwg)!, { gaugeAwg, insulationC: 105 });
      expect(ampacityA(wire, 30)).toBeLessThanOrEqual(limitA);
      expect(ampacityA(wire, 30)).toBeGreaterThan(0.65 * limitA);
    }
  });
  test('stays within a fifth above the building figures for 75 °C in raceways or higher (NEC table 310.16)', () => {
    const nec = { 8: 50, 6: 65, 4: 85, 3: 100, 2: 115, 1: 130, '1/0': 150, '2/0': 175, '3/0': 200, '4/0': 230 };
    for (const [gaugeAwg, raceA] of Object.entries(nec))
      expect(ampacityA(cable(1, awgSectionMm2(gaugeAwg)!, { insulationC: 75 }), 30)).toBeGreaterThan(raceA);
  });
  test('hotter insulation helps in warm air only; cooler insulation costs', () => {
    expect(ampacityA(cable(1, 2.5, { insulationC: 105 }), 30)).toBe(32);
    expect(ampacityA(cable(1, 2.5, { insulationC: 105 }), 50)).toBeCloseTo(32 * 0.8563, 2);
    expect(ampacityA(cable(1, 2.5, { insulationC: 60 }), 30)).toBeCloseTo(32 * Math.sqrt(30 / 40), 9);
    expect(ampacityA(cable(1, 2.5), 70)).toBe(0);
  });
  test('falls in a bundle, further with every wire', () => {
    for (let n = 2; n <= 40; n++) expect(bundleFactor(n)).toBeLessThan(bundleFactor(n - 1));
    expect(bundleFactor(3)).toBe(0.7);
  });
  test('a conductor at its ampacity is as hot as its insulation may be', () => {
    const wire = cable(1, 2.5);
    expect(conductorC(wire, 40, ampacityA(wire, 40))).toBeCloseTo(70, 9);
    expect(conductorC(wire, 40, 0)).toBe(40);
    expect(conductorC(wire, 40, 0.5 * ampacityA(wire, 40))).toBeCloseTo(47.5, 9);
  });
});
