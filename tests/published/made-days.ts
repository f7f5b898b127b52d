import { percentile } from '../../packages/core/src/math/index.js';
import { dailyWeather } from '../../packages/core/src/weather/made/daily-weather.js';
import type { DayParameters } from '../../packages/core/src/weather/made/day-statistics.js';
import { average, type RealPlace, STORES } from './real-years.js';

/** Days in a row of many made years: clearness and mean temperature, in months of a calendar. */
export interface MadeDays {
  readonly clearness: Float64Array;
  readonly airC: Float64Array;
  readonly month: Uint8Array;
  /** of the first day of each year */
  readonly years: readonly number[];
}

/** Mirrored halves of consecutive calendar years, by the program's own generator. */
export function madeDays(
  place: Pick<RealPlace, 'latDeg' | 'lonDeg' | 'elevationM' | 'climate'>,
  count: number,
  parameters?: DayParameters,
  seed = 7,
): MadeDays {
  const clearness: number[] = [];
  const airC: number[] = [];
  const month: number[] = [];
  const years: number[] = [];
  const full = { ...place, name: '', zone: 'UTC', source: '' } as never;
  for (let half = 0; half < 2; half++)
    for (let year = 2001; year < 2001 + count / 2; year++) {
      const startMs = Date.UTC(year, 0, 1) - (place.lonDeg / 15) * 3.6e6;
      const days = Math.round((Date.UTC(year + 1, 0, 1) - Date.UTC(year, 0, 1)) / 86.4e6);
      const draw = { seed, year: half, latDeg: place.latDeg, lonDeg: place.lonDeg };
      const made = dailyWeather(full, place.climate, { startMs, stepH: 1, steps: 24 * days }, draw, parameters);
      years.push(clearness.length);
      for (let d = 0; d < days; d++) {
        const date = new Date(Date.UTC(year, 0, 1 + d));
        const at = Math.round(date.getTime() / 86.4e6) - made.firstDay;
        clearness.push(made.clearness[at]!);
        airC.push((made.air.minC[at]! + made.air.maxC[at]!) / 2);
        month.push(date.getUTCMonth());
      }
    }
  return {
    clearness: Float64Array.from(clearness),
    airC: Float64Array.from(airC),
    month: Uint8Array.from(month),
    years: [...years, clearness.length],
  };
}

/** The statistics of the reference file, of any run of days. */
export interface DayFigures {
  readonly sd: number;
  readonly lag: number;
  /** lowest mean of 3, 5 and 10 days of each year, over the months' means */
  readonly lowest: readonly (readonly number[])[];
  /** days until each store is empty, of all its beginnings */
  readonly stays: readonly (readonly number[])[];
  readonly airSdByMonth: readonly number[];
  readonly airLag: number;
}

const HORIZON = 60;

export function figuresOf({ clearness, airC, month, years }: MadeDays): DayFigures {
  const light = anomalies(clearness, month);
  const air = anomalies(airC, month);
  const relative = clearness.map((k, i) => k / light.mean[month[i]!]!);
  const lowest = [3, 5, 10].map((n) =>
    years.slice(0, -1).map((from, y) => {
      let least = Number.POSITIVE_INFINITY;
      let sum = 0;
      for (let i = from; i < years[y + 1]!; i++) {
        sum += relative[i]!;
        if (i - from >= n) sum -= relative[i - n]!;
        if (i - from >= n - 1) least = Math.min(least, sum / n);
      }
      return least;
    }),
  );
  return {
    sd: Math.sqrt(average(Array.from(light.away, (a) => a * a))),
    lag: lagOf(light, month),
    lowest,
    stays: STORES.map(({ days, yields }) => staysOf(relative, days, yields)),
    airSdByMonth: air.sd,
    airLag: lagOf(air, month),
  };
}

/** Full at the start, one start every third day; whole days that the store serves, 60 = no end. */
function staysOf(relative: Float64Array, days: number, yields: number): number[] {
  const stays: number[] = [];
  for (let start = 0; start + HORIZON <= relative.length; start += 3) {
    let stored = days;
    let stay = 0;
    while (stay < HORIZON) {
      stored = Math.min(days, stored + yields * relative[start + stay]! - 1);
      if (stored <= 0) break;
      stay++;
    }
    stays.push(stay);
  }
  return stays;
}

