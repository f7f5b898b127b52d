import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { skylineTable } from '../../../packages/core/src/place/horizon.js';
import {
  airMassOf,
  cleanAirBeamWm2,
  clearSkyColumns,
  cosIncidenceOf,
  createPlaneColumns,
  decomposeGhi,
  erbsDiffuseFraction,
  extraterrestrialNormalWm2,
  groundModifier,
  haurwitzGhiWm2,
  horizonElevationDeg,
  incidenceModifier,
  ineichenAir,
  ineichenDniWm2,
  ineichenGhiWm2,
  linkeTurbidity,
  monthlyTurbidity,
  type Plane,
  perezBin,
  planeColumns,
  pressureRatio,
  refractionDeg,
  relativeAirMass,
  type SkyModel,
  type SunColumns,
  skyDiffuseWm2,
  skyModifier,
  skyShare,
  skyView,
  sunColumns,
  sunFromHourAngle,
  sunsetHourAngleDeg,
} from '../../../packages/core/src/place/index.js';
import { aimBounds } from '../../../packages/core/src/place/re-aim.js';

const RAD = Math.PI / 180;
const EXTRA = 1367;
const MODELS: readonly SkyModel[] = ['perez', 'hay-davies', 'reindl', 'isotropic'];
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** One moment, as columns of one step. */
function moment(cosZenith: number, ghi: number, dni: number, azimuthDeg = 180) {
  const sun: SunColumns = {
    cosZenith: Float64Array.of(cosZenith),
    azimuthDeg: Float64Array.of(azimuthDeg),
    extraNormalWm2: Float64Array.of(EXTRA),
  };
  return { sun, sky: { ghiWm2: Float64Array.of(ghi), dniWm2: Float64Array.of(dni), dhiWm2: Float64Array.of(0) } };
}
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

describe('clear sky', () => {
  test('has the constants of the paper, by hand', () => {
    // sea level, Linke 3: no thinning; 2000 m, Linke 2: exp(−0.25) = 0.7788008 and exp(−1.6) = 0.2018965
    const expected = [
      [0, 3, { globalScale: 0.868, globalDepth: 0.1161, beamScale: 0.827, beamDepth: 0.18, beamShare: 0.9083069 }],
      [
        2000,
        2,
        { globalScale: 0.9698, globalDepth: 0.1148397, beamScale: 0.8732961, beamDepth: 0.09, beamShare: 0.9408258 },
      ],
    ] as const;
    for (const [elevationM, linke, air] of expected)
      for (const [name, value] of Object.entries(air))
        expect(ineichenAir(elevationM, linke)[name as keyof typeof air], name).toBeCloseTo(value, 6);
  });

  test.each([0, -0.1, -1, Number.NaN])('gives nothing with the sun down, cos z %d', (cosZ) => {
    const air = ineichenAir(0, 3);
    expect(ineichenGhiWm2(air, cosZ, 2, EXTRA)).toBe(0);
    expect(ineichenDniWm2(air, cosZ, 2, EXTRA, 500)).toBe(0);
    expect(haurwitzGhiWm2(cosZ)).toBe(0);
  });

  test('lets the beam have no more than its share of global', () => {
    const air = ineichenAir(0, 3);
    expect(ineichenDniWm2(air, 0.5, 2, EXTRA, 100)).toBeCloseTo((100 * 0.9083069) / 0.5, 3);
    expect(ineichenDniWm2(air, 0.5, 2, EXTRA, 1e6)).toBeCloseTo(0.827 * EXTRA * Math.exp(-0.36), 6);
  });

  test('by columns is the formula at each step, with air as thin as the height makes it', () => {
    const sun = sunColumns(45, 8, { startMs: Date.UTC(2026, 3, 10), stepH: 0.5, steps: 48 });
    const { ghiWm2, dniWm2, dhiWm2 } = clearSkyColumns(sun, 1600, 2.5);
    const air = ineichenAir(1600, 2.5);
    for (let i = 0; i < 48; i++) {
      const cosZ = sun.cosZenith[i]!;
      const airMass = airMassOf(cosZ) * (1 - 2.25577e-5 * 1600) ** 5.25588; // ISO 2533
      const ghi = ineichenGhiWm2(air, cosZ, airMass, sun.extraNormalWm2[i]!);
      const dni = ineichenDniWm2(air, cosZ, airMass, sun.extraNormalWm2[i]!, ghi);
      expect(ghiWm2[i]!).toBeCloseTo(ghi, 9);
      expect(dniWm2[i]!).toBeCloseTo(dni, 9);
      expect(dhiWm2[i]!).toBeCloseTo(ghi - dni * Math.max(0, cosZ), 9);
    }
  });

  test('by months needs twelve of them', () => {
    const grid = { startMs: Date.UTC(2026, 3, 10), stepH: 1, steps: 24 };
    const sun = sunColumns(45, 8, grid);
    for (const n of [0, 11, 13])
      expect(() => clearSkyColumns(sun, 0, new Array<number>(n).fill(3), grid)).toThrow(/12 values/);
    expect(clearSkyColumns(sun, 0, new Array<number>(12).fill(3), grid)).toEqual(clearSkyColumns(sun, 0, 3));
  });

  test('by months takes the month of each day at any step, over New Year', () => {
    for (const stepH of [1, 0.25]) {
      const grid = { startMs: Date.UTC(2026, 11, 30), stepH, steps: 96 / stepH };
      const sun = sunColumns(10, 0, grid);
      const months = Array.from({ length: 12 }, (_, m) => 2 + m / 4);
      const mixed = clearSkyColumns(sun, 0, months, grid).ghiWm2;
      for (const [day, month] of [
        [0, 11],
        [1, 11],
        [2, 0],
        [3, 0],
      ] as const) {
        const noon = (24 * day + 12) / stepH;
        expect(mixed[noon]).toBe(clearSkyColumns(sun, 0, months[month]!).ghiWm2[noon]);
      }
    }
  });
});

