import { demandedHours, FREEZES_C, foodSafeC } from '../../load/index.js';
import { HOUR_MS } from '../../math/index.js';
import { isoLocal } from '../../place/index.js';
import type { Rig } from '../../rig/index.js';
import type { Assembled } from '../inputs/assemble.js';
import type { HeavyLane } from '../inputs/assemble-loads.js';
import { type Overload, overloads } from '../inputs/overload.js';
import type { Ledger, LoadLedger } from '../ledger/ledger.js';
import { LIMIT_COLD, type LoopOutput } from '../loop/loop.js';
import type { LoadRow, Summary, Trouble, TroubleArgs } from '../types.js';
import { FLOOR_TOLERANCE, FULL_SOC, shownSoc } from './summarise.js';

/** Less than this is rounding, not a load that went without [W]. */
const NOTHING_W = 0.01;
/** Cut off with more charge than this above floor and disconnect, the battery was not empty: something else did it. */
const NOT_EMPTY = 0.03;
/** A fridge that would have to run this share of the time to stay at its set point is at its limit. */
export const AT_ITS_LIMIT = 0.98;
/** Charge refused in the cold counts when it is more than this share of what the battery holds. */
const REFUSED_SHARE = 0.01;
/** Colder by less than this a heated cabin is not called cold [K]. */
export const NOT_WARM_K = 0.5;
/** Warmer by less than this is rounding [K]. */
const SAME_K = 0.01;

/** Troubles that are known from the rig, whatever a run shows of them. */
export const OVERLOADS: readonly Trouble['code'][] = ['inverter_overload', 'inverter_surge', 'battery_overload'];

/** Which troubles make a run a bad one, rather than one to be careful with. */
const BAD: readonly Trouble['code'][] = [
  'ran_flat',
  'cut_off',
  'cold_cut_off',
  'fridge_off',
  'inverter_off',
  'load_off',
  'inverter_limit',
  'too_hot',
];

/**
 * What went wrong in a run, each by its cause with its first time and its duration, gravest first: overloads that are certain,
 * then what left loads without power or food warm, by how long it did; overloads if loads overlap that may; what is to be careful with.
 */
export function troublesOf(
  assembled: Assembled,
  out: LoopOutput,
  ledger: Ledger,
  summary: Summary,
  loads: readonly LoadRow[],
): Trouble[] {
  const found = [
    ...overloadTroubles(assembled, out, ledger, loads),
    ...fridgeTroubles(assembled, out, ledger),
    ...heavyTroubles(assembled, out, ledger),
    ...coldTroubles(assembled, out, ledger),
    ...belowFloor(assembled, out, summary),
  ];
  const weight = (trouble: Trouble) => {
    const { level, hours = 0 } = trouble;
    if (isOverload(trouble)) return isCertain(trouble) ? 4e9 : 2e9;
    return (level === 'bad' ? 3e9 : 0) + hours;
  };
  return found.sort((a, b) => weight(b) - weight(a));
}

const isOverload = ({ code }: Trouble) => OVERLOADS.includes(code);
/** Of one load by itself, or seen in the run; others happen if loads that may overlap do. */
const isCertain = ({ args, firstMs }: Trouble) => firstMs !== undefined || ('names' in args && args.names.length === 1);

/** The first of the steps in question, and how long they last. */
class Span {
  private first = -1;
  private steps = 0;

  constructor(private readonly assembled: Assembled) {}

  add(step: number, share = 1): void {
    if (!(share > 0)) return;
    if (this.first < 0) this.first = step;
    this.steps += share;
  }

  get isEmpty(): boolean {
    return this.first < 0;
  }

  get when(): Pick<Trouble, 'firstMs' | 'firstAt' | 'hours'> {
    const { grid, itinerary } = this.assembled.conditions;
    const firstMs = grid.startMs + Math.round(this.first * grid.stepH * HOUR_MS);
    return { firstMs, firstAt: isoLocal(firstMs, itinerary.days), hours: this.steps * grid.stepH };
  }
}

function trouble<Code extends Trouble['code']>(
  code: Code,
  args: TroubleArgs[Code],
  when: Pick<Trouble, 'firstMs' | 'firstAt' | 'hours'> = {},
  level: Trouble['level'] = BAD.includes(code) ? 'bad' : 'careful',
): Trouble {
  return { code, level, args, ...when } as Trouble;
}

/** The loads that some power was asked for: what never runs in this run overloads nothing. */
export function overloadsIn({ rig }: { readonly rig: Rig }, loads: readonly LoadRow[]): Overload[] {
  const asked = new Set(loads.filter((load) => load.servedWh + load.unservedWh > 0).map(({ name }) => name));
  return overloads({ ...rig, loads: rig.loads.filter(({ name }) => asked.has(name)) });
}

