import {
  finish,
  finishInSlices,
  latinHypercube,
  normal,
  normalQuantile,
  percentile,
  type RandomStream,
  seededStream,
  type Task,
  type TaskOptions,
} from '../../math/index.js';
import { addDays, daysBetween } from '../../place/index.js';
import { ConfigError, type Readings, type Rig, requireSound, VEHICLE_KEYS, type VehicleDraw } from '../../rig/index.js';
import { requireStop, type StudyStop } from '../../study/index.js';
import { refuseImpossible } from './impossible.js';
import { type Observed, observe } from './observe.js';
import { populationTask } from './population.js';
import { drawOf } from './prior.js';
import { type Followed, likelihoodOf, type Response, responseOf } from './response.js';
import { isFull, LEAD_DAYS, type Shown, VehicleRuns } from './vehicle-runs.js';

/** How readings are held against vehicles. */
export interface ReadingsOptions extends TaskOptions {
  /** vehicles of the ensemble, 50 to 5000; 1000 unless given */
  readonly members?: number;
  readonly seed?: number;
}

/** What may lie between low and high, 9 times in 10. */
export interface Told {
  readonly name: (typeof VEHICLE_KEYS)[number] | 'loadWhPerDay' | 'solarWhPerDay';
  /** the middle, and the ends, before and after the readings */
  readonly before: { readonly low: number; readonly middle: number; readonly high: number };
  readonly after: { readonly low: number; readonly middle: number; readonly high: number };
  /** width after over width before; near 1 the readings say nothing about it */
  readonly width: number;
}

/** A further reading, and what share of the spread of loads and harvest it would take away. */
export interface NextReading {
  readonly what:
    | 'used in all'
    | 'solar in all'
    | 'days full'
    | 'lowest charge'
    | 'charge on one morning'
    | 'charge on one evening';
  readonly narrows: number;
}

/** The same vehicles with twice the battery, over the same days: middles of the ensemble. */
export interface TwiceTheBattery {
  /** from the sun, a day [Wh] */
  readonly solarWhPerDay: readonly [asIs: number, twice: number];
  readonly fullDays: readonly [asIs: number, twice: number];
  readonly lowest: readonly [asIs: number, twice: number];
  /** share of the vehicles that ever had their loads cut off */
  readonly cut: readonly [asIs: number, twice: number];
}

/** What `calibrateReadings` gives. */
export interface ReadingsCalibration {
  readonly from: string;
  readonly days: number;
  readonly readings: number;
  readonly told: readonly Told[];
  /** what is most at odds with the rig even so: paths of readings that no vehicle comes near */
  readonly unexplained: readonly string[];
  /** best first */
  readonly next: readonly NextReading[];
  readonly twice: TwiceTheBattery;
  /** equally likely vehicles, for the studies that take an ensemble */
  readonly ensemble: readonly VehicleDraw[];
}

const MEMBERS = 1000;
const SEED = 1;
/** Weather years among which the vehicles' are drawn, in mirrored pairs. */
const YEARS = 12;
const MAX_DAYS = 400;
const TWICE_TRIED = 120;
const TWICE_LOOKED_AT = 30;
/** A reading further off than this in the best of vehicles is not explained [standard deviations]. */
const TOO_FAR = 3.3;

/**
 * What a few readings tell of a vehicle: many are drawn from what it may be, each is followed over the days of the readings in some
 * weather of the place's climate, and what is likely after the readings is drawn from (see `likelihoodOf`, `populationTask`). It is taken as parked, without
 * engine and mains.
 * Pure: same rig, readings and options, same result on each machine.
 * @throws ConfigError for readings that no vehicle could show, or that exclude each other
 * @throws RangeError for an option out of its documented range
 */
export function calibrateReadings(
  rig: Rig,
  readings: Readings,
  stop: StudyStop,
  options: ReadingsOptions = {},
): ReadingsCalibration {
  return finish(readingsTask(rig, readings, stop, options), options.signal);
}

