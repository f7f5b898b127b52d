import { storedWh } from '../../battery/index.js';
import { mainsInputW } from '../../charge/index.js';
import { finish, type Task } from '../../math/index.js';
import { inputFromOutputW } from '../../solar/index.js';
import type { Assembled } from '../inputs/assemble.js';
import { cableTerm, type HeavyLane, idleW, type ScheduledLoadInput, throughCableA } from '../inputs/assemble-loads.js';
import type { LoopOutput } from '../loop/loop.js';
import { engineInputW, mpptHarvestW } from './supply.js';

/** Where energy is lost: the keys of the ledger's losses. */
export const LOSS_PLACES = [
  'panelCable',
  'solarController',
  'controllerCable',
  'alternatorCable',
  'vehicle',
  'dcdcCharger',
  'dcdcCable',
  'mainsCharger',
  'mainsCable',
  'battery',
  'batteryHeater',
  'batteryCable',
  'inverter',
  'loadCables',
] as const;
export type LossPlace = (typeof LOSS_PLACES)[number];

export interface LoadLedger {
  readonly name: string;
  readonly servedW: Float64Array;
  readonly unservedW: Float64Array;
  /** share of the step that it ran */
  readonly onShare: Float64Array;
  readonly lowestV: number;
  /** of a fridge: its rooms, each with what the compressor does for it; electronics are with the first */
  readonly rooms?: readonly RoomLedger[];
}

/** A room of a fridge: inside at the end of each step, power, and the share of the step that its compressor ran for it. */
export interface RoomLedger {
  readonly insideC: Float64Array;
  readonly servedW: Float64Array;
  readonly onShare: Float64Array;
}

/** Every watt of every step, from the loop's output and the columns it ran over. All columns are step means [W]. */
export interface Ledger {
  readonly pvAvailableW: Float64Array;
  readonly pvHarvestW: Float64Array;
  readonly alternatorW: Float64Array;
  readonly mainsW: Float64Array;
  readonly lossW: Readonly<Record<LossPlace, Float64Array>>;
  readonly loads: readonly LoadLedger[];
  /** change of the energy stored in the battery in each step [Wh] */
  readonly storedChangeWh: Float64Array;
}

/** The ledger of a run. Losses are worked out part by part, never as a remainder, so that its closing proves them. */
export function ledgerOf(assembled: Assembled, out: LoopOutput): Ledger {
  return finish(ledgerTask(assembled, out));
}

/** The same with pauses. */
export function* ledgerTask(assembled: Assembled, out: LoopOutput): Task<Ledger> {
  const { input, model } = assembled;
  const { steps } = input;
  const column = () => new Float64Array(steps);
  const lossW = Object.fromEntries(LOSS_PLACES.map((place) => [place, column()])) as Record<LossPlace, Float64Array>;
  lossW.battery.set(out.batteryLossW);
  lossW.batteryCable.set(out.mainLossW);

  const solar = recordSolar(assembled, out, lossW);
  yield;
  const alternatorW = recordEngine(assembled, out, lossW);
  const mainsW = recordMains(assembled, out, lossW);
  yield;
  const { standbyW, heaterW } = assembled;
  const { solarController, batteryHeater } = lossW;
  const { alwaysShare } = out;
  if (standbyW > 0)
    for (let i = 0; i < steps; i++) solarController[i] = solarController[i]! + alwaysShare[i]! * standbyW;
  if (heaterW) for (let i = 0; i < steps; i++) batteryHeater[i] = alwaysShare[i]! * heaterW[i]!;
  const recorded = new Map<string, LoadLedger>();
  for (const lane of assembled.plain) recorded.set(lane.load.name, recordPlain(assembled, lane, out, lossW.loadCables));
  yield;
  for (const load of recordInverter(assembled, out, lossW)) recorded.set(load.name, load);
  yield;
  for (const load of recordFridges(assembled, out, lossW.loadCables)) recorded.set(load.name, load);
  const loads = [...assembled.rig.loads, ...(assembled.conditions.ownLoads ?? [])].flatMap(
    ({ name }) => recorded.get(name) ?? [],
  );

  yield;
  const storedChangeWh = column();
  let before = storedWh(model, input.startSoc);
  for (let i = 0; i < steps; i++) {
    const now = storedWh(model, out.soc[i]!);
    storedChangeWh[i] = now - before;
    before = now;
  }
  return { ...solar, alternatorW, mainsW, lossW, loads, storedChangeWh };
}

