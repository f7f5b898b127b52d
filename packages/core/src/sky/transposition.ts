import { RAD } from './solar-geometry.js';

/** How brightness is spread over the sky. */
export type SkyModel = 'perez' | 'hay-davies' | 'reindl' | 'isotropic';

/** Cosine of 85°: below it the sun's height no longer divides. Source: Perez et al. 1990. */
export const COS_85 = 0.08715574274765817;

/**
 * Brightness coefficients F11 F12 F13 F21 F22 F23 by clearness bin, eight rows, "all sites composite".
 * Source: Perez, Ineichen, Seals, Michalsky & Stewart, Solar Energy 44(5), 1990, p. 271, table 6 (the same in ISO 52010-1 and
 * Duffie & Beckman, 4th ed. 2013, table 2.16.1); digits compared with eight public transcriptions.
 */
// biome-ignore format: a table
export const PEREZ_1990 = Float64Array.of(
  -0.008,  0.588, -0.062, -0.060,  0.072, -0.022,
   0.130,  0.683, -0.151, -0.019,  0.066, -0.029,
   0.330,  0.487, -0.221,  0.055, -0.064, -0.026,
   0.568,  0.187, -0.295,  0.109, -0.152, -0.014,
   0.873, -0.392, -0.362,  0.226, -0.462,  0.001,
   1.132, -1.237, -0.412,  0.288, -0.823,  0.056,
   1.060, -1.600, -0.359,  0.264, -1.127,  0.131,
   0.678, -0.327, -0.250,  0.156, -1.377,  0.251,
);

/** Sky clearness ε. Source: Perez 1990, eq. 1, with κ = 1.041 for the zenith in radians. 1 overcast, above 6 clear. */
export function perezClearness(dniWm2: number, dhiWm2: number, zenithRad: number): number {
  const k = 1.041 * zenithRad * zenithRad * zenithRad;
  return (1 + dniWm2 / dhiWm2 + k) / (1 + k);
}

/** The bin of a sky clearness, 0 to 7. Source: Perez 1990, table 1. */
export function perezBin(clearness: number): number {
  if (clearness < 1.5) return clearness < 1.065 ? 0 : clearness < 1.23 ? 1 : 2;
  if (clearness < 2.8) return clearness < 1.95 ? 3 : 4;
  return clearness < 4.5 ? 5 : clearness < 6.2 ? 6 : 7;
}

/** Circumsolar brightening F1, held between 0 and 1. `brightness` is Δ = dhi · air mass / extraterrestrial normal. */
export function perezF1(bin: number, brightness: number, zenithRad: number): number {
  const at = bin * 6;
  const f1 = PEREZ_1990[at]! + PEREZ_1990[at + 1]! * brightness + PEREZ_1990[at + 2]! * zenithRad;
  return Math.min(1, Math.max(0, f1));
}

/** Brightening of the horizon F2; negative under an overcast sky, which is brightest overhead. */
export function perezF2(bin: number, brightness: number, zenithRad: number): number {
  const at = bin * 6 + 3;
  return PEREZ_1990[at]! + PEREZ_1990[at + 1]! * brightness + PEREZ_1990[at + 2]! * zenithRad;
}

/** Share of the sky that a plane sees, and of the ground. Source: Liu & Jordan 1963. */
export function skyView(tiltDeg: number): number {
  return (1 + Math.cos(tiltDeg * RAD)) / 2;
}
/** Share of the half sphere before a tilted plane that is ground: (1 − cos tilt)/2. Tilt in degrees. */
export function groundView(tiltDeg: number): number {
  return (1 - Math.cos(tiltDeg * RAD)) / 2;
}
