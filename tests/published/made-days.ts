import { DAY_MS, HOUR_MS, percentile } from '../../packages/core/src/math/index.js';
import { dailyWeather } from '../../packages/core/src/weather/made/daily-weather.js';
import type { DayParameters } from '../../packages/core/src/weather/made/day-statistics.js';
import { average, type RealPlace, RUNS, STORES } from './real-years.js';

/** Days in a row of many made years: clearness and mean temperature, in months of a calendar. */
export interface MadeDays {
  readonly clearness: Float64Array;
  readonly airC: Float64Array;
  readonly month: Uint8Array;
  /** of the first day of each year */
  readonly years: readonly number[];
}

const FIRST_YEAR = 2001;

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
  const dayOf = (year: number) => Math.round(Date.UTC(year, 0, 1) / DAY_MS);
  const [first, end] = [FIRST_YEAR, FIRST_YEAR + count / 2].map(dayOf) as [number, number];
  const startMs = first * DAY_MS - (place.lonDeg / 15) * HOUR_MS;
  const grid = { startMs, stepH: 24, steps: end - first };
  for (let half = 0; half < 2; half++) {
    const draw = { seed, year: half, latDeg: place.latDeg, lonDeg: place.lonDeg };
    const made = dailyWeather(full, place.climate, grid, draw, parameters);
    for (let day = first; day < end; day++) {
      const date = new Date(day * DAY_MS);
      const at = day - made.firstDay;
      if (day === dayOf(date.getUTCFullYear())) years.push(clearness.length);
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
  const lowest = RUNS.map((n) =>
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

/** Up to how many years a place's own sampling is wider than some bands. */
const FEW_YEARS = 6;

/** The 13 statistics of a place by name, their bands, and where in `DayFigures` each is. */
const STATISTICS: readonly {
  readonly what: string;
  readonly made: (figures: DayFigures) => number;
  readonly real: (place: RealPlace) => number;
  /** how far made may be from real */
  readonly band: (real: number) => number;
}[] = [
  { what: 'spread', made: ({ sd }) => sd, real: ({ sdOfYear }) => sdOfYear, band: (real) => 0.15 * real },
  { what: 'lag-1', made: ({ lag }) => lag, real: ({ lag }) => lag, band: () => 0.12 },
  ...RUNS.map((n, k) => ({
    what: `lowest ${n} days`,
    made: ({ lowest }: DayFigures) => percentile(lowest[k]!, 0.5),
    real: ({ lowest }: RealPlace) => lowest[k]!,
    band: () => 0.08,
  })),
  ...STORES.map(({ key }, k) => ({
    what: `${key} P10`,
    made: ({ stays }: DayFigures) => percentile(stays[k]!, 0.1),
    real: ({ stays }: RealPlace) => stays[k]!.p10,
    band: (real: number) => Math.max(1, 0.2 * real),
  })),
  ...STORES.map(({ key }, k) => ({
    what: `${key} P50`,
    made: ({ stays }: DayFigures) => percentile(stays[k]!, 0.5),
    real: ({ stays }: RealPlace) => stays[k]!.p50,
    band: (real: number) => Math.max(1, 0.25 * real),
  })),
  {
    what: 'spread of air',
    made: ({ airSdByMonth }) => average(airSdByMonth),
    real: ({ airSdByMonth }) => average(airSdByMonth),
    band: (real) => 0.2 * real,
  },
  {
    what: 'spread of air, widest month',
    made: ({ airSdByMonth }) => Math.max(...airSdByMonth),
    real: ({ airSdByMonth }) => Math.max(...airSdByMonth),
    band: (real) => 0.25 * real,
  },
];

/**
 * The 13 statistics of a place in their bands: spread 15 %, lag-1 0.12, lowest n days 0.08, P10 of stays 20 % or a day, P50
 * 25 % or a day (none where real stays have no end), spread of air 20 %, of its widest month 25 %. Of places of 4 to 6 years
 * each may also lie where nine in ten sets of so many made years do.
 */
export function held(place: RealPlace, made: MadeDays): Held[] {
  const figures = figuresOf(made);
  const sets = place.years <= FEW_YEARS ? setsOf(made, place.years).map(figuresOf) : [];
  return STATISTICS.flatMap((statistic): Held[] => {
    const { what } = statistic;
    const real = statistic.real(place);
    if (what.endsWith('P50') && real >= HORIZON) return [];
    const value = statistic.made(figures);
    const drawn = sets.map(statistic.made);
    const isDrawn = drawn.length > 0 && real >= percentile(drawn, 0.05) && real <= percentile(drawn, 0.95);
    return [{ what, made: value, real, inBand: isDrawn || Math.abs(value - real) <= statistic.band(real) + 1e-9 }];
  });
}

/** Made years cut into sets of so many in a row. */
function setsOf({ clearness, airC, month, years }: MadeDays, count: number): MadeDays[] {
  return Array.from({ length: Math.floor((years.length - 1) / count) }, (_, k) => {
    const starts = years.slice(k * count, (k + 1) * count + 1);
    const [from, to] = [starts[0]!, starts[count]!];
    return {
      clearness: clearness.slice(from, to),
      airC: airC.slice(from, to),
      month: month.slice(from, to),
      years: starts.map((start) => start - from),
    };
  });
}
