import type { HorizonPoint } from '../rig/types.js';
import { RAD } from './solar-geometry.js';

/**
 * Height of the skyline in a direction [deg], straight between the given points and on round the compass; 0 without points.
 * @param points in any order; one point alone is a skyline of that height all round
 */
export function horizonElevationDeg(points: readonly HorizonPoint[], azimuthDeg: number): number {
  if (points.length === 0) return 0;
  const sorted = [...points].sort((a, b) => a.azimuthDeg - b.azimuthDeg);
  const azimuth = ((azimuthDeg % 360) + 360) % 360;
  const after = sorted.find((p) => p.azimuthDeg >= azimuth) ?? sorted[0]!;
  const before = sorted.filter((p) => p.azimuthDeg < azimuth).at(-1) ?? sorted.at(-1)!;
  const span = (after.azimuthDeg - before.azimuthDeg + 360) % 360;
  if (span === 0) return after.elevationDeg;
  const share = ((azimuth - before.azimuthDeg + 360) % 360) / span;
  return before.elevationDeg + share * (after.elevationDeg - before.elevationDeg);
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
 * incidence, over the whole. Worked out in cells of 3° by 1°; within 0.005.
 * Assumption: the land above the level horizon is dark. It reflects some light, so this is a little pessimistic.
 */
export function skyShare(points: readonly HorizonPoint[], tiltDeg: number, azimuthDeg: number): number {
  if (!points.some((p) => p.elevationDeg > 0)) return 1;
  let whole = 0;
  let left = 0;
  for (let azimuth = 1.5; azimuth < 360; azimuth += 3) {
    const skylineDeg = Math.max(0, horizonElevationDeg(points, azimuth));
    const across = Math.sin(tiltDeg * RAD) * Math.cos((azimuth - azimuthDeg) * RAD);
    for (let height = 0.5; height < 90; height += 1) {
      const cosHeight = Math.cos(height * RAD);
      const light = Math.max(0, Math.cos(tiltDeg * RAD) * Math.sin(height * RAD) + across * cosHeight) * cosHeight;
      whole += light;
      left += light * Math.max(0, Math.min(1, height + 0.5 - skylineDeg));
    }
  }
  return left / whole;
}