/** Loads cut off with the battery, by what cut it, and loads that the inverter is too small for; with what is too much for both. */
function overloadTroubles(assembled: Assembled, out: LoopOutput, ledger: Ledger, loads: readonly LoadRow[]): Trouble[] {
  const { rig, input, batteryC } = assembled;
  const { steps, stepH } = input;
  const { soc, onShare } = out;
  const over = overloadsIn(assembled, loads);
  const batteryOver = over.find(({ code }) => code === 'battery_overload');
  const inverterOver = over.find(({ code }) => code === 'inverter_overload');

  const spans = { ran_flat: new Span(assembled), cut_off: new Span(assembled), cold_cut_off: new Span(assembled) };
  type Cut = keyof typeof spans;
  const firstSpell: Partial<Record<Cut, { from: number; to: number }>> = {};
  const without: Record<Cut, Set<string>> = { ran_flat: new Set(), cut_off: new Set(), cold_cut_off: new Set() };
  for (let i = 0; i < steps; ) {
    if (!(onShare[i]! < 1)) {
      i++;
      continue;
    }
    const from = i;
    while (i < steps && onShare[i]! < 1) i++;
    const socThen = Math.min(soc[from]!, from > 0 ? soc[from - 1]! : input.startSoc);
    const code =
      socThen <= emptyBelow(rig) ? 'ran_flat' : batteryC[from]! < 0 && !batteryOver ? 'cold_cut_off' : 'cut_off';
    firstSpell[code] ??= { from, to: i };
    for (let k = from; k < i; k++) {
      spans[code].add(k, 1 - onShare[k]!);
      for (const load of ledger.loads) if (load.unservedW[k]! > NOTHING_W) without[code].add(load.name);
    }
  }
  const socAt = (code: Cut) => shownSoc(soc[firstSpell[code]!.from]!);
  const names = (code: Cut) => ledger.loads.map(({ name }) => name).filter((name) => without[code].has(name));
  const troubles: Trouble[] = [];
  if (!spans.ran_flat.isEmpty) {
    const { from, to } = firstSpell.ran_flat!;
    const refusedWh = refusedInCold(assembled, out, ledger, sinceFull(out, from), to).wh;
    const missedWh = ledger.loads.reduce((sum, { unservedW }) => sum + sumOf(unservedW, from, to), 0) * stepH;
    const isByCold = refusedWh > 0 && refusedWh >= missedWh;
    troubles.push(
      trouble(
        'ran_flat',
        { soc: socAt('ran_flat'), loads: names('ran_flat'), ...(isByCold && { refusedWh }) },
        spans.ran_flat.when,
      ),
    );
  }
  if (!spans.cold_cut_off.isEmpty)
    troubles.push(
      trouble(
        'cold_cut_off',
        {
          soc: socAt('cold_cut_off'),
          loads: names('cold_cut_off'),
          batteryC: batteryC[firstSpell.cold_cut_off!.from]!,
        },
        spans.cold_cut_off.when,
      ),
    );
  if (!spans.cut_off.isEmpty && !batteryOver) {
    const { disconnect } = rig.battery;
    troubles.push(
      trouble(
        'cut_off',
        {
          soc: socAt('cut_off'),
          loads: names('cut_off'),
          ...(disconnect.kind === 'voltage' && { disconnectV: disconnect.voltageV }),
        },
        spans.cut_off.when,
      ),
    );
  }

  const short = inverterShort(assembled, out, ledger);
  if (!short.span.isEmpty && !inverterOver)
    troubles.push(trouble('inverter_limit', { loads: short.names }, short.span.when));
  for (const one of over) {
    const span = one === batteryOver ? spans.cut_off : one === inverterOver ? short.span : undefined;
    // Where a load has hours but no times, the run spreads its energy over the day: when it overloads something is not known.
    const isTimed = one.args.names.every((name) => hasTimes(rig, name));
    const happened = span !== undefined && !span.isEmpty && isTimed;
    // Bad even where loads may overlap and need not: their windows allow it, and leaving the windows out must not look better.
    troubles.push(trouble(one.code, one.args as never, happened ? span.when : {}, 'bad'));
  }
  return troubles;
}

function hasTimes({ loads }: Rig, name: string): boolean {
  const load = loads.find((one) => one.name === name);
  return load?.kind !== 'scheduled' || load.when.length > 0 || demandedHours(load) === undefined;
}

/** A state of charge at which the battery counts as empty: its disconnect, or its floor where that is by voltage. */
function emptyBelow({ battery: { disconnect, floor } }: Rig): number {
  return Math.max(floor, disconnect.kind === 'soc' ? disconnect.soc : 0) + NOT_EMPTY;
}

