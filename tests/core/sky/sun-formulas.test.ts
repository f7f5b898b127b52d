import { describe, expect, test } from 'vitest';
import {
  extraterrestrialNormalWm2,
  sunColumns,
  sunFromHourAngle,
  sunsetHourAngleDeg,
} from '../../../packages/core/src/sky/index.js';
import { cosIncidenceOf } from '../../oracle/sky.js';
import { EXTRA } from './one-moment.js';

const RAD = Math.PI / 180;

describe('the sun’s triangle', () => {
  test('has the sun north at noon in the south, south in the north, and at the zenith when it stands overhead', () => {
    expect(Math.abs(sunFromHourAngle(-40, 10, 0).azimuthDeg)).toBe(0);
    expect(sunFromHourAngle(40, 10, 0).azimuthDeg).toBeCloseTo(180, 9);
    expect(sunFromHourAngle(40, 10, 0).cosZenith).toBeCloseTo(Math.cos(30 * RAD), 12);
    expect(sunFromHourAngle(10, 10, 0).cosZenith).toBeLessThanOrEqual(1);
    // at the equinox it rises in the east and sets in the west
    for (const lat of [-60, 0, 35]) {
      expect(sunFromHourAngle(lat, 0, -90).azimuthDeg).toBeCloseTo(90, 9);
      expect(sunFromHourAngle(lat, 0, 90).azimuthDeg).toBeCloseTo(270, 9);
    }
  });

  test('has a plane face the sun when its tilt is the zenith angle, and turn its back on it', () => {
    for (const zenith of [0, 30, 75]) {
      const cosZ = Math.cos(zenith * RAD);
      expect(cosIncidenceOf(cosZ, 140, zenith, 140)).toBeCloseTo(1, 12);
      expect(cosIncidenceOf(cosZ, 140, 90, 320)).toBeCloseTo(-Math.sin(zenith * RAD), 12);
      expect(cosIncidenceOf(cosZ, 140, 0, 320)).toBeCloseTo(cosZ, 12);
    }
    expect(cosIncidenceOf(1 + 1e-12, 140, 45, 140)).toBeCloseTo(Math.SQRT1_2, 9);
  });

  test('has days of 0, 12 and 24 hours', () => {
    expect(sunsetHourAngleDeg(0, 23)).toBeCloseTo(90, 9);
    expect(sunsetHourAngleDeg(50, 0)).toBeCloseTo(90, 9);
    expect(sunsetHourAngleDeg(80, 20)).toBe(180);
    expect(sunsetHourAngleDeg(80, -20)).toBe(0);
    expect(sunsetHourAngleDeg(-80, -20)).toBe(180);
  });
});

describe('columns of the sun', () => {
  const grid = { startMs: Date.UTC(2026, 5, 1), stepH: 1, steps: 2 };

  test.each([
    [90, 0, 1],
    [-90, 0, 1],
    [0, 360, 1],
    [0, -360, 1],
    [0, 0, 1 / 60],
  ])('are there for latitude %d, longitude %d and a step of %d h', (lat, lon, stepH) => {
    expect(sunColumns(lat, lon, { ...grid, stepH }).cosZenith.every(Number.isFinite)).toBe(true);
  });

  test.each([
    [90.01, 0, 1, 'latDeg must be -90 to 90, got 90.01'],
    [-90.01, 0, 1, 'latDeg'],
    [Number.NaN, 0, 1, 'latDeg'],
    [0, 360.01, 1, 'lonDeg must be -360 to 360, got 360.01'],
    [0, -360.01, 1, 'lonDeg'],
    [0, Number.NaN, 1, 'lonDeg'],
    [0, 0, 0, 'stepH must be above 0 and at most 1, got 0'],
    [0, 0, -1, 'stepH'],
    [0, 0, 1.01, 'stepH'],
    [0, 0, Number.NaN, 'stepH'],
  ])('are refused for latitude %d, longitude %d and a step of %d h', (lat, lon, stepH, message) => {
    expect(() => sunColumns(lat, lon, { ...grid, stepH })).toThrow(RangeError);
    expect(() => sunColumns(lat, lon, { ...grid, stepH })).toThrow(message);
  });

  test('are the same a turn of the Earth away', () => {
    const [here, there] = [0, 360].map((turn) => sunColumns(30, -100 + turn, grid));
    expect(there!.cosZenith[0]!).toBeCloseTo(here!.cosZenith[0]!, 12);
  });

  test('have the sun’s strength of the day: 1415 W/m² near 3 January, 1321 near 4 July, and run on over New Year', () => {
    // 1367 by Spencer's distances: 1.0351 and 0.9666
    expect(Math.abs(extraterrestrialNormalWm2(Date.UTC(2026, 0, 3)) - 1415)).toBeLessThan(2);
    expect(Math.abs(extraterrestrialNormalWm2(Date.UTC(2026, 6, 4)) - 1321)).toBeLessThan(2);
    for (const year of [2027, 2028, 2029]) {
      const newYear = Date.UTC(year, 0, 1);
      expect(extraterrestrialNormalWm2(newYear - 1)).toBeCloseTo(extraterrestrialNormalWm2(newYear), 2);
      // half of the year is the same distance into the series, leap year or not
      const middle = (newYear + Date.UTC(year + 1, 0, 1)) / 2;
      expect(extraterrestrialNormalWm2(middle)).toBeCloseTo(EXTRA * (1.00011 - 0.034221 + 0.000719), 9);
    }
    expect(extraterrestrialNormalWm2(Date.UTC(2026, 0, 1), 1000)).toBeCloseTo(
      1000 * (1.00011 + 0.034221 + 0.000719),
      9,
    );
    const sun = sunColumns(0, 0, { startMs: Date.UTC(2026, 0, 3) - 30 * 60_000, stepH: 1, steps: 72 });
    for (const i of [0, 24, 60])
      expect(sun.extraNormalWm2[i]!).toBeCloseTo(extraterrestrialNormalWm2(Date.UTC(2026, 0, 3, i)), 2);
  });
});
