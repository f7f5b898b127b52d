import { finish, finishInSlices, type Task } from '../../math/index.js';
import { option } from '../../message/index.js';
import {
  ConfigError,
  middleOf,
  type PartsList,
  type Rig,
  requireSound,
  type Trip,
  vehicleOf,
} from '../../rig/index.js';
import {
  checkRig,
  climateOf,
  DEFAULT_STEP_H,
  overloads,
  type WeatherYears,
  weatherSeriesOf,
  weatherYearsTask,
} from '../../simulate/index.js';
import { DEFAULT_WEATHER_YEARS, MAX_WEATHER_YEARS, type TripYear, tripYears } from '../run/weather-cases.js';
import { bindingLimits } from './size-limits.js';
import { brokenLimits, type Combination, limitsOf, picksOf } from './size-list.js';
import { loadFactorOf } from './size-margin.js';
import { rigWith } from './size-rig.js';
import { type Followed, Runner, type SizeRun, Target } from './size-runs.js';
import { dominatorOf, search } from './size-search.js';
import { partsOn, spreadTask } from './size-spread.js';
import {
  type BindingLimit,
  type LostChoice,
  SIZE_MARKS,
  type SizeCase,
  type SizeChoice,
  type SizeMargin,
  type SizeMark,
  type SizeOptions,
  type SizeResult,
} from './size-types.js';
import { dominatedText, hopelessText, overLimitText, overloadText, worstOf } from './size-words.js';
import { worksheetOf } from './size-worksheet.js';
import { SizeYear } from './size-year.js';

/** All weather years stay in memory while choices are run through them: about 400 bytes a step. */
const MAX_STEPS = 1.6e6;

/**
 * A choice that misses the target and lacks power for more of the time than this leaves is not worth weighing.
 * 95 % is what the curves of SAND87-7023 size loads for that matter little, 99 % critical ones (Messenger & Ventre, from
 * memory).
 */
const MIN_AVAILABILITY = 0.95;

/**
 * Which of the parts that could be bought serve the rig's loads through the weather: every combination within the list's
 * limits is run through each weather year of each case, or shown to be beaten without that. Gives the front of mass, price
 * and reliability, the lightest, the cheapest and the most reliable that meet the list's target, why each other loses, how
 * much more load the best would carry, and the hand worksheet of the handbooks beside them.
 *
 * What the list offers of a kind replaces all the rig has of it: its batteries the battery, its panels all arrays (none is
 * a choice too), its chargers the one on the alternator (or none). Loads, wires, inverter, cabin stay.
 * Of a rig with an ensemble the vehicle in its middle chooses, and the others give the spread of the marked choices.
 * Exact over the list: see `search`. Pure: same input, same result.
 * @throws ConfigError for a list, trip or weather that does not serve
 * @throws RangeError for an option out of its documented range
 * @example
 * ```ts
 * import { readParts, readRig, readTrip, sizeStudy } from '@stayput/core';
 *
 * const { rig } = readRig(`
 * battery: { chemistry: LFP, capacity: 50 Ah }
 * loads: [{ name: fan, power: 15 W, when: sunset to sunrise }]
 * `);
 * const { parts } = readParts(`
 * batteries: [{ name: LFP 50, chemistry: LFP, capacity: 50 Ah, mass: 5.9 kg, price: 230 }]
 * panels: [{ name: flexible 110, power: 110 W, mass: 2.2 kg, price: 160 }]
 * limits: { batteries: 2, panels: 2 }
 * `);
 * const { trip } = readTrip('stops: [{ place: Porto, from: 2026-06-01, nights: 14 }]');
 * const { choices, meets } = sizeStudy(rig, parts, [trip], { years: 2 });
 * console.log(meets, choices.map(({ massKg, unservedHoursYear, marks }) => ({ massKg, unservedHoursYear, marks })));
 * ```
 */
export function sizeStudy(
  rig: Rig,
  parts: PartsList,
  cases: readonly SizeCase[],
  options: SizeOptions = {},
): SizeResult {
  return finish(sizeTask(rig, parts, cases, options), options.signal);
}

/**
 * The same in slices, between which the event loop turns: a page stays alive meanwhile, and an abort is heard.
 * @throws the reason of `options.signal` once that is aborted, beside what `sizeStudy` throws
 */
export async function sizeStudyAsync(
  rig: Rig,
  parts: PartsList,
  cases: readonly SizeCase[],
  options: SizeOptions = {},
): Promise<SizeResult> {
  return finishInSlices(sizeTask(rig, parts, cases, options), options.signal);
}

