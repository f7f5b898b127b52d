import { meanOf, percentile } from '../../math/index.js';

/** Days are left out in so many turns, each day once; neighbours fall into different turns. */
const TURNS = 10;
/** What an explanation must gain over another in predicting days left out, in units of log likelihood: odds of some 3000 to 1. */
export const CLEAR_GAIN = 8;
/** Beyond so many standard deviations an outlier counts linearly (Huber 1964, from memory). */
const HUBER = 2;
/** Days on each side of a change, at least. */
export const MIN_SIDE = 3;

/**
 * One way to explain a part's days, fault or innocent alike: fitted to some days, it says how badly it fits others.
 * `fit` returns undefined where the days do not suffice.
 */
export interface Explanation<Fit> {
  readonly name: string;
  fit(days: readonly number[]): Fit | undefined;
  /** −log likelihood of a day, up to a constant */
  loss(fit: Fit, day: number): number;
}

/** How an explanation predicted the days left out, and its fit to all. */
export interface Judged<Fit> {
  readonly name: string;
  readonly fit: Fit;
  /** sum over days left out */
  readonly loss: number;
}

/**
 * Prediction of days left out (cross-validation for choice of model: Stone 1974; Arlot & Celisse 2010).
 * @returns undefined where the explanation cannot be fitted
 */
export function predicted<Fit>(days: readonly number[], explanation: Explanation<Fit>): Judged<Fit> | undefined {
  const fit = explanation.fit(days);
  if (fit === undefined) return undefined;
  const turns = Math.min(TURNS, days.length);
  let loss = 0;
  for (let turn = 0; turn < turns; turn++) {
    const own = explanation.fit(days.filter((_, k) => k % turns !== turn)) ?? fit;
    days.forEach((day, k) => {
      if (k % turns === turn) loss += explanation.loss(own, day);
    });
  }
  return { name: explanation.name, fit, loss };
}

/** Half a squared deviation in standard deviations, linear far out. */
export function huber(deviation: number): number {
  const away = Math.abs(deviation);
  return away <= HUBER ? (away * away) / 2 : HUBER * (away - HUBER / 2);
}

/** How much less a gain is worth where a residual resembles the one before it: (1 + r) / (1 − r), with r of lag one. */
export function serialInflation(residuals: readonly number[]): number {
  const mean = meanOf(residuals);
  let [same, all] = [0, 0];
  residuals.forEach((one, k) => {
    all += (one - mean) ** 2;
    if (k > 0) same += (one - mean) * (residuals[k - 1]! - mean);
  });
  const r = all > 0 ? Math.min(0.8, Math.max(0, same / all)) : 0;
  return (1 + r) / (1 - r);
}

/** A level that changes: from day `from` of the series up to, not including, `to` it is `inside`, else `outside`. */
export interface LevelFit {
  readonly from: number;
  readonly to: number;
  readonly inside: number;
  readonly outside: number;
  /** of a straight line: per day, about `outside` at the series' middle */
  readonly slope?: number;
}

export interface SeriesVerdict {
  /** the explanation that predicts best, where it beats the simpler ones clearly; else the level */
  readonly kind: 'level' | 'step' | 'spell' | 'line';
  readonly fit: LevelFit;
  /** over the level */
  readonly gain: number;
  /** spread of a day about the best explanation */
  readonly sigma: number;
  /** of the difference of the two levels, or of the level */
  readonly standardError: number;
}

/**
 * One figure a day: has it a level, another one since some day, another one for some days, or does it creep?
 * @param values in order of time
 * @param least  spread of a day that is always there, in the figures' unit
 */