function recordSolar({ solar, input }: Assembled, out: LoopOutput, lossW: Record<LossPlace, Float64Array>) {
  const { steps } = input;
  const pvAvailableW = new Float64Array(steps);
  const pvHarvestW = new Float64Array(steps);
  const { panelCable, solarController, controllerCable } = lossW;
  const { chargerW, chargerBusW, arrayW, arrayAvailableW, busV } = out;
  solar.forEach((lane, j) => {
    const { converter, columns } = lane;
    for (let i = 0, at = j * steps; i < steps; i++, at++) {
      const outputW = chargerW[at]!;
      let harvestW = 0;
      let inputW = 0;
      let availableW = 0;
      if (converter) {
        availableW = columns.availableW[i]!;
        harvestW = mpptHarvestW(lane, converter, i, outputW);
        if (outputW > 0) inputW = inputFromOutputW(converter, outputW);
      } else {
        harvestW = arrayW[at]!;
        // The current is the same on both sides; the switches drop a fixed voltage, the rest is the cable's. Of a step that was
        // split, the mean current comes from means, so a cable without loss would be left with a hair below nothing.
        inputW = Math.min(harvestW, outputW + (input.pwmDropV * chargerBusW[at]!) / busV[i]!);
        availableW = arrayAvailableW[at]!;
      }
      pvAvailableW[i] = pvAvailableW[i]! + availableW;
      pvHarvestW[i] = pvHarvestW[i]! + harvestW;
      panelCable[i] = panelCable[i]! + harvestW - inputW;
      solarController[i] = solarController[i]! + inputW - outputW;
      controllerCable[i] = controllerCable[i]! + outputW - chargerBusW[at]!;
    }
  });
  return { pvAvailableW, pvHarvestW };
}

function recordEngine(
  { engine, solar, input }: Assembled,
  out: LoopOutput,
  lossW: Record<LossPlace, Float64Array>,
): Float64Array {
  const { steps } = input;
  const alternatorW = new Float64Array(steps);
  if (!engine) return alternatorW;
  const { charger } = engine;
  for (let i = 0; i < steps; i++) {
    const at = solar.length * steps + i;
    const outputW = out.chargerW[at]!;
    const busW = out.chargerBusW[at]!;
    if (outputW < 0) {
      // Back through a relay, to what the vehicle takes.
      lossW.vehicle[i] = -outputW;
      lossW.alternatorCable[i] = outputW - busW;
      continue;
    }
    if (!(outputW > 0)) continue;
    alternatorW[i] = engineInputW(engine, i, outputW);
    if (charger.kind === 'relay') {
      lossW.alternatorCable[i] = outputW - busW;
      continue;
    }
    const inputW = outputW / charger.efficiency;
    lossW.alternatorCable[i] = alternatorW[i]! - inputW;
    lossW.dcdcCharger[i] = inputW - outputW;
    lossW.dcdcCable[i] = outputW - busW;
  }
  return alternatorW;
}

function recordMains(
  { rig, mainsShare, input }: Assembled,
  out: LoopOutput,
  lossW: Record<LossPlace, Float64Array>,
): Float64Array {
  const { steps, chargers } = input;
  const mainsW = new Float64Array(steps);
  if (!rig.mains || !mainsShare) return mainsW;
  for (let i = 0; i < steps; i++) {
    const at = (chargers - 1) * steps + i;
    const outputW = out.chargerW[at]!;
    mainsW[i] = mainsInputW(rig.mains, outputW);
    lossW.mainsCharger[i] = mainsW[i]! - outputW;
    lossW.mainsCable[i] = outputW - out.chargerBusW[at]!;
  }
  return mainsW;
}

/** Share of each step in which a heavy load could run; undefined = it is none. */
function heavyOnShare(
  { heavies, input: { steps } }: Assembled,
  lane: HeavyLane['of'],
  out: LoopOutput,
): Float64Array | undefined {
  const k = heavies.findIndex(({ of }) => of === lane);
  return k < 0 ? undefined : out.heavyOnShare.subarray(k * steps, (k + 1) * steps);
}

function recordPlain(
  assembled: Assembled,
  lane: ScheduledLoadInput,
  out: LoopOutput,
  cablesW: Float64Array,
): LoadLedger {
  const { load, ohm, onShare, meanW, runW, meanA, runA = 0, byStep } = lane;
  const { startSoc } = assembled.input;
  const { soc: socs, busV: busVs } = out;
  const heavyShare = heavyOnShare(assembled, lane, out);
  const onShares = heavyShare ?? out.onShare;
  const steps = socs.length;
  const servedW = new Float64Array(steps);
  const unservedW = new Float64Array(steps);
  const ranShare = new Float64Array(steps);
  let lowestV = Infinity;
  for (let i = 0; i < steps; i++) {
    const on = onShares[i]!;
    const busV = busVs[i]!;
    if (byStep) {
      const askedW = byStep(i, i > 0 ? socs[i - 1]! : startSoc);
      servedW[i] = on * askedW;
      unservedW[i] = (1 - on) * askedW;
      if (on > 0 && servedW[i]! > 0) lowestV = Math.min(lowestV, busV);
    } else if (meanW && runW) {
      const askedW = meanW[i]!;
      const perW = heavyShare ? heavyLossPerW(ohm, runW[i]!, busV) : plainLossPerW(ohm, runW[i]!, busV);
      servedW[i] = on * askedW;
      unservedW[i] = (1 - on) * askedW;
      cablesW[i] = cablesW[i]! + on * perW * askedW;
      if (on > 0 && askedW > 0) lowestV = Math.min(lowestV, busV / (1 + perW));
    } else if (meanA) {
      const amps = meanA[i]!;
      const arrivesV = busV - runA * ohm;
      servedW[i] = on * amps * arrivesV;
      unservedW[i] = (1 - on) * amps * arrivesV;
      cablesW[i] = cablesW[i]! + on * amps * runA * ohm;
      if (on > 0 && amps > 0) lowestV = Math.min(lowestV, arrivesV);
    }
    const isIdle = meanW !== undefined && meanW[i] === 0; // an expression may ask for nothing
    ranShare[i] = isIdle ? 0 : on * onShare[i]!;
  }
  return { name: load.name, servedW, unservedW, onShare: ranShare, lowestV };
}