/** The step after which the battery was last full before another step. */
function sinceFull({ soc }: LoopOutput, step: number): number {
  for (let i = step - 1; i >= 0; i--) if (soc[i]! >= FULL_SOC) return i + 1;
  return 0;
}

function sumOf(column: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += column[i]!;
  return sum;
}

/** Where loads behind the inverter get less than they ask for while there is power. */
function inverterShort(assembled: Assembled, { heavyOnShare: onShare }: LoopOutput, ledger: Ledger) {
  const span = new Span(assembled);
  const { inverter } = assembled;
  if (!inverter || inverter.loads.length === 0) return { span, names: [] };
  const { servedW } = inverter.columns;
  const names = new Set<string>();
  const behind = ledger.loads.filter(({ name }) => inverter.loads.some(({ load }) => load.name === name));
  for (let i = 0; i < servedW.length; i++) {
    if (!(inverter.askedW[i]! - servedW[i]! > NOTHING_W && onShare[i]! > 0)) continue;
    span.add(i, onShare[i]!);
    for (const { name, unservedW } of behind) if (unservedW[i]! > NOTHING_W) names.add(name);
  }
  return { span, names: [...names] };
}

/** Cut-outs of a heavy load, and the charge in the steps in which they came. */
export function cutOutsOf({ input: { steps } }: Assembled, { soc, heavyCut }: LoopOutput, lane: number) {
  const found = { cutOuts: 0, byDrop: 0, lowestSoc: Infinity, highestSoc: 0 };
  for (let i = 0; i < steps; i++) {
    const cut = heavyCut[lane * steps + i]!;
    if (!(cut > 0)) continue;
    found.cutOuts++;
    if (cut === 2) found.byDrop++;
    found.lowestSoc = Math.min(found.lowestSoc, soc[i]!);
    found.highestSoc = Math.max(found.highestSoc, soc[i]!);
  }
  return found;
}

export const nameOfHeavy = ({ of }: HeavyLane): string => ('load' in of ? of.load.name : 'inverter');

/** An inverter that switches itself off while a load asks, and a load whose cable does not bring its power. */
function heavyTroubles(assembled: Assembled, out: LoopOutput, ledger: Ledger): Trouble[] {
  const { heavies, input } = assembled;
  const { steps } = input;
  return heavies.flatMap((lane, k) => {
    const cutOuts = cutOutsOf(assembled, out, k);
    if (cutOuts.cutOuts === 0) return [];
    const off = new Span(assembled);
    const offShare = (i: number) => out.onShare[i]! - out.heavyOnShare[k * steps + i]!;
    for (let i = 0; i < steps; i++) off.add(i, offShare(i) * lane.runShare[i]!);
    const { of } = lane;
    if ('load' in of) return [trouble('load_off', { name: of.load.name, ...cutOuts }, off.when)];
    const names = of.loads.map(({ load }) => load.name);
    const without = ledger.loads.filter(
      ({ name, unservedW }) =>
        names.includes(name) && unservedW.some((watts, i) => watts > NOTHING_W && offShare(i) > 0),
    );
    return [trouble('inverter_off', { loads: without.map(({ name }) => name), ...cutOuts }, off.when)];
  });
}

