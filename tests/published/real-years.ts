import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { LEAP_MONTH_DAYS } from '../../packages/core/src/math/index.js';
import type { MonthlyClimate } from '../../packages/core/src/rig/index.js';
import { extraterrestrialMonths } from '../../packages/core/src/sky/index.js';
import {
  type DayParameters,
  type PlaceFacts,
  PREDICTORS,
  placeFacts,
  type Regression,
  widestSpread,
} from '../../packages/core/src/weather/made/day-statistics.js';

/** What is known of a place's days, beside its months. Missing values are undefined or NaN. */
export interface KnownPlace {
  readonly id: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly elevationM: number;
  readonly climate: MonthlyClimate;
  /** standard deviation of daily clearness about the month's mean */
  readonly sdByMonth: readonly number[];
  /** correlation of a day's clearness with that of the day before, standardised by month */
  readonly lag?: number;
  readonly airSdByMonth?: readonly number[];
  readonly airLag?: number;
  /** correlation of clearness with temperature: December to February, or the local winter and summer */
  readonly warmth: readonly { readonly months: readonly number[]; readonly value: number }[];
  /** light worked out from the clouds seen, without the darkest days */
  readonly typical: boolean;
  /** light worked out from hours of sunshine, which makes days too even */
  readonly sunshine: boolean;
  /** a typical year or one alone: without the differences between years */
  readonly oneYear: boolean;
  /** in the fit; places with two stations count half for each */
  readonly weight: number;
}

/** A place with statistics of many real years, to hold made ones against. */
export interface RealPlace extends KnownPlace {
  readonly years: number;
  readonly sdOfYear: number;
  readonly lag: number;
  readonly airSdByMonth: readonly number[];
  readonly lowest: readonly number[];
  readonly stays: readonly { readonly p10: number; readonly p50: number }[];
}

/** Lengths of dull runs [days]. */
export const RUNS = [3, 5, 10];
/** Stores of so many days of load, and the share of the load that a mean day of the month yields. */
export const STORES = [
  { key: 'stay_B1.5_r1.0', days: 1.5, yields: 1 },
  { key: 'stay_B3_r1.0', days: 3, yields: 1 },
  { key: 'stay_B3_r0.8', days: 3, yields: 0.8 },
] as const;

/** Typical and single years, whose file does not say where: position, from the headers of the hourly files. */
const HOURLY_YEARS = {
  las_vegas: [36.08, -115.15, 648],
  san_juan: [18.42, -66, 19],
  salvador: [-13.02, -38.52, 51],
  addis_ababa: [8.98, 38.8, 2355],
  seattle: [47.47, -122.32, 122],
  international_falls: [48.57, -93.4, 359],
  fairbanks: [64.82, -147.85, 133],
  golden_2012: [39.74, -105.18, 1829],
} as const;
/**
 * Of the spread of air temperature within a month over many years, what one year shows: days that persist by 0.73 give months' means
 * a variance of (1 + 0.73)/(1 − 0.73)/30 of that of days, which one year does not have.
 */
const WITHIN_A_YEAR = Math.sqrt(1 - 1.73 / 0.27 / 30);
/** One year fixes a standard deviation of a month to 13 %, many fix it to 3 %, but climates differ by more than either. */
const ONE_YEAR = 0.4;

/** Lag-1 of more stations of the same set, standardised by month; their spread by month is with their climate. */
const LAGS: Readonly<Record<string, number>> = {
  'climate-swift-current-canada': 0.287,
  'climate-saskatoon-canada': 0.336,
  'climate-faisalabad-pakistan': 0.521,
  'climate-planaltina-brasilia-brazil': 0.431,
  'climate-piracicaba-brazil': 0.498,
};

// biome-ignore lint/suspicious/noExplicitAny: reference files are checked by hand
type Row = any;
const rowsOf = (folder: string, file: string): Row[] => JSON.parse(readFileSync(join(folder, file), 'utf8'));