function* sizeTask(
  written: Rig,
  listed: PartsList,
  cases: readonly SizeCase[],
  options: SizeOptions,
): Task<SizeResult> {
  requireSound('sizeStudy', 'rig', written);
  requireSound('sizeStudy', 'parts', listed);
  const { ensemble } = written;
  const middle = ensemble && middleOf(ensemble);
  const rig = middle ? vehicleOf(written, middle) : written;
  const parts = middle ? partsOn(listed, rig, middle) : listed;
  for (const trip of cases) requireSound('sizeStudy', 'trip', trip);
  const { onProgress = () => {} } = options;
  if (cases.length === 0) throw new RangeError('a sizing needs at least one case');
  const limits = limitsOf(parts);
  const all = picksOf(rig, parts, limits);
  const { years, notes, places } = yield* yearsOf(rig, cases, options);
  const weatherCount = years.length / cases.length;
  const { target } = parts;
  const runner = new Runner(
    rig,
    parts,
    years,
    new Target(target.unservedHours, cases.length, weatherCount, target.years),
  );

  const affordable = all.filter(({ bill }) => brokenLimits(bill, limits, parts).length === 0);
  // A mean over a step hides the burst that a battery cannot feed, so that is judged apart: such a bank serves only where all do no better.
  const tooWeak = new Map(affordable.map((one) => [one, overloadingLoad(rigWith(rig, parts, one))]));
  const strong = affordable.filter((one) => tooWeak.get(one) === undefined);
  const within = strong.length > 0 ? strong : affordable;
  const canMeet = strong.length > 0;
  const searched = (maxHours: number) =>
    search(runner, within, {
      maxHours,
      exhaustive: options.exhaustive ?? false,
      onDone: (done) => onProgress({ stage: 'choices', done, total: within.length }),
    });
  let madeBefore = 0;
  let found = yield* searched((1 - MIN_AVAILABILITY) * runner.totalHours);
  if (found.whole.length === 0) {
    // All are farBelowTarget: then the least so are what there is to tell.
    madeBefore = runner.made;
    found = yield* searched(Infinity);
  }
  const { whole, beaten, farBelowTarget } = found;
  const runs = { made: runner.made - madeBefore, all: within.length * years.length };

  const dominators = whole.map((one) => dominatorOf(one, whole));
  const marks = canMeet ? marksOf(whole) : new Map<Followed, SizeMark[]>();
  const marked = [...marks.keys()];
  const spreads =
    ensemble &&
    (yield* spreadTask(
      written,
      ensemble,
      listed,
      years,
      runner.target,
      marked.map(({ combination }) => combination),
    ));
  const choices = whole.map((one, k) => {
    const spread = spreads?.[marked.indexOf(one)];
    const choice = {
      ...choiceOf(one, marks.get(one) ?? [], dominators[k], years, cases),
      ...(spread && { spread }),
    };
    return canMeet ? choice : { ...choice, meets: false };
  });
  const lost: LostChoice[] = [
    ...beaten.map(
      ({ followed, by }): LostChoice => ({
        ...followed.combination.bill,
        reason: 'dominated',
        why: dominatedText(followed, by, years),
        ...(followed.hours > 0 && { atLeastUnservedHoursYear: followed.hours / years.length }),
      }),
    ),
    ...farBelowTarget.map(
      (followed): LostChoice => ({
        ...followed.combination.bill,
        reason: 'farBelowTarget',
        why: hopelessText(followed, years),
        atLeastUnservedHoursYear: followed.hours / years.length,
      }),
    ),
    ...affordable
      .filter((one) => !within.includes(one))
      .map((one): LostChoice => ({ ...one.bill, reason: 'overload', why: overloadText(tooWeak.get(one)!) })),
    ...all
      .filter(({ bill }) => brokenLimits(bill, limits, parts).length > 0)
      .map(({ bill }): LostChoice => ({ ...bill, reason: 'limit', why: overLimitText(bill, limits, parts) })),
  ];
  const meets = canMeet && whole.some((one) => one.meets);
  const lightest = whole.find((one) => marks.get(one)?.includes('lightest'));
  const smaller = lightest && (yield* smallerOf(lightest, within, runner));
  const nearest = meets || whole.length === 0 ? undefined : yield* nearestOf(whole, choices, runner);
  const ours = (['batteries', 'panels'] as const).filter(
    (kind) => parts.limits[kind] === undefined && parts[kind].length > 0,
  );
  return {
    choices,
    lost,
    weatherYears: weatherCount,
    target,
    limits,
    meets,
    ...(!canMeet && affordable.length > 0 && { tooStrongLoad: tooWeak.get(affordable[0]!)! }),
    margins: yield* marginsOf(whole, choices, runner, (done, total) => onProgress({ stage: 'margins', done, total })),
    ...(smaller && { smaller: choiceOf(smaller, [], lightest, years, cases) }),
    ...(nearest && { nearest }),
    binding: meets || !canMeet ? [] : yield* bindingOf(rig, parts, runner, onProgress),
    worksheet: worksheetOf(
      rig,
      parts,
      years.map(({ year }) => year),
      options.autonomyDays,
    ),
    places,
    notes: [
      ...notes,
      ...ours.map((kind) => `the list sets no limit on the number of ${kind}: up to ${limits[kind]} were tried`),
      ...(parts.chargers.length > 0 && !rig.alternator
        ? ['the rig has no alternator, so the chargers of the list were left out']
        : []),
    ],
    runs,
  };
}

