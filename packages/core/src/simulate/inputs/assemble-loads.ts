import {
  anyOnShare,
  compileLoadExpression,
  drawColumn,
  drawnW,
  type FridgeColumns,
  type FridgeModel,
  type FridgeRoom,
  fridgeColumns,
  fridgeModel,
  type InverterColumns,
  inverterInputColumns,
  peakDraw,
  scheduleColumns,
  usesSoc,
} from '../../load/index.js';
import type { FridgeLoad, Inverter, Rig, ScheduledLoad } from '../../rig/index.js';
import { CONDUCTOR_C, circuitLoopOhm } from '../../wire/index.js';
import type { Conditions } from '../types.js';

/** Watts on the bus that depend on the state of charge at the step's beginning (an expression in `soc`). */
export type SocDraw = (step: number, soc: number) => number;

/** A load with a timetable that meets the bus by itself: direct current. */
export interface ScheduledLoadInput {
  readonly load: ScheduledLoad;
  readonly ohm: number;
  readonly onShare: Float64Array;
  /** mean over the step: watts at the appliance, or amps */
  readonly meanW?: Float64Array;
  readonly meanA?: Float64Array;
  /** power and current while on, for the cable's loss */
  readonly runW?: Float64Array;
  readonly runA?: number;
  /** its cable may lose so much that it is one of the loop's heavy loads */
  readonly isHeavy?: boolean;
  /** an expression that looks at the state of charge: evaluated in the loop */
  readonly byStep?: SocDraw;
}

/** The inverter with the loads behind it, as the loop takes them. */
export interface InverterLane {
  readonly ohm: number;
  readonly columns: InverterColumns;
  readonly loads: readonly {
    readonly load: ScheduledLoad;
    readonly onShare: Float64Array;
    readonly meanW: Float64Array;
  }[];
  readonly askedW: Float64Array;
}

/** A heavy load as the loop takes it, in the order of its lanes. */
export interface HeavyLane {
  /** the inverter with all that runs behind it, or a load of its own */
  readonly of: InverterLane | ScheduledLoadInput;
  readonly ohm: number;
  readonly cutOutV: number;
  readonly cutInV: number;
  readonly runW: Float64Array;
  readonly runShare: Float64Array;
}

/** One room of a fridge as the loop takes it. */
export interface FridgeLane {
  readonly load: FridgeLoad;
  /** among the rooms of its fridge: 0, or 1 for the second zone */
  readonly zone: number;
  readonly model: FridgeModel;
  readonly room: FridgeRoom;
  readonly columns: FridgeColumns;
  readonly roomC: Float64Array;
  readonly ohm: number;
  /** of the electronics, which are counted with the first room [W] */
  readonly standbyW: number;
  /** inside at the start [°C] */
  readonly startC: number;
}

/** A lane for each room of a fridge. */
export function fridgeLanes(load: FridgeLoad, conditions: Conditions): FridgeLane[] {
  const { grid, itinerary, cabinC, weather } = conditions;
  const model = fridgeModel(load);
  const roomC = load.stands === 'cabin' ? cabinC : weather.ambientC;
  const ohm = circuitLoopOhm(load.cable, CONDUCTOR_C);
  return fridgeColumns(load, model, roomC, itinerary.days, grid).map((columns, zone) => {
    const room = model.rooms[zone]!;
    const startC = load.startC ?? room.setpointC;
    return { load, zone, model, room, columns, roomC, ohm, standbyW: zone === 0 ? model.standbyW : 0, startC };
  });
}

/** Of its power: beyond a drop like this, 14x⁴ that the series of `cableTerm` leaves out is more than 0.01 %. */
const HEAVY_DROP = 0.05;

