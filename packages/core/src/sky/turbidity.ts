import type { Range } from '../rig/index.js';

/** Haze of the clear sky, with the range in which it lies in about nine of ten places and months. */
export interface Turbidity extends Range {
  readonly value: number;
}

/**
 * Linke turbidity of a clear day when nothing is known of the air: how many clean dry atmospheres dim the beam as much.
 * Common practice, no source for the exact line: textbooks give about 2 for very clean cold air, 3 for clean warm air, 5 for
 * moist warm or stagnant air, so it falls from 4.3 in the tropics to 2.5 beyond 65° and swings with the season by 0.6 outside the
 * tropics (haze peaks at the end of July, or of January in the south). It thins with altitude like the air, exp(−h/8435 m)
 * (Remund et al., ISES Solar World Congress 2003, from memory).
 * Dust and smoke can double it, a cold front halves what is above 1; the range is 0.7 to 1.5 times.
 * @param at latitude [°], elevation [m], month (1 to 12)
 */
export function linkeTurbidity(at: { latDeg: number; elevationM: number; month: number }): Turbidity {
  const away = Math.abs(at.latDeg);
  const mean = 4.3 - 1.8 * Math.min(1, Math.max(0, (away - 15) / 50));
  const swing = 0.6 * Math.min(1, away / 35);
  const season = Math.cos((2 * Math.PI * (at.month - (at.latDeg >= 0 ? 7 : 1))) / 12);
  const value = Math.max(1.5, (mean + swing * season) * Math.exp(-Math.max(0, at.elevationM) / 8435));
  return { value, low: Math.max(1.3, 0.7 * value), high: 1.5 * value };
}