/** The load that this rig's battery cannot feed at its full power, by itself. */
function overloadingLoad(rig: Rig): string | undefined {
  return overloads(rig).find(({ code, args: { names } }) => code === 'battery_overload' && names.length === 1)?.args
    .names[0];
}

function* yearsOf(
  rig: Rig,
  cases: readonly SizeCase[],
  options: SizeOptions,
): Task<{ years: SizeRun[]; notes: string[]; places: string[] }> {
  const { years: asked, stepH = DEFAULT_STEP_H, onProgress = () => {} } = options;
  if (asked !== undefined && !(Number.isInteger(asked) && asked >= 1 && asked <= MAX_WEATHER_YEARS))
    throw new RangeError(`years must be a whole number from 1 to ${MAX_WEATHER_YEARS}, got ${asked}`);
  const { weatherFile, seed, ownLoads } = options;
  const isMade = cases.some(({ weather }) => weather.kind === 'climate');
  const series = weatherFile ? weatherSeriesOf(weatherFile) : [];
  const held = cases.map((trip): (TripYear | { readonly trip: SizeCase })[] => {
    if (trip.weather.kind !== 'file' || !weatherFile) return [{ trip }];
    return tripYears(trip, series).slice(0, asked);
  });
  const count = isMade ? (asked ?? DEFAULT_WEATHER_YEARS) : Math.min(...held.map(({ length }) => length));
  refuseTooMany(cases, count, stepH);
  const years: SizeRun[] = [];
  const notes = new Set<string>();
  const places = new Set<string>();
  for (const [caseIndex, trip] of cases.entries()) {
    const laid: WeatherYears[] = [];
    for (const one of held[caseIndex]!)
      laid.push(
        yield* weatherYearsTask(
          rig,
          one.trip,
          {
            stepH,
            ...(weatherFile && { weatherFile }),
            ...(seed !== undefined && { seed }),
            ...(ownLoads && { ownLoads }),
          },
          'series' in one ? one.series : undefined,
        ),
      );
    for (const leg of laid[0]!.itinerary.legs) {
      places.add(leg.place.name);
      if (trip.weather.kind !== 'file') notes.add(climateOf(leg, rig).note);
    }
    for (let yearIndex = 0; yearIndex < count; yearIndex++) {
      const conditions = yield* isMade ? laid[0]!.yearTask(yearIndex) : laid[yearIndex]!.yearTask(0);
      years.push({ caseIndex, yearIndex, year: new SizeYear(rig, conditions), startSoc: trip.startSoc });
      yield;
      onProgress({ stage: 'weather', done: years.length, total: count * cases.length });
    }
  }
  return { years, notes: [...notes], places: [...places] };
}

function refuseTooMany(cases: readonly Trip[], years: number, stepH: number): void {
  const days = cases.reduce((sum, { stops }) => sum + stops.reduce((nights, stop) => nights + stop.nights, 0), 0);
  if ((days * years * 24) / stepH <= MAX_STEPS) return;
  throw new ConfigError([
    {
      code: 'too_many',
      path: 'years',
      option: option('years'),
      message: `${years} weather years of ${days} days are too many for a step of ${Math.round(stepH * 60)} min`,
      hint: 'take fewer years, fewer days, or a longer step such as an hour',
    },
  ]);
}

