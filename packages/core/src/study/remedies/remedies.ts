import { foodSafeC } from '../../load/index.js';
import type { Coded } from '../../message/index.js';
import {
  type Cable,
  type FridgeLoad,
  type Load,
  middleVehicle,
  type Rig,
  requireSound,
  type ScheduledLoad,
} from '../../rig/index.js';
import {
  assemble,
  OVERLOADS,
  overloads,
  partMemo,
  type Run,
  runOf,
  simulateUnder,
  type Trouble,
} from '../../simulate/index.js';
import { circuits } from '../../wire/index.js';
import { engineMinutesADay } from '../run/engine-a-day.js';
import type { RunRecovery } from '../run/recover.js';
import type { OneMore } from '../stay/stay-types.js';
import { withOneMoreBattery, withOneMorePanel } from '../stay/stay-what-if.js';

/** Arguments of each remedy by its code, in the library's units. */
export interface RemedyArgs {
  /** a fridge set warmer; `isSafe`: food may still stay at that [°C] */
  readonly warmer_fridge: {
    readonly name: string;
    readonly fromC: number;
    readonly toC: number;
    readonly isSafe: boolean;
  };
  /** a load used less: a share of what it was, and hours a day where it has any */
  readonly less_use: { readonly name: string; readonly share: number; readonly fromH?: number; readonly toH?: number };
  /** driving every morning from 10:00, besides the trip's own; Infinity = not even four hours do [min] */
  readonly morning_drive: { readonly minutes: number };
  readonly one_more_panel: OneMore;
  readonly one_more_battery: OneMore;
  /** so many in parallel, for what the loads ask at once */
  readonly batteries_at_once: { readonly count: number };
  readonly larger_inverter: { readonly ratingW: number };
  /** loads that do not run at the same time */
  readonly one_after_other: { readonly names: readonly string[] };
  /** to a fridge */
  readonly thicker_cable: { readonly name: string; readonly sectionMm2: number };
  /** a battery in the cabin instead of outside */
  readonly battery_inside: Readonly<Record<string, never>>;
  /** a heater for the battery, on below this [W, °C] */
  readonly battery_heater: { readonly powerW: number; readonly belowC: number };
}

/** A remedy that was tried on a run, and what it came to. */
export type Remedy = Coded<RemedyArgs> & {
  /** whether none of the troubles it is against is left */
  readonly cures: boolean;
  /** how long those troubles last then, all together [h]; absent = judged without a run */
  readonly hoursLeft?: number;
};

/** What was tried against the troubles of a run that belong together. */
export interface Remedies {
  /** the troubles' codes */
  readonly against: readonly Trouble['code'][];
  /** cheapest first: what costs nothing, then fuel, then parts by their price where it is known */
  readonly tried: readonly Remedy[];
  /** the first that cures; absent = none of them does by itself */
  readonly cure?: Remedy;
  /** of those that do not cure, the one that leaves least; absent where one cures, or none helps */
  readonly closest?: Remedy;
  /** how long the troubles lasted without a remedy [h] */
  readonly hours: number;
}

/** Longer runs are not run again and again [days]. */
export const MAX_REMEDY_DAYS = 31;
/** A fridge is tried warmer by this [K]. */
const WARMER_K = 2;
/** The use of a load is halved so often: known to an eighth. */
const HALVINGS = 3;
/** A usual pad for a house battery, switched on above freezing. Common practice, no source. */
const HEATER = { powerW: 40, belowC: 3 };
/** More batteries than these for what is asked at once are no remedy. */
const MAX_BATTERIES = 4;
/** Each larger inverter may show a start beside another load that the smaller one did not come to. */
const MAX_INVERTERS = 4;

/** Troubles that the same remedies are against. */
const FAMILIES: readonly (readonly Trouble['code'][])[] = [
  ['inverter_overload', 'inverter_surge', 'battery_overload', 'inverter_limit'],
  ['ran_flat', 'cut_off', 'cold_cut_off'],
  ['fridge_off'],
  ['load_off'],
  ['inverter_off'],
  ['too_hot'],
  ['below_floor'],
];

