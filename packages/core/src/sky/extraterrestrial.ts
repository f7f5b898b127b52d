import { DAY_MS } from '../math/index.js';
import { RAD, sunsetHourAngleDeg } from './solar-geometry.js';
import { declinationDeg } from './sun-angles.js';

/**
 * Solar constant [W/m²]: World Radiation Center 1981, as in Duffie & Beckman.
 * The modern value is 1360.8 (Kopp & Lean 2011), 0.45 % less. The older one is kept because the clear sky of Ineichen & Perez,
 * the curves of Erbs and the daily sequences were fitted with it: a clearness index belongs to its own solar constant.
 */
export const SOLAR_CONSTANT_WM2 = 1367;

/** The angle of the year in Spencer's series [rad], from a day of the year that may have a fraction (1 = start of 1 January). */
function yearAngle(dayOfYear: number): number {
  return (2 * Math.PI * (dayOfYear - 1)) / 365;
}

/**
 * Square of mean over actual distance to the sun. Source: Spencer, Search 2(5), 1971, coefficients as in Iqbal 1983.
 * Within 0.0008 of an ephemeris in our time: the calendar has moved by a day since it was fitted.
 */
export function spencerDistanceFactor(dayOfYear: number): number {
  const b = yearAngle(dayOfYear);
  return (
    1.00011 + 0.034221 * Math.cos(b) + 0.00128 * Math.sin(b) + 0.000719 * Math.cos(2 * b) + 0.000077 * Math.sin(2 * b)
  );
}

/**
 * Irradiance outside the atmosphere on a plane that faces the sun [W/m²], with the distance of Spencer 1971.
 * The year's fraction drives it, so that it runs on smoothly over leap days and New Year.
 */
export function extraterrestrialNormalWm2(ms: number, solarConstantWm2 = SOLAR_CONSTANT_WM2): number {
  const year = new Date(ms).getUTCFullYear();
  const startMs = Date.UTC(year, 0, 1);
  const share = (ms - startMs) / (Date.UTC(year + 1, 0, 1) - startMs);
  return solarConstantWm2 * spencerDistanceFactor(1 + 365 * share);
}

/**
 * Daily irradiation of a horizontal plane outside the atmosphere [kWh/m²].
 * Source: Duffie & Beckman, Solar Engineering of Thermal Processes, 4th ed. 2013, eq. 1.10.3. Zero in polar night.
 * @param extraNormalWm2 that day's irradiance on a plane facing the sun
 */
export function dailyHorizontalKwhM2(latDeg: number, declinationDeg: number, extraNormalWm2: number): number {
  const sunset = sunsetHourAngleDeg(latDeg, declinationDeg) * RAD;
  const lat = latDeg * RAD;
  const dec = declinationDeg * RAD;
  const hours =
    (24 / Math.PI) * (Math.cos(lat) * Math.cos(dec) * Math.sin(sunset) + sunset * Math.sin(lat) * Math.sin(dec));
  return Math.max(0, (extraNormalWm2 * hours) / 1000);
}

/** The year that stands for all years where only the day of the year is given: in the middle between two leap years. */
const MIDDLE_YEAR = 2026;

/**
 * Daily extraterrestrial irradiation of the horizontal on a day of the year [kWh/m²]; 0 in polar night.
 * Formula: Duffie & Beckman, eq. 1.10.3; declination by suncalc at noon, distance by Spencer. Any one year's declination is up to
 * 0.2° away, about 0.02 kWh/m². (Day-of-year formulas for the declination, such as Spencer's, are by now a day behind.)
 * @param dayOfYear 1 = 1 January
 */
export function dailyExtraterrestrialKwhM2(
  latDeg: number,
  dayOfYear: number,
  solarConstantWm2 = SOLAR_CONSTANT_WM2,
): number {
  const noonMs = Date.UTC(MIDDLE_YEAR, 0, 1, 12) + (dayOfYear - 1) * DAY_MS;
  return dailyHorizontalKwhM2(latDeg, declinationDeg(noonMs), extraterrestrialNormalWm2(noonMs, solarConstantWm2));
}
