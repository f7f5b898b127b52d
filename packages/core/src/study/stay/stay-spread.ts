import { dayStream, percentile, uniform, Z90 } from '../../math/index.js';
import type { Place } from '../../place/index.js';
import type { MonthlyClimate } from '../../rig/index.js';
import { placeFacts } from '../../weather/index.js';
import type { Stays } from './stay-sums.js';

const RESAMPLINGS = 200;

/**
 * How far the stay that one in ten falls short of is off, made against real, as a standard deviation of its logarithm: of 54 at 18 places
 * left out of the fit of the generator (tests/published/real-years.test.ts).
 */
export const MADE_P10_OFF = 0.19;
/** The places behind the generator's fit: latitude, altitude and monthly clearness, and beyond them what doubles the spread. */
const KNOWN = { latDeg: 65, elevationM: 2360, clearest: 0.74, dullest: 0.27 } as const;
const DOUBLED_BY = { latDeg: 15, elevationM: 2000, clearness: 0.15 } as const;

/** One weather year's stays that begin in a month [days]; made years come in mirrored pairs, which count as one. */
export function yearsOf(month: number, years: readonly Stays[], isMade: boolean): number[][] {
  const each = years.map(({ months, parked }) =>
    months.flatMap((begun, k) => (begun === month ? [parked.days[k]!] : [])),
  );
  if (!isMade) return each.filter(({ length }) => length > 0);
  const pairs = each.flatMap((days, k) => (k % 2 === 0 ? [[...days, ...(each[k + 1] ?? [])]] : []));
  return pairs.filter(({ length }) => length > 0);
}

/**
 * Standard deviation of the logarithm of the stay that one in ten falls short of, for that there are so few weather years: by
 * drawing whole years anew with replacement (bootstrap; Efron & Tibshirani, An Introduction to the Bootstrap, 1993), the same draws each time.
 * With n years it is stretched by √(n/(n − 1)), as resampling years of themselves spreads them too little.
 * @returns NaN for a single year, which says nothing of others
 */
export function sampledSpread(years: readonly (readonly number[])[]): number {
  const n = years.length;
  if (n < 2) return Number.NaN;
  const logs = Array.from({ length: RESAMPLINGS }, (_, k) => {
    const stream = dayStream({ seed: 1, year: 0, latDeg: 0, lonDeg: 0 }, k, 0);
    const drawn = years.flatMap(() => years[Math.floor(uniform(stream) * n)]!);
    return Math.log(Math.max(1e-3, percentile(drawn, 0.1)));
  });
  const mean = logs.reduce((a, b) => a + b, 0) / RESAMPLINGS;
  return Math.sqrt((logs.reduce((a, b) => a + (b - mean) ** 2, 0) / RESAMPLINGS) * (n / (n - 1)));
}

/** As `MADE_P10_OFF`, at a place: more where it lies outside of what the places behind the generator are like. */
export function madeSpread(place: Place, climate: MonthlyClimate): number {
  const { mean } = placeFacts(place, climate);
  const lit = mean.filter((k) => k > 0);
  const beyond =
    Math.max(0, Math.abs(place.latDeg) - KNOWN.latDeg) / DOUBLED_BY.latDeg +
    Math.max(0, place.elevationM - KNOWN.elevationM) / DOUBLED_BY.elevationM +
    Math.max(0, Math.max(...lit) - KNOWN.clearest, KNOWN.dullest - Math.min(...lit)) / DOUBLED_BY.clearness;
  return MADE_P10_OFF * (1 + beyond);
}

/** Between what and what the stay lies with about 90 % confidence: not below that in the dark, not above the horizon. */
export function spreadAbout(days: number, spread: number, darkDays: number, horizonDays: number): [number, number] {
  const factor = Math.exp(Z90 * spread);
  return [
    Math.max(Math.min(days, darkDays), days / factor),
    days >= horizonDays ? days : Math.min(horizonDays, days * factor),
  ];
}
