import { getTimes } from 'suncalc';
import { DAY_MS, HOUR_MS } from '../math/index.js';
import { extraterrestrialNormalWm2 } from './extraterrestrial.js';
import { cosZenithOf, RAD, sunFromHourAngle } from './solar-geometry.js';
import { declinationAndHourAngle, wrap180 } from './sun-angles.js';
import type { Grid, SunColumns } from './types.js';

export { declinationDeg, equationOfTimeMin } from './sun-angles.js';

/** Where the sun stands: true (unrefracted) altitude, and azimuth from north, clockwise. */
export interface SunPosition {
  readonly altitudeDeg: number;
  readonly azimuthDeg: number;
  readonly cosZenith: number;
}

/**
 * The sun at an instant and place, without refraction. Source: suncalc. Worst error 0.015° (1990 to 2050).
 * @param ms     UTC milliseconds
 * @param latDeg −90 to 90, north positive
 * @param lonDeg east positive
 */
export function sunPosition(ms: number, latDeg: number, lonDeg: number): SunPosition {
  const { declinationDeg: declination, hourAngleDeg } = declinationAndHourAngle(ms);
  const { cosZenith, azimuthDeg } = sunFromHourAngle(latDeg, declination, hourAngleDeg + lonDeg);
  return { altitudeDeg: Math.asin(cosZenith) / RAD, azimuthDeg, cosZenith };
}

/**
 * The sun at the middle of each step of a grid.
 * Declination and equation of time come from suncalc once a day and run straight between (they bend by less than 0.001° in a
 * day); within the day the hour angle is turned on by a fixed rotation, so that a step costs one square root and one atan2.
 * Accuracy: as `sunPosition`, plus 0.001°.
 * @param latDeg −90 to 90
 * @param lonDeg east positive
 * @throws RangeError for a latitude, longitude or grid out of range
 */
export function sunColumns(latDeg: number, lonDeg: number, grid: Grid): SunColumns {
  if (!(latDeg >= -90 && latDeg <= 90)) throw new RangeError(`latDeg must be -90 to 90, got ${latDeg}`);
  if (!(lonDeg >= -360 && lonDeg <= 360)) throw new RangeError(`lonDeg must be -360 to 360, got ${lonDeg}`);
  const { startMs, stepH, steps } = grid;
  if (!(stepH > 0 && stepH <= 1)) throw new RangeError(`stepH must be above 0 and at most 1, got ${stepH}`);
  const cosZenith = new Float64Array(steps);
  const azimuthDeg = new Float64Array(steps);
  const extraNormalWm2 = new Float64Array(steps);
  const perDay = Math.round(24 / stepH);
  const stepMs = stepH * HOUR_MS;
  const sinLat = Math.sin(latDeg * RAD);
  const cosLat = Math.cos(latDeg * RAD);

  let middleMs = startMs + stepMs / 2;
  let now = declinationAndHourAngle(middleMs);
  let extraNow = extraterrestrialNormalWm2(middleMs);
  for (let first = 0; first < steps; first += perDay) {
    middleMs += perDay * stepMs;
    const next = declinationAndHourAngle(middleMs);
    const extraNext = extraterrestrialNormalWm2(middleMs);
    const turn =
      ((perDay * stepH * 15 + wrap180(next.hourAngleDeg - now.hourAngleDeg - perDay * stepH * 15)) * RAD) / perDay;
    const cosTurn = Math.cos(turn);
    const sinTurn = Math.sin(turn);
    let cosHour = Math.cos((now.hourAngleDeg + lonDeg) * RAD);
    let sinHour = Math.sin((now.hourAngleDeg + lonDeg) * RAD);
    const sinDecNow = Math.sin(now.declinationDeg * RAD);
    const sinDecStep = (Math.sin(next.declinationDeg * RAD) - sinDecNow) / perDay;
    const extraStep = (extraNext - extraNow) / perDay;
    const end = Math.min(steps, first + perDay);
    for (let i = first; i < end; i++) {
      const sinDec = sinDecNow + sinDecStep * (i - first);
      const cosDec = Math.sqrt(1 - sinDec * sinDec);
      cosZenith[i] = Math.min(1, cosZenithOf(sinLat, cosLat, sinDec, cosDec, cosHour)); // rounding overhead
      const azimuth = Math.atan2(-cosDec * sinHour, sinDec * cosLat - cosDec * sinLat * cosHour) / RAD;
      azimuthDeg[i] = azimuth < 0 ? azimuth + 360 : azimuth;
      extraNormalWm2[i] = extraNow + extraStep * (i - first);
      const turned = cosHour * cosTurn - sinHour * sinTurn;
      sinHour = sinHour * cosTurn + cosHour * sinTurn;
      cosHour = turned;
    }
    now = next;
    extraNow = extraNext;
  }
  return { cosZenith, azimuthDeg, extraNormalWm2 };
}

/** A day's sun at a place. Without sunrise and sunset it is polar day or polar night. */
export interface SunTimes {
  readonly solarNoonMs: number;
  /** upper limb on a level horizon, with refraction (centre at −0.833°); absent in polar day and night */
  readonly sunriseMs?: number;
  readonly sunsetMs?: number;
  readonly polar?: 'day' | 'night';
}

/**
 * Sunrise, solar noon and sunset of the solar day whose noon falls in the 24 hours from `dayStartMs`. Source: suncalc
 * (Meeus ch. 15); within some seconds at mid-latitudes, a few minutes where the sun grazes the horizon.
 * @param dayStartMs the start of the local day, as UTC milliseconds
 */
export function sunTimes(dayStartMs: number, latDeg: number, lonDeg: number): SunTimes {
  // suncalc takes the solar noon nearest to the instant: the middle of the local day has it within the day in any zone
  const times = getTimes(new Date(dayStartMs + DAY_MS / 2), latDeg, lonDeg);
  const solarNoonMs = times.solarNoon.getTime();
  if (times.sunrise && times.sunset)
    return { solarNoonMs, sunriseMs: times.sunrise.getTime(), sunsetMs: times.sunset.getTime() };
  return { solarNoonMs, polar: times.alwaysUp ? 'day' : 'night' };
}