/**
 * What would cure the troubles of a run: a few remedies, each tried by running the rig again under the same conditions. Of a run
 * without bad troubles only a fall below the floor is looked at.
 * @param written the run's
 * @param recovery of the same run, where it is known: it holds what every morning would have taken
 * @returns one entry for each family of troubles that the run has, gravest first; undefined for runs longer than `MAX_REMEDY_DAYS`,
 * which are not run again and again
 * @example
 * ```ts
 * import { readRig, remediesFor, simulate, withoutTrip } from '@stayput/core';
 *
 * const { rig } = readRig(`
 * battery: { chemistry: LFP, capacity: 60 Ah }
 * solar: [{ power: 100 W, mount: bonded }]
 * loads: [{ name: fridge, kind: fridge, volume: 45 L, setpoint: 4 degC }, { name: laptop, power: 60 W, hours: 4 }]
 * `);
 * const run = simulate(rig, withoutTrip({ place: 'Porto', from: '2026-12-03', days: 7 }));
 * for (const { code, level, firstAt, hours } of run.troubles) console.log(code, level, firstAt, hours);
 * for (const { against, cure } of remediesFor(rig, run) ?? []) console.log(against, cure?.code, cure?.args);
 * ```
 */
export function remediesFor(written: Rig, run: Run, recovery?: RunRecovery): Remedies[] | undefined {
  requireSound('remediesFor', 'rig', written);
  const rig = middleVehicle(written);
  if (run.summary.days > MAX_REMEDY_DAYS) return undefined;
  const isBad = run.troubles.some(({ level }) => level === 'bad');
  const families = FAMILIES.filter((family) =>
    run.troubles.some(
      ({ code, level }) =>
        family.includes(code) && (level === 'bad' || OVERLOADS.includes(code) || (code === 'below_floor' && !isBad)),
    ),
  );
  const first = (family: readonly Trouble['code'][]) => run.troubles.findIndex(({ code }) => family.includes(code));
  return families
    .sort((a, b) => first(a) - first(b))
    .map((against) => remediesAgainst(rig, run, against, recovery?.minutesADay));
}

/** How long the troubles of some codes last, all together [h]. */
function hoursOf(troubles: readonly Trouble[], codes: readonly Trouble['code'][]): number {
  return troubles.reduce((sum, { code, hours = 0 }) => sum + (codes.includes(code) ? hours : 0), 0);
}

function remediesAgainst(
  rig: Rig,
  run: Run,
  against: readonly Trouble['code'][],
  minutesADay: number | undefined,
): Remedies {
  const { conditions, summary, troubles } = run;
  const memo = partMemo();
  const follow = (changed: Rig) =>
    changed.cabin.heater?.needsPower
      ? simulateUnder(changed, conditions, summary.startSoc).troubles
      : runOf(assemble(changed, conditions, summary.startSoc, memo)).troubles;
  const judge = (remedy: Coded<RemedyArgs>, left: readonly Trouble[]): Remedy => ({
    ...remedy,
    cures: !left.some(({ code }) => against.includes(code)),
    hoursLeft: hoursOf(left, against),
  });
  const tryIt = (remedy: Coded<RemedyArgs>, changed: Rig) => judge(remedy, follow(changed));
  const has = (...codes: readonly Trouble['code'][]) =>
    troubles.some(({ code }) => codes.includes(code) && against.includes(code));
  const tried: Remedy[] = [];

  if (has('inverter_overload', 'inverter_surge', 'battery_overload', 'inverter_limit'))
    tried.push(...againstOverload(rig, troubles));
  if (has('fridge_off', 'load_off')) tried.push(...thickerCables(rig, troubles, tryIt));
  if (has('inverter_off')) tried.push(...againstCutOut(rig, tryIt));
  if (has('too_hot')) tried.push(...warmerFridges(rig, troubles, tryIt));
  if (has('ran_flat', 'cut_off', 'cold_cut_off', 'below_floor')) {
    tried.push(...warmerFridges(rig, undefined, tryIt).filter(({ args }) => (args as { isSafe: boolean }).isSafe));
    tried.push(...lessUse(rig, run, tryIt));
    if (rig.alternator) tried.push(morningDrive(minutesADay ?? engineMinutesADay(rig, run)));
    if (has('cold_cut_off') || troubles.some(({ code }) => code === 'too_cold_to_charge'))
      tried.push(...warmerBattery(rig, tryIt));
    const parts = [
      ...[withOneMorePanel(rig)].flatMap((more) => (more ? [{ code: 'one_more_panel' as const, ...more }] : [])),
      { code: 'one_more_battery' as const, ...withOneMoreBattery(rig) },
    ].sort((a, b) => (a.price ?? Infinity) - (b.price ?? Infinity) || 0);
    for (const { code, rig: changed, ...args } of parts) tried.push(tryIt({ code, args }, changed));
  }
  const cure = tried.find(({ cures }) => cures);
  const hours = hoursOf(troubles, against);
  const closest = [...tried]
    .filter(({ cures, hoursLeft }) => !cures && hoursLeft !== undefined && hoursLeft < hours)
    .sort((a, b) => a.hoursLeft! - b.hoursLeft!)[0];
  return { against, tried, hours, ...(cure ? { cure } : closest && { closest }) };
}

