import type { MonthlyClimate } from '../rig/index.js';
import { type DailyAir, solarDayOf } from './ambient-course.js';
import { dailyExtraterrestrialKwhM2 } from './extraterrestrial.js';
import { LEAP_MONTH_DAYS, monthlyCourse } from './monthly-course.js';
import type { Grid } from './types.js';
import { leapCalendarDay } from './weather-series.js';

const DAY_MS = 86_400_000;
/** Months with less light than this outside the atmosphere are dark [kWh/m²/day]. */
const DARK_KWH = 0.02;
/** No month on Earth is clearer; a table that says so is held here. */
const CLEAREST = 0.85;

/** Extraterrestrial horizontal irradiation of a mean day of each month [kWh/m²]. */
export function extraterrestrialMonths(latDeg: number): number[] {
  let first = 1;
  return LEAP_MONTH_DAYS.map((leapDays, month) => {
    const days = month === 1 ? 28 : leapDays;
    let sum = 0;
    for (let day = 0; day < days; day++) sum += dailyExtraterrestrialKwhM2(latDeg, first + day);
    first += days;
    return sum / days;
  });
}

/** Monthly mean clearness: irradiation on the horizontal over that outside the atmosphere; 0 where the month is dark. */
export function monthlyClearness(latDeg: number, ghiKwhM2Day: readonly number[]): number[] {
  return extraterrestrialMonths(latDeg).map((outside, month) =>
    outside > DARK_KWH ? Math.min(CLEAREST, Math.max(0, ghiKwhM2Day[month]! / outside)) : 0,
  );
}

/** Solar days that a grid touches and one more at each end: first and how many. */
export function solarDaysOf(lonDeg: number, grid: Grid): { first: number; count: number } {
  const first = solarDayOf(grid.startMs, lonDeg) - 1;
  const last = solarDayOf(grid.startMs + grid.steps * grid.stepH * 3_600_000, lonDeg) + 1;
  return { first, count: last - first + 1 };
}

/**
 * Daily extremes that follow the climate's months, each day its month's course.
 * @param swing the daily range times so much, about the same middle
 */
export function meanDailyAir(climate: MonthlyClimate, lonDeg: number, grid: Grid, swing = 1): DailyAir {
  const high = monthlyCourse(climate.tMaxC);
  const low = monthlyCourse(climate.tMinC);
  const { first, count } = solarDaysOf(lonDeg, grid);
  const minC = new Float64Array(count);
  const maxC = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const day = leapCalendarDay((first + i) * DAY_MS);
    const middle = (high[day]! + low[day]!) / 2;
    const half = ((high[day]! - low[day]!) / 2) * swing;
    minC[i] = middle - half;
    maxC[i] = middle + half;
  }
  return { firstDay: first, minC, maxC };
}
