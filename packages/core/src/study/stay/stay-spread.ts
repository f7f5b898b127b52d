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
export const MADE_P10_OFF = 0.18;

/** What a place is like, as far as it says how well made years of it are known. */
export interface Likeness {
  readonly latDeg: number;
  readonly elevationM: number;
  /** mean clearness of its clearest and dullest lit month */
  readonly clearest: number;
  readonly dullest: number;
  /** see `PlaceFacts` */
  readonly inland: number;
}

/** The outermost of the places behind the generator's fit. */
export const KNOWN: Likeness = { latDeg: 65, elevationM: 2360, clearest: 0.735, dullest: 0.27, inland: 4.43 };
/**
 * How far beyond all known places the variance is twice that among them. Got by leaving out all places of the highest latitude together,
 * then those of the highest altitude, of the clearest and of the dullest months, and those farthest inland: stays there were off by up to
 * a quarter more than `MADE_P10_OFF` (tests/published/real-years.test.ts).
 */
const DOUBLED_BY: Likeness = { latDeg: 11, elevationM: 1200, clearest: 0.13, dullest: 0.13, inland: 0.33 };

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

/** As `MADE_P10_OFF`, at a place: more where it lies beyond what the places behind the generator are like. */
export function madeSpread(place: Place, climate: MonthlyClimate): number {
  return MADE_P10_OFF * unlikeness(likenessOf(place, climate), KNOWN);
}

export function likenessOf(place: Pick<Place, 'latDeg' | 'lonDeg' | 'elevationM'>, climate: MonthlyClimate): Likeness {
  const { mean, inland } = placeFacts(place, climate);
  const lit = mean.filter((k) => k > 0);
  return {
    latDeg: Math.abs(place.latDeg),
    elevationM: place.elevationM,
    clearest: Math.max(...lit),
    dullest: Math.min(...lit),
    inland,
  };
}

/** How many times farther made years may be off at a place than among known ones, which reach as far as `known`. */
export function unlikeness(place: Likeness, known: Likeness): number {
  const beyond = (['latDeg', 'elevationM', 'clearest', 'inland'] as const).map(
    (fact) => Math.max(0, place[fact] - known[fact]) / DOUBLED_BY[fact],
  );
  return Math.hypot(1, ...beyond, Math.max(0, known.dullest - place.dullest) / DOUBLED_BY.dullest);
}

/** Between what and what the stay lies with about 90 % confidence: not below that in the dark, not above the horizon. */
export function spreadAbout(days: number, spread: number, darkDays: number, horizonDays: number): [number, number] {
  const factor = Math.exp(Z90 * spread);
  return [
    Math.max(Math.min(days, darkDays), days / factor),
    days >= horizonDays ? days : Math.min(horizonDays, days * factor),
  ];
}