export function judgeSeries(values: readonly number[], least: number): SeriesVerdict | undefined {
  if (values.length < MIN_SIDE) return undefined;
  const days = values.map((_, k) => k);
  const step = stepFit(values, days);
  const residualsOf = (fit: LevelFit) => values.map((value, k) => value - valueAt(fit, k, values.length));
  const absSum = (some: readonly number[]) => some.reduce((sum, one) => sum + Math.abs(one), 0);
  const residuals = [step ?? levelFit(values, days), lineFit(values, days)]
    .flatMap((fit) => (fit ? [residualsOf(fit)] : []))
    .reduce((best, one) => (absSum(one) < absSum(best) ? one : best));
  const sigma = Math.max(least, 1.4826 * percentile(residuals.map(Math.abs), 0.5));
  const loss = (fit: LevelFit, day: number) => huber((values[day]! - valueAt(fit, day, values.length)) / sigma);
  const explain = (name: SeriesVerdict['kind'], fit: (days: readonly number[]) => LevelFit | undefined) =>
    predicted(days, { name, fit, loss });
  const level = explain('level', (some) => levelFit(values, some))!;
  const inflation = serialInflation(residuals);
  const gainOf = (judged: Judged<LevelFit> | undefined, over: Judged<LevelFit>) =>
    judged ? (over.loss - judged.loss) / inflation : -Infinity;
  const stepped = explain('step', (some) => stepFit(values, some));
  const spell = explain('spell', (some) => spellFit(values, some));
  const line = explain('line', (some) => lineFit(values, some));
  let [kind, best] = ['level' as SeriesVerdict['kind'], level];
  if (gainOf(stepped, level) > CLEAR_GAIN) [kind, best] = ['step', stepped!];
  if (gainOf(line, level) > CLEAR_GAIN && gainOf(line, best) > 0) [kind, best] = ['line', line!];
  if (gainOf(spell, level) > CLEAR_GAIN && gainOf(spell, best) > CLEAR_GAIN / 2) [kind, best] = ['spell', spell!];
  const inside = best.fit.to - best.fit.from;
  const outside = values.length - inside;
  const error = inside > 0 && outside > 0 ? Math.sqrt(1 / inside + 1 / outside) : Math.sqrt(1 / values.length);
  return {
    kind,
    fit: best.fit,
    gain: gainOf(best, level),
    sigma,
    standardError: sigma * error * Math.sqrt(inflation),
  };
}

function valueAt({ from, to, inside, outside, slope }: LevelFit, k: number, count: number): number {
  if (slope !== undefined) return outside + slope * (k - (count - 1) / 2);
  return k >= from && k < to ? inside : outside;
}

const median = (values: readonly number[]) => percentile([...values], 0.5);

function levelFit(values: readonly number[], days: readonly number[]): LevelFit {
  return { from: 0, to: 0, inside: Number.NaN, outside: median(days.map((day) => values[day]!)) };
}

function stepFit(values: readonly number[], days: readonly number[]): LevelFit | undefined {
  const own = days.map((day) => values[day]!);
  const spread = spreads(own);
  let best: { at: number; spread: number } | undefined;
  for (let at = MIN_SIDE; at <= own.length - MIN_SIDE; at++) {
    const both = spread(at, own.length);
    if (best === undefined || both < best.spread) best = { at, spread: both };
  }
  if (best === undefined) return undefined;
  return {
    from: days[best.at]!,
    to: values.length,
    inside: median(own.slice(best.at)),
    outside: median(own.slice(0, best.at)),
  };
}

/** Some days in between that stand apart from those before and after. */
function spellFit(values: readonly number[], days: readonly number[]): LevelFit | undefined {
  const own = days.map((day) => values[day]!);
  const spread = spreads(own);
  let best: { from: number; to: number; spread: number } | undefined;
  for (let from = 1; from < own.length - 1; from++)
    for (let to = from + 2; to < own.length; to++) {
      if (own.length - (to - from) < MIN_SIDE) continue;
      const both = spread(from, to);
      if (best === undefined || both < best.spread) best = { from, to, spread: both };
    }
  if (best === undefined) return undefined;
  return {
    from: days[best.from]!,
    to: days[best.to]!,
    inside: median(own.slice(best.from, best.to)),
    outside: median([...own.slice(0, best.from), ...own.slice(best.to)]),
  };
}

function lineFit(values: readonly number[], days: readonly number[]): LevelFit | undefined {
  if (days.length < 2 * MIN_SIDE) return undefined;
  const middle = meanOf(days);
  const level = meanOf(days.map((day) => values[day]!));
  let [rise, run] = [0, 0];
  for (const day of days) {
    rise += (day - middle) * (values[day]! - level);
    run += (day - middle) ** 2;
  }
  const slope = rise / run;
  return { from: 0, to: 0, inside: Number.NaN, outside: level + slope * ((values.length - 1) / 2 - middle), slope };
}

/**
 * Sums of squares of two parts about their means, for any stretch and what is left of it: quick, and what a step is placed by.
 * From sums before each value, taken about the mean of all, so that little is lost to rounding.
 */
function spreads(values: readonly number[]): (from: number, to: number) => number {
  const mean = meanOf(values);
  const sums = new Float64Array(values.length + 1);
  let squares = 0;
  values.forEach((value, k) => {
    sums[k + 1] = sums[k]! + (value - mean);
    squares += (value - mean) ** 2;
  });
  const all = sums[values.length]!;
  return (from, to) => {
    const [inside, count] = [sums[to]! - sums[from]!, to - from];
    return squares - inside ** 2 / count - (all - inside) ** 2 / (values.length - count);
  };
}
