import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { skylineTable } from '../../../packages/core/src/sky/horizon.js';
import {
  airMassOf,
  clearSkyColumns,
  createPlaneColumns,
  groundModifier,
  horizonElevationDeg,
  incidenceModifier,
  type Plane,
  perezBin,
  planeColumns,
  type SkyModel,
  skyModifier,
  skyShare,
  skyView,
  sunColumns,
} from '../../../packages/core/src/sky/index.js';
import { repointingBounds } from '../../../packages/core/src/sky/repointing.js';
import { cosIncidenceOf, skyDiffuseWm2 } from '../../oracle/sky.js';
import { EXTRA, moment } from './one-moment.js';

const RAD = Math.PI / 180;
const MODELS: readonly SkyModel[] = ['perez', 'hay-davies', 'reindl', 'isotropic'];
/** Evenly from a thousandth of a value to all of it. */
const upTo = (most: number) => fc.integer({ min: 1, max: 1000 }).map((k) => (k / 1000) * most);

function onPlane(light: ReturnType<typeof moment>, plane: Partial<Plane>) {
  const out = planeColumns(light.sun, light.sky, { tiltDeg: 0, azimuthDeg: 180, albedo: 0.2, ...plane });
  return {
    poa: out.poaWm2[0]!,
    beam: out.beamWm2[0]!,
    sky: out.skyDiffuseWm2[0]!,
    ground: out.groundWm2[0]!,
    cosInc: out.cosIncidence[0]!,
    effective: out.effectiveWm2[0]!,
  };
}

describe('glass', () => {
  test('passes all head-on, nothing from the side or behind, and is not fooled by a cosine rounded above 1', () => {
    expect(incidenceModifier(1)).toBe(1);
    expect(incidenceModifier(1 + 1e-9)).toBe(1);
    for (const cosine of [0, -0.2, -1]) expect(incidenceModifier(cosine)).toBe(0);
  });

  test('passes light of sky and ground as beam at their angles: flat 59.7 and 90 deg, upright 59.33 and 59.72', () => {
    const beamAt = (angleDeg: number) => incidenceModifier(Math.cos(angleDeg * RAD));
    expect(skyModifier(0)).toBeCloseTo(beamAt(59.7), 12);
    expect(skyModifier(90)).toBeCloseTo(beamAt(59.7 - 0.1388 * 90 + 0.001497 * 8100), 12);
    expect(groundModifier(0)).toBeCloseTo(0, 12);
    expect(groundModifier(90)).toBeCloseTo(beamAt(90 - 0.5788 * 90 + 0.002693 * 8100), 12);
  });
});

test('a sky’s bin begins at its lower bound (Perez 1990, table 1)', () => {
  [1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2].forEach((bound, k) => {
    expect(perezBin(bound)).toBe(k + 1);
    expect(perezBin(bound - 1e-9)).toBe(k);
  });
  expect(perezBin(1)).toBe(0);
  expect(perezBin(100)).toBe(7);
});

