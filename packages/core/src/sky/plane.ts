import type { HorizonPoint } from '../rig/index.js';
import { airMassOf } from './air-mass.js';
import { SKYLINE_PER_DEG, skylineTable, skyShare } from './horizon.js';
import { groundModifier, incidenceModifier, skyModifier } from './incidence.js';
import { repointingBounds } from './repointing.js';
import { RAD } from './solar-geometry.js';
import {
  COS_85,
  groundView,
  perezBin,
  perezClearness,
  perezF1,
  perezF2,
  type SkyModel,
  skyView,
} from './transposition.js';
import type { SunColumns, WeatherColumns } from './types.js';

/** A plane under the sky. */
export interface Plane {
  /** 0 flat, 90 upright */
  readonly tiltDeg: number;
  /** faces this way, from north, clockwise */
  readonly azimuthDeg: number;
  /** reflectance of the ground, 0 to 1; one value, or one a step */
  readonly albedo: number | Float64Array;
  /** absent = perez */
  readonly model?: SkyModel;
  /** the skyline; the beam is gone when the sun is below it */
  readonly horizon?: readonly HorizonPoint[];
  /** share of the beam (and of the bright sky round the sun) that shade leaves, per step; absent = all */
  readonly beamKeeps?: Float64Array;
  /** share of the sky's and the ground's light that a canopy leaves, 0 to 1; absent = all */
  readonly skyKeeps?: number;
  /** share of the sky's even light that the skyline leaves, 0 to 1; absent = worked out from it */
  readonly diffuseKeeps?: number;
  /** turned to the sun so many times a day (tilt and azimuth above are then not used); 0 or absent = fixed */
  readonly reaimedPerDay?: number;
}

/** Light on a plane, per step. Sample i is at the middle of step i. */
export interface PlaneColumns {
  /** all light on the plane before reflection at the glass = beam + sky + ground [W/m²] */
  readonly poaWm2: Float64Array;
  readonly beamWm2: Float64Array;
  /** sky, with the bright part round the sun */
  readonly skyDiffuseWm2: Float64Array;
  readonly groundWm2: Float64Array;
  /** 0 when the sun is behind the plane or below the horizon, or there is no light */
  readonly cosIncidence: Float64Array;
  /** what passes the glass, as if it all came head-on: the light the cells work with [W/m²] */
  readonly effectiveWm2: Float64Array;
}

/** Columns to write into, for reuse between runs of the same length. */
export function createPlaneColumns(steps: number): PlaneColumns {
  const column = () => new Float64Array(steps);
  return {
    poaWm2: column(),
    beamWm2: column(),
    skyDiffuseWm2: column(),
    groundWm2: column(),
    cosIncidence: column(),
    effectiveWm2: column(),
  };
}

/**
 * Light on a tilted plane under any weather: the sky of `model`, ground reflection (Liu & Jordan 1963), skyline, shade and reflection at the glass (De Soto 2006; sky and ground at the angles of Brandemuehl & Beckman 1980).
 * Skies: Liu & Jordan 1963 (isotropic); Hay & Davies 1980; Reindl, Beckman & Duffie, Solar Energy 45(1), 1990, p. 9; Perez et al.,
 * Solar Energy 44(5), 1990, p. 271. One departure: with the sun lower than 5° Perez divides by cos 85° instead of cos z, by which a
 * flat plane would lose light. The share so taken from the circumsolar part stays in the even part here; above 5° nothing differs.
 * The same guard serves Hay & Davies and Reindl.
 * Global leads: beam is dni, not more than global or the extraterrestrial allow, and diffuse is what is left of global. So a flat
 * plane in the open has exactly ghi, whatever rounding or misclosure the weather's columns carry. With the sun below the horizon
 * all light is diffuse. Never negative, never NaN: a missing or negative value counts as no light.
 * @param out columns to fill, from `createPlaneColumns`; absent = new ones
 */
export function planeColumns(
  sun: SunColumns,
  weather: Pick<WeatherColumns, 'ghiWm2' | 'dniWm2' | 'dhiWm2'>,
  plane: Plane,
  out: PlaneColumns = createPlaneColumns(sun.cosZenith.length),
): PlaneColumns {
  const horizon = plane.horizon ?? [];
  const repointings = plane.reaimedPerDay ?? 0;
  const skyline = horizon.some((p) => p.elevationDeg > 0) ? skylineTable(horizon) : undefined;
  // A plane that turns sees now this, now that part of the skyline: the share of a flat one stands for all.
  const diffuseKeeps =
    plane.diffuseKeeps ??
    (repointings > 0 ? skyShare(horizon, 0, 0) : skyShare(horizon, plane.tiltDeg, plane.azimuthDeg));
  const steps = sun.cosZenith.length;
  if (!(repointings > 0)) {
    fill(sun, weather, plane, plane.tiltDeg, plane.azimuthDeg, skyline, diffuseKeeps, 0, steps, out);
    return out;
  }
  const { bounds, aims } = repointingBounds(sun.cosZenith, repointings);
  for (let k = 0; k < aims.length; k++) {
    const aim = aims[k]!;
    const tiltDeg = Math.acos(Math.max(0, Math.min(1, sun.cosZenith[aim]!))) / RAD;
    fill(sun, weather, plane, tiltDeg, sun.azimuthDeg[aim]!, skyline, diffuseKeeps, bounds[k]!, bounds[k + 1]!, out);
  }
  return out;
}