/** The 18 places with statistics of real years. */
export function realPlaces(folder: string): RealPlace[] {
  const rows = rowsOf(folder, '19-real-daily-years.json').filter(({ expected }) => expected.clearness_sd);
  const places = rows.map(
    ({ id, inputs, expected: e }): RealPlace => ({
      id,
      latDeg: inputs.latitude,
      lonDeg: inputs.longitude,
      elevationM: inputs.elevation_m,
      climate: {
        ghiKwhM2Day: e.months.irradiation_kwh_m2_day,
        tMaxC: e.months.maxTemperature_degC,
        tMinC: e.months.minTemperature_degC,
      },
      sdByMonth: e.clearness_sd_by_month,
      sdOfYear: e.clearness_sd,
      lag: e.clearness_lag1,
      airSdByMonth: e.temperature_sd_by_month_K,
      airLag: e.temperature_lag1,
      warmth: [{ months: [11, 0, 1], value: e.corr_clearness_temperature_Dec_Feb }],
      typical: false,
      sunshine: false,
      oneYear: false,
      weight: 1,
      years: e.lowest_3_day_mean_over_month_mean.years,
      lowest: RUNS.map((n) => e[`lowest_${n}_day_mean_over_month_mean`].median_of_years),
      stays: STORES.map(({ key }) => e[key]),
    }),
  );
  return places.map((one) => ({ ...one, weight: 1 / places.filter((other) => isNear(one, other)).length }));
}

/** The same, and what little is known of the days of more places. */
export function knownPlaces(folder: string): KnownPlace[] {
  const by = (file: string) => new Map<string, Row>(rowsOf(folder, file).map((row) => [row.id, row.expected.table]));
  const tropics = by('15-daily-light-tropics.json');
  const hourly = Object.entries(HOURLY_YEARS).map(([id, [latDeg, lonDeg, elevationM]]): KnownPlace => {
    const { mean, std } = tropics.get(`kt-${id.replaceAll('_', '-')}`);
    const outside = extraterrestrialMonths(latDeg);
    const air: number[] = tropics.get('t-month')[id].mean;
    const range: number[] = tropics.get('t-range')[id].range;
    const { mean_winter, mean_summer } = tropics.get('kt-t-corr')[id];
    const [winter, summer] =
      latDeg >= 0
        ? [
            [11, 0, 1],
            [5, 6, 7],
          ]
        : [
            [5, 6, 7],
            [11, 0, 1],
          ];
    return {
      id,
      latDeg,
      lonDeg,
      elevationM,
      climate: {
        ghiKwhM2Day: outside.map((kwh, month) => kwh * (mean[month] ?? 0.4)),
        tMaxC: air.map((t, month) => t + range[month]! / 2),
        tMinC: air.map((t, month) => t - range[month]! / 2),
      },
      sdByMonth: std.map((sd: number | null) => sd ?? Number.NaN),
      lag: tropics.get('kt-lag1')[id],
      airSdByMonth: tropics.get('t-month')[id].std,
      warmth: [
        { months: winter!, value: mean_winter },
        { months: summer!, value: mean_summer },
      ],
      typical: id !== 'golden_2012',
      sunshine: false,
      oneYear: true,
      weight: ONE_YEAR,
    };
  });
  const real = realPlaces(folder);
  // not those whose days are a satellite's grid
  const stations = rowsOf(folder, '11-climate.json')
    .filter(({ expected, notes }) => expected.table.std_daily_KT && !/satellite/.test(notes))
    .map(
      ({ id, inputs, expected: { table }, notes }): KnownPlace => ({
        id,
        latDeg: inputs.latitude.value,
        lonDeg: inputs.longitude.value,
        elevationM: inputs.elevation.value ?? 0,
        climate: { ghiKwhM2Day: table.ghi_kWh_m2_day, tMaxC: table.tmax_C, tMinC: table.tmin_C },
        sdByMonth: table.std_daily_KT,
        ...(LAGS[id] !== undefined && { lag: LAGS[id] }),
        warmth: [],
        typical: false,
        sunshine: /sunshine/.test(notes),
        oneYear: false,
        weight: 1,
      }),
    )
    .filter((station) => !real.some((place) => isNear(place, station)));
  return [...real, ...hourly, ...stations];
}