describe('light on a plane', () => {
  test('by columns is that of the formulas, the low sun too', () => {
    fc.assert(
      fc.property(
        upTo(1),
        upTo(1000),
        upTo(500),
        upTo(90),
        upTo(360),
        fc.constantFrom(...MODELS),
        (cosZ, dni, dhi, tiltDeg, azimuthDeg, model) => {
          const ghi = dni * cosZ + dhi;
          const got = onPlane(moment(cosZ, ghi, dni), { tiltDeg, azimuthDeg, model });
          const cosInc = cosIncidenceOf(cosZ, 180, tiltDeg, azimuthDeg);
          const at = {
            dniWm2: dni,
            dhiWm2: dhi,
            cosZenith: cosZ,
            cosIncidence: cosInc,
            tiltDeg,
            extraNormalWm2: EXTRA,
          };
          expect(got.sky).toBeCloseTo(skyDiffuseWm2(model, { ...at, airMass: airMassOf(cosZ) }), 5);
          expect(got.beam).toBeCloseTo(dni * Math.max(0, cosInc), 6);
          expect(got.cosInc).toBeCloseTo(Math.max(0, cosInc), 9);
          expect(got.ground).toBeCloseTo(0.2 * ghi * (1 - skyView(tiltDeg)), 9);
        },
      ),
    );
  });

  test('passes the glass by its angle, with the bright sky round the sun as beam (Hay & Davies)', () => {
    const [cosZ, dni, dhi, tiltDeg] = [0.6, 700, 150, 35];
    const cosInc = cosIncidenceOf(cosZ, 180, tiltDeg, 150);
    const bright = (dhi * (dni / EXTRA) * cosInc) / cosZ;
    const even = dhi * (1 - dni / EXTRA) * skyView(tiltDeg);
    const ground = 0.2 * (dni * cosZ + dhi) * (1 - skyView(tiltDeg));
    const { effective } = onPlane(moment(cosZ, dni * cosZ + dhi, dni), {
      tiltDeg,
      azimuthDeg: 150,
      model: 'hay-davies',
    });
    expect(effective).toBeCloseTo(
      incidenceModifier(cosInc) * (dni * cosInc + bright) +
        skyModifier(tiltDeg) * even +
        groundModifier(tiltDeg) * ground,
      9,
    );
  });

  test('of a sun on the horizon or below is the even light of the sky, by any model', () => {
    for (const model of MODELS)
      for (const cosZ of [0, -0.2]) {
        const got = onPlane(moment(cosZ, 50, 500), { tiltDeg: 60, model });
        expect(got).toMatchObject({ beam: 0, cosInc: 0 });
        expect(got.sky).toBeCloseTo(50 * 0.75, 9);
        const at = {
          dniWm2: 500,
          dhiWm2: 50,
          cosZenith: cosZ,
          cosIncidence: 0.8,
          tiltDeg: 60,
          extraNormalWm2: EXTRA,
          airMass: 38,
        };
        expect(skyDiffuseWm2(model, at)).toBeCloseTo(50 * 0.75, 9);
        for (const dhi of [0, -1, Number.NaN])
          expect(skyDiffuseWm2(model, { ...at, dhiWm2: dhi, cosZenith: 0.5 })).toBe(0);
      }
  });

  test('has no more beam than there is outside the air, nor than global allows', () => {
    expect(onPlane(moment(0.8, 1200, 5000), {}).beam).toBeCloseTo(EXTRA * 0.8, 9);
    expect(onPlane(moment(0.8, 400, 1000), {}).beam).toBeCloseTo(400, 9);
    expect(onPlane(moment(0.8, 400, 1000), {}).sky).toBeCloseTo(0, 9);
    expect(onPlane(moment(0.8, 400, -100), {})).toMatchObject({ beam: 0 });
    expect(onPlane(moment(0.8, 400, Number.NaN), {}).sky).toBeCloseTo(400, 9);
    expect(onPlane(moment(0.8, Number.NaN, 100), {}).poa).toBe(0);
  });

  test('into old columns is written over whatever they held', () => {
    const grid = { startMs: Date.UTC(2026, 5, 1), stepH: 0.5, steps: 48 };
    const sun = sunColumns(50, 0, grid);
    const sky = clearSkyColumns(sun, 0, 3);
    const plane = { tiltDeg: 30, azimuthDeg: 100, albedo: 0.3 };
    const out = createPlaneColumns(48);
    for (const column of Object.values(out)) column.fill(-7);
    expect(planeColumns(sun, sky, plane, out)).toBe(out);
    expect(out).toEqual(planeColumns(sun, sky, plane));
  });
});

