import { inverterCoefficients, inverterInputW } from '../../load/index.js';
import {
  finish,
  finishInSlices,
  HOUR_MS,
  latinHypercube,
  percentile,
  percentilesOf,
  seededStream,
  type Task,
} from '../../math/index.js';
import { isoLocal, stopPlace, zonedDate } from '../../place/index.js';
import { type Rig, requireSound, someVehicles, type VehicleDraw, vehicleOf } from '../../rig/index.js';
import {
  type Assembled,
  assemble,
  assembleTask,
  type Conditions,
  DEFAULT_SEED,
  type Memo,
  type OwnLoad,
  partMemo,
  weatherYearsTask,
  whenDriven,
} from '../../simulate/index.js';
import { clearSkyColumns, monthlyTurbidity } from '../../sky/index.js';
import { STATED_AXES, statedDraw } from '../ensemble/prior.js';
import { type Course, follow, type Room, roomFor, type Way, wayOf } from '../run/course.js';
import { requireStop, type StudyStop, stopTrip } from '../run/weather-cases.js';
import { chargeAfter } from './battery-reading.js';
import { driveNeeded } from './drive.js';
import { cheapestFirst, IDLE_INVERTER, kindOf, loadCosts } from './load-costs.js';
import { skyKwhM2 } from './sky-days.js';
import { floorStep, paidBackStep, spareWh } from './spare.js';
import type {
  ExtraUse,
  LoadCost,
  PlannedSpan,
  SkyTaken,
  SwitchOff,
  TonightFinding,
  TonightOptions,
  TonightStudy,
} from './tonight-types.js';

/** Against five minutes the answers move by some watt-hours (tests/core/study/tonight.test.ts). */
const STEP_H = 1 / 3;
const DAYS = 3;
const MEMBERS = 48;
const CHANCE = 0.9;
/** Looked at beyond the days that are given, for the sun to pay the night back. */
const DAYS_AFTER = 2;
const BAND_H = 48;
/** A reading that leaves more of the charge open than this is said to. */
const WIDE = 0.25;

/**
 * What can be used from now on. Some tens of ways in which it may go are followed: the state of charge as far as the battery's reading tells
 * it, the light of the days that are given and then the climate's, and a vehicle drawn from what is not known of it. See `TonightStudy` for
 * what is answered.
 * Pure: same rig, stop and options, same result on each machine.
 * @throws ConfigError when the place is not known or the reading cannot be of that battery
 * @throws RangeError for an option out of its documented range
 * @example
 * ```ts
 * import { readRig, readTonight, tonightStudy } from '@stayput/core';
 *
 * const { rig } = readRig(`
 * battery: { chemistry: LFP, capacity: 100 Ah }
 * solar: [{ power: 100 W }]
 * loads: [{ name: fridge, kind: fridge, volume: 30 L, setpoint: 5 degC }]
 * `);
 * const porto = { place: 'Porto' };
 * const said = readTonight({ now: '2026-10-10 18:00', soc: '43 %', sky: 'dull, dull, fair' }, rig, porto, Date.now());
 * const { spareWh, floorAt } = tonightStudy(rig, porto, { ...said, members: 16 });
 * console.log(`to spare: ${spareWh.p50.toFixed(0)} Wh; floor at: ${floorAt}`);
 * ```
 */
export function tonightStudy(rig: Rig, stop: StudyStop, options: TonightOptions): TonightStudy {
  return finish(tonightTask(rig, stop, options), options.signal);
}

/**
 * The same in slices, between which the event loop turns.
 * @throws the reason of `options.signal` once that is aborted, beside what `tonightStudy` throws
 */
export async function tonightStudyAsync(rig: Rig, stop: StudyStop, options: TonightOptions): Promise<TonightStudy> {
  return finishInSlices(tonightTask(rig, stop, options), options.signal);
}