/** A fridge that switches itself off, that the heat is too much for, or whose contents are too warm or freeze. */
function fridgeTroubles(assembled: Assembled, out: LoopOutput, ledger: Ledger): Trouble[] {
  const { fridges, input } = assembled;
  const { steps } = input;
  const { soc, onShare, fridgeOnShare, fridgeCut } = out;
  const troubles: Trouble[] = [];
  const byName = new Map<string, LoadLedger>(ledger.loads.map((load) => [load.name, load]));
  for (const [first, { load }] of fridges.entries()) {
    if (fridges[first]!.zone > 0) continue;
    const { name } = load;
    const rooms = fridges.slice(first).filter((lane) => lane.load === load);
    const inside = byName.get(name)!.rooms!;
    const off = new Span(assembled);
    const hot = new Span(assembled);
    const warm = new Span(assembled);
    const frozen = new Span(assembled);
    let cutOuts = 0;
    let byDrop = 0;
    let lowestSoc = Infinity;
    let highestSoc = 0;
    let hottestC = -Infinity;
    let warmestC = -Infinity;
    let hotWhileWarm = false;
    for (let i = 0; i < steps; i++) {
      off.add(i, onShare[i]! - fridgeOnShare[first * steps + i]!);
      const cut = rooms.reduce((most, _, k) => Math.max(most, fridgeCut[(first + k) * steps + i]!), 0);
      if (cut > 0) {
        cutOuts++;
        if (cut === 2) byDrop++;
        lowestSoc = Math.min(lowestSoc, soc[i]!);
        highestSoc = Math.max(highestSoc, soc[i]!);
      }
      const holdDuty = rooms.reduce((sum, { columns }) => sum + columns.holdDuty[i]!, 0);
      let isHot = false;
      let isWarm = false;
      let isFrozen = false;
      rooms.forEach(({ room }, k) => {
        const nowC = inside[k]!.insideC[i]!;
        const isTooWarm = nowC > foodSafeC(room, input.fridgeSwingK) + SAME_K;
        if (onShare[i] === 1 && holdDuty >= AT_ITS_LIMIT && nowC > room.setpointC + 1) {
          isHot = true;
          hottestC = Math.max(hottestC, nowC);
          if (isTooWarm) hotWhileWarm = true;
        }
        if (isTooWarm) {
          isWarm = true;
          warmestC = Math.max(warmestC, nowC);
        }
        if (room.setpointC > FREEZES_C && nowC < FREEZES_C) isFrozen = true;
      });
      if (isHot) hot.add(i);
      if (isWarm) warm.add(i);
      if (isFrozen) frozen.add(i);
    }
    const { setpointC } = load;
    const warmAboveC = foodSafeC(rooms[0]!.room, input.fridgeSwingK);
    if (!off.isEmpty && cutOuts > 0)
      troubles.push(trouble('fridge_off', { name, cutOuts, byDrop, lowestSoc, highestSoc }, off.when));
    if (!hot.isEmpty)
      troubles.push(
        trouble('too_hot', { name, setpointC, warmestC: hottestC }, hot.when, hotWhileWarm ? 'bad' : 'careful'),
      );
    if (!warm.isEmpty) troubles.push(trouble('food_too_warm', { name, warmestC, warmAboveC }, warm.when));
    if (!frozen.isEmpty) troubles.push(trouble('food_freezes', { name, freezesC: FREEZES_C }, frozen.when));
  }
  return troubles;
}

/** Charge that the cold battery refused, and a cabin that did not stay warm. */
function coldTroubles(assembled: Assembled, out: LoopOutput, ledger: Ledger): Trouble[] {
  const { conditions, rig, model } = assembled;
  const troubles: Trouble[] = [];
  const { span, wh } = refusedInCold(assembled, out, ledger, 0, assembled.input.steps);
  const wholeWh = model.capacityAh * rig.battery.nominalV * rig.battery.series;
  if (wh > REFUSED_SHARE * wholeWh) troubles.push(trouble('too_cold_to_charge', { refusedWh: wh }, span.when));
  const { heatedC } = rig.cabin;
  if (heatedC === undefined) return troubles;
  const cold = new Span(assembled);
  let coldestC = Infinity;
  conditions.cabinC.forEach((cabinC, i) => {
    if (!(cabinC < heatedC - NOT_WARM_K)) return;
    cold.add(i);
    coldestC = Math.min(coldestC, cabinC);
  });
  return cold.isEmpty ? troubles : [...troubles, trouble('cabin_too_cold', { heatedC, coldestC }, cold.when)];
}

/** Sun and charger current that a battery with room for it did not take as it was too cold. */
function refusedInCold(
  assembled: Assembled,
  { soc, limit }: LoopOutput,
  { pvAvailableW, pvHarvestW }: Ledger,
  from: number,
  to: number,
): { wh: number; span: Span } {
  const { rig, input, engine } = assembled;
  const span = new Span(assembled);
  const charger = rig.alternator?.charger;
  const chargerW = charger?.kind === 'dcdc' ? charger.currentA * rig.battery.nominalV * rig.battery.series : 0;
  let watts = 0;
  for (let i = from; i < to; i++) {
    if (limit[i] !== LIMIT_COLD || soc[i]! >= FULL_SOC) continue;
    const refusedW = pvAvailableW[i]! - pvHarvestW[i]! + (engine ? engine.share[i]! * chargerW : 0);
    if (!(refusedW > NOTHING_W)) continue;
    watts += refusedW;
    span.add(i);
  }
  return { wh: watts * input.stepH, span };
}

function belowFloor(assembled: Assembled, { soc }: LoopOutput, { hoursBelowFloor, lowestSoc }: Summary): Trouble[] {
  if (!(hoursBelowFloor > 0)) return [];
  const { floor } = assembled.rig.battery;
  const span = new Span(assembled);
  span.add(soc.findIndex((now) => now < floor - FLOOR_TOLERANCE));
  return [trouble('below_floor', { floor, lowestSoc }, { ...span.when, hours: hoursBelowFloor })];
}
