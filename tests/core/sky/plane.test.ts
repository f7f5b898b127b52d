import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  clearSkyColumns,
  horizonElevationDeg,
  type Plane,
  planeColumns,
  type SkyModel,
  skyShare,
  sunColumns,
} from '../../../packages/core/src/sky/index.js';

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const latitude = fc.oneof(fc.constantFrom(-90, 0, 90), real(-90, 90));
const startMs = fc.integer({ min: Date.UTC(2020, 0, 1), max: Date.UTC(2030, 0, 1) });
const model = fc.constantFrom<SkyModel>('perez', 'hay-davies', 'reindl', 'isotropic');
const wild = fc.array(fc.oneof(real(-20, 1300), fc.constantFrom(NaN, 0, 1e-12)), { minLength: 96, maxLength: 96 });
const flat: Plane = { tiltDeg: 0, azimuthDeg: 180, albedo: 0.2 };
/** A missing or negative value counts as no light. */
const lit = (wm2: number) => (Number.isNaN(wm2) ? 0 : Math.max(0, wm2));
const sum = (column: Float64Array) => column.reduce((a, b) => a + b, 0);
const day = (lat: number, month: number) => {
  const sun = sunColumns(lat, 0, { startMs: Date.UTC(2026, month - 1, 15), stepH: 1 / 6, steps: 144 });
  return { sun, sky: clearSkyColumns(sun, 0, 3) };
};

test('light on a plane is never negative or NaN, whatever the weather columns, place, plane and model', () => {
  const plane = fc.record({ tiltDeg: real(0, 90), azimuthDeg: real(0, 360), albedo: real(0, 1), model });
  const turns = fc.integer({ min: 0, max: 5 });
  const height = fc.constantFrom(0, 0, 20);
  fc.assert(
    fc.property(latitude, startMs, wild, wild, plane, turns, height, (lat, start, ghi, dni, shape, n, skyline) => {
      const sun = sunColumns(lat, 25, { startMs: start, stepH: 0.5, steps: 96 });
      const sky = { ghiWm2: Float64Array.from(ghi), dniWm2: Float64Array.from(dni), dhiWm2: new Float64Array(96) };
      const horizon = [{ azimuthDeg: 90, elevationDeg: skyline }];
      const out = planeColumns(sun, sky, { ...shape, horizon, reaimedPerDay: n });
      for (let i = 0; i < 96; i++) {
        expect(out.poaWm2[i]! >= 0 && out.beamWm2[i]! >= 0 && out.skyDiffuseWm2[i]! >= 0).toBe(true);
        expect(out.groundWm2[i]! >= 0 && out.effectiveWm2[i]! >= 0).toBe(true);
        expect(out.effectiveWm2[i]!).toBeLessThanOrEqual(out.poaWm2[i]! + 1e-9);
        expect(out.poaWm2[i]!).toBeCloseTo(out.beamWm2[i]! + out.skyDiffuseWm2[i]! + out.groundWm2[i]!, 9);
        expect(out.beamWm2[i]!).toBeLessThanOrEqual(sun.extraNormalWm2[i]!);
        expect(out.cosIncidence[i]! >= 0 && out.cosIncidence[i]! <= 1 + 1e-12).toBe(true);
        if (sun.cosZenith[i]! <= 0) expect(out.beamWm2[i]!).toBe(0);
      }
    }),
  );
});

test('a flat plane in the open has exactly the global irradiance, at any height of the sun, by any model', () => {
  fc.assert(
    fc.property(latitude, startMs, wild, wild, model, (lat, start, ghi, dni, sky) => {
      const sun = sunColumns(lat, 25, { startMs: start, stepH: 0.5, steps: 96 });
      const weather = { ghiWm2: Float64Array.from(ghi), dniWm2: Float64Array.from(dni), dhiWm2: new Float64Array(96) };
      const { poaWm2 } = planeColumns(sun, weather, { ...flat, model: sky });
      for (let i = 0; i < 96; i++) expect(Math.abs(poaWm2[i]! - lit(ghi[i]!))).toBeLessThan(1e-9);
    }),
  );
});

test('a plane tilted by a hundredth of a degree has nearly the light of a flat one, at any sun', () => {
  for (const lat of [0, 50, 70])
    for (const month of [3, 6, 12]) {
      const { sun, sky } = day(lat, month);
      const { poaWm2 } = planeColumns(sun, sky, { ...flat, tiltDeg: 0.01 });
      for (let i = 0; i < 144; i++) expect(Math.abs(poaWm2[i]! - sky.ghiWm2[i]!)).toBeLessThan(0.3);
    }
});

test('night is dark', () => {
  const { sun, sky } = day(40, 6);
  const { poaWm2 } = planeColumns(sun, sky, { ...flat, tiltDeg: 60 });
  for (let i = 0; i < 144; i++) if (sun.cosZenith[i]! <= 0) expect(poaWm2[i]!).toBe(0);
  expect(sum(planeColumns(day(75, 12).sun, day(75, 12).sky, { ...flat, tiltDeg: 60 }).poaWm2)).toBe(0);
});

test.each([
  { lat: 50, month: 12, toEquator: 180 },
  { lat: 50, month: 1, toEquator: 180 },
  { lat: -50, month: 6, toEquator: 0 },
])(
  'in clear winter sky at $lat more tilt toward the equator, up to 60 deg, never yields less',
  ({ lat, month, toEquator }) => {
    const { sun, sky } = day(lat, month);
    let last = 0;
    for (let tiltDeg = 0; tiltDeg <= 60; tiltDeg += 5) {
      const wh = sum(planeColumns(sun, sky, { ...flat, tiltDeg, azimuthDeg: toEquator }).poaWm2);
      expect(wh).toBeGreaterThanOrEqual(last);
      last = wh;
    }
  },
);