function* tonightTask(written: Rig, stop: StudyStop, options: TonightOptions): Task<TonightStudy> {
  requireSound('tonightStudy', 'rig', written);
  requireStop('tonightStudy', stop);
  const { nowMs, battery, sky = [], chance = CHANCE, seed = DEFAULT_SEED, stepH = STEP_H } = options;
  const { neverBelow = written.battery.floor, members = MEMBERS, days = DAYS } = options;
  refuseOutOfRange(options, { neverBelow, members, days, chance });
  const rig: Rig = { ...written, battery: { ...written.battery, floor: neverBelow } };
  const place = stopPlace(stop);
  const today = zonedDate(nowMs, place.zone);
  const dayCount = sky.length > 0 ? sky.length : days;

  const trip = stopTrip(stop, today, dayCount + 1 + DAYS_AFTER, { kind: 'climate' });
  const known = new Map<string, readonly number[]>();
  const years = yield* weatherYearsTask(rig, trip, {
    stepH,
    seed,
    knownClearness: (date, year) => known.get(date)?.[year],
    ownLoads: (options.use ?? []).map((use, k) => extraLoad(rig, use, k)),
  });
  const { itinerary, sun } = years;
  const { grid } = itinerary;
  const stepMs = grid.stepH * HOUR_MS;
  const from = Math.min(grid.steps - 1, Math.max(0, Math.round((nowMs - grid.startMs) / stepMs)));
  const solarHour = (((nowMs / HOUR_MS + place.lonDeg / 15) % 24) + 24) % 24;
  const firstDay = sky.length > 0 && solarHour < 12 ? 0 : 1;
  const lastDay = itinerary.days[firstDay + dayCount - 1]!;
  const upTo = Math.round((lastDay.endMs - grid.startMs) / stepMs) - from;

  const vehicles = rig.ensemble && someVehicles(rig.ensemble, members);
  const drawn = latinHypercube(members, STATED_AXES + 1 + sky.length, seededStream(seed));
  const clear = clearDays(
    place,
    { cosZenith: sun.cosZenith, extraNormalWm2: sun.extraNormalWm2, azimuthDeg: sun.azimuthDeg },
    grid,
  );
  const taken = sky.map((said, k): SkyTaken => {
    const { date } = itinerary.days[firstDay + k]!;
    const { clearKwhM2, outsideKwhM2 } = clear.get(date) ?? { clearKwhM2: 0, outsideKwhM2: 0 };
    const kwh = (share: number) => skyKwhM2(said, clearKwhM2, share);
    if (outsideKwhM2 > 0)
      known.set(
        date,
        drawn.map((row) => kwh(row[STATED_AXES + 1 + k]!) / outsideKwhM2),
      );
    return { date, said, lowKwhM2: kwh(0.1), highKwhM2: kwh(0.9), clearKwhM2 };
  });

  let chargeBy: ((share: number) => number) | undefined;
  const ways: Followed[] = [];
  let room: Room | undefined;
  let notes: Conditions['notes'] = [];
  for (let k = 0; k < members; k++) {
    const conditions = planned(yield* years.yearTask(k), options);
    if (k === 0) notes = conditions.notes;
    const vehicle: VehicleDraw = vehicles ? vehicles[k % vehicles.length]! : statedDraw(rig, drawn[k]!);
    const memo = partMemo();
    const assembled = yield* assembleTask(vehicleOf(rig, vehicle), conditions, 1, memo);
    chargeBy ??= chargeAfter(assembled.model, battery, assembled.batteryC[from]!);
    const way = wayOf(assembled, chargeBy(drawn[k]![STATED_AXES]!), from);
    room ??= roomFor(assembled);
    const course = follow(way, room);
    const paid = paidBackStep(way, course);
    ways.push({ way, memo, course, paid, costs: loadCosts(way, room, paid ?? upTo) });
    yield;
  }
  const last = grid.steps - from;
  const one = room!;
  const spare = ways.map(({ way, course, paid }) => spareWh(way, one, course, paid ?? last));
  yield;
  const spareAtEnd = ways.map(({ way, course }) => spareWh(way, one, course, upTo));
  yield;
  const floors = ways.map(({ way, course }) => floorStep(way, course, upTo));
  const at = (step: number | undefined) =>
    step === undefined ? null : isoLocal(grid.startMs + (from + step) * stepMs, itinerary.days);
  const keeps = floors.filter((step) => step === undefined).length / members;
  const loads = costsOf(rig, ways);
  const holds = keeps >= chance - 1e-9;
  const earliest = ranked(floors, 1 - chance);
  yield;
  const drive = holds
    ? undefined
    : driveNeeded({
        rig,
        room: one,
        failing: half(ways.map(({ way }, k) => ({ way, floor: floors[k] }))).flatMap(({ way, floor }) =>
          floor === undefined ? [] : way,
        ),
        mayFail: Math.floor((1 - chance) * half(ways).length + 1e-9),
        again: (way, engine, conditions) => {
          const { memo } = ways.find((one) => one.way === way)!;
          const { assembled } = way;
          const other: Rig = { ...assembled.rig, ...(engine.alternator && { alternator: engine.alternator }) };
          return wayOf(assemble(other, conditions, 1, whenDriven(memo, other)), way.startSoc, from);
        },
        floorFrom: earliest ?? upTo,
        upTo,
      });
  yield;
  const switchOff = holds ? [] : yield* switchedOff(ways, loads, { upTo, chance });
  const paidSteps = ways.map(({ paid }) => paid);
  return {
    place,
    now: isoLocal(grid.startMs + from * stepMs, itinerary.days),
    end: isoLocal(lastDay.endMs, itinerary.days),
    days: dayCount,
    members,
    chance,
    floor: neverBelow,
    soc: percentilesOf(ways.map(({ way }) => way.startSoc)),
    sky: taken,
    spareWh: percentilesOf(spare),
    spareAtEndWh: percentilesOf(spareAtEnd),
    spareAtChanceWh: percentile(spare, 1 - chance),
    spareAtEndAtChanceWh: percentile(spareAtEnd, 1 - chance),
    paidBackAt: at(ranked(paidSteps, 0.5)),
    paidBackAtChance: at(ranked(paidSteps, chance)),
    keeps,
    floorAt: at(ranked(floors, 0.5)),
    floorAtEarliest: at(earliest),
    loads,
    switchOff,
    drive: drive ?? null,
    band: bandOf(ways, from, Math.min(last, Math.round(BAND_H / grid.stepH)), itinerary),
    findings: findingsOf(rig, battery.kind, ways, {
      upTo,
      firstDay,
      sky: sky.length,
      isDay: sun.cosZenith[from]! > 0,
      daysFollowed: itinerary.days.length - 1,
    }),
    notes,
  };
}

