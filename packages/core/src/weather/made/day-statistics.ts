import { HOUR_MS, LEAP_MONTH_DAYS } from '../../math/index.js';
import type { Place } from '../../place/index.js';
import type { MonthlyClimate } from '../../rig/index.js';
import {
  clearSkyColumns,
  extraterrestrialMonths,
  monthlyClearness,
  monthlyTurbidity,
  sunColumns,
} from '../../sky/index.js';
import { DAY_PARAMETERS } from './day-parameters.js';

/** The darkest days measured have a clearness of 0.03 to 0.06, and all lie above zero. */
export const DARKEST_DAY = 0.03;
/** The clearest days of a year at the sea have 0.73 to 0.78, and 0.85 at 1830 m: 0.78, and 0.03 more each kilometre up. */
const CLEAREST_AT_SEA = 0.78;
const CLEARER_PER_KM = 0.03;
/** Cold clean air lets through up to so many times the light of the default clear sky. */
const CLEAREST_TO_CLOUDLESS = 1.2;
/** A month's mean leaves at least so much above it: no month is all clear. */
const ROOM_ABOVE_MEAN = 0.06;
/** Afternoons above this breed clouds of their own, much the same each day [°C]. */
const HOT_C = 20;
/** Months colder than this spread no wider [°C]. */
const COLD_C = -10;
/** Of the open ocean. */
const LEAST_CONRAD = -10;
/** Clearness and its order mean little in months with less light than this outside the atmosphere [kWh/m²/day]. */
const DIM_KWH = 0.5;

/** How the days of a place differ from their months' means. Lists run from January to December. */
export interface DayStatistics {
  /** monthly mean clearness, 0 where a month is dark */
  readonly mean: readonly number[];
  /** clearness of the clearest day */
  readonly clearest: readonly number[];
  /** standard deviation of daily clearness over √((mean − darkest)(clearest − mean)), the most that the range admits; 0..1 */
  readonly spread: readonly number[];
  /** correlation of a day's clearness with that of the day before, standardised by month */
  readonly clearnessLag: number;
  /** standard deviation of daily mean temperature about the month's mean [K], and its correlation from day to day */
  readonly airSdK: readonly number[];
  readonly airLag: number;
  /** correlation of daily mean temperature with clearness: clear days are cold in winter, warm in the tropics */
  readonly warmth: readonly number[];
}

/** Coefficients of one regression, in the order of its predictors, and the ranges of those that it was fitted in. */
export interface Regression {
  readonly coefficients: readonly number[];
  readonly ranges: readonly (readonly [low: number, high: number])[];
}

/** What the days' statistics follow from; `DAY_PARAMETERS` holds those fitted to all places with known statistics. */
export interface DayParameters {
  /** ln of `spread` */
  readonly spread: Regression;
  /** artanh of `clearnessLag` */
  readonly clearnessLag: Regression;
  /** ln of `airSdK` */
  readonly airSd: Regression;
  /** artanh of `airLag` */
  readonly airLag: Regression;
  /** artanh of `warmth` */
  readonly warmth: Regression;
}

/** What is known of a place, as the regressions take it. */
export interface PlaceFacts {
  readonly mean: readonly number[];
  readonly clearest: readonly number[];
  /** month's mean, highest of a mean day, and range of temperature between day and night */
  readonly airC: readonly number[];
  readonly afternoonC: readonly number[];
  readonly rangeK: readonly number[];
  /** how far from the sea's influence, as ln of Conrad's index above −25: 2.7 on oceans, 3.7 on mild coasts, 4.4 deep inland */
  readonly inland: number;
  /** 1 on the equator, a half at 12°, 0 from 16° on: showers of each afternoon instead of fronts and seasons of rain */
  readonly equatorial: number;
  /** 0 up to 18° of latitude, 1 from 30° on: air masses from far away */
  readonly frontal: number;
  /** half of summer less winter, by a cosine through the year, of clearness: settled highs in summer or in winter */
  readonly summerClear: number;
  /** per month 1 in the middle of July, −1 in that of January; the other way round in the south */
  readonly season: readonly number[];
}

/** Facts of a place from its position and monthly means. */
export function placeFacts(
  place: Pick<Place, 'latDeg' | 'lonDeg' | 'elevationM'>,
  climate: MonthlyClimate,
): PlaceFacts {
  const absLatDeg = Math.abs(place.latDeg);
  const mean = monthlyClearness(place.latDeg, climate.ghiKwhM2Day);
  const highest = CLEAREST_AT_SEA + (CLEARER_PER_KM * place.elevationM) / 1000;
  const clearest = cloudlessClearness(place).map((cloudless, month) =>
    Math.max(mean[month]! + ROOM_ABOVE_MEAN, Math.min(highest, CLEAREST_TO_CLOUDLESS * cloudless)),
  );
  const equatorial = 1 / (1 + Math.exp(absLatDeg - 12));
  const outside = extraterrestrialMonths(place.latDeg);
  const lit = mean.filter((_, month) => outside[month]! > DIM_KWH);
  const average = averageOf(lit);
  const season = LEAP_MONTH_DAYS.map((_, month) =>
    Math.cos((2 * Math.PI * (month - (place.latDeg >= 0 ? 6.5 : 0.5))) / 12),
  );
  const summerClear = mean.reduce(
    (sum, k, month) => sum + (outside[month]! > DIM_KWH ? ((k - average) * season[month]!) / lit.length : 0),
    0,
  );
  const airC = climate.tMaxC.map((high, month) => (high + climate.tMinC[month]!) / 2);
  return {
    mean,
    clearest,
    airC,
    afternoonC: climate.tMaxC,
    inland: Math.log(Math.max(LEAST_CONRAD, conradIndex(absLatDeg, Math.max(...airC) - Math.min(...airC))) + 25),
    rangeK: climate.tMaxC.map((high, month) => high - climate.tMinC[month]!),
    equatorial,
    frontal: Math.min(1, Math.max(0, (absLatDeg - 18) / 12)),
    summerClear: 2 * summerClear,
    season,
  };
}