describe('default turbidity', () => {
  const at = (latDeg: number, month: number, elevationM = 0) => linkeTurbidity({ latDeg, elevationM, month });

  test('falls from 4.3 in the tropics to 2.5 beyond 65 deg, and swings by 0.6 with the season beyond 35', () => {
    for (let month = 1; month <= 12; month++) expect(at(0, month).value).toBeCloseTo(4.3, 9);
    // 40 deg: half way down
    expect([at(40, 7), at(40, 1), at(40, 4), at(40, 10)].map(({ value }) => +value.toFixed(9))).toEqual([
      4, 2.8, 3.4, 3.4,
    ]);
    expect(at(65, 7).value).toBeCloseTo(3.1, 9);
    expect(at(80, 1).value).toBeCloseTo(1.9, 9);
    // 17.5 deg: a twentieth of the way down, half of the swing
    expect(at(17.5, 7).value).toBeCloseTo(4.3 - 0.09 + 0.3, 9);
    expect(at(15, 7).value).toBeCloseTo(4.3 + (0.6 * 15) / 35, 9);
    for (const lat of [17.5, 40, 65])
      for (const month of [1, 4, 7])
        expect(at(-lat, month).value).toBeCloseTo(at(lat, ((month + 5) % 12) + 1).value, 9);
  });

  test('thins with height like the air, not below 1.5, and not below the sea', () => {
    expect(at(0, 1, 8435 * Math.LN2).value).toBeCloseTo(2.15, 9);
    expect(at(80, 1, 5000).value).toBe(1.5);
    expect(at(0, 1, -400).value).toBe(at(0, 1).value);
    expect(monthlyTurbidity(40, 0)).toEqual(Array.from({ length: 12 }, (_, m) => at(40, m + 1).value));
  });

  test('lies between 0.7 and 1.5 times itself, but not below 1.3', () => {
    expect(at(0, 1).low).toBeCloseTo(0.7 * 4.3, 9);
    expect(at(0, 1).high).toBeCloseTo(1.5 * 4.3, 9);
    expect(at(80, 1, 5000)).toEqual({ value: 1.5, low: 1.3, high: 2.25 });
  });
});