interface Followed {
  readonly way: Way;
  readonly memo: Memo;
  readonly course: Course;
  /** the step at whose end the sun has paid a night back */
  readonly paid: number | undefined;
  /** of each load until then [Wh] */
  readonly costs: ReadonlyMap<string, number>;
}

function refuseOutOfRange(
  { nowMs, battery, sky }: TonightOptions,
  { neverBelow, members, days, chance }: { neverBelow: number; members: number; days: number; chance: number },
): void {
  const refuse = (what: string) => {
    throw new RangeError(what);
  };
  if (!Number.isFinite(nowMs)) refuse(`nowMs must be an instant in ms, got ${nowMs}`);
  if (
    battery?.kind === 'soc'
      ? !(battery.soc >= 0 && battery.soc <= 1)
      : !Number.isFinite(battery?.voltageV + battery?.currentA)
  )
    refuse('battery must be { kind: soc, soc: 0 to 1 } or { kind: voltage, voltageV, currentA }');
  if (!(neverBelow >= 0 && neverBelow < 1)) refuse(`neverBelow must be 0 to less than 1, got ${neverBelow}`);
  if (!(Number.isInteger(members) && members >= 8 && members <= 1000))
    refuse(`members must be 8 to 1000, got ${members}`);
  if (!(Number.isInteger(days) && days >= 1 && days <= 14)) refuse(`days must be 1 to 14, got ${days}`);
  if (sky && sky.length > 14) refuse(`sky holds 14 days at most, got ${sky.length}`);
  if (!(chance > 0.5 && chance < 1)) refuse(`chance must be above 0.5 and below 1, got ${chance}`);
}

