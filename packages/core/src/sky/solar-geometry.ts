/** Degrees to radians. */
export const RAD = Math.PI / 180;

/** Cosine of the zenith angle from sines and cosines of latitude and declination and the cosine of the hour angle. */
export function cosZenithOf(sinLat: number, cosLat: number, sinDec: number, cosDec: number, cosHour: number): number {
  return sinLat * sinDec + cosLat * cosDec * cosHour;
}

/**
 * The sun's place in the sky from the triangle pole, zenith, sun.
 * Source: Duffie & Beckman, Solar Engineering of Thermal Processes, 4th ed. 2013, eq. 1.6.5 and 1.6.6, with atan2 instead of
 * acos, so that it holds in the tropics and the southern hemisphere.
 * @param hourAngleDeg 0 at solar noon, afternoon positive
 * @returns cosine of the zenith angle, and azimuth from north, clockwise, 0 to 360
 */
export function sunFromHourAngle(
  latDeg: number,
  declinationDeg: number,
  hourAngleDeg: number,
): { cosZenith: number; azimuthDeg: number } {
  const sinLat = Math.sin(latDeg * RAD);
  const cosLat = Math.cos(latDeg * RAD);
  const sinDec = Math.sin(declinationDeg * RAD);
  const cosDec = Math.cos(declinationDeg * RAD);
  const cosHour = Math.cos(hourAngleDeg * RAD);
  const cosZenith = Math.max(-1, Math.min(1, cosZenithOf(sinLat, cosLat, sinDec, cosDec, cosHour)));
  const azimuth = Math.atan2(-cosDec * Math.sin(hourAngleDeg * RAD), sinDec * cosLat - cosDec * sinLat * cosHour) / RAD;
  return { cosZenith, azimuthDeg: azimuth < 0 ? azimuth + 360 : azimuth };
}

/**
 * Hour angle at which the sun's centre meets a level horizon, without refraction: 0 in polar night, 180 in polar day [deg].
 * The day is 2/15 h per degree of it. Source: Duffie & Beckman, 4th ed. 2013, eq. 1.6.10 and 1.6.11.
 */
export function sunsetHourAngleDeg(latDeg: number, declinationDeg: number): number {
  const cosine = -Math.tan(latDeg * RAD) * Math.tan(declinationDeg * RAD);
  return Math.acos(Math.max(-1, Math.min(1, cosine))) / RAD;
}
