import { RAD } from './solar-geometry.js';

/** Refractive index of glass, and extinction times thickness (4 /m · 2 mm) of a module's cover. Source: De Soto et al. 2006. */
const GLASS_INDEX = 1.526;
const GLASS_LOSS = 4 * 0.002;

/** Share of light that reaches the cell through a glass cover (air to glass, then absorption in it). */
function transmittance(cosIncidence: number): number {
  const c = cosIncidence;
  const r = Math.sqrt(1 - (1 - c * c) / (GLASS_INDEX * GLASS_INDEX));
  const across = (c - GLASS_INDEX * r) / (c + GLASS_INDEX * r);
  const along = (GLASS_INDEX * c - r) / (GLASS_INDEX * c + r);
  return Math.exp(-GLASS_LOSS / r) * (1 - (across * across + along * along) / 2);
}

const NORMAL_TRANSMITTANCE = transmittance(1);

/**
 * Incidence-angle modifier: light that passes the glass at an angle, over that at right angles; 1 head-on, 0 at 90° and behind.
 * Source: De Soto, Klein & Beckman, Solar Energy 80, 2006, p. 78 (Fresnel's and Bouguer's laws, glass 1.526, 4 /m, 2 mm), with
 * Fresnel's equations written in cosines.
 */
export function incidenceModifier(cosIncidence: number): number {
  return cosIncidence > 0 ? transmittance(Math.min(1, cosIncidence)) / NORMAL_TRANSMITTANCE : 0;
}

/**
 * The angle at which beam would be reflected as much as all the sky's diffuse light is [deg].
 * Source: Brandemuehl & Beckman, Solar Energy 24, 1980, p. 511 (Duffie & Beckman, 4th ed. 2013, eq. 5.4.2).
 */
export function skyIncidenceDeg(tiltDeg: number): number {
  return 59.7 - 0.1388 * tiltDeg + 0.001497 * tiltDeg * tiltDeg;
}

/** The same for light from the ground (eq. 5.4.1): 90 for a flat plane, which sees none. */
export function groundIncidenceDeg(tiltDeg: number): number {
  return 90 - 0.5788 * tiltDeg + 0.002693 * tiltDeg * tiltDeg;
}

/**
 * Share of the sky's diffuse light that gets through the glass, 0..1, by tilt [°]: the beam's share at
 * `skyIncidenceDeg`.
 */
export function skyModifier(tiltDeg: number): number {
  return incidenceModifier(Math.cos(skyIncidenceDeg(tiltDeg) * RAD));
}

/**
 * Share of the ground's light that gets through the glass, 0..1, by tilt [°]: the beam's share at
 * `groundIncidenceDeg`.
 */
export function groundModifier(tiltDeg: number): number {
  return incidenceModifier(Math.cos(groundIncidenceDeg(tiltDeg) * RAD));
}