/** Drives and mains as they are planned. */
function planned(conditions: Conditions, { drives = [], mains = [] }: TonightOptions): Conditions {
  const { itinerary, grid } = conditions;
  const withSpans = (column: Float64Array, spans: readonly PlannedSpan[]) =>
    spans.length === 0
      ? column
      : column.map((share, i) =>
          Math.min(
            1,
            share +
              spans.reduce((sum, span) => sum + sharedBy(span, grid.startMs + i * grid.stepH * HOUR_MS, grid.stepH), 0),
          ),
        );
  return {
    ...conditions,
    itinerary: {
      ...itinerary,
      driving: withSpans(itinerary.driving, drives),
      mains: withSpans(itinerary.mains, mains),
    },
  };
}

/** Share of a step that a span covers. */
function sharedBy({ fromMs, hours }: PlannedSpan, stepMs: number, stepH: number): number {
  const startH = (fromMs - stepMs) / HOUR_MS;
  return Math.max(0, Math.min(stepH, startH + hours) - Math.max(0, startH)) / stepH;
}

/** As the bus feels it: behind an inverter with the inverter's loss, its standby too where it is not on anyhow. */
function extraLoad({ inverter, loads }: Rig, use: ExtraUse, k: number): OwnLoad {
  const { name, powerW } = use;
  const busW =
    use.inverter && inverter
      ? inverterInputW(inverter, powerW) - (inverter.on === 'always' ? inverterCoefficients(inverter).p0W : 0)
      : powerW;
  const unique = loads.some((load) => load.name === name) ? `${name} (planned${k > 0 ? ` ${k + 1}` : ''})` : name;
  return { name: unique, powerW: ({ timeMs, stepH }) => busW * sharedBy(use, timeMs - (stepH / 2) * HOUR_MS, stepH) };
}

/** Light of a clear sky, and outside the atmosphere, by local civil date, as long as the sun of a date is on the grid [kWh/m²]. */
function clearDays(
  place: { latDeg: number; lonDeg: number; elevationM: number },
  sun: Parameters<typeof clearSkyColumns>[0],
  grid: Conditions['grid'],
): Map<string, { clearKwhM2: number; outsideKwhM2: number }> {
  const { ghiWm2 } = clearSkyColumns(sun, place.elevationM, monthlyTurbidity(place.latDeg, place.elevationM), grid);
  const days = new Map<string, { clearKwhM2: number; outsideKwhM2: number }>();
  for (let i = 0; i < grid.steps; i++) {
    const outsideWm2 = Math.max(0, sun.cosZenith[i]!) * sun.extraNormalWm2[i]!;
    if (!(outsideWm2 > 0)) continue;
    const solarMs = grid.startMs + ((i + 0.5) * grid.stepH + place.lonDeg / 15) * HOUR_MS;
    const date = new Date(solarMs).toISOString().slice(0, 10);
    const day = days.get(date) ?? { clearKwhM2: 0, outsideKwhM2: 0 };
    day.clearKwhM2 += (ghiWm2[i]! * grid.stepH) / 1000;
    day.outsideKwhM2 += (outsideWm2 * grid.stepH) / 1000;
    days.set(date, day);
  }
  return days;
}

function costsOf(rig: Rig, ways: readonly Followed[]): LoadCost[] {
  const costs = new Map<string, number[]>();
  for (const way of ways) for (const [name, wh] of way.costs) costs.set(name, [...(costs.get(name) ?? []), wh]);
  return [...costs]
    .map(([name, wh]): LoadCost => ({ name, costWh: percentile(wh, 0.5), kind: kindOf(rig, name) }))
    .filter(({ costWh }) => costWh > 0.05)
    .toSorted((a, b) => b.costWh - a.costWh);
}

/** Half of the ways in mirrored pairs of weather years, for what is followed again and again. */
const half = <T>(ways: readonly T[]): T[] => ways.filter((_, k) => k % 4 < 2);

