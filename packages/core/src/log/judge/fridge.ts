import { meanOf, percentile } from '../../math/index.js';
import type { CompareContext } from '../parts/compare-context.js';
import type { Night } from '../parts/nights.js';
import { CLEAR_GAIN, huber, type Judged, MIN_SIDE, predicted, serialInflation } from './compete.js';
import type { LogFinding } from './finding.js';

/** Scatter of a night about what the fridge should take, as a share of it, at least. */
const NIGHT_SCATTER = 0.08;
/**
 * How far a sound fridge may be from its data sheet by night, as standard errors of the logarithm: its own (doors, food of the
 * evening, tolerance of the sheet), and that of a cabin known in words only [K], for what leaks in goes with the difference to inside.
 * Common practice, no source.
 */
const SHEET_ERROR = 0.13;
const CABIN_K = { told: 2, untold: 4 } as const;
const CABIN_LOGGED_K = 0.7;
/** A sound fridge takes about so much more than its sheet with the door shut: use. Common practice, no source. */
const IN_USE = 1.08;
const Z95 = 1.645;
/** A fridge is accused where its excess is so many standard errors above use: of a thousand sound ones some three would be. */
const SURE_ERRORS = 2.8;
/** A change that matters. */
const MIN_CHANGE = 1.3;
const MIN_NIGHTS = 5;
/** A night without the compressor: less than this of what it should take. */
const OFF_SHARE = 0.25;
/** In a cabin hardly warmer than its inside a fridge need not run [A]. */
const MIN_EXPECTED_A = 0.15;
/** What a listed load that goes by itself may add to a night that is judged [A]. */
const SURE_A = 0.3;
/** Amps all day as watt-hours, at the usual voltage of a battery that is not charged. */
const WH_A_DAY = 24 * 13;
const CUT = 0.25;
/** A wire explains a cut-out where it drops so much [V], and the battery stood so near the sum of both [V]. */
const MIN_DROP_V = 0.3;
const NEAR_V = 0.3;

/** What the fridge takes at night against its data sheet in the same warmth, and the nights in which it did not run at all. */
export function judgeFridge(context: CompareContext, nights: readonly Night[]): LogFinding[] {
  const { rig, steps } = context;
  const isLogged = steps.cabinC.some((c) => !Number.isNaN(c));
  const cabinK = isLogged ? CABIN_LOGGED_K : rig.cabin.offset ? CABIN_K.told : CABIN_K.untold;
  const fridge = rig.loads.find(({ kind, starterSide }) => kind === 'fridge' && !starterSide);
  if (!fridge) return [];
  const path = `loads.${fridge.name}`;
  // where a listed fan or heater may or may not have run all night, the night tells nothing of the fridge
  const told = nights.filter(
    ({ cutShare, listedLowA, listedHighA, isContinuous, floorA, excessA, expectedA }) =>
      cutShare < CUT &&
      !Number.isNaN(excessA) &&
      (isContinuous || listedHighA - listedLowA < SURE_A) &&
      (isContinuous || floorA >= 0) &&
      expectedA >= MIN_EXPECTED_A,
  );
  const isOff = ({ excessA, expectedA }: Night) => expectedA > MIN_EXPECTED_A && excessA < OFF_SHARE * expectedA;
  return [
    ...offFindings(
      context,
      path,
      told.filter(isOff),
      told.filter((night) => !isOff(night)),
    ),
    ...levelFindings(
      path,
      told.filter((night) => !isOff(night)),
      cabinK,
    ),
  ];
}

/** Amps of a night: so many times what the fridge should take, another number since a night, and a heater's part by the cold. */
interface NightFit {
  readonly times: number;
  readonly timesSince?: number;
  readonly from?: number;
  readonly perKelvin?: number;
  readonly belowC?: number;
  /** a thermostat's load is on all the time once it is so much colder [K] */
  readonly upToK?: number;
}

const BELOW_C = [2, 5, 8, 11, 14, 17];
/** The same for a load that is listed: finer, and with a top. */
const HEATS_BELOW_C = Array.from({ length: 18 }, (_, k) => k + 1);
const UP_TO_K = [1.5, 4, Infinity];
const coldK = ({ belowC = 0, upToK = Infinity }: NightFit, outsideC: number) =>
  Math.min(upToK, Math.max(0, belowC - outsideC));
/** A listed heater may burn so many times what is listed for it. */
const MOST_LISTED = 1.5;
/** Cabins warmer than told that are tried [K]. */
const WARMER_K = [0, 2, 4, 6, 8];

