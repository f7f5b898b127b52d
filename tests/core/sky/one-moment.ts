import type { SunColumns } from '../../../packages/core/src/sky/index.js';

/** The solar constant that the models' clearness is fitted with [W/m²]. */
export const EXTRA = 1367;

/** One moment, as columns of one step. */
export function moment(cosZenith: number, ghi: number, dni: number, azimuthDeg = 180) {
  const sun: SunColumns = {
    cosZenith: Float64Array.of(cosZenith),
    azimuthDeg: Float64Array.of(azimuthDeg),
    extraNormalWm2: Float64Array.of(EXTRA),
  };
  return { sun, sky: { ghiWm2: Float64Array.of(ghi), dniWm2: Float64Array.of(dni), dhiWm2: Float64Array.of(0) } };
}
