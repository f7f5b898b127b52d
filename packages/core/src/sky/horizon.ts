import type { HorizonPoint } from '../rig/index.js';
import { RAD } from './solar-geometry.js';

/**
 * Height of the skyline in a direction [deg], straight between the given points and on round the compass; 0 without points.
 * @param points in any order; one point alone is a skyline of that height all round
 */
export function horizonElevationDeg(points: readonly HorizonPoint[], azimuthDeg: number): number {
  const azimuth = turned(azimuthDeg);
  let before: HorizonPoint | undefined;
  let after: HorizonPoint | undefined;
  for (const point of points) {
    // the nearest point on either side, round the compass
    if (!before || turned(azimuth - point.azimuthDeg) < turned(azimuth - before.azimuthDeg)) before = point;
    if (!after || turned(point.azimuthDeg - azimuth) < turned(after.azimuthDeg - azimuth)) after = point;
  }
  if (!before || !after) return 0;
  const back = turned(azimuth - before.azimuthDeg);
  const on = turned(after.azimuthDeg - azimuth);
  if (back + on === 0) return before.elevationDeg;
  return (before.elevationDeg * on + after.elevationDeg * back) / (back + on);
}

/** An angle brought into 0 to 360. */
function turned(angleDeg: number): number {
  return ((angleDeg % 360) + 360) % 360;
}

/** Entries of a skyline table to the degree. */
export const SKYLINE_PER_DEG = 4;

/**
 * The skyline as a table for hot loops: sine of its height for each quarter degree of azimuth, from north, clockwise. The sun is
 * hidden when its cos z lies below the entry.
 */
export function skylineTable(points: readonly HorizonPoint[]): Float64Array {
  const sines = new Float64Array(360 * SKYLINE_PER_DEG + 1);
  for (let i = 0; i < sines.length; i++)
    sines[i] = Math.sin(Math.max(0, horizonElevationDeg(points, i / SKYLINE_PER_DEG)) * RAD);
  return sines;
}

/**
 * Share of an evenly bright sky's light on a plane that the skyline leaves, 0 to 1: the sky above it, weighted by the cosine of
 * incidence, over the whole. Exact in height, in slices of 2° of azimuth; within 0.001 for a gentle skyline.
 * Assumption: the land above the level horizon is dark. It reflects some light, so this is a little pessimistic.
 */
export function skyShare(points: readonly HorizonPoint[], tiltDeg: number, azimuthDeg: number): number {
  if (!points.some((p) => p.elevationDeg > 0)) return 1;
  const upward = Math.cos(tiltDeg * RAD);
  let whole = 0;
  let left = 0;
  for (let azimuth = 1; azimuth < 360; azimuth += 2) {
    const across = Math.sin(tiltDeg * RAD) * Math.cos((azimuth - azimuthDeg) * RAD);
    // the integral over height h of (upward · sin h + across · cos h) · cos h, from the plane's own edge or the skyline to the zenith
    const upTo = (h: number) => (upward * Math.sin(h) ** 2) / 2 + across * (h / 2 + Math.sin(2 * h) / 4);
    const edge = Math.max(0, Math.atan2(-across, upward));
    const skyline = Math.max(edge, horizonElevationDeg(points, azimuth) * RAD);
    whole += upTo(Math.PI / 2) - upTo(edge);
    left += upTo(Math.PI / 2) - upTo(skyline);
  }
  return left / whole;
}