/**
 * Explanations of what comes and goes at night: the fridge at one level; the same and a heater or another user that goes with the
 * cold; the fridge at another level since some night; both.
 */
function levelFindings(path: string, given: readonly Night[], cabinK: number): LogFinding[] {
  if (given.length < MIN_NIGHTS) return [];
  const warmer = WARMER_K.filter((moreK) => moreK === 0 || cabinK > CABIN_LOGGED_K);
  const tried = warmer.map((moreK) => explained(inWarmer(given, moreK)));
  const scatterA = Math.max(0.02, Math.min(...tried.map((one) => one.scatterA)));
  // a cabin warmer than told is an explanation too, the less likely the warmer
  const { fit, isStep, sigma, nights } = bestOf(
    tried,
    ({ offA, moreK }) => offA / scatterA + 0.5 * (moreK / cabinK) ** 2,
  )!;
  const findings: LogFinding[] = [];
  const before = isStep ? nights.slice(0, fit.from) : nights;
  const meanA = meanOf(before.map(({ expectedA }) => expectedA));
  const { ownTimes, besideError } = besideHeater(before, fit, sigma);
  const error = Math.hypot(
    besideError,
    SHEET_ERROR,
    cabinK / Math.max(1, meanOf(before.map(({ aboveK }) => aboveK))),
    sigma / meanA / Math.sqrt(before.length),
  );
  const own = Math.log(ownTimes);
  if (own - Math.log(IN_USE) > SURE_ERRORS * error)
    findings.push({
      code: 'fridge_high',
      level: 'caution',
      path,
      confidence: own - Math.log(IN_USE) > 1.5 * SURE_ERRORS * error ? 'high' : 'fair',
      size: { value: ownTimes, low: Math.exp(own - Z95 * error), high: Math.exp(own + Z95 * error), unit: '' },
      since: nights[0]!.date,
      args: {
        times: ownTimes,
        nights: before.length,
        tookWh: WH_A_DAY * ownTimes * meanA,
        shouldWh: WH_A_DAY * meanA,
      },
    });
  const times = isStep ? fit.timesSince! / fit.times : 1;
  if (isStep && times > MIN_CHANGE) {
    const after = nights.slice(fit.from);
    const isContinuous = after.filter((night) => night.isContinuous).length > 0.6 * after.length;
    const half =
      Z95 *
      Math.hypot(
        0.1,
        (sigma / meanOf(before.map(({ expectedA }) => expectedA))) * Math.sqrt(1 / before.length + 1 / after.length),
      );
    findings.push({
      code: isContinuous ? 'fridge_without_pause' : 'fridge_climbing',
      level: 'caution',
      path,
      confidence: after.length >= 4 ? 'high' : 'fair',
      size: { value: times, low: times * Math.exp(-half), high: times * Math.exp(half), unit: '' },
      since: after[0]!.date,
      args: {
        times,
        nightsBefore: before.length,
        nightsSince: after.length,
        beforeA: meanOf(before.map(({ excessA }) => excessA)),
        sinceA: meanOf(after.map(({ excessA }) => excessA)),
      },
    });
  }
  return findings;
}

/**
 * How many times its share the fridge takes by itself, where a listed load without hours (a heater) may have run as well: every
 * way in which that load may go with the cold, or not, weighs by how well it fits; what they differ by is an error of its own.
 */
function besideHeater(nights: readonly Night[], fit: NightFit, sigma: number) {
  const byItselfA = meanOf(nights.map((night) => night.byItselfA));
  if (!(byItselfA > 0)) return { ownTimes: fit.times, besideError: 0 };
  const days = nights.map((_, k) => k);
  const expectedA = meanOf(nights.map((night) => night.expectedA));
  const coldFits = HEATS_BELOW_C.flatMap((belowC) =>
    UP_TO_K.flatMap((upToK) => coldFit(nights, days, { belowC, upToK }, 0) ?? []),
  ).filter(
    (way) => meanOf(nights.map(({ outsideC }) => way.perKelvin! * coldK(way, outsideC))) < MOST_LISTED * byItselfA,
  );
  const level = timesOf(nights, days);
  const constants = [0, 0.5, 1].map((share) => ({
    times: level - (share * byItselfA) / expectedA,
    addedA: share * byItselfA,
  }));
  const ways: (NightFit & { readonly addedA: number })[] = [
    ...coldFits.map((way) => ({ ...way, addedA: 0 })),
    ...constants,
  ];
  const offs = ways.map((way) =>
    nights.map(
      ({ excessA, expectedA: ownA, outsideC }) =>
        excessA - way.times * ownA - way.addedA - (way.perKelvin ?? 0) * coldK(way, outsideC),
    ),
  );
  const losses = offs.map((one) => one.reduce((sum, off) => sum + huber(off / sigma), 0));
  const least = Math.min(...losses);
  const inflation = serialInflation(offs[losses.indexOf(least)]!);
  const weights = losses.map((loss) => Math.exp((least - loss) / inflation));
  const all = weights.reduce((sum, one) => sum + one, 0);
  const logs = ways.map(({ times }) => Math.log(Math.max(0.1, times)));
  const mean = logs.reduce((sum, log, k) => sum + weights[k]! * log, 0) / all;
  const spread = Math.sqrt(logs.reduce((sum, log, k) => sum + weights[k]! * (log - mean) ** 2, 0) / all);
  return { ownTimes: Math.exp(mean), besideError: spread };
}