describe('global light taken apart', () => {
  test('clean air lets through what its optical depth does (Kasten 1996), by hand', () => {
    // m / (6.6296 + 1.7513 m − 0.1202 m² + 0.0065 m³ − 0.00013 m⁴): 1/8.26707, 10/17.3226, 20/24.7756; above 20, 10.4 + 0.718 m
    for (const [m, depth] of [
      [1, 1 / 8.26707],
      [10, 10 / 17.3226],
      [20, 20 / 24.7756],
      [30, 30 / 31.94],
    ] as const)
      expect(cleanAirBeamWm2(m, EXTRA)).toBeCloseTo(EXTRA * Math.exp(-depth), 6);
    for (let m = 0.5; m < 38; m += 0.5) expect(cleanAirBeamWm2(m + 0.5, 1)).toBeLessThan(cleanAirBeamWm2(m, 1));
    expect(cleanAirBeamWm2(20.001, 1)).toBeCloseTo(cleanAirBeamWm2(20, 1), 3);
  });

  const split = (cosZenith: number, ghi: number) => {
    const { dniWm2, dhiWm2 } = decomposeGhi(moment(cosZenith, ghi, 0).sun, Float64Array.of(ghi));
    return [dniWm2[0]!, dhiWm2[0]!];
  };

  test('is diffuse by the curve of Erbs at the clearness of the step', () => {
    for (const [cosZ, ghi] of [
      [0.5, 300],
      [0.9, 500],
      [0.3, 90],
    ] as const) {
      const diffuse = ghi * erbsDiffuseFraction(ghi / (EXTRA * cosZ));
      expect(split(cosZ, ghi)[0]).toBeCloseTo((ghi - diffuse) / cosZ, 9);
      expect(split(cosZ, ghi)[1]).toBeCloseTo(diffuse, 9);
    }
  });

  test('takes a sun below 3.7 deg as that high, and gives the rest to the diffuse', () => {
    const clearness = 20 / (EXTRA * 0.065);
    const beam = (20 * (1 - erbsDiffuseFraction(clearness))) / 0.065;
    expect(split(0.03, 20)[0]).toBeCloseTo(beam, 9);
    expect(split(0.03, 20)[1]).toBeCloseTo(20 - beam * 0.03, 9);
    expect(split(0.065, 20)[1]).toBeCloseTo(20 * erbsDiffuseFraction(clearness), 9);
  });

  test('has no more beam than clean air lets through', () => {
    const clean = cleanAirBeamWm2(airMassOf(0.2), EXTRA);
    expect(split(0.2, 260)[0]).toBeCloseTo(clean, 9);
    expect(split(0.2, 260)[1]).toBeCloseTo(260 - 0.2 * clean, 9);
  });

  test('is all diffuse with the sun on the horizon or below, and nothing where there is none', () => {
    for (const cosZ of [0, -0.01, -1]) expect(split(cosZ, 30)).toEqual([0, 30]);
    for (const ghi of [0, -5, Number.NaN]) for (const cosZ of [0.5, 0, -0.5]) expect(split(cosZ, ghi)).toEqual([0, 0]);
  });
});