/** The same in slices, between which the event loop turns. @throws the signal's reason once it is aborted */
export async function calibrateReadingsAsync(
  rig: Rig,
  readings: Readings,
  stop: StudyStop,
  options: ReadingsOptions = {},
): Promise<ReadingsCalibration> {
  return finishInSlices(readingsTask(rig, readings, stop, options), options.signal);
}

/** Followed in each wave: the first over all that a vehicle may be, the others where the readings are likely. */
const WAVES = [220, 160, 160, 160];
/** Draws from which the next wave is taken. */
const BETWEEN = 400;
/** A wave is this much wider than what is likely, so that its ends are inside. */
const WIDER = 1.3;

function* readingsTask(
  rig: Rig,
  readings: Readings,
  stop: StudyStop,
  options: ReadingsOptions,
): Task<ReadingsCalibration> {
  requireSound('calibrateReadings', 'rig', rig);
  requireStop('calibrateReadings', stop);
  const { members = MEMBERS, seed = SEED } = options;
  if (!(Number.isInteger(members) && members >= 50 && members <= 5000))
    throw new RangeError(`members must be 50 to 5000, got ${members}`);
  refuseImpossible(readings, rig);
  const { from, days } = spanOf(readings);
  const runs = new VehicleRuns(rig, stop, addDays(from, -LEAD_DAYS), LEAD_DAYS + days, seed);
  yield;
  const observed = observe(readings, rig, runs.dates);
  const [read, sd] = [observed.map(({ value }) => value), observed.map((one) => one.sd)];
  const candidates = furtherReadings(readings);
  const quantities = [...observed, ...DAILY, ...candidates];
  const stream = seededStream(seed, 7);
  const axes = VEHICLE_KEYS.length;

  let draws: readonly (readonly number[])[] = latinHypercube(WAVES[0]!, axes, stream).map((row) =>
    row.map(normalQuantile),
  );
  const before = draws;
  let response: Response | undefined;
  let firstWave: readonly Followed[] = [];
  for (const [wave, size] of WAVES.entries()) {
    const followed: Followed[] = [];
    for (const scores of wave === 0 ? draws : widened(draws, size, stream)) {
      const shown = runs.shown(drawOf(rig, scores), followed.length % YEARS);
      followed.push({ scores, values: quantities.map(({ of }) => of(shown)) });
      if (followed.length % 20 === 0) yield;
    }
    if (wave === 0) firstWave = followed;
    response = responseOf(followed);
    const isLast = wave === WAVES.length - 1;
    draws = yield* populationTask(isLast ? members : BETWEEN, axes, stream, likelihoodOf(response, read, sd));
  }
  const { mean, scatter } = response!;
  const expected = draws.map(mean);
  yield;
  const unexplained = observed.flatMap(({ path, value }, k) => {
    const nearest = expected.reduce(
      (best, one) => (Math.abs(one[k]! - value) < Math.abs(best - value) ? one[k]! : best),
      Infinity,
    );
    const isFar = Math.abs(nearest - value) > TOO_FAR * Math.hypot(sd[k]!, Math.sqrt(scatter[k]![k]!));
    return isFar ? [path] : [];
  });
  const told = [
    ...VEHICLE_KEYS.map((name) => {
      const value = (scores: readonly number[]) => drawOf(rig, scores)[name];
      return toldOf(name, before.map(value), draws.map(value));
    }),
    ...DAILY.map(({ name }, k) => {
      const at = observed.length + k;
      return toldOf(
        name,
        firstWave.map(({ values }) => values[at]!),
        expected.map((one) => one[at]!),
      );
    }),
  ];
  return {
    from,
    days,
    readings: observed.length,
    told,
    unexplained,
    next: nextReadings(rig, draws, candidates, (k) => {
      const at = observed.length + DAILY.length + k;
      return { values: expected.map((one) => one[at]!), scatter: scatter[at]![at]! };
    }),
    twice: yield* twiceTask(runs, rig, draws, observed),
    ensemble: draws.map((scores) => drawOf(rig, scores)),
  };
}