type Try = (remedy: Coded<RemedyArgs>, changed: Rig) => Remedy;

const withLoads = (rig: Rig, change: (load: Load) => Load): Rig => ({ ...rig, loads: rig.loads.map(change) });

/** Each fridge set warmer; of those in trouble only, where such are given. */
function warmerFridges(rig: Rig, troubles: readonly Trouble[] | undefined, tryIt: Try): Remedy[] {
  const hot = troubles?.flatMap((trouble) => (trouble.code === 'too_hot' ? [trouble.args.name] : []));
  return rig.loads
    .filter(
      (load): load is FridgeLoad => load.kind === 'fridge' && !load.starterSide && (hot?.includes(load.name) ?? true),
    )
    .map((fridge) => {
      const { name, setpointC } = fridge;
      const toC = setpointC + WARMER_K;
      const args = { name, fromC: setpointC, toC, isSafe: toC <= foodSafeC(fridge) };
      return tryIt(
        { code: 'warmer_fridge', args },
        withLoads(rig, (load) => (load === fridge ? { ...fridge, setpointC: toC } : load)),
      );
    });
}

/** The largest load that is no fridge, used as much as does no harm. */
function lessUse(rig: Rig, run: Run, tryIt: Try): Remedy[] {
  const asked = new Map(run.loads.map(({ name, servedWh, unservedWh }) => [name, servedWh + unservedWh]));
  const wh = ({ name }: Load) => asked.get(name) ?? 0;
  const [largest] = rig.loads
    .filter(
      (load): load is ScheduledLoad => load.kind === 'scheduled' && !load.starterSide && !load.critical && wh(load) > 0,
    )
    .sort((a, b) => wh(b) - wh(a));
  if (!largest) return [];
  const at = (share: number) => {
    const { name, hoursPerDay } = largest;
    const hours =
      hoursPerDay === undefined ? {} : { fromH: hoursPerDay * largest.share, toH: hoursPerDay * largest.share * share };
    return tryIt(
      { code: 'less_use', args: { name, share, ...hours } },
      withLoads(rig, (load) => (load === largest ? { ...largest, share: largest.share * share } : load)),
    );
  };
  const none = at(0);
  if (!none.cures) return [none];
  let best = none;
  let does = 0;
  let fails = 1;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = at((does + fails) / 2);
    if (middle.cures) {
      does = (does + fails) / 2;
      best = middle;
    } else fails = (does + fails) / 2;
  }
  return [best];
}

/** Counted against the floor, as in `recoveryOf`: who drives for it wants the battery in order. */
function morningDrive(minutes: number): Remedy {
  return {
    code: 'morning_drive',
    args: { minutes },
    cures: Number.isFinite(minutes),
    ...(Number.isFinite(minutes) && { hoursLeft: 0 }),
  };
}

function warmerBattery(rig: Rig, tryIt: Try): Remedy[] {
  const { battery } = rig;
  return [
    ...(battery.stands === 'cabin'
      ? []
      : [tryIt({ code: 'battery_inside', args: {} }, { ...rig, battery: { ...battery, stands: 'cabin' } })]),
    ...(battery.heater
      ? []
      : [tryIt({ code: 'battery_heater', args: HEATER }, { ...rig, battery: { ...battery, heater: HEATER } })]),
  ];
}