interface Anomalies {
  readonly mean: readonly number[];
  readonly sd: readonly number[];
  readonly away: Float64Array;
}

function anomalies(values: Float64Array, month: Uint8Array): Anomalies {
  const count = new Array<number>(12).fill(0);
  const mean = new Array<number>(12).fill(0);
  values.forEach((value, i) => {
    count[month[i]!]!++;
    mean[month[i]!]! += value;
  });
  mean.forEach((sum, m) => {
    mean[m] = sum / count[m]!;
  });
  const sd = new Array<number>(12).fill(0);
  const away = values.map((value, i) => value - mean[month[i]!]!);
  away.forEach((value, i) => {
    sd[month[i]!]! += (value * value) / count[month[i]!]!;
  });
  return { mean, sd: sd.map(Math.sqrt), away };
}

function lagOf({ away, sd }: Anomalies, month: Uint8Array): number {
  let sum = 0;
  for (let i = 1; i < away.length; i++) sum += (away[i]! / sd[month[i]!]!) * (away[i - 1]! / sd[month[i - 1]!]!);
  return sum / (away.length - 1);
}

/** One statistic of one place, made and real. */
export interface Held {
  readonly what: string;
  readonly made: number;
  readonly real: number;
  readonly inBand: boolean;
}

/** From how many years on a place's own sampling is narrower than the bands. */
const FEW_YEARS = 6;

/**
 * The 13 statistics of a place in their bands: spread 15 %, lag-1 0.12, lowest n days 0.08, P10 of stays 20 % or a day, P50
 * 25 % or a day (none where real stays have no end), spread of air 20 %, of its widest month 25 %. Of places of 4 to 6 years
 * the lowest days may lie where nine in ten sets of so many made years do.
 */
export function held(place: RealPlace, made: DayFigures): Held[] {
  const within = (what: string, value: number, real: number, band: number): Held => ({
    what,
    made: value,
    real,
    inBand: Math.abs(value - real) <= band + 1e-9,
  });
  const airMade = average(made.airSdByMonth);
  const airReal = average(place.airSdByMonth);
  const widest = Math.max(...place.airSdByMonth);
  return [
    within('spread', made.sd, place.sdOfYear, 0.15 * place.sdOfYear),
    within('lag-1', made.lag, place.lag, 0.12),
    ...[3, 5, 10].map((n, k) => {
      const one = within(`lowest ${n} days`, percentile(made.lowest[k]!, 0.5), place.lowest[k]!, 0.08);
      if (one.inBand || place.years > FEW_YEARS) return one;
      const [low, high] = mediansOf(made.lowest[k]!, place.years);
      return { ...one, inBand: place.lowest[k]! >= low && place.lowest[k]! <= high };
    }),
    ...STORES.map(({ key }, k) => {
      const { p10 } = place.stays[k]!;
      return within(`${key} P10`, percentile(made.stays[k]!, 0.1), p10, Math.max(1, 0.2 * p10));
    }),
    ...STORES.flatMap(({ key }, k) => {
      const { p50 } = place.stays[k]!;
      return p50 >= HORIZON
        ? []
        : [within(`${key} P50`, percentile(made.stays[k]!, 0.5), p50, Math.max(1, 0.25 * p50))];
    }),
    within('spread of air', airMade, airReal, 0.2 * airReal),
    within('spread of air, widest month', Math.max(...made.airSdByMonth), widest, 0.25 * widest),
  ];
}

/** Between what and what nine in ten medians of so many years lie: of all runs of so many of the made years. */
function mediansOf(values: readonly number[], years: number): [number, number] {
  const medians = values.map((_, i) =>
    percentile(
      Array.from({ length: years }, (__, k) => values[(i + k * 7) % values.length]!),
      0.5,
    ),
  );
  return [percentile(medians, 0.05), percentile(medians, 0.95)];
}