/** What is done without from now on, one after the other, until the floor holds. */
function* switchedOff(
  ways: readonly Followed[],
  loads: readonly LoadCost[],
  { upTo, chance }: { upTo: number; chance: number },
): Task<SwitchOff[]> {
  const off = new Set<string>();
  const steps: SwitchOff[] = [];
  for (const { name, costWh, kind } of cheapestFirst(loads)) {
    if (kind === 'planned' || (kind === 'idle' && ways[0]!.way.assembled.rig.inverter?.on !== 'always')) continue;
    off.add(name);
    let room: Room | undefined; // fewer fridges need less
    const after = half(ways).map(({ way, memo }) => {
      const { assembled } = way;
      const other = wayOf(assemble(without(assembled.rig, off), assembled.conditions, 1, memo), way.startSoc, way.from);
      room ??= roomFor(other.assembled);
      return spareWh(other, room, follow(other, room, undefined, upTo), upTo);
    });
    yield;
    const spareAtEndWh = percentile(after, 1 - chance);
    steps.push({ name, savesWh: costWh, spareAtEndWh });
    if (spareAtEndWh >= 0) break;
  }
  return steps;
}

/** The rig without some of its loads; the inverter is off while nothing runs behind it, where that is among them. */
function without({ inverter, ...rig }: Rig, off: ReadonlySet<string>): Rig {
  const loads = rig.loads.filter((load) => !off.has(load.name));
  const isNeeded = loads.some((load) => load.kind !== 'fridge' && load.inverter);
  const switched = off.has(IDLE_INVERTER) ? 'with loads' : inverter?.on;
  return { ...rig, loads, ...(inverter && switched && isNeeded && { inverter: { ...inverter, on: switched } }) };
}

function bandOf(
  ways: readonly Followed[],
  from: number,
  steps: number,
  { grid, days }: Assembled['conditions']['itinerary'],
): TonightStudy['band'] {
  const at = (share: number) =>
    Array.from({ length: steps + 1 }, (_, i) =>
      percentile(
        ways.map(({ course }) => Math.max(0, course.soc[i]!)),
        share,
      ),
    );
  const stepMs = grid.stepH * HOUR_MS;
  const fromMs = grid.startMs + from * stepMs;
  return {
    fromMs,
    stepH: grid.stepH,
    p10: at(0.1),
    p50: at(0.5),
    p90: at(0.9),
    midnights: days
      .map(({ date, startMs }) => ({ date, step: Math.round((startMs - fromMs) / stepMs) }))
      .filter(({ step }) => step > 0 && step <= steps),
  };
}

function findingsOf(
  { battery: { chemistry, floor } }: Rig,
  read: 'soc' | 'voltage',
  ways: readonly Followed[],
  {
    upTo,
    firstDay,
    sky,
    isDay,
    daysFollowed,
  }: { upTo: number; firstDay: number; sky: number; isDay: boolean; daysFollowed: number },
): TonightFinding[] {
  const soc = percentilesOf(ways.map(({ way }) => way.startSoc));
  const unpaid = ways.filter(({ paid }) => paid === undefined).length / ways.length;
  const cut = ways.filter(({ course }) => course.unservedWh[upTo]! > 1).length / ways.length;
  return [
    ...(soc.p90 - soc.p10 > WIDE
      ? [
          {
            code: 'charge_is_wide',
            args: { low: soc.p10, high: soc.p90, plateau: read === 'voltage' && chemistry === 'LFP' },
          } as const,
        ]
      : []),
    ...(soc.p50 < floor ? [{ code: 'below_floor_now', args: { soc: soc.p50, floor } } as const] : []),
    ...(unpaid > 0.1 ? [{ code: 'not_paid_back', args: { share: unpaid, days: daysFollowed } } as const] : []),
    ...(cut > 0.05 ? [{ code: 'cut_before_end', args: { share: cut } } as const] : []),
    ...(isDay && sky > 0 && firstDay === 1 ? [{ code: 'rest_of_today', args: {} } as const] : []),
  ];
}

/** The step by which a share of the ways have come so far; undefined where fewer ever do. */
function ranked(steps: readonly (number | undefined)[], share: number): number | undefined {
  const sorted = steps.map((step) => step ?? Infinity).toSorted((a, b) => a - b);
  const step = sorted[Math.max(0, Math.ceil(share * steps.length - 1e-9) - 1)]!;
  return step === Infinity ? undefined : step;
}