/** The predictors of each regression, first the constant; those of a month, or of the year. */
export const PREDICTORS = {
  spread: (f: PlaceFacts, month: number) => [
    1,
    f.equatorial,
    Math.max(0, f.afternoonC[month]! - HOT_C) * (1 - f.equatorial),
    f.summerClear * f.frontal,
  ],
  clearnessLag: (f: PlaceFacts) => [1, averageOf(f.rangeK) * (1 - f.equatorial), f.frontal],
  airSd: (f: PlaceFacts, month: number) => [
    1,
    Math.max(COLD_C, f.airC[month]!),
    f.rangeK[month]!,
    f.frontal,
    f.inland,
    f.frontal * f.season[month]!,
  ],
  airLag: (f: PlaceFacts) => [1, f.equatorial],
  warmth: (f: PlaceFacts, month: number) => [1, f.frontal, f.frontal * f.season[month]!],
} as const;

/**
 * Continentality from the yearly course of temperature, as the distance from the sea that counts is the one that air has come over:
 * 1.7 A / sin(φ + 10°) − 14.
 * Source: Conrad, Trans. American Geophysical Union 27, 1946, p. 663; from memory.
 * @param rangeK A, warmest less coldest month's mean [K]
 */
function conradIndex(absLatDeg: number, rangeK: number): number {
  return (1.7 * rangeK) / Math.sin(((absLatDeg + 10) * Math.PI) / 180) - 14;
}

/** What the most room between darkest and clearest day would let the days of a month spread. */
export function widestSpread(mean: number, clearest: number): number {
  return Math.sqrt(Math.max(0, (mean - DARKEST_DAY) * (clearest - mean)));
}

/**
 * How the days of a place lie about their months' means, by regressions on what is known of it (see `day-parameters.ts`, which
 * says how they were got). Predictors are held within the range of the places that they were fitted to.
 * Accuracy: each place left out in turn, spread of clearness within 10 % and lag-1 within 0.05 (one standard deviation).
 */
export function dayStatistics(
  place: Pick<Place, 'latDeg' | 'lonDeg' | 'elevationM'>,
  climate: MonthlyClimate,
  parameters: DayParameters = DAY_PARAMETERS,
): DayStatistics {
  const facts = placeFacts(place, climate);
  const months = (of: (month: number) => number) => LEAP_MONTH_DAYS.map((_, month) => of(month));
  return {
    mean: facts.mean,
    clearest: facts.clearest,
    spread: months((month) => Math.exp(predicted(parameters.spread, PREDICTORS.spread(facts, month)))),
    clearnessLag: Math.tanh(predicted(parameters.clearnessLag, PREDICTORS.clearnessLag(facts))),
    airSdK: months((month) => Math.exp(predicted(parameters.airSd, PREDICTORS.airSd(facts, month)))),
    airLag: Math.tanh(predicted(parameters.airLag, PREDICTORS.airLag(facts))),
    warmth: months((month) => Math.tanh(predicted(parameters.warmth, PREDICTORS.warmth(facts, month)))),
  };
}

function predicted({ coefficients, ranges }: Regression, predictors: readonly number[]): number {
  return predictors.reduce((sum, x, i) => {
    const [low, high] = ranges[i]!;
    return sum + coefficients[i]! * Math.min(high, Math.max(low, x));
  }, 0);
}

/** Clearness of a cloudless mid-month day by the clear-sky model. */
function cloudlessClearness(place: Pick<Place, 'latDeg' | 'lonDeg' | 'elevationM'>): number[] {
  const turbidity = monthlyTurbidity(place.latDeg, place.elevationM);
  return turbidity.map((value, month) => {
    const startMs = Date.UTC(2021, month, 15) - (place.lonDeg / 15) * HOUR_MS;
    const sun = sunColumns(place.latDeg, place.lonDeg, { startMs, stepH: 0.5, steps: 48 });
    const { ghiWm2 } = clearSkyColumns(sun, place.elevationM, value);
    let clear = 0;
    let outside = 0;
    for (let i = 0; i < 48; i++) {
      clear += ghiWm2[i]!;
      outside += Math.max(0, sun.cosZenith[i]!) * sun.extraNormalWm2[i]!;
    }
    return outside > 0 ? clear / outside : 0.7;
  });
}

function averageOf(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}