/** A thicker cable to the inverter, or one more battery, which sags less. */
function againstCutOut(rig: Rig, tryIt: Try): Remedy[] {
  const { inverter } = rig;
  const sectionMm2 = circuits(rig).find(({ path }) => path.startsWith('inverter'))?.adviseMm2;
  const { rig: larger, ...args } = withOneMoreBattery(rig);
  return [
    ...(inverter?.cable && sectionMm2 && sectionMm2 > inverter.cable.sectionMm2
      ? [
          tryIt(
            { code: 'thicker_cable', args: { name: 'the inverter', sectionMm2 } },
            { ...rig, inverter: { ...inverter, cable: withSection(inverter.cable, sectionMm2) } },
          ),
        ]
      : []),
    tryIt({ code: 'one_more_battery', args }, larger),
  ];
}

function withSection({ gaugeAwg: _, ...rest }: Cable, sectionMm2: number): Cable {
  return { ...rest, sectionMm2 };
}

/** The cable that the circuit's own rule advises, for each load that its own keeps from running. */
function thickerCables(rig: Rig, troubles: readonly Trouble[], tryIt: Try): Remedy[] {
  const off = troubles.flatMap((trouble) =>
    trouble.code === 'fridge_off' || trouble.code === 'load_off' ? [trouble.args.name] : [],
  );
  const judged = circuits(rig);
  return off.flatMap((name) => {
    const index = rig.loads.findIndex((load) => load.name === name);
    const { cable } = rig.loads[index]!;
    const sectionMm2 = judged.find(({ path }) => path.startsWith(`loads[${index}]`))?.adviseMm2;
    if (!cable || !sectionMm2 || sectionMm2 <= cable.sectionMm2) return [];
    return [
      tryIt(
        { code: 'thicker_cable', args: { name, sectionMm2 } },
        withLoads(rig, (load) => (load.name === name ? { ...load, cable: withSection(cable, sectionMm2) } : load)),
      ),
    ];
  });
}

/** Judged at full power, without a run: see `overloads`. */
function againstOverload(rig: Rig, troubles: readonly Trouble[]): Remedy[] {
  const tried: Remedy[] = [];
  const over = overloads(rig);
  const codesAfter = (changed: Rig) => overloads(changed).map(({ code }) => code);
  for (const code of OVERLOADS) {
    const ones = over.filter((one) => one.code === code);
    const together = ones.find(({ args }) => args.names.length > 1);
    if (together && ones.length === 1)
      tried.push({ code: 'one_after_other', args: { names: together.args.names }, cures: over.length === 1 });
  }
  const { inverter } = rig;
  const isShort = troubles.some(({ code }) => code === 'inverter_limit');
  if (inverter) {
    // Larger ones of the same make, which give as many times their rating for a start.
    const surges = inverter.surgeW / inverter.ratingW;
    let ratingW = inverter.ratingW;
    for (let tries = 0; tries < MAX_INVERTERS; tries++) {
      const left = overloads({ ...rig, inverter: { ...inverter, ratingW, surgeW: surges * ratingW } });
      const neededW = left.map((one) =>
        one.code === 'inverter_overload'
          ? one.args.askedW
          : one.code === 'inverter_surge'
            ? one.args.startW / surges
            : 0,
      );
      const mostW = Math.max(0, ...neededW);
      if (mostW > 0) ratingW = 100 * Math.ceil(mostW / 100 - 1e-9);
      else {
        if (ratingW > inverter.ratingW)
          tried.push({ code: 'larger_inverter', args: { ratingW }, cures: left.length === 0 && !isShort });
        break;
      }
    }
  }
  if (over.some(({ code }) => code === 'battery_overload')) {
    let changed = rig;
    while (changed.battery.count < rig.battery.count + MAX_BATTERIES) {
      changed = withOneMoreBattery(changed).rig;
      const left = codesAfter(changed);
      if (left.includes('battery_overload')) continue;
      tried.push({ code: 'batteries_at_once', args: { count: changed.battery.count }, cures: left.length === 0 });
      break;
    }
  }
  return tried;
}