/** Stations of one place: left out together, as each would tell of the other. */
export function isNear(a: Pick<KnownPlace, 'latDeg' | 'lonDeg'>, b: Pick<KnownPlace, 'latDeg' | 'lonDeg'>): boolean {
  return Math.abs(a.latDeg - b.latDeg) < 0.8 && Math.abs(a.lonDeg - b.lonDeg) < 0.8;
}

/** One line of a regression: a month, or a whole place. */
interface Line {
  readonly place: string;
  readonly x: readonly number[];
  readonly y: number;
  readonly weight: number;
}

export interface Fitted extends Regression {
  readonly errors: readonly number[];
  /** standard deviation of what is left, of places' means */
  readonly residual: number;
  readonly places: number;
}

export type FittedParameters = { readonly [name in keyof DayParameters]: Fitted };

/**
 * All regressions, by weighted least squares with an error of each place's own; standard errors allow for months of one place that err
 * together (clustered by place; Liang & Zeger, Biometrika 73, 1986, p. 13). That days of typical years and of those worked out from
 * hours of sunshine spread less than real ones has terms of its own in the fit of the spread of clearness, which are left out of
 * what comes back.
 */
export function fitDayParameters(places: readonly KnownPlace[]): FittedParameters {
  const facts = new Map(places.map((place) => [place, placeFacts(place, place.climate)]));
  const lines = (of: (place: KnownPlace, facts: PlaceFacts) => Omit<Line, 'place'>[]) =>
    places.flatMap((place) => of(place, facts.get(place)!).map((line) => ({ ...line, place: place.id })));
  const months = LEAP_MONTH_DAYS.map((_, month) => month);
  const mean = (rows: readonly (readonly number[])[]) => rows[0]!.map((_, i) => average(rows.map((row) => row[i]!)));
  const spread = leastSquares(
    lines((place, f) => {
      const method = [place.typical ? 1 : 0, place.sunshine ? 1 : 0];
      const widest = months.map((month) => widestSpread(f.mean[month]!, f.clearest[month]!));
      const x = (month: number) => [...PREDICTORS.spread(f, month), ...method];
      return months
        .filter((month) => place.sdByMonth[month]! > 0)
        .map((month) => ({ x: x(month), y: Math.log(place.sdByMonth[month]! / widest[month]!), weight: place.weight }));
    }),
  );
  return {
    spread: withoutLast(spread, 2),
    clearnessLag: leastSquares(
      lines(({ lag, weight }, f) => (lag ? [{ x: PREDICTORS.clearnessLag(f), y: Math.atanh(lag), weight }] : [])),
    ),
    airSd: leastSquares(
      lines((place, f) =>
        (place.airSdByMonth ?? []).map((sd, month) => ({
          x: PREDICTORS.airSd(f, month),
          y: Math.log(place.oneYear ? sd / WITHIN_A_YEAR : sd),
          weight: place.weight,
        })),
      ),
    ),
    airLag: leastSquares(
      lines(({ airLag, weight }, f) => (airLag ? [{ x: PREDICTORS.airLag(f), y: Math.atanh(airLag), weight }] : [])),
    ),
    warmth: leastSquares(
      lines((place, f) =>
        place.warmth.map(({ months: of, value }) => ({
          x: mean(of.map((month) => PREDICTORS.warmth(f, month))),
          y: Math.atanh(value),
          weight: place.weight,
        })),
      ),
    ),
  };
}

function withoutLast({ coefficients, ranges, errors, ...rest }: Fitted, terms: number): Fitted {
  return {
    coefficients: coefficients.slice(0, -terms),
    ranges: ranges.slice(0, -terms),
    errors: errors.slice(0, -terms),
    ...rest,
  };
}

/**
 * Least squares with an error of each place beside that of each line: plain at first, then on lines from which a share of their
 * place's mean is taken, after the two variances that are left.
 * Source: Fuller & Battese, J. American Statistical Association 68, 1973, p. 626; from memory.
 */