export function plainLane(load: ScheduledLoad, conditions: Conditions, nominalV: number): ScheduledLoadInput {
  const { grid, itinerary, cabinC, weather } = conditions;
  const { onShare } = scheduleColumns(load, itinerary.days, grid, conditions.loadDraw);
  const ohm = circuitLoopOhm(load.cable, CONDUCTOR_C);
  const scope = { ambientC: weather.ambientC, cabinC, localHour: itinerary.localHour };
  if (load.draw.kind === 'expression' && usesSoc(load)) {
    const expression = compileLoadExpression(load.draw.text);
    const byStep = (step: number, soc: number) => {
      const watts = expression.evaluate({
        ambient: weather.ambientC[step]!,
        cabin: cabinC[step]!,
        hour: itinerary.localHour[step]!,
        soc,
      });
      return drawnW(watts) * onShare[step]!;
    };
    return { load, ohm, onShare, byStep };
  }
  const draw = drawColumn(load, onShare, scope);
  if (draw.kind === 'current')
    return { load, ohm, onShare, meanA: draw.currentA, runA: load.draw.kind === 'current' ? load.draw.currentA : 0 };
  const meanW = draw.powerW;
  const runW = new Float64Array(grid.steps);
  for (let i = 0; i < grid.steps; i++) if (onShare[i]! > 0) runW[i] = meanW[i]! / onShare[i]!;
  // By the load alone, so that it is the same whatever the steps.
  const isHeavy = load.cable !== undefined && ohm * peakDraw(load).value > HEAVY_DROP * nominalV * nominalV;
  return { load, ohm, onShare, meanW, runW, ...(isHeavy && { isHeavy }) };
}

/** The heavy loads: the inverter first, where something runs behind it. */
export function heavyLanes(
  inverter: Inverter | undefined,
  lane: InverterLane | undefined,
  plain: readonly ScheduledLoadInput[],
): HeavyLane[] {
  return [
    ...(inverter && lane && lane.loads.length > 0
      ? [{ of: lane, ohm: lane.ohm, cutOutV: inverter.cutOutV, cutInV: inverter.cutInV, ...lane.columns }]
      : []),
    ...plain
      .filter(({ isHeavy }) => isHeavy)
      .map((of) => ({ of, ohm: of.ohm, cutOutV: 0, cutInV: 0, runW: of.runW!, runShare: of.onShare })),
  ].map(({ of, ohm, cutOutV, cutInV, runW, runShare }) => ({ of, ohm, cutOutV, cutInV, runW, runShare }));
}

export function heavyInput(steps: number, lanes: readonly HeavyLane[]) {
  const columns = (pick: (lane: HeavyLane) => Float64Array) => {
    const all = new Float64Array(lanes.length * steps);
    for (const [k, lane] of lanes.entries()) all.set(pick(lane), k * steps);
    return all;
  };
  return {
    heavies: lanes.length,
    heavyOhm: Float64Array.from(lanes, ({ ohm }) => ohm),
    heavyCutOutV: Float64Array.from(lanes, ({ cutOutV }) => cutOutV),
    heavyCutInV: Float64Array.from(lanes, ({ cutInV }) => cutInV),
    heavyW: columns(({ runW }) => runW),
    heavyRuns: columns(({ runShare }) => runShare),
  };
}

/** Current that brings a power through a cable: the smaller root of I·(V − I·R) = P. The loop's own. */
export function throughCableA(busV: number, ohm: number, watts: number): number {
  const under = busV * busV - 4 * ohm * watts;
  return under > 0 ? (2 * watts) / (busV + Math.sqrt(under)) : (2 * watts) / busV;
}

export function inverterLane(
  rig: Rig,
  loads: readonly ScheduledLoad[],
  conditions: Conditions,
): InverterLane | undefined {
  const { inverter } = rig;
  if (!inverter) return undefined;
  const { grid, itinerary, cabinC, weather } = conditions;
  const scope = { ambientC: weather.ambientC, cabinC, localHour: itinerary.localHour };
  const askedW = new Float64Array(grid.steps);
  const lanes = loads.map((load) => {
    const { onShare } = scheduleColumns(load, itinerary.days, grid, conditions.loadDraw);
    const draw = drawColumn(load, onShare, scope);
    // Amps behind the inverter are those of its nominal output, taken as the battery's: they are read as watts at 12 V.
    const meanW = draw.kind === 'power' ? draw.powerW : draw.currentA.map((amps) => amps * 12);
    for (let i = 0; i < askedW.length; i++) askedW[i] = askedW[i]! + meanW[i]!;
    return { load, onShare, meanW };
  });
  const on = lanes.length > 0 ? anyOnShare(lanes.map((lane) => lane.onShare)) : new Float64Array(grid.steps);
  return {
    ohm: circuitLoopOhm(inverter.cable, CONDUCTOR_C),
    columns: inverterInputColumns(inverter, askedW, on),
    loads: lanes,
    askedW,
  };
}