/** One stretch of steps during which the plane stands still. */
function fill(
  sun: SunColumns,
  weather: Pick<WeatherColumns, 'ghiWm2' | 'dniWm2' | 'dhiWm2'>,
  plane: Plane,
  tiltDeg: number,
  azimuthDeg: number,
  skyline: Float64Array | undefined,
  diffuseKeeps: number,
  from: number,
  to: number,
  out: PlaneColumns,
): void {
  const { cosZenith, azimuthDeg: sunAzimuthDeg, extraNormalWm2 } = sun;
  const { ghiWm2, dniWm2 } = weather;
  const { beamKeeps, albedo, skyKeeps = 1, model = 'perez' } = plane;
  const isPerez = model === 'perez';
  const isReindl = model === 'reindl';
  const isEven = model === 'isotropic';
  const cosTilt = Math.cos(tiltDeg * RAD);
  const sinTilt = Math.sin(tiltDeg * RAD);
  const view = skyView(tiltDeg);
  const steep = Math.sin((tiltDeg * RAD) / 2) ** 3;
  const groundKeeps = groundView(tiltDeg) * skyKeeps;
  const skyPasses = skyModifier(tiltDeg);
  const groundPasses = groundModifier(tiltDeg);

  for (let i = from; i < to; i++) {
    let ghi = ghiWm2[i]!;
    if (!(ghi > 0)) ghi = 0; // NaN too
    const cosZ = cosZenith[i]!;
    let beam = 0;
    let circumsolar = 0;
    let cosInc = 0;
    let even = ghi * view;
    if (ghi > 0 && cosZ > 0) {
      const toSun =
        cosZ * cosTilt +
        (sinTilt > 0 ? sinTilt * Math.sqrt(1 - cosZ * cosZ) * Math.cos((sunAzimuthDeg[i]! - azimuthDeg) * RAD) : 0);
      cosInc = Math.max(toSun, 0);
      const extra = extraNormalWm2[i]!;
      let dni = dniWm2[i]!;
      if (!(dni > 0)) dni = 0;
      if (dni > extra) dni = extra;
      if (dni * cosZ > ghi) dni = ghi / cosZ;
      const dhi = ghi - dni * cosZ;
      beam = dni * cosInc;
      let sunShare = 0;
      let horizon = 0;
      if (dhi > 0 && !isEven) {
        if (isPerez) {
          const zenith = Math.acos(cosZ);
          const bin = perezBin(perezClearness(dni, dhi, zenith));
          const brightness = (dhi * airMassOf(cosZ)) / extra;
          sunShare = perezF1(bin, brightness, zenith);
          horizon = perezF2(bin, brightness, zenith) * sinTilt;
        } else {
          sunShare = dni / extra;
          if (isReindl) horizon = (1 - sunShare) * view * Math.sqrt((dni * cosZ) / ghi) * steep;
        }
      }
      const low = cosZ < COS_85;
      circumsolar = (dhi * sunShare * cosInc) / (low ? COS_85 : cosZ);
      even = dhi * ((1 - (low ? (sunShare * cosZ) / COS_85 : sunShare)) * view + horizon);
      let keeps = beamKeeps ? beamKeeps[i]! : 1;
      if (skyline && cosZ < skyline[(sunAzimuthDeg[i]! * SKYLINE_PER_DEG + 0.5) | 0]!) keeps = 0;
      beam *= keeps;
      circumsolar *= keeps;
    }
    even *= diffuseKeeps * skyKeeps;
    const ground = ghi * groundKeeps * (typeof albedo === 'number' ? albedo : albedo[i]!);
    const sky = Math.max(circumsolar + even, 0);
    out.beamWm2[i] = beam;
    out.skyDiffuseWm2[i] = sky;
    out.groundWm2[i] = ground;
    out.cosIncidence[i] = cosInc;
    out.poaWm2[i] = beam + sky + ground;
    const passed = incidenceModifier(cosInc) * (beam + circumsolar) + skyPasses * even + groundPasses * ground;
    out.effectiveWm2[i] = Math.max(passed, 0);
  }
}