function leastSquares(lines: readonly Line[]): Fitted {
  const names = [...new Set(lines.map(({ place }) => place))];
  const byPlace = names.map((name) => lines.filter(({ place }) => place === name));
  const plain = solved(byPlace);
  const left = byPlace.map((own) => own.map((line) => leftOf(line, plain.coefficients)));
  const weights = byPlace.map((own) => own[0]!.weight);
  const free = lines.length - names.length;
  const within = free > 0 ? left.reduce((sum, own) => sum + squaresAbout(own), 0) / free : 0;
  const means = left.map(average);
  const total = weights.reduce((a, b) => a + b, 0);
  const between = means.reduce((sum, mean, i) => sum + weights[i]! * (mean ** 2 - within / left[i]!.length), 0) / total;
  const shares = left.map(({ length }) =>
    free > 0 ? 1 - Math.sqrt(within / (within + length * Math.max(0, between))) : 0,
  );
  const fitted = solved(byPlace.map((own, i) => lessMean(own, shares[i]!)));
  const off = byPlace.map((own) => average(own.map((line) => leftOf(line, fitted.coefficients))));
  const columns = lines[0]!.x.map((_, i) => lines.map(({ x }) => x[i]!));
  return {
    ...fitted,
    ranges: columns.map((values) => [Math.min(...values), Math.max(...values)] as const),
    residual: Math.sqrt(off.reduce((sum, value, i) => sum + weights[i]! * value ** 2, 0) / total),
    places: names.length,
  };
}

const leftOf = ({ x, y }: Pick<Line, 'x' | 'y'>, coefficients: readonly number[]) =>
  y - x.reduce((sum, value, i) => sum + value * coefficients[i]!, 0);

function squaresAbout(values: readonly number[]): number {
  const mean = average(values);
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
}

function lessMean(own: readonly Line[], share: number): Line[] {
  const mean = { x: own[0]!.x.map((_, i) => average(own.map(({ x }) => x[i]!))), y: average(own.map(({ y }) => y)) };
  return own.map(({ x, y, ...line }) => ({
    ...line,
    x: x.map((value, i) => value - share * mean.x[i]!),
    y: y - share * mean.y,
  }));
}

/** Weighted least squares, standard errors clustered by place. */
function solved(byPlace: readonly (readonly Line[])[]): Pick<Fitted, 'coefficients' | 'errors'> {
  const n = byPlace[0]![0]!.x.length;
  const normal = squareOf(n);
  const right = new Array<number>(n).fill(0);
  for (const { x, y, weight } of byPlace.flat())
    for (let i = 0; i < n; i++) {
      right[i]! += weight * x[i]! * y;
      for (let j = 0; j < n; j++) normal[i]![j]! += weight * x[i]! * x[j]!;
    }
  const inverse = inverted(normal);
  const times = (matrix: readonly (readonly number[])[], vector: readonly number[]) =>
    matrix.map((row) => row.reduce((sum, a, j) => sum + a * vector[j]!, 0));
  const coefficients = times(inverse, right);
  const middle = squareOf(n);
  for (const own of byPlace) {
    const score = new Array<number>(n).fill(0);
    for (const line of own)
      for (let i = 0; i < n; i++) score[i]! += line.weight * line.x[i]! * leftOf(line, coefficients);
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) middle[i]![j]! += score[i]! * score[j]!;
  }
  const clusters = byPlace.length / (byPlace.length - 1);
  const errors = inverse.map((row) =>
    Math.sqrt(clusters * row.reduce((sum, a, j) => sum + a * times(middle, row)[j]!, 0)),
  );
  return { coefficients, errors };
}

const squareOf = (n: number) => Array.from({ length: n }, () => new Array<number>(n).fill(0));

/** By Gauss and Jordan with pivots; matrices here have at most seven rows. */
function inverted(matrix: readonly (readonly number[])[]): number[][] {
  const n = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let i = 0; i < n; i++) {
    const pivot = rows.reduce((best, row, k) => (k > i && Math.abs(row[i]!) > Math.abs(rows[best]![i]!) ? k : best), i);
    [rows[i], rows[pivot]] = [rows[pivot]!, rows[i]!];
    const scale = rows[i]![i]!;
    rows[i] = rows[i]!.map((value) => value / scale);
    for (let k = 0; k < n; k++) {
      if (k === i) continue;
      const factor = rows[k]![i]!;
      rows[k] = rows[k]!.map((value, j) => value - factor * rows[i]![j]!);
    }
  }
  return rows.map((row) => row.slice(n));
}

export function average(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}
