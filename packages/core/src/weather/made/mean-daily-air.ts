import { DAY_MS, HOUR_MS, monthlyCourse } from '../../math/index.js';
import type { MonthlyClimate } from '../../rig/index.js';
import type { Grid } from '../../sky/index.js';
import { leapCalendarDay } from '../read/weather-series.js';
import { type DailyAir, solarDayOf } from './ambient-course.js';

/** Solar days that a grid touches and one more at each end: first and how many. */
export function solarDaysOf(lonDeg: number, grid: Grid): { first: number; count: number } {
  const first = solarDayOf(grid.startMs, lonDeg) - 1;
  const last = solarDayOf(grid.startMs + grid.steps * grid.stepH * HOUR_MS, lonDeg) + 1;
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