test('east and west planes get the same over a day that is symmetric about solar noon', () => {
  const { sun, sky } = day(30, 6);
  const east = sum(planeColumns(sun, sky, { ...flat, tiltDeg: 40, azimuthDeg: 90 }).poaWm2);
  const west = sum(planeColumns(sun, sky, { ...flat, tiltDeg: 40, azimuthDeg: 270 }).poaWm2);
  expect(east / west).toBeCloseTo(1, 2);
});

test('shade takes beam and the bright sky round the sun, and leaves the rest', () => {
  const { sun, sky } = day(40, 6);
  const open = planeColumns(sun, sky, flat);
  const shaded = planeColumns(sun, sky, { ...flat, beamKeeps: new Float64Array(144) });
  const half = planeColumns(sun, sky, { ...flat, beamKeeps: new Float64Array(144).fill(0.5) });
  expect(sum(shaded.beamWm2)).toBe(0);
  expect(sum(shaded.skyDiffuseWm2)).toBeLessThan(sum(open.skyDiffuseWm2));
  expect(sum(shaded.skyDiffuseWm2)).toBeGreaterThan(0.4 * sum(open.skyDiffuseWm2));
  expect(2 * sum(half.poaWm2)).toBeCloseTo(sum(open.poaWm2) + sum(shaded.poaWm2), 6);
});

test('a skyline is straight between its points and on round the compass', () => {
  const points = [
    { azimuthDeg: 350, elevationDeg: 10 },
    { azimuthDeg: 90, elevationDeg: 20 },
    { azimuthDeg: 10, elevationDeg: 30 },
  ];
  expect(horizonElevationDeg(points, 0)).toBe(20);
  expect(horizonElevationDeg(points, 360)).toBe(20);
  expect(horizonElevationDeg(points, 10)).toBe(30);
  expect(horizonElevationDeg(points, 50)).toBe(25);
  expect(horizonElevationDeg(points, 30)).toBe(27.5);
  expect(horizonElevationDeg(points, 220)).toBe(15);
  expect(horizonElevationDeg([{ azimuthDeg: 5, elevationDeg: 7 }], 200)).toBe(7);
  expect(horizonElevationDeg([], 200)).toBe(0);
});

test('under an even skyline of height h a flat plane keeps cos² h of an even sky (solid geometry)', () => {
  for (const h of [5, 15, 45]) {
    const points = [{ azimuthDeg: 0, elevationDeg: h }];
    expect(skyShare(points, 0, 0)).toBeCloseTo(Math.cos((h * Math.PI) / 180) ** 2, 6);
  }
  expect(skyShare([], 30, 180)).toBe(1);
  // behind an upright plane nothing of the skyline is seen
  const behind = [0, 90, 180, 270].map((azimuthDeg) => ({ azimuthDeg, elevationDeg: azimuthDeg === 0 ? 40 : 0 }));
  expect(skyShare(behind, 90, 180)).toBeGreaterThan(0.99);
});

test('the sun behind the skyline gives no beam, and above it all of it', () => {
  const { sun, sky } = day(40, 3);
  const horizon = [{ azimuthDeg: 0, elevationDeg: 20 }];
  const open = planeColumns(sun, sky, flat);
  const valley = planeColumns(sun, sky, { ...flat, horizon });
  const edge = Math.sin((20 * Math.PI) / 180);
  for (let i = 0; i < 144; i++) expect(valley.beamWm2[i]!).toBe(sun.cosZenith[i]! < edge ? 0 : open.beamWm2[i]!);
  expect(sum(planeColumns(sun, sky, { ...flat, horizon, diffuseKeeps: 1 }).skyDiffuseWm2)).toBeGreaterThan(
    sum(valley.skyDiffuseWm2),
  );
});

test('a panel re-aimed more often gets more of a clear day, and eight times come within 3 % of following the sun', () => {
  for (const [lat, month] of [
    [35, 6],
    [60, 12],
    [-45, 3],
    [75, 6],
  ] as const) {
    const { sun, sky } = day(lat, month);
    let last = 0;
    for (const reaimedPerDay of [1, 2, 4, 8]) {
      const wh = sum(planeColumns(sun, sky, { ...flat, reaimedPerDay }).beamWm2);
      expect(wh).toBeGreaterThan(last);
      last = wh;
    }
    const perfect = sun.cosZenith.reduce((wh, cosZ, i) => wh + (cosZ > 0 ? sky.dniWm2[i]! : 0), 0);
    expect(last).toBeLessThanOrEqual(perfect);
    expect(last).toBeGreaterThan(0.97 * perfect);
  }
});

test('a re-aimed panel leaves no step out, over weeks, at any place', () => {
  fc.assert(
    fc.property(latitude, startMs, fc.integer({ min: 1, max: 6 }), (lat, start, reaimedPerDay) => {
      const sun = sunColumns(lat, 100, { startMs: start, stepH: 0.5, steps: 480 });
      const sky = clearSkyColumns(sun, 0, 3);
      const { poaWm2 } = planeColumns(sun, sky, { ...flat, reaimedPerDay });
      for (let i = 0; i < 480; i++) expect(poaWm2[i]! > 0).toBe(sky.ghiWm2[i]! > 0);
    }),
  );
});