/** Draws moved about by what their spread lacks of the wider one. */
function widened(draws: readonly (readonly number[])[], size: number, stream: RandomStream): number[][] {
  const axes = draws[0]!.length;
  const spread = Array.from({ length: axes }, (_, axis) => {
    const column = draws.map((scores) => scores[axis]!);
    const mean = column.reduce((a, b) => a + b, 0) / column.length;
    return Math.sqrt(column.reduce((sum, one) => sum + (one - mean) ** 2, 0) / column.length);
  });
  const extra = Math.sqrt(WIDER ** 2 - 1);
  return Array.from({ length: size }, (_, k) =>
    draws[Math.floor((k * draws.length) / size)]!.map(
      (score, axis) => score + extra * Math.max(0.15, spread[axis]!) * normal(stream),
    ),
  );
}

/** All days that readings touch. */
function spanOf({ totals, days, moments }: Readings): { from: string; days: number } {
  const firsts = [
    ...totals.map(({ from }) => from),
    ...days.map(({ date }) => date),
    ...moments.map(({ date }) => date),
  ];
  const ends = [
    ...totals.map((one) => addDays(one.from, one.days)),
    ...[...days, ...moments].map(({ date }) => addDays(date, 1)),
  ];
  const from = firsts.reduce((a, b) => (b < a ? b : a));
  const count = daysBetween(
    from,
    ends.reduce((a, b) => (b > a ? b : a)),
  );
  if (count > MAX_DAYS)
    throw new ConfigError([
      {
        code: 'out_of_range',
        path: '',
        message: `the readings span ${count} days; at most ${MAX_DAYS} are followed`,
        hint: 'leave out the older ones',
      },
    ]);
  return { from, days: count };
}

const meanOf = (column: Float64Array) =>
  column.subarray(LEAD_DAYS).reduce((a, b) => a + b, 0) / (column.length - LEAD_DAYS);

const DAILY = [
  { name: 'loadWhPerDay', of: ({ usedWh }: Shown) => meanOf(usedWh) },
  { name: 'solarWhPerDay', of: ({ solarWh }: Shown) => meanOf(solarWh) },
] as const;

function toldOf(name: Told['name'], before: readonly number[], after: readonly number[]): Told {
  const interval = (values: readonly number[]) => ({
    low: percentile(values, 0.05),
    middle: percentile(values, 0.5),
    high: percentile(values, 0.95),
  });
  const [wide, now] = [interval(before), interval(after)];
  return {
    name,
    before: wide,
    after: now,
    width: wide.high > wide.low ? (now.high - now.low) / (wide.high - wide.low) : 1,
  };
}

interface Candidate {
  readonly what: NextReading['what'];
  readonly of: (shown: Shown) => number;
  /** of the reading itself, at such a value */
  readonly sdOf: (value: number) => number;
}

/** What could be read besides. */
function furtherReadings({ totals }: Readings): Candidate[] {
  const has = (key: 'used' | 'solar' | 'full' | 'lowest') => totals.some((one) => one[key] !== undefined);
  const sum = (column: Float64Array) => column.subarray(LEAD_DAYS).reduce((a, b) => a + b, 0);
  const middle = (shown: Shown, hour: number) =>
    shown.soc[24 * Math.floor((LEAD_DAYS + shown.lowest.length) / 2) + hour]!;
  const all: (Candidate & { isNew: boolean })[] = [
    { what: 'used in all', isNew: !has('used'), of: ({ usedWh }) => sum(usedWh), sdOf: (wh) => 0.03 * wh },
    { what: 'solar in all', isNew: !has('solar'), of: ({ solarWh }) => sum(solarWh), sdOf: (wh) => 0.03 * wh },
    { what: 'days full', isNew: !has('full'), of: ({ highest }) => fullDays(highest), sdOf: () => 1.5 },
    { what: 'lowest charge', isNew: !has('lowest'), of: ({ lowest }) => lowestOf(lowest), sdOf: () => 0.03 },
    { what: 'charge on one morning', isNew: true, of: (shown) => middle(shown, 7), sdOf: () => 0.03 },
    { what: 'charge on one evening', isNew: true, of: (shown) => middle(shown, 18), sdOf: () => 0.03 },
  ];
  return all.filter(({ isNew }) => isNew);
}