describe('a skyline', () => {
  const valley = [
    { azimuthDeg: 0, elevationDeg: 10 },
    { azimuthDeg: 90, elevationDeg: 30 },
    { azimuthDeg: 200, elevationDeg: 5 },
  ];

  test('takes from a tilted plane what its part of the sky would give, summed over the half sphere', () => {
    for (const [tiltDeg, azimuthDeg] of [
      [0, 0],
      [30, 90],
      [60, 180],
      [60, 70],
      [90, 270],
    ] as const) {
      let [whole, left] = [0, 0];
      for (let azimuth = 1; azimuth < 360; azimuth += 2) {
        const skyline = horizonElevationDeg(valley, azimuth);
        for (let height = 0.5; height < 90; height++) {
          const [up, out] = [Math.sin(height * RAD), Math.cos(height * RAD)];
          const across = Math.sin(tiltDeg * RAD) * Math.cos((azimuth - azimuthDeg) * RAD);
          const light = Math.max(0, up * Math.cos(tiltDeg * RAD) + out * across) * out;
          whole += light;
          if (height > skyline) left += light;
        }
      }
      expect(Math.abs(skyShare(valley, tiltDeg, azimuthDeg) - left / whole)).toBeLessThan(0.006);
    }
    // land on one side takes its share; no land, and land below the level horizon, take nothing
    const wall = [0, 89, 90, 180, 181].map((azimuthDeg) => ({
      azimuthDeg,
      elevationDeg: azimuthDeg === 90 || azimuthDeg === 180 ? 90 : 0,
    }));
    // upright against a wall that fills the quarter from east to south: what a plane facing east sees half of
    expect(skyShare(wall, 90, 90)).toBeCloseTo(0.5, 2);
    expect(skyShare([{ azimuthDeg: 0, elevationDeg: 0 }], 30, 0)).toBe(1);
    expect(skyShare([{ azimuthDeg: 0, elevationDeg: -5 }], 30, 0)).toBe(1);
  });

  test('hides the sun all round the compass, and lets it be where it touches the edge', () => {
    const sines = skylineTable([{ azimuthDeg: 0, elevationDeg: 20 }]);
    for (let azimuth = 0; azimuth <= 360; azimuth += 0.25)
      expect(sines[azimuth * 4]).toBeCloseTo(Math.sin(20 * RAD), 12);
    expect(skylineTable(valley)[90 * 4]).toBeCloseTo(0.5, 12);
    expect([...skylineTable([{ azimuthDeg: 0, elevationDeg: -5 }])].every((sine) => sine === 0)).toBe(true);
    const horizon = [{ azimuthDeg: 0, elevationDeg: 20 }];
    for (const azimuth of [0, 0.1, 123.4, 359.7, 359.9, 360]) {
      expect(onPlane(moment(0.3, 300, 600, azimuth), { horizon }).beam).toBe(0);
      expect(onPlane(moment(0.4, 300, 600, azimuth), { horizon }).beam).toBeCloseTo(240, 9);
    }
    expect(onPlane(moment(Math.sin(20 * RAD), 300, 600, 50), { horizon }).beam).toBeGreaterThan(100);
    // 30 deg high in the east only
    expect(onPlane(moment(0.45, 300, 600, 90), { horizon: valley }).beam).toBe(0);
    expect(onPlane(moment(0.45, 300, 600, 200), { horizon: valley }).beam).toBeCloseTo(270, 9);
  });

  test('counts where it stands up on one side only, and at the nearest quarter degree of a steep edge', () => {
    const edge = [
      { azimuthDeg: 0, elevationDeg: 0 },
      { azimuthDeg: 90, elevationDeg: 30 },
      { azimuthDeg: 91, elevationDeg: 0 },
    ];
    const beamAt = (azimuthDeg: number) =>
      onPlane(moment(Math.sin(11 * RAD), 100, 300, azimuthDeg), { horizon: edge }).beam;
    // 15 deg high at 90.5, 7.5 deg at 90.75
    expect([90, 90.5, 90.6].map(beamAt)).toEqual([0, 0, 0]);
    for (const azimuth of [90.7, 90.75, 91, 200]) expect(beamAt(azimuth)).toBeGreaterThan(50);
  });

  test('leaves of an even sky its share: for a fixed plane its own, for one that turns that of a flat one, or what is told', () => {
    const light = moment(-0.1, 40, 0);
    const even = { model: 'isotropic', tiltDeg: 50, azimuthDeg: 90 } as const;
    const open = onPlane(light, even).sky;
    expect(open).toBeGreaterThan(0);
    expect(onPlane(light, { ...even, horizon: valley }).sky / open).toBeCloseTo(skyShare(valley, 50, 90), 9);
    expect(onPlane(light, { ...even, horizon: valley, diffuseKeeps: 0.3 }).sky / open).toBeCloseTo(0.3, 9);
    const turning = { ...even, reaimedPerDay: 2 };
    const openTurning = onPlane(light, turning).sky;
    expect(onPlane(light, { ...turning, horizon: valley }).sky / openTurning).toBeCloseTo(skyShare(valley, 0, 0), 9);
    expect(skyShare(valley, 0, 0)).not.toBeCloseTo(skyShare(valley, 50, 90), 2);
  });
});

