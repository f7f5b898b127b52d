import { DAY_MS, HOUR_MS } from '../../math/index.js';
import type { Grid } from '../../sky/index.js';
import { declinationDeg, sunsetHourAngleDeg } from '../../sky/index.js';

/** The maximum comes this long after solar noon [h]. Parton & Logan 1981, air at 1.5 m; from memory. */
const LAG_H = 1.86;
/** How fast the night cools: exp(−2.2) of the evening's excess is left at sunrise. Parton & Logan 1981; from memory. */
const NIGHT_DECAY = 2.2;
const LEFT_AT_SUNRISE = Math.exp(-NIGHT_DECAY);
const SHORTEST_DAY_H = 4;
const LONGEST_DAY_H = 20;

/** Lowest and highest air temperature of each mean solar day; `firstDay` is whole days since 1970 of local mean solar time. */
export interface DailyAir {
  readonly firstDay: number;
  readonly minC: Float64Array;
  readonly maxC: Float64Array;
}

/** The mean solar day that an instant falls in. */
export function solarDayOf(ms: number, lonDeg: number): number {
  return Math.floor((ms + (lonDeg / 15) * HOUR_MS) / DAY_MS);
}

/**
 * Air temperature through the day from daily extremes: a sine from the minimum at sunrise to the maximum 1.86 h after noon and
 * on to sunset, then exponential cooling to the next sunrise's minimum (reached exactly here, so that days join).
 * Where the sun stays up or down, the day is taken as 20 h or 4 h long.
 * Source: Parton & Logan, Agricultural Meteorology 23, 1981, p. 205; constants from memory.
 * Accuracy: mean hourly course of seven stations' months, root mean square 0.10 of the daily range.
 * @param days covers the grid's solar days and one more at each end
 */
export function ambientColumn(latDeg: number, lonDeg: number, grid: Grid, days: DailyAir): Float64Array {
  const out = new Float64Array(grid.steps);
  const solarMs = (lonDeg / 15) * HOUR_MS;
  const stepMs = grid.stepH * HOUR_MS;
  let day = Number.NaN;
  let from = 0; // sunrise, hour of the solar day
  let lengthH = 12;
  let low = 0;
  let high = 0;
  let nextLow = 0;
  let sunsetC = 0;
  let eveningC = 0; // at the sunset before
  let eveningH = 12; // length of the day before
  for (let i = 0; i < grid.steps; i++) {
    const solar = grid.startMs + (i + 0.5) * stepMs + solarMs;
    const now = Math.floor(solar / DAY_MS);
    if (now !== day) {
      day = now;
      const d = day - days.firstDay;
      const before = dayLengthH(latDeg, day - 1, solarMs);
      eveningH = before;
      eveningC = days.minC[d - 1]! + (days.maxC[d - 1]! - days.minC[d - 1]!) * sunsetShare(before);
      lengthH = dayLengthH(latDeg, day, solarMs);
      from = 12 - lengthH / 2;
      low = days.minC[d]!;
      high = days.maxC[d]!;
      nextLow = days.minC[d + 1]!;
      sunsetC = low + (high - low) * sunsetShare(lengthH);
    }
    const hour = (solar - day * DAY_MS) / HOUR_MS;
    if (hour < from) out[i] = nightC(eveningC, low, (hour + 12 - eveningH / 2) / (from + 12 - eveningH / 2));
    else if (hour <= from + lengthH)
      out[i] = low + (high - low) * Math.sin((Math.PI * (hour - from)) / (lengthH + 2 * LAG_H));
    else out[i] = nightC(sunsetC, nextLow, (hour - from - lengthH) / (24 - lengthH));
  }
  return out;
}

function nightC(eveningC: number, morningC: number, share: number): number {
  const left = (Math.exp(-NIGHT_DECAY * Math.min(1, share)) - LEFT_AT_SUNRISE) / (1 - LEFT_AT_SUNRISE);
  return morningC + (eveningC - morningC) * left;
}

function sunsetShare(lengthH: number): number {
  return Math.sin((Math.PI * lengthH) / (lengthH + 2 * LAG_H));
}

function dayLengthH(latDeg: number, solarDay: number, solarMs: number): number {
  const noonMs = (solarDay + 0.5) * DAY_MS - solarMs;
  const hours = (2 * sunsetHourAngleDeg(latDeg, declinationDeg(noonMs))) / 15;
  return Math.min(LONGEST_DAY_H, Math.max(SHORTEST_DAY_H, hours));
}
