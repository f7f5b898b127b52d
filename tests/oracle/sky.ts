// Second routes to the light on a plane, a moment at a time, beside the columns of core.
import {
  groundView,
  perezBin,
  perezClearness,
  perezF1,
  perezF2,
  type SkyModel,
  skyView,
} from '../../packages/core/src/sky/index.js';

const RAD = Math.PI / 180;
const COS_85 = Math.cos(85 * RAD);

/** A moment's sky over a plane. */
export interface SkyMoment {
  readonly dniWm2: number;
  readonly dhiWm2: number;
  readonly cosZenith: number;
  readonly cosIncidence: number;
  readonly tiltDeg: number;
  readonly extraNormalWm2: number;
  /** relative air mass, for Perez */
  readonly airMass: number;
}

/**
 * Diffuse light of the sky on a tilted plane [W/m²]: never negative, and exactly dhi on a flat plane.
 * Sources: Liu & Jordan 1963 (isotropic); Hay & Davies 1980; Reindl, Beckman & Duffie, Solar Energy 45(1), 1990, p. 9; Perez et al.,
 * Solar Energy 44(5), 1990, p. 271.
 * One departure: with the sun lower than 5° Perez divides by cos 85° instead of cos z, by which a flat plane would lose light. The
 * share so taken from the circumsolar part stays in the even part here; above 5° nothing differs. The same guard serves
 * Hay & Davies and Reindl.
 */
export function skyDiffuseWm2(model: SkyModel, at: SkyMoment): number {
  const { dniWm2, dhiWm2, cosZenith, cosIncidence, tiltDeg, extraNormalWm2, airMass } = at;
  if (!(dhiWm2 > 0)) return 0;
  const view = skyView(tiltDeg);
  if (model === 'isotropic' || !(cosZenith > 0)) return dhiWm2 * view;
  const anisotropy = Math.min(1, dniWm2 / extraNormalWm2);
  let sunShare = anisotropy;
  let horizon = 0;
  if (model === 'perez') {
    const zenith = Math.acos(cosZenith);
    const bin = perezBin(perezClearness(dniWm2, dhiWm2, zenith));
    const brightness = (dhiWm2 * airMass) / extraNormalWm2;
    sunShare = perezF1(bin, brightness, zenith);
    horizon = perezF2(bin, brightness, zenith) * Math.sin(tiltDeg * RAD);
  } else if (model === 'reindl') {
    const beam = dniWm2 * cosZenith;
    const steep = Math.sin((tiltDeg * RAD) / 2) ** 3;
    horizon = (1 - anisotropy) * view * Math.sqrt(beam / (beam + dhiWm2)) * steep;
  }
  const circumsolar = (sunShare * Math.max(0, cosIncidence)) / Math.max(COS_85, cosZenith);
  const even = (1 - sunShare * Math.min(1, cosZenith / COS_85)) * view;
  return dhiWm2 * Math.max(0, circumsolar + even + horizon);
}

/** Light that the ground throws onto a tilted plane [W/m²]. Source: Liu & Jordan 1963. */
export function groundReflectedWm2(ghiWm2: number, albedo: number, tiltDeg: number): number {
  return ghiWm2 * albedo * groundView(tiltDeg);
}

/**
 * Cosine of the angle between the sun's rays and a plane's normal; negative when the sun is behind it.
 * Source: Duffie & Beckman, 4th ed. 2013, eq. 1.6.3.
 * @param azimuthDeg the plane faces this way, from north, clockwise
 */
export function cosIncidenceOf(cosZenith: number, sunAzimuthDeg: number, tiltDeg: number, azimuthDeg: number): number {
  const sinZenith = Math.sqrt(Math.max(0, 1 - cosZenith * cosZenith));
  const across = Math.cos((sunAzimuthDeg - azimuthDeg) * RAD);
  return cosZenith * Math.cos(tiltDeg * RAD) + sinZenith * Math.sin(tiltDeg * RAD) * across;
}