/** Cable loss per watt at the appliance, the loop's own series. */
function plainLossPerW(ohm: number, runW: number, busV: number): number {
  const u2 = 1 / (busV * busV);
  return u2 * (cableTerm(1, ohm, runW) + u2 * (cableTerm(2, ohm, runW) + u2 * cableTerm(3, ohm, runW)));
}

/** The same of a heavy load: exact. */
function heavyLossPerW(ohm: number, runW: number, busV: number): number {
  return runW > 0 ? (throughCableA(busV, ohm, runW) * busV) / runW - 1 : 0;
}

function recordInverter(assembled: Assembled, out: LoopOutput, lossW: Record<LossPlace, Float64Array>): LoadLedger[] {
  const { inverter } = assembled;
  if (!inverter) return [];
  const steps = out.soc.length;
  const { ohm, askedW } = inverter;
  const { inputW, servedW: behindW, runW, runShare } = inverter.columns;
  const { onShare, busV } = out;
  const ranShares = heavyOnShare(assembled, inverter, out) ?? onShare;
  const { loadCables, inverter: inverterLossW } = lossW;
  let lowestV = Infinity;
  for (let i = 0; i < steps; i++) {
    const ran = ranShares[i]!;
    const ranW = runShare[i]! * runW[i]!;
    const perW = heavyLossPerW(ohm, runW[i]!, busV[i]!);
    loadCables[i] = loadCables[i]! + ran * perW * ranW;
    inverterLossW[i] = onShare[i]! * idleW(inputW[i]!, ranW) + ran * (ranW - behindW[i]!);
    if (ran > 0 && behindW[i]! > 0) lowestV = Math.min(lowestV, busV[i]! / (1 + perW));
  }
  return inverter.loads.map(({ load, meanW, onShare: share }) => {
    const servedW = new Float64Array(steps);
    const unservedW = new Float64Array(steps);
    const ranShare = new Float64Array(steps);
    for (let i = 0; i < steps; i++) {
      const ran = ranShares[i]!;
      ranShare[i] = share[i]! * ran;
      const asked = askedW[i]!;
      if (!(asked > 0)) continue;
      servedW[i] = (ran * meanW[i]! * behindW[i]!) / asked;
      unservedW[i] = meanW[i]! - servedW[i]!;
    }
    return { name: load.name, servedW, unservedW, onShare: ranShare, lowestV };
  });
}

function recordFridges({ fridges, input }: Assembled, out: LoopOutput, cablesW: Float64Array): LoadLedger[] {
  const { steps } = input;
  const { fridgeW, fridgeBusW, fridgeOnShare, fridgeV, onShare: onShares } = out;
  const byName = new Map<string, LoadLedger & { rooms: RoomLedger[] }>();
  fridges.forEach(({ standbyW, columns, load }, k) => {
    const { electricW, holdDuty } = columns;
    const column = () => new Float64Array(steps);
    const own = byName.get(load.name);
    const whole = own ?? {
      name: load.name,
      servedW: column(),
      unservedW: column(),
      onShare: column(),
      lowestV: Infinity,
      rooms: [],
    };
    const room = {
      insideC: out.fridgeC.subarray(k * steps, (k + 1) * steps),
      servedW: column(),
      onShare: column(),
    };
    let { lowestV } = whole;
    for (let i = 0, at = k * steps; i < steps; i++, at++) {
      const runW = electricW[i]!;
      const fed = onShares[i]!;
      const tookW = fridgeW[at]!;
      room.servedW[i] = tookW + fed * standbyW;
      room.onShare[i] = runW > 0 ? tookW / runW : 0;
      whole.servedW[i] = whole.servedW[i]! + room.servedW[i]!;
      whole.onShare[i] = whole.onShare[i]! + room.onShare[i]!;
      // What it would have taken to stay at its set point while it had no power, or had switched itself off.
      whole.unservedW[i] =
        whole.unservedW[i]! + ((1 - fridgeOnShare[at]!) * holdDuty[i]! * runW + (1 - fed) * standbyW);
      cablesW[i] = cablesW[i]! + fridgeBusW[at]! - tookW;
      if (tookW > 0 && fridgeV[at]! < lowestV) lowestV = fridgeV[at]!; // else it did not run
    }
    byName.set(load.name, { ...whole, lowestV, rooms: [...whole.rooms, room] });
  });
  return [...byName.values()];
}