function marksOf(whole: readonly Followed[]): Map<Followed, SizeMark[]> {
  const marks = new Map<Followed, SizeMark[]>();
  const meeting = whole.filter((one) => one.meets);
  if (meeting.length === 0) return marks;
  const keys: Record<SizeMark, (one: Followed) => number[]> = {
    lightest: ({ combination: { bill }, hours }) => [bill.massKg, bill.price, hours],
    cheapest: ({ combination: { bill }, hours }) => [bill.price, bill.massKg, hours],
    'most reliable': ({ combination: { bill }, hours, failed }) => [hours, failed, bill.massKg, bill.price],
  };
  for (const mark of SIZE_MARKS) {
    const best = meeting.reduce((a, b) => (isBefore(keys[mark](b), keys[mark](a)) ? b : a));
    marks.set(best, [...(marks.get(best) ?? []), mark]);
  }
  return marks;
}

function isBefore(a: readonly number[], b: readonly number[]): boolean {
  const at = a.findIndex((value, k) => value !== b[k]);
  return at >= 0 && a[at]! < b[at]!;
}

function choiceOf(
  one: Followed,
  marks: readonly SizeMark[],
  dominator: Followed | undefined,
  runs: readonly SizeRun[],
  cases: readonly SizeCase[],
): SizeChoice {
  const { shortages } = one;
  const worst = worstOf(one, runs);
  return {
    ...one.combination.bill,
    unservedHoursYear: one.hours / runs.length,
    nightsWithout: shortages.reduce((sum, shortage) => sum + shortage!.nights, 0),
    yearsMet: runs.length / cases.length - one.failed,
    meets: one.meets,
    ...(worst && {
      worst: { year: worst.year, case: cases[runs[worst.at]!.caseIndex]!.name, unservedHours: worst.hours },
    }),
    lowestSoc: Math.min(...shortages.map((shortage) => shortage!.lowestSoc)),
    onFront: dominator === undefined,
    marks,
    ...(dominator && { why: dominatedText(one, dominator, runs) }),
  };
}

function* marginsOf(
  whole: readonly Followed[],
  choices: readonly SizeChoice[],
  runner: Runner,
  onDone: (done: number, total: number) => void,
): Task<SizeMargin[]> {
  const marked = choices.flatMap((choice, k) => (choice.marks.length > 0 ? [{ choice, one: whole[k]! }] : []));
  const margins: SizeMargin[] = [];
  for (const [k, { choice, one }] of marked.entries()) {
    const variant = runner.variant(one.combination);
    const { factor, isAtLeast } = yield* loadFactorOf(runner, variant, true);
    const findings = checkRig(variant.rig).filter(({ level }) => level !== 'note');
    onDone(k + 1, marked.length);
    margins.push({ parts: choice.parts, marks: choice.marks, loadFactor: factor, isAtLeast, findings });
  }
  return margins;
}

/** With the same panels and charger, the largest battery of the list that is smaller; run to its end. */
function* smallerOf(than: Followed, within: readonly Combination[], runner: Runner): Task<Followed | undefined> {
  const same = ({ panels, charger }: Combination) => JSON.stringify([panels, charger]);
  const key = same(than.combination);
  const { batteryAh } = than.combination.bill;
  const next = within
    .filter(
      (one) => same(one) === key && one.bill.batteryAh < batteryAh && one.bill.massKg <= than.combination.bill.massKg,
    )
    .reduce<Combination | undefined>((a, b) => (!a || b.bill.batteryAh > a.bill.batteryAh ? b : a), undefined);
  return next && (yield* search(runner, [next], { maxHours: Infinity, exhaustive: true })).whole[0];
}

function* nearestOf(
  whole: readonly Followed[],
  choices: readonly SizeChoice[],
  runner: Runner,
): Task<SizeResult['nearest']> {
  const key = ({ failed, hours, combination: { bill } }: Followed) => [failed, hours, bill.massKg, bill.price];
  const one = whole.reduce((a, b) => (isBefore(key(b), key(a)) ? b : a));
  const { factor } = yield* loadFactorOf(runner, runner.variant(one.combination), false);
  return { choice: choices[whole.indexOf(one)]!, loadFactor: factor };
}

function* bindingOf(
  rig: Rig,
  parts: PartsList,
  runner: Runner,
  onProgress: NonNullable<SizeOptions['onProgress']>,
): Task<BindingLimit[]> {
  const total = Object.keys(limitsOf(parts)).length;
  return yield* bindingLimits(rig, parts, runner, (done) => onProgress({ stage: 'limits', done, total }));
}