describe('turning a panel by hand', () => {
  /** Days of twelve steps, lowest at the first; the sun is up for five of them: 4 to 8. */
  const days = (n: number, lift = -0.2) =>
    Float64Array.from({ length: 12 * n }, (_, i) => Math.cos((2 * Math.PI * (i - 6)) / 12) + lift);

  test('aims at the middle of each part of the daylight', () => {
    expect(repointingBounds(days(2), 1)).toEqual({ bounds: [0, 12, 24], aims: [6, 18] });
    // five steps in halves: 4 to 6.5 and on
    expect(repointingBounds(days(2), 2)).toEqual({ bounds: [0, 7, 12, 19, 24], aims: [5, 7, 17, 19] });
    expect(repointingBounds(days(1), 5)).toEqual({ bounds: [0, 5, 6, 7, 8, 12], aims: [4, 5, 6, 7, 8] });
  });

  test('is not done more often than there are steps, and once a day at least', () => {
    expect(repointingBounds(days(1), 50)).toEqual(repointingBounds(days(1), 5));
    expect(repointingBounds(days(2), 0.4)).toEqual(repointingBounds(days(2), 1));
  });

  test('goes on in polar day from lowest sun to lowest sun, and rests in polar night', () => {
    expect(repointingBounds(days(2, 1.5), 1)).toEqual({ bounds: [0, 12, 24], aims: [6, 18] });
    expect(repointingBounds(days(2, -1.5), 3)).toEqual({ bounds: [0, 24], aims: [0] });
    const night = days(1, -1.5);
    const mixed = Float64Array.of(...night, ...days(1), ...night);
    expect(repointingBounds(mixed, 1)).toEqual({ bounds: [0, 36], aims: [18] });
  });

  test('counts a sun on the horizon as down, and a lowest point of two equal steps from the first', () => {
    const level = Float64Array.of(-0.5, 0, 0.4, 0.8, 0.3, 0, -0.5, -0.5, 0, 0.6, 0.4, 0.2, -0.5);
    expect(repointingBounds(level, 1)).toEqual({ bounds: [0, 6, 13], aims: [3, 10] });
  });

  test('leaves no step out and aims within each part, wherever a run begins and ends', () => {
    const whole = days(6);
    for (let from = 0; from < 12; from++)
      for (const to of [20, 25, 31, 37, 44]) {
        const { bounds, aims } = repointingBounds(whole.subarray(from, to), 3);
        expect(bounds[0]).toBe(0);
        expect(bounds.at(-1)).toBe(to - from);
        expect(bounds).toHaveLength(aims.length + 1);
        aims.forEach((aim, k) => {
          expect(bounds[k + 1]!).toBeGreaterThan(bounds[k]!);
          expect(aim >= bounds[k]! && aim < bounds[k + 1]!).toBe(true);
          expect(whole[from + aim]!).toBeGreaterThan(0);
        });
      }
  });
});