const fullDays = (highest: Float64Array) =>
  highest.subarray(LEAD_DAYS).reduce((n, high) => n + (isFull(high) ? 1 : 0), 0);
const lowestOf = (lowest: Float64Array) => lowest.subarray(LEAD_DAYS).reduce((a, b) => Math.min(a, b), 1);

/**
 * What further readings would tell: the share of the spread of loads and harvest that each explains, beside its own noise and the weather's
 * (the expected fall of a variance, linear and normal; Raiffa & Schlaifer, Applied Statistical Decision Theory, 1961).
 */
function nextReadings(
  rig: Rig,
  draws: readonly (readonly number[])[],
  candidates: readonly Candidate[],
  expected: (k: number) => { values: readonly number[]; scatter: number },
): NextReading[] {
  const covariance = (a: readonly number[], b: readonly number[]) => {
    const [meanA, meanB] = [a, b].map((all) => all.reduce((x, y) => x + y, 0) / all.length);
    return a.reduce((sum, one, k) => sum + (one - meanA!) * (b[k]! - meanB!), 0) / a.length;
  };
  const wanted = (['loads', 'harvest'] as const).map((name) =>
    draws.map((scores) => Math.log(drawOf(rig, scores)[name])),
  );
  return candidates
    .map(({ what, sdOf }, k) => {
      const { values, scatter } = expected(k);
      const variance = covariance(values, values) + scatter + sdOf(percentile(values, 0.5)) ** 2;
      const shares = wanted.map(
        (other) => covariance(values, other) ** 2 / Math.max(1e-12, covariance(other, other) * variance),
      );
      return { what, narrows: Math.min(1, shares.reduce((a, b) => a + b, 0) / shares.length) };
    })
    .toSorted((a, b) => b.narrows - a.narrows);
}

/** Vehicles, each in its weather, that show most nearly what was read, and the same with twice the battery. */
function* twiceTask(
  runs: VehicleRuns,
  rig: Rig,
  draws: readonly (readonly number[])[],
  observed: readonly Observed[],
): Task<TwiceTheBattery> {
  const tried: { draw: VehicleDraw; year: number; shown: Shown; off: number }[] = [];
  for (let k = 0; k < TWICE_TRIED; k++) {
    const draw = drawOf(rig, draws[Math.floor((k * draws.length) / TWICE_TRIED)]!);
    const shown = runs.shown(draw, k % YEARS);
    const off = observed.reduce((sum, { value, sd, of }) => sum + ((of(shown) - value) / sd) ** 2, 0);
    tried.push({ draw, year: k % YEARS, shown, off });
    if (k % 10 === 0) yield;
  }
  const nearest = tried.toSorted((a, b) => a.off - b.off).slice(0, TWICE_LOOKED_AT);
  const asIs = nearest.map(({ shown }) => shown);
  const twice = nearest.map(({ draw, year }) => runs.shown({ ...draw, capacity: 2 * draw.capacity }, year));
  const both = (of: (shown: Shown) => number): readonly [number, number] => [
    percentile(asIs.map(of), 0.5),
    percentile(twice.map(of), 0.5),
  ];
  const share = (all: readonly Shown[]) =>
    all.filter(({ cuts }) => cuts.subarray(LEAD_DAYS).some((one) => one > 0)).length / all.length;
  return {
    solarWhPerDay: both(({ solarWh }) => meanOf(solarWh)),
    fullDays: both(({ highest }) => fullDays(highest)),
    lowest: both(({ lowest }) => lowestOf(lowest)),
    cut: [share(asIs), share(twice)],
  };
}
