import { describe, expect, test } from 'vitest';
import {
  airMassOf,
  cleanAirBeamWm2,
  clearSkyColumns,
  decomposeGhi,
  erbsDiffuseFraction,
  haurwitzGhiWm2,
  ineichenAir,
  ineichenDniWm2,
  ineichenGhiWm2,
  linkeTurbidity,
  monthlyTurbidity,
  pressureRatio,
  refractionDeg,
  relativeAirMass,
  sunColumns,
} from '../../../packages/core/src/sky/index.js';
import { EXTRA, moment } from './one-moment.js';

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
