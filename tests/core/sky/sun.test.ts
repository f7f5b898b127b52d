import { Body, Equator, Horizon, Observer } from 'astronomy-engine';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  dailyExtraterrestrialKwhM2,
  declinationDeg,
  sunColumns,
  sunPosition,
  sunTimes,
} from '../../../packages/core/src/sky/index.js';

const RAD = Math.PI / 180;
const HOUR_MS = 3_600_000;

/** Park and Miller's generator: the same places and instants on every machine. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

/** Angle between two directions in the sky [deg]. */
function apartDeg(altitudeA: number, azimuthA: number, altitudeB: number, azimuthB: number): number {
  const half = (a: number, b: number) => Math.sin(((a - b) * RAD) / 2) ** 2;
  const across = Math.cos(altitudeA * RAD) * Math.cos(altitudeB * RAD) * half(azimuthA, azimuthB);
  return (2 * Math.asin(Math.sqrt(half(altitudeA, altitudeB) + across))) / RAD;
}

test('the sun stands within 0.05 deg of astronomy-engine at 2,000 instants and places above the horizon, 1990 to 2050', () => {
  const random = seeded(2024);
  let counted = 0;
  let sum = 0;
  let worst = 0;
  let worstAltitude = 0;
  let worstColumn = 0;
  while (counted < 2000) {
    const ms = Math.round(Date.UTC(1990, 0, 1) + random() * (Date.UTC(2051, 0, 1) - Date.UTC(1990, 0, 1)));
    const lat = Math.asin(2 * random() - 1) / RAD;
    const lon = 360 * random() - 180;
    const at = new Date(ms);
    const observer = new Observer(lat, lon, 0);
    const equator = Equator(Body.Sun, at, observer, true, true);
    const truth = Horizon(at, observer, equator.ra, equator.dec);
    if (truth.altitude <= 0) continue;
    counted++;
    const got = sunPosition(ms, lat, lon);
    const apart = apartDeg(got.altitudeDeg, got.azimuthDeg, truth.altitude, truth.azimuth);
    sum += apart;
    worst = Math.max(worst, apart);
    worstAltitude = Math.max(worstAltitude, Math.abs(got.altitudeDeg - truth.altitude));
    const steps = 1 + Math.floor(random() * 2000);
    const columns = sunColumns(lat, lon, { startMs: ms - (steps - 0.5) * (HOUR_MS / 6), stepH: 1 / 6, steps });
    const altitude = Math.asin(columns.cosZenith[steps - 1]!) / RAD;
    worstColumn = Math.max(
      worstColumn,
      apartDeg(altitude, columns.azimuthDeg[steps - 1]!, truth.altitude, truth.azimuth),
    );
  }
  expect(sum / counted).toBeLessThan(0.008);
  expect(worst).toBeLessThan(0.05);
  expect(worstAltitude).toBeLessThan(0.05);
  expect(worstColumn).toBeLessThan(0.05);
});

test('columns of any step are the scalar position at the middle of each step, across New Year and leap day', () => {
  for (const stepH of [1, 0.5, 1 / 6, 1 / 60]) {
    const startMs = Date.UTC(2023, 11, 30, 5, 17);
    const grid = { startMs, stepH, steps: Math.round(70 * 24) };
    const columns = sunColumns(-33.9, 151.2, grid);
    for (let i = 0; i < grid.steps; i += 37) {
      const truth = sunPosition(startMs + (i + 0.5) * stepH * HOUR_MS, -33.9, 151.2);
      const altitude = Math.asin(columns.cosZenith[i]!) / RAD;
      expect(apartDeg(altitude, columns.azimuthDeg[i]!, truth.altitudeDeg, truth.azimuthDeg)).toBeLessThan(0.002);
    }
  }
});

test('columns are finite and in range anywhere on Earth, the poles included', () => {
  const latitude = fc.oneof(fc.constantFrom(-90, 0, 90), fc.double({ min: -90, max: 90, noNaN: true }));
  const longitude = fc.double({ min: -180, max: 180, noNaN: true });
  const start = fc.integer({ min: Date.UTC(1990, 0, 1), max: Date.UTC(2050, 0, 1) });
  fc.assert(
    fc.property(latitude, longitude, start, (lat, lon, startMs) => {
      const { cosZenith, azimuthDeg, extraNormalWm2 } = sunColumns(lat, lon, { startMs, stepH: 0.5, steps: 100 });
      for (let i = 0; i < 100; i++) {
        expect(Math.abs(cosZenith[i]!)).toBeLessThanOrEqual(1);
        expect(azimuthDeg[i]! >= 0 && azimuthDeg[i]! <= 360).toBe(true);
        expect(extraNormalWm2[i]! > 1320 && extraNormalWm2[i]! < 1416).toBe(true);
      }
    }),
  );
});

test.each([NaN, 91, -90.1])('sunColumns rejects a latitude of %s', (lat) => {
  expect(() => sunColumns(lat, 0, { startMs: 0, stepH: 1, steps: 1 })).toThrow(RangeError);
});

test('the daily extraterrestrial irradiation is the sum over that day’s columns', () => {
  for (const lat of [-60, -20, 0, 35, 65])
    for (const day of [17, 105, 172, 264, 344]) {
      const startMs = Date.UTC(2026, 0, day);
      const sun = sunColumns(lat, 0, { startMs, stepH: 1 / 60, steps: 1440 });
      let kwh = 0;
      for (let i = 0; i < 1440; i++) kwh += (Math.max(0, sun.cosZenith[i]!) * sun.extraNormalWm2[i]!) / 60_000;
      expect(Math.abs(dailyExtraterrestrialKwhM2(lat, day) - kwh)).toBeLessThan(0.01);
    }
});

test('sunrise, noon and sunset fall into the local day asked for, at any longitude', () => {
  const longitude = fc.integer({ min: -179, max: 179 });
  const day = fc.integer({ min: 0, max: 20000 });
  fc.assert(
    fc.property(fc.integer({ min: -60, max: 60 }), longitude, day, (lat, lon, n) => {
      const dayStartMs = n * 24 * HOUR_MS - (lon / 15) * HOUR_MS;
      const { solarNoonMs, sunriseMs, sunsetMs } = sunTimes(dayStartMs, lat, lon);
      expect(solarNoonMs - dayStartMs > 11.5 * HOUR_MS && solarNoonMs - dayStartMs < 12.5 * HOUR_MS).toBe(true);
      expect(sunriseMs! > dayStartMs && sunriseMs! < solarNoonMs && sunsetMs! > solarNoonMs).toBe(true);
      expect(sunsetMs!).toBeLessThan(dayStartMs + 24 * HOUR_MS);
    }),
  );
});

test('the sun of the far north is told as polar day and polar night', () => {
  expect(sunTimes(Date.UTC(2026, 5, 20, 23), 70, 19)).toMatchObject({ polar: 'day' });
  expect(sunTimes(Date.UTC(2026, 11, 20, 23), 70, 19)).toMatchObject({ polar: 'night' });
  expect(sunTimes(Date.UTC(2026, 2, 20, 23), 70, 19).polar).toBeUndefined();
});

test('the solstice declinations of 2026 are ±23.44 deg (obliquity of the ecliptic, astronomical almanac; from memory)', () => {
  expect(declinationDeg(Date.UTC(2026, 5, 21, 8, 24))).toBeCloseTo(23.44, 2);
  expect(declinationDeg(Date.UTC(2026, 11, 21, 20, 50))).toBeCloseTo(-23.44, 2);
});
