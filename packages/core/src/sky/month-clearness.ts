import { LEAP_MONTH_DAYS } from '../math/index.js';
import { dailyExtraterrestrialKwhM2 } from './extraterrestrial.js';

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