describe('the air that the beam crosses', () => {
  test('grows from 1 overhead to about 38 on the horizon, and not beyond', () => {
    expect(relativeAirMass(0)).toBeCloseTo(1, 3);
    expect(relativeAirMass(90)).toBeCloseTo(38, 0); // Kasten & Young 1989: 37.92
    expect(relativeAirMass(95)).toBe(relativeAirMass(90));
    expect(airMassOf(1)).toBeCloseTo(1, 3);
    expect(airMassOf(-0.3)).toBe(airMassOf(0));
    for (let c = 0; c < 1; c += 0.01) expect(airMassOf(c + 0.01)).toBeLessThan(airMassOf(c));
    expect(pressureRatio(0)).toBe(1);
  });

  test('lifts the sun by refraction, in dense air more; below −1 deg and overhead not', () => {
    expect(refractionDeg(-1.01)).toBe(0);
    expect(refractionDeg(-1)).toBeGreaterThan(0.6);
    expect(refractionDeg(90)).toBeCloseTo(0, 3);
    expect(refractionDeg(90)).toBeGreaterThanOrEqual(0);
    expect(refractionDeg(10, 1010, 10)).toBe(refractionDeg(10));
    expect(refractionDeg(10, 505, 10)).toBeCloseTo(refractionDeg(10) / 2, 12);
    expect(refractionDeg(10, 1010, 293)).toBeCloseTo((refractionDeg(10) * 283) / 566, 12);
  });
});

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

describe('light on a plane', () => {
  test('by columns is that of the formulas, the low sun too', () => {
    fc.assert(
      fc.property(
        real(0.001, 1),
        real(0, 1000),
        real(0.1, 500),
        real(0, 90),
        real(0, 360),
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
      for (let azimuth = 1; azimuth < 360; azimuth += 2)
        for (let height = 0.25; height < 90; height += 0.5) {
          const light =
            Math.max(0, cosIncidenceOf(Math.sin(height * RAD), azimuth, tiltDeg, azimuthDeg)) * Math.cos(height * RAD);
          whole += light;
          if (height > horizonElevationDeg(valley, azimuth)) left += light;
        }
      expect(Math.abs(skyShare(valley, tiltDeg, azimuthDeg) - left / whole)).toBeLessThan(0.004);
    }
    // no land, and land below the level horizon, take nothing
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
    expect(aimBounds(days(2), 1)).toEqual({ bounds: [0, 12, 24], aims: [6, 18] });
    // five steps in halves: 4 to 6.5 and on
    expect(aimBounds(days(2), 2)).toEqual({ bounds: [0, 7, 12, 19, 24], aims: [5, 7, 17, 19] });
    expect(aimBounds(days(1), 5)).toEqual({ bounds: [0, 5, 6, 7, 8, 12], aims: [4, 5, 6, 7, 8] });
  });

  test('is not done more often than there are steps, and once a day at least', () => {
    expect(aimBounds(days(1), 50)).toEqual(aimBounds(days(1), 5));
    expect(aimBounds(days(2), 0.4)).toEqual(aimBounds(days(2), 1));
  });

  test('goes on in polar day from lowest sun to lowest sun, and rests in polar night', () => {
    expect(aimBounds(days(2, 1.5), 1)).toEqual({ bounds: [0, 12, 24], aims: [6, 18] });
    expect(aimBounds(days(2, -1.5), 3)).toEqual({ bounds: [0, 24], aims: [0] });
    const night = days(1, -1.5);
    const mixed = Float64Array.of(...night, ...days(1), ...night);
    expect(aimBounds(mixed, 1)).toEqual({ bounds: [0, 36], aims: [18] });
  });

  test('counts a sun on the horizon as down, and a lowest point of two equal steps from the first', () => {
    const level = Float64Array.of(-0.5, 0, 0.4, 0.8, 0.3, 0, -0.5, -0.5, 0, 0.6, 0.4, 0.2, -0.5);
    expect(aimBounds(level, 1)).toEqual({ bounds: [0, 6, 13], aims: [3, 10] });
  });

  test('leaves no step out and aims within each part, wherever a run begins and ends', () => {
    const whole = days(6);
    for (let from = 0; from < 12; from++)
      for (const to of [20, 25, 31, 37, 44]) {
        const { bounds, aims } = aimBounds(whole.subarray(from, to), 3);
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
