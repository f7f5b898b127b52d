import { RAD } from './solar-geometry.js';

/**
 * Relative optical air mass: how much air the beam crosses, 1 overhead, about 38 at the horizon.
 * Source: Kasten & Young, Applied Optics 28(22), 1989, p. 4735: 1 / (cos z + 0.50572 (96.07995 − z)^−1.6364).
 * @param apparentZenithDeg zenith angle with refraction; beyond 90 it is taken as 90
 */
export function relativeAirMass(apparentZenithDeg: number): number {
  const z = Math.min(apparentZenithDeg, 90);
  return 1 / (Math.cos(z * RAD) + 0.50572 * (96.07995 - z) ** -1.6364);
}

/**
 * Relative air mass from the true (unrefracted) zenith, for columns: no power, no arc cosine, and refraction is in it.
 * Source: Young, Applied Optics 33(6), 1994, p. 1108, coefficients from memory; within 0.2 % of Kasten & Young with refraction
 * (0.6 % at the horizon), which a test holds.
 * @param cosZenith cosine of the true zenith angle; below 0 it is taken as 0
 */
export function airMassOf(cosZenith: number): number {
  const c = Math.max(cosZenith, 0);
  return (c * (1.002432 * c + 0.148386) + 0.0096467) / (c * (c * (c + 0.149864) + 0.0102963) + 0.000303978);
}

/**
 * How far refraction lifts the sun [deg]. Source: Meeus, Astronomical Algorithms, 2nd ed. 1998, eq. 16.4 (Sæmundsson), with the
 * factor for pressure and temperature as in Reda & Andreas, NREL/TP-560-34302, eq. 42. About 0.48° at the horizon.
 * @param elevationDeg true elevation; below −1 there is none
 */
export function refractionDeg(elevationDeg: number, pressureHpa = 1010, temperatureC = 10): number {
  if (elevationDeg < -1) return 0;
  const arcMin = 1.02 / Math.tan((elevationDeg + 10.3 / (elevationDeg + 5.11)) * RAD);
  return Math.max(0, ((pressureHpa / 1010) * (283 / (273 + temperatureC)) * arcMin) / 60);
}

/**
 * Air pressure over that at sea level, which turns the relative into the absolute air mass.
 * Source: ISO 2533 standard atmosphere, (1 − 2.25577e-5 h)^5.25588, −500 to 11 000 m.
 */
export function pressureRatio(elevationM: number): number {
  return (1 - 2.25577e-5 * elevationM) ** 5.25588;
}