export function plainInput(
  steps: number,
  plain: readonly ScheduledLoadInput[],
  inverter: InverterLane | undefined,
  fridges: readonly FridgeLane[],
  standbyW: number,
  heaterW: Float64Array | undefined,
) {
  const plainW = new Float64Array(steps);
  const plainQuad = new Float64Array(steps);
  const plainCube = new Float64Array(steps);
  const plainFourth = new Float64Array(steps);
  const plainA = new Float64Array(steps);
  const unswitchedW = new Float64Array(steps);
  const addW = (ohm: number, meanW: Float64Array, runW: Float64Array) => {
    for (let i = 0; i < steps; i++) {
      const watts = meanW[i]!;
      if (watts === 0) continue;
      const whileOnW = runW[i]!;
      plainW[i] = plainW[i]! + watts;
      plainQuad[i] = plainQuad[i]! + cableTerm(1, ohm, whileOnW) * watts;
      plainCube[i] = plainCube[i]! + cableTerm(2, ohm, whileOnW) * watts;
      plainFourth[i] = plainFourth[i]! + cableTerm(3, ohm, whileOnW) * watts;
    }
  };
  for (const { meanW, runW, meanA, ohm, isHeavy } of plain) {
    if (isHeavy) continue;
    if (meanW && runW) addW(ohm, meanW, runW);
    else if (meanA) for (let i = 0; i < steps; i++) plainA[i] = plainA[i]! + meanA[i]!;
  }
  if (inverter) {
    // While nothing runs behind it; what runs is a heavy load.
    const { inputW, runW, runShare } = inverter.columns;
    for (let i = 0; i < steps; i++) plainW[i] = plainW[i]! + idleW(inputW[i]!, runShare[i]! * runW[i]!);
  }
  const fridgeStandbyW = fridges.reduce((sum, lane) => sum + lane.standbyW, 0);
  for (let i = 0; i < steps; i++) {
    plainW[i] = plainW[i]! + fridgeStandbyW;
    unswitchedW[i] = standbyW + (heaterW ? heaterW[i]! : 0);
  }
  return { plainW, plainQuad, plainCube, plainFourth, plainA, unswitchedW };
}

/** What an inverter takes while nothing runs behind it, without the rounding of a difference. */
export function idleW(inputW: number, ranW: number): number {
  const idle = inputW - ranW;
  return idle > 1e-9 * inputW ? idle : 0;
}

/**
 * Loss of a cable that feeds constant power P through R from V, per watt of P, as a series in P·R/V²:
 * x + 2x² + 5x³ (the Catalan numbers, from the exact current (V − √(V² − 4PR))/2R). Left out: 14x⁴, 0.14 % of P at a
 * drop of 10 %.
 */
export function cableTerm(order: 1 | 2 | 3, ohm: number, watts: number): number {
  const x = ohm * watts;
  return order === 1 ? x : order === 2 ? 2 * x * x : 5 * x * x * x;
}

export function fridgeInput(steps: number, lanes: readonly FridgeLane[]) {
  const per = (value: (lane: FridgeLane, k: number) => number) => Float64Array.from(lanes, value);
  const columns = (pick: (columns: FridgeColumns) => Float64Array) => {
    const all = new Float64Array(lanes.length * steps);
    for (const [k, lane] of lanes.entries()) all.set(pick(lane.columns), k * steps);
    return all;
  };
  const partner = ({ load, zone }: FridgeLane) =>
    lanes.findIndex((other) => other.load === load && other.zone !== zone);
  return {
    fridges: lanes.length,
    fridgeOhm: per((lane) => lane.ohm),
    fridgeCutOutV: per((lane) => lane.load.cutOutV),
    fridgeCutInV: per((lane) => lane.load.cutInV),
    fridgeSetC: per((lane) => lane.room.setpointC),
    fridgeStartC: per((lane) => lane.startC),
    fridgePartner: per(partner),
    fridgeContentKg: per((lane) => lane.room.contentKg),
    fridgeLinerWhPerK: per((lane) => lane.room.linerWhPerK),
    fridgeLossWPerK: columns(({ lossWPerK }) => lossWPerK),
    fridgeFoodKgPerH: columns(({ foodKgPerH }) => foodKgPerH),
    fridgeInflowW: columns(({ inflowW }) => inflowW),
    fridgeCoolingW: columns(({ coolingW }) => coolingW),
    fridgeRunW: columns(({ electricW }) => electricW),
  };
}