/** The nights with the cabin so much warmer than told: what leaks into a fridge goes with the difference to its inside. */
const inWarmer = (nights: readonly Night[], moreK: number) => ({
  moreK,
  nights: nights.map((night) => ({
    ...night,
    expectedA: night.expectedA * ((Math.max(1, night.aboveK) + moreK) / Math.max(1, night.aboveK)),
  })),
});

/** The explanation that predicts these nights best, and whether its step beats all that is innocent. */
function explained({ nights, moreK }: ReturnType<typeof inWarmer>) {
  const days = nights.map((_, k) => k);
  const at = (fit: NightFit, { expectedA, outsideC }: Night, k: number) =>
    expectedA * (fit.from !== undefined && k >= fit.from ? fit.timesSince! : fit.times) +
    (fit.perKelvin ?? 0) * coldK(fit, outsideC);
  const offs = (fit: NightFit, some: readonly number[]) => some.map((k) => nights[k]!.excessA - at(fit, nights[k]!, k));
  const fitLevel = (some: readonly number[]): NightFit => ({ times: timesOf(nights, some) });
  const fitCold = (some: readonly number[]): NightFit | undefined =>
    bestOf(
      BELOW_C.flatMap((belowC) => coldFit(nights, some, { belowC }) ?? []),
      (fit) => absSum(offs(fit, some)),
    );
  const fitStep = (some: readonly number[]): NightFit | undefined => stepFit(nights, some, (k) => nights[k]!.excessA);
  const fitBoth = (some: readonly number[]): NightFit | undefined => {
    const cold = fitCold(some);
    if (!cold) return undefined;
    const part = (k: number) => cold.perKelvin! * coldK(cold, nights[k]!.outsideC);
    const step = stepFit(nights, some, (k) => nights[k]!.excessA - part(k));
    return step && { ...cold, ...step };
  };
  const rich = fitBoth(days) ?? fitStep(days) ?? fitLevel(days);
  const sigma = Math.max(NIGHT_SCATTER * meanOf(nights.map(({ expectedA }) => expectedA)), spread(offs(rich, days)));
  const loss = (fit: NightFit, k: number) => huber((nights[k]!.excessA - at(fit, nights[k]!, k)) / sigma);
  const judged = (name: string, fit: (some: readonly number[]) => NightFit | undefined) =>
    predicted(days, { name, fit, loss });
  const level = judged('level', fitLevel)!;
  const cold = judged('cold', fitCold);
  const inflation = serialInflation(offs(rich, days));
  let best: Judged<NightFit> = level;
  for (const one of [cold, judged('step', fitStep), judged('both', fitBoth)])
    if (one && (best.loss - one.loss) / inflation > (best === level ? CLEAR_GAIN / 2 : CLEAR_GAIN)) best = one;
  const innocent = cold && cold.loss < level.loss ? cold : level;
  const isStep = best.fit.from !== undefined && (innocent.loss - best.loss) / inflation > CLEAR_GAIN;
  const chosen = isStep || best.fit.from === undefined ? best : innocent;
  const [offA, scatterA] = [absSum(offs(chosen.fit, days)), spread(offs(rich, days))];
  return { nights, moreK, isStep, sigma, fit: chosen.fit, offA, scatterA };
}

/** Median of what was taken over what should be. */
const timesOf = (nights: readonly Night[], some: readonly number[], excessOf = (k: number) => nights[k]!.excessA) =>
  percentile(
    some.map((k) => excessOf(k) / Math.max(MIN_EXPECTED_A, nights[k]!.expectedA)),
    0.5,
  );

