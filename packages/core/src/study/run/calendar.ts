import { HOUR_MS } from '../../math/index.js';
import type { Itinerary } from '../../place/index.js';

/** Which month each step of a run belongs to, by the local civil day it falls in. */
export interface Calendar {
  /** 0 = January, per step */
  readonly monthOf: Uint8Array;
  /** civil days of the run in each month, one of 23 or 25 hours too; the first by its part where the run starts later in it */
  readonly days: Float64Array;
}

export function calendarOf({ grid, days }: Pick<Itinerary, 'grid' | 'days'>): Calendar {
  const { startMs, stepH, steps } = grid;
  const stepMs = stepH * HOUR_MS;
  const monthOf = new Uint8Array(steps);
  const perMonth = new Float64Array(12);
  for (const day of days) {
    const month = Number(day.date.slice(5, 7)) - 1;
    const first = Math.max(0, Math.round((day.startMs - startMs) / stepMs));
    const end = Math.min(steps, Math.round((day.endMs - startMs) / stepMs));
    monthOf.fill(month, first, end);
    perMonth[month] = perMonth[month]! + (first === 0 ? (day.endMs - startMs) / (day.endMs - day.startMs) : 1);
  }
  return { monthOf, days: perMonth };
}

/** Energy in each month from a column of power: 12 values [Wh, or kWh/m² · 1000 from W/m²]. */
export function monthSums(column: Float64Array, { monthOf }: Calendar, stepH: number): Float64Array {
  const sums = new Float64Array(12);
  for (let i = 0; i < column.length; i++) {
    const month = monthOf[i]!;
    sums[month] = sums[month]! + column[i]!;
  }
  for (let month = 0; month < 12; month++) sums[month] = sums[month]! * stepH;
  return sums;
}
