import { HOUR_MS } from '../math/index.js';
import { airMassOf, pressureRatio } from './air-mass.js';
import { linkeTurbidity } from './turbidity.js';
import type { Grid, SunColumns } from './types.js';

/** What the model of Ineichen & Perez makes of a place's height and haze. */
export interface IneichenAir {
  readonly globalScale: number;
  readonly globalDepth: number;
  readonly beamScale: number;
  readonly beamDepth: number;
  /** the beam's largest share of global */
  readonly beamShare: number;
}

/**
 * The constants of the clear sky over a place.
 * Source: Ineichen & Perez, Solar Energy 73(3), 2002, p. 151; coefficients from memory, results compared with an independent
 * evaluation.
 * @param linkeTurbidity of Ineichen (the value at air mass 2), 1 to 10
 */
export function ineichenAir(elevationM: number, linkeTurbidity: number): IneichenAir {
  const fh1 = Math.exp(-elevationM / 8000);
  const fh2 = Math.exp(-elevationM / 1250);
  return {
    globalScale: 5.09e-5 * elevationM + 0.868,
    globalDepth: (3.92e-5 * elevationM + 0.0387) * (fh1 + fh2 * (linkeTurbidity - 1)),
    beamScale: 0.664 + 0.163 / fh1,
    beamDepth: 0.09 * (linkeTurbidity - 1),
    beamShare: 1 - (0.1 - 0.2 * Math.exp(-linkeTurbidity)) / (0.1 + 0.882 / fh1),
  };
}

/**
 * Clear-sky global horizontal irradiance [W/m²], 0 with the sun down. The factor exp(0.01 AM^1.8) that often stands beside this
 * equation belongs to another model (Perez et al. 2002) and is left out.
 * @param airMass absolute air mass (relative · pressure ratio)
 */
export function ineichenGhiWm2(air: IneichenAir, cosZenith: number, airMass: number, extraNormalWm2: number): number {
  if (!(cosZenith > 0)) return 0;
  return air.globalScale * extraNormalWm2 * cosZenith * Math.exp(-air.globalDepth * airMass);
}

/**
 * Clear-sky beam on a plane facing the sun [W/m²]: the smaller of the paper's two forms, the second of which keeps some diffuse
 * in very clear air.
 * @param ghiWm2 the clear-sky global of the same sun
 */
export function ineichenDniWm2(
  air: IneichenAir,
  cosZenith: number,
  airMass: number,
  extraNormalWm2: number,
  ghiWm2: number,
): number {
  if (!(cosZenith > 0)) return 0;
  const first = air.beamScale * extraNormalWm2 * Math.exp(-air.beamDepth * airMass);
  return Math.min(first, (ghiWm2 * air.beamShare) / cosZenith);
}

/**
 * Clear-sky global horizontal irradiance from the zenith angle alone [W/m²], to compare with.
 * Source: Haurwitz, J. Meteorology 2, 1945, p. 154; exponent 0.059 (also printed as 0.057: 0.2 % more at noon).
 */
export function haurwitzGhiWm2(cosZenith: number): number {
  return cosZenith > 0 ? 1098 * cosZenith * Math.exp(-0.059 / cosZenith) : 0;
}

/** Light, a mean a step: global horizontal, direct normal, diffuse horizontal [W/m²]. */
export interface SkyColumns {
  readonly ghiWm2: Float64Array;
  readonly dniWm2: Float64Array;
  readonly dhiWm2: Float64Array;
}

/**
 * Clear sky of Ineichen & Perez 2002 on the grid. dni · cos z + dhi = ghi; all zero with the sun down.
 * @param turbidity Linke turbidity: one number; or one a month (12, January first), which needs the grid
 */
export function clearSkyColumns(
  sun: SunColumns,
  elevationM: number,
  turbidity: number | readonly number[],
  grid?: Grid,
): SkyColumns {
  const { cosZenith, extraNormalWm2 } = sun;
  const steps = cosZenith.length;
  const ghiWm2 = new Float64Array(steps);
  const dniWm2 = new Float64Array(steps);
  const dhiWm2 = new Float64Array(steps);
  const thin = pressureRatio(elevationM);
  const monthly = typeof turbidity === 'number' ? undefined : turbidity;
  if (monthly && (monthly.length !== 12 || !grid))
    throw new RangeError('monthly turbidity needs 12 values and the grid');
  const perDay = grid ? Math.round(24 / grid.stepH) : steps;
  for (let first = 0; first < steps; first += perDay) {
    const month = grid ? new Date(grid.startMs + first * grid.stepH * HOUR_MS).getUTCMonth() : 0;
    const air = ineichenAir(elevationM, monthly ? monthly[month]! : (turbidity as number));
    const end = Math.min(steps, first + perDay);
    for (let i = first; i < end; i++) {
      const cosZ = cosZenith[i]!;
      if (!(cosZ > 0)) continue;
      const extra = extraNormalWm2[i]!;
      const airMass = airMassOf(cosZ) * thin;
      const ghi = ineichenGhiWm2(air, cosZ, airMass, extra);
      const dni = ineichenDniWm2(air, cosZ, airMass, extra, ghi);
      ghiWm2[i] = ghi;
      dniWm2[i] = dni;
      dhiWm2[i] = Math.max(0, ghi - dni * cosZ);
    }
  }
  return { ghiWm2, dniWm2, dhiWm2 };
}

/** Twelve default Linke turbidities for a place, January first, to hand to `clearSkyColumns`. */
export function monthlyTurbidity(latDeg: number, elevationM: number): number[] {
  return Array.from({ length: 12 }, (_, i) => linkeTurbidity({ latDeg, elevationM, month: i + 1 }).value);
}