/** Least squares of fridge and cold together; undefined where too few nights are that cold, or it would be negative. */
function coldFit(
  nights: readonly Night[],
  some: readonly number[],
  below: Pick<NightFit, 'belowC' | 'upToK'>,
  least = MIN_SIDE,
): NightFit[] | undefined {
  const cold = (k: number) => coldK({ times: 1, ...below }, nights[k]!.outsideC);
  if (some.filter((k) => cold(k) > 0).length < least || some.filter((k) => cold(k) === 0).length < least)
    return undefined;
  let [ee, ec, cc, ey, cy] = [0, 0, 0, 0, 0];
  for (const k of some) {
    const { expectedA, excessA } = nights[k]!;
    ee += expectedA * expectedA;
    ec += expectedA * cold(k);
    cc += cold(k) ** 2;
    ey += expectedA * excessA;
    cy += cold(k) * excessA;
  }
  const determinant = ee * cc - ec * ec;
  if (!(determinant > 1e-6 * ee * cc)) return undefined;
  const times = (ey * cc - cy * ec) / determinant;
  const perKelvin = (cy * ee - ey * ec) / determinant;
  return times > 0 && perKelvin > 0 ? [{ times, perKelvin, ...below }] : undefined;
}

function stepFit(
  nights: readonly Night[],
  some: readonly number[],
  excessOf: (k: number) => number,
): NightFit | undefined {
  return bestOf(
    some.slice(MIN_SIDE, -MIN_SIDE + 1 || undefined).map((from): NightFit => {
      const [early, late] = [some.filter((k) => k < from), some.filter((k) => k >= from)];
      return { times: timesOf(nights, early, excessOf), timesSince: timesOf(nights, late, excessOf), from };
    }),
    ({ times, timesSince, from }) =>
      absSum(some.map((k) => excessOf(k) - nights[k]!.expectedA * (k >= from! ? timesSince! : times))),
  );
}

function bestOf<One>(all: readonly One[], costOf: (one: One) => number): One | undefined {
  let best: { one: One; cost: number } | undefined;
  for (const one of all) {
    const cost = costOf(one);
    if (best === undefined || cost < best.cost) best = { one, cost };
  }
  return best?.one;
}

const absSum = (values: readonly number[]) => values.reduce((sum, value) => sum + Math.abs(value), 0);
/**
 * Standard deviation of residuals about zero by their mean size: nights hold a run of the compressor more or less, so that they
 * cluster about two values, of which a median sees one.
 */
const spread = (values: readonly number[]) => Math.sqrt(Math.PI / 2) * meanOf(values.map(Math.abs));

/** Nights without the compressor: by a cut-out that sees less than the battery has, or for another reason. */
function offFindings(
  { rig, assembled, dates }: CompareContext,
  path: string,
  off: readonly Night[],
  running: readonly Night[],
): LogFinding[] {
  if (off.length < 2) return [];
  const lane = assembled.fridges[0]!;
  const { load, ohm } = lane;
  const runW = meanOf(lane.columns.electricW);
  const dropV = (runW / load.cutOutV) * ohm;
  const sees = load.cutOutV + dropV;
  const nearBy = off.filter(({ lowestBeforeV }) => lowestBeforeV < sees + NEAR_V);
  const { disconnect } = rig.battery;
  const emptyV = disconnect.kind === 'voltage' ? disconnect.voltageV : load.cutOutV;
  const since = dates[Math.max(0, off[0]!.day - 1)]!;
  const evenings = off.map(({ day }) => dates[Math.max(0, day - 1)]!);
  const isWire =
    dropV >= MIN_DROP_V &&
    nearBy.length >= 0.75 * off.length &&
    off.filter(({ lowestBeforeV }) => lowestBeforeV > emptyV + NEAR_V).length >= 0.5 * off.length &&
    running.filter(
      ({ lowestBeforeV }) =>
        lowestBeforeV <
        percentile(
          off.map((one) => one.lowestBeforeV),
          0.5,
        ) -
          0.05,
    ).length <=
      0.25 * running.length;
  if (isWire)
    return [
      {
        code: 'fridge_wire',
        level: 'caution',
        path: `${path}.cable`,
        confidence: off.length >= 3 ? 'high' : 'fair',
        size: { value: dropV, low: 0.85 * dropV, high: 1.25 * dropV, unit: 'V' },
        since,
        args: {
          dropV,
          cutOutV: load.cutOutV,
          nights: off.length,
          evenings,
          batteryV: percentile(
            off.map(({ lowestBeforeV }) => lowestBeforeV),
            0.5,
          ),
        },
      },
    ];
  return [
    {
      code: 'fridge_off',
      level: 'note',
      path,
      confidence: 'fair',
      since,
      args: { nights: off.length, evenings },
    },
  ];
}
