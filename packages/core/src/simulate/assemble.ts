import {
  type BatteryModel,
  batteryModel,
  batteryTemperature,
  capacityFactor,
  chargeLimitA,
  heatCapacityWhPerK,
  heatedTemperature,
  resistanceFactor,
  selfDischargeFactor,
} from '../battery/index.js';
import { ABSORPTION, alternatorColumns, chargeVoltage, dcdcMaxInputA, mainsColumns } from '../charge/index.js';
import {
  anyOnShare,
  compileLoadExpression,
  drawColumn,
  type FridgeColumns,
  type FridgeModel,
  fridgeColumns,
  fridgeModel,
  type InverterColumns,
  inverterInputColumns,
  scheduleColumns,
  thermostatSwingK,
  usesSoc,
} from '../load/index.js';
import { createPlaneColumns, type PlaneColumns, planeColumns } from '../place/index.js';
import type {
  AlternatorCharger,
  Battery,
  ChargeProfile,
  FridgeLoad,
  Rig,
  ScheduledLoad,
  SolarArray,
} from '../rig/index.js';
import {
  type ArrayColumns,
  arrayColumns,
  type ConverterCoefficients,
  leastMpptV,
  mpptConverter,
  mpptMaxOutputW,
  PWM_DROP_V,
} from '../solar/index.js';
import { circuitLoopOhm } from '../wire/index.js';
import { CONVERTER, type LoopInput, PWM, RELAY } from './loop.js';
import { makeAnew, type Remember } from './part-memory.js';
import type { SocDraw } from './run-whole.js';
import type { Conditions } from './types.js';

/** Conductors in a run are taken at this temperature: warm, not at their limit [°C]. */
export const CONDUCTOR_C = 30;
/** Voltage at maximum power over open-circuit voltage of crystalline modules. Common practice, no source: 0.8 to 0.84. */
const VMP_PER_VOC = 0.82;
/** A PWM lane's table when there is none. */
const NO_TABLE = new Float64Array(0);

export interface SolarLane {
  readonly array: SolarArray;
  readonly plane: PlaneColumns;
  /** share of the array in hard shadow, by its windows; absent without windows */
  readonly shaded?: Float64Array;
  readonly columns: ArrayColumns;
  readonly cableOhm: number;
  /** an MPPT's conversion; undefined for PWM */
  readonly converter?: ConverterCoefficients;
  /** most that an MPPT can put out [W] */
  readonly maxOutputW: Float64Array;
}

export interface EngineLane {
  readonly charger: AlternatorCharger;
  readonly inputOhm: number;
  readonly outputOhm: number;
  /** left for charging while the engine runs [A], and held at its terminals [V] */
  readonly availableA: Float64Array;
  readonly terminalV: Float64Array;
  /** share of the step that it runs */
  readonly share: Float64Array;
}

/** A load with a timetable that meets the bus by itself: direct current. */
export interface PlainLane {
  readonly load: ScheduledLoad;
  readonly ohm: number;
  readonly onShare: Float64Array;
  /** mean over the step: watts at the appliance, or amps */
  readonly meanW?: Float64Array;
  readonly meanA?: Float64Array;
  /** power and current while on, for the cable's loss */
  readonly runW?: Float64Array;
  readonly runA?: number;
  /** an expression that looks at the state of charge: evaluated in the loop */
  readonly byStep?: SocDraw;
}

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

export interface FridgeLane {
  readonly load: FridgeLoad;
  readonly model: FridgeModel;
  readonly columns: FridgeColumns;
  readonly roomC: Float64Array;
  readonly ohm: number;
}

/** A rig under its conditions, ready to be stepped. Every column is a pure function of the rig's parts it reads. */
export interface Assembled {
  readonly rig: Rig;
  readonly conditions: Conditions;
  readonly model: BatteryModel;
  readonly batteryC: Float64Array;
  readonly heaterW?: Float64Array;
  readonly standbyW: number;
  readonly solar: readonly SolarLane[];
  readonly engine?: EngineLane;
  readonly mainsShare?: Float64Array;
  readonly plain: readonly PlainLane[];
  readonly inverter?: InverterLane;
  readonly starterSide: readonly string[];
  readonly fridges: readonly FridgeLane[];
  readonly input: LoopInput;
  readonly socDraw?: SocDraw;
}

/**
 * Turns a rig and its conditions into the loop's columns: light on each array and what it can give, the engine's and
 * the mains' offer, what each load asks, the battery's temperature. Nothing here depends on the battery's state.
 * @param remember columns of other rigs under the same conditions, which serve again where the rigs are the same
 */
export function assemble(rig: Rig, conditions: Conditions, startSoc: number, remember: Remember = makeAnew): Assembled {
  const { grid } = conditions;
  const { battery } = rig;
  const steps = grid.steps;
  const nominalV = battery.nominalV * battery.series;
  const model = batteryModel(battery);

  const { alternator, mains, albedo } = rig;
  const solar = rig.solar.map((array, k) =>
    remember(`solar ${k}`, [array, albedo, nominalV], () => solarLane(array, rig, conditions, nominalV)),
  );
  const engine = alternator && remember('engine', alternator, () => engineLane(alternator, conditions));
  const mainsShare = mains && conditions.itinerary.mains;
  const house = rig.loads.filter((load) => !load.starterSide);
  const fridgeLoads = house.filter((load) => load.kind === 'fridge');
  const fridges = fridgeLoads.map((load, k) => remember(`fridge ${k}`, load, () => fridgeLane(load, conditions)));
  const atHouse = house.filter((load) => load.kind === 'scheduled');
  const plain = atHouse
    .filter((load) => !load.inverter)
    .map((load, k) => remember(`load ${k}`, load, () => plainLane(load, conditions)));
  const behind = atHouse.filter((load) => load.inverter);
  const inverter =
    rig.inverter && remember('inverter', [rig.inverter, behind], () => inverterLane(rig, behind, conditions));

  const warmedBy = climateReads(battery);
  const { batteryC, heaterW } = remember('cells', warmedBy, () => batteryClimate(battery, conditions));
  const cells = remember('cell limits', [warmedBy, battery.chemistry, battery.chargeMinC], () =>
    cellColumns(battery, batteryC),
  );
  const standbyW = rig.solar.reduce((sum, array) => sum + array.controller.standbyW, 0);
  const chargeBy = [rig.solar, albedo, nominalV, alternator, mains, battery.charge, warmedBy];
  const { tailC, ...chargers } = remember('chargers', chargeBy, () =>
    chargerInput(rig, steps, nominalV, batteryC, solar, engine, mainsShare),
  );
  const input: LoopInput = {
    steps,
    stepH: grid.stepH,
    fridgeSwingK: thermostatSwingK(grid.stepH),
    ...batteryInput(rig, model, batteryC, startSoc, cells),
    ...remember('loads', [house, rig.inverter, standbyW, heaterW && warmedBy], () =>
      plainInput(steps, plain, inverter, fridges, standbyW, heaterW),
    ),
    ...remember('fridges', fridgeLoads, () => fridgeInput(steps, fridges)),
    ...chargers,
    tailA: tailC.map((perAh) => perAh * model.capacityAh),
  };
  const bySoc = plain.filter((lane) => lane.byStep !== undefined);
  return {
    rig,
    conditions,
    model,
    batteryC,
    ...(heaterW && { heaterW }),
    standbyW,
    solar,
    ...(engine && { engine }),
    ...(mainsShare && { mainsShare }),
    plain,
    ...(inverter && { inverter }),
    starterSide: rig.loads.filter((load) => load.starterSide).map((load) => load.name),
    fridges,
    input,
    ...(bySoc.length > 0 && {
      socDraw: (step: number, soc: number) => bySoc.reduce((sum, lane) => sum + lane.byStep!(step, soc), 0),
    }),
  };
}

/** Light on one array and what it and its controller can give, open loop. */
export function solarLane(array: SolarArray, rig: Rig, conditions: Conditions, nominalV: number): SolarLane {
  return arrayLane(array, litPlane(array, rig, conditions), conditions, nominalV);
}

/** Light on a plane: the same for every array that stands so. */
export type LitPlane = Pick<SolarLane, 'plane' | 'shaded'>;

/** @param array only its tilt, azimuth, re-aiming, shade and skyline are read */
export function litPlane(array: SolarArray, rig: Pick<Rig, 'albedo'>, conditions: Conditions): LitPlane {
  const { grid, itinerary, sun, weather, beamKeeps } = conditions;
  const { steps } = grid;
  const shaded = windowShade(array, conditions);
  const keeps = shaded ? beamKeeps.map((share, i) => share * (1 - shaded[i]!)) : beamKeeps;
  const plane = createPlaneColumns(steps);
  for (const leg of itinerary.legs) {
    const cut = (column: Float64Array) => column.subarray(leg.firstStep, leg.firstStep + leg.steps);
    const horizon = array.horizon.length > 0 ? array.horizon : leg.stop.horizon;
    planeColumns(
      { cosZenith: cut(sun.cosZenith), azimuthDeg: cut(sun.azimuthDeg), extraNormalWm2: cut(sun.extraNormalWm2) },
      { ghiWm2: cut(weather.ghiWm2), dniWm2: cut(weather.dniWm2), dhiWm2: cut(weather.dhiWm2) },
      {
        tiltDeg: array.tiltDeg,
        azimuthDeg: array.azimuthDeg,
        albedo: rig.albedo,
        horizon,
        beamKeeps: cut(keeps),
        reaimedPerDay: array.reaimedPerDay,
      },
      {
        poaWm2: cut(plane.poaWm2),
        beamWm2: cut(plane.beamWm2),
        skyDiffuseWm2: cut(plane.skyDiffuseWm2),
        groundWm2: cut(plane.groundWm2),
        cosIncidence: cut(plane.cosIncidence),
        effectiveWm2: cut(plane.effectiveWm2),
      },
    );
  }
  return { plane, ...(shaded && { shaded }) };
}

/** What an array and its controller give of the light on its plane. */
export function arrayLane(array: SolarArray, lit: LitPlane, conditions: Conditions, nominalV: number): SolarLane {
  const { plane, shaded } = lit;
  const { weather } = conditions;
  const columns = arrayColumns(
    array,
    {
      effectiveWm2: plane.effectiveWm2,
      poaWm2: plane.poaWm2,
      ambientC: weather.ambientC,
      windMs: weather.windMs,
      ...(shaded && { beamShade: shaded, beamWm2: plane.beamWm2 }),
    },
    { nominalV },
  );
  return controllerLane(array, lit, columns, nominalV);
}

/** What the controller makes of an array's columns. */
export function controllerLane(array: SolarArray, lit: LitPlane, columns: ArrayColumns, nominalV: number): SolarLane {
  const steps = columns.availableW.length;
  const cableOhm = circuitLoopOhm(array.cable, CONDUCTOR_C);
  const lane = { array, plane: lit.plane, ...(lit.shaded && { shaded: lit.shaded }), columns, cableOhm };
  if (array.controller.kind === 'PWM') return { ...lane, maxOutputW: new Float64Array(steps) };
  const converter = mpptConverter(array.controller, nominalV);
  const maxOutputW = mpptMaxOutputW(columns, cableOhm, converter);
  // It wakes when the open array stands startAboveV above the battery, and runs on while the string is a little above.
  const wakesV = (13.3 * nominalV) / 12 + array.controller.startAboveV;
  const runsV = leastMpptV(nominalV);
  for (let i = 0; i < steps; i++) {
    const voltageV = columns.voltageV[i]!;
    if (voltageV < runsV || voltageV / VMP_PER_VOC < wakesV) maxOutputW[i] = 0;
  }
  return { ...lane, converter, maxOutputW };
}

/** Share of the array in hard shadow at each step, by its windows of local civil time; undefined without windows. */
function windowShade(array: SolarArray, { itinerary, grid }: Conditions): Float64Array | undefined {
  if (array.shade.length === 0) return undefined;
  const halfStepH = grid.stepH / 2;
  const shaded = new Float64Array(grid.steps);
  for (const { fromH, toH, keeps } of array.shade)
    for (let i = 0; i < grid.steps; i++) {
      const hour = itinerary.localHour[i]!;
      const inside =
        fromH <= toH
          ? overlap(hour, halfStepH, fromH, toH)
          : overlap(hour, halfStepH, fromH, 24) + overlap(hour, halfStepH, 0, toH);
      if (inside > 0) shaded[i] = Math.max(shaded[i]!, (1 - keeps) * inside);
    }
  return shaded;
}

/** Share of [hour − half, hour + half] inside [from, to]. */
function overlap(hour: number, half: number, from: number, to: number): number {
  return Math.max(0, Math.min(hour + half, to) - Math.max(hour - half, from)) / (2 * half);
}

function engineLane(alternator: NonNullable<Rig['alternator']>, conditions: Conditions): EngineLane {
  const drivingShare = conditions.itinerary.driving;
  const offer = alternatorColumns(alternator, { drivingShare, ambientC: conditions.weather.ambientC });
  return {
    charger: alternator.charger,
    inputOhm: circuitLoopOhm(alternator.cable, CONDUCTOR_C),
    outputOhm: circuitLoopOhm(alternator.outputCable, CONDUCTOR_C),
    availableA: offer.availableA,
    terminalV: offer.terminalV,
    share: offer.engineShare,
  };
}

function fridgeLane(load: FridgeLoad, conditions: Conditions): FridgeLane {
  const { grid, itinerary, cabinC, weather } = conditions;
  const model = fridgeModel(load);
  const roomC = load.stands === 'cabin' ? cabinC : weather.ambientC;
  const columns = fridgeColumns(load, model, roomC, itinerary.days, grid);
  return { load, model, columns, roomC, ohm: circuitLoopOhm(load.cable, CONDUCTOR_C) };
}

function plainLane(load: ScheduledLoad, conditions: Conditions): PlainLane {
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
      return watts > 0 && watts < Infinity ? watts * onShare[step]! : 0;
    };
    return { load, ohm, onShare, byStep };
  }
  const draw = drawColumn(load, onShare, scope);
  if (draw.kind === 'current')
    return { load, ohm, onShare, meanA: draw.currentA, runA: load.draw.kind === 'current' ? load.draw.currentA : 0 };
  return {
    load,
    ohm,
    onShare,
    meanW: draw.powerW,
    runW: draw.powerW.map((watts, i) => (onShare[i]! > 0 ? watts / onShare[i]! : 0)),
  };
}

function inverterLane(rig: Rig, loads: readonly ScheduledLoad[], conditions: Conditions): InverterLane | undefined {
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
    for (let i = 0; i < grid.steps; i++) askedW[i] = askedW[i]! + meanW[i]!;
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

export interface BatteryClimate {
  readonly batteryC: Float64Array;
  readonly heaterW?: Float64Array;
}

/** The engine bay is so far above the outside air while the engine runs (common practice, no source). */
const ENGINE_BAY_K = 25;

/** Air where the battery stands, then its cells, and what a heater draws for them. */
export function batteryClimate(battery: Battery, conditions: Conditions): BatteryClimate {
  const { weather, cabinC, itinerary, grid } = conditions;
  const airC =
    battery.stands === 'cabin'
      ? cabinC
      : battery.stands === 'outside'
        ? weather.ambientC
        : weather.ambientC.map((air, i) => air + ENGINE_BAY_K * itinerary.driving[i]!);
  if (!battery.heater) return { batteryC: batteryTemperature(airC, grid.stepH, battery.thermalLagH) };
  const heated = heatedTemperature(airC, grid.stepH, battery.thermalLagH, battery.heater, heatCapacityWhPerK(battery));
  return { batteryC: heated.cellC, heaterW: heated.powerW };
}

/** All of a battery that `batteryClimate` looks at. */
function climateReads(battery: Battery): unknown {
  return battery.heater ? battery : [battery.stands, battery.thermalLagH];
}

/** What the cells' temperature makes of any size of battery. */
function cellColumns({ chemistry, chargeMinC }: Battery, batteryC: Float64Array) {
  return {
    resistanceFactor: batteryC.map((cellC) => resistanceFactor(chemistry, cellC)),
    emptySoc: batteryC.map((cellC) => 1 - capacityFactor(chemistry, cellC)),
    /** most that it may be charged with [A per Ah] */
    chargeLimitC: batteryC.map((cellC) => chargeLimitA(chemistry, 1, cellC, chargeMinC)),
    selfDischargeFactor: batteryC.map((cellC) => selfDischargeFactor(cellC)),
  };
}

/**
 * The battery's part of the loop's input.
 * @param cells worked out before for the same chemistry and temperatures
 */
export function batteryInput(
  rig: Pick<Rig, 'battery'>,
  model: BatteryModel,
  batteryC: Float64Array,
  startSoc: number,
  cells = cellColumns(rig.battery, batteryC),
) {
  const { battery } = rig;
  const { chemistry, disconnect, reconnect } = battery;
  const { capacityAh } = model;
  const steps = batteryC.length;
  const rated = Math.min(battery.maxChargeA, chargeLimitA(chemistry, capacityAh, 25, battery.chargeMinC));
  const limitA = new Float64Array(steps);
  const coldLimited = new Float64Array(steps);
  const leakA = new Float64Array(steps);
  const leakPerFactor = model.selfDischargePerH * capacityAh;
  for (let i = 0; i < steps; i++) {
    const coldA = cells.chargeLimitC[i]! * capacityAh;
    limitA[i] = coldA < battery.maxChargeA ? coldA : battery.maxChargeA;
    coldLimited[i] = coldA < rated ? 1 : 0;
    leakA[i] = leakPerFactor * cells.selfDischargeFactor[i]!;
  }
  return {
    points: model.points,
    ocvV: model.ocvV,
    energyWh: model.energyWh,
    dischargeOhm: model.dischargeOhm,
    chargeOhm: model.chargeOhm,
    chargeEfficiency: model.chargeEfficiency,
    capacityAh,
    wellShare: model.wells.c,
    wellPerH: model.wells.kPerH,
    wellReserveAh: model.wells.reserveAh,
    mainOhm: circuitLoopOhm(battery.cable, CONDUCTOR_C),
    startSoc,
    maxDischargeA: battery.maxDischargeA,
    resistanceFactor: cells.resistanceFactor,
    emptySoc: cells.emptySoc,
    chargeLimitA: limitA,
    coldLimited,
    selfDischargeA: leakA,
    disconnectSoc: disconnect.kind === 'soc' ? disconnect.soc : -1,
    disconnectV: disconnect.kind === 'voltage' ? disconnect.voltageV : 0,
    reconnectSoc: reconnect.kind === 'soc' ? reconnect.soc : 2,
    reconnectV: reconnect.kind === 'voltage' ? reconnect.voltageV : 1e9,
  };
}

function plainInput(
  steps: number,
  plain: readonly PlainLane[],
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
  const alwaysW = new Float64Array(steps);
  for (const lane of plain) {
    const { meanW, runW, meanA, ohm } = lane;
    for (let i = 0; i < steps; i++) {
      if (meanW && runW) {
        const watts = meanW[i]!;
        plainW[i] = plainW[i]! + watts;
        plainQuad[i] = plainQuad[i]! + cableTerm(1, ohm, runW[i]!) * watts;
        plainCube[i] = plainCube[i]! + cableTerm(2, ohm, runW[i]!) * watts;
        plainFourth[i] = plainFourth[i]! + cableTerm(3, ohm, runW[i]!) * watts;
      } else if (meanA) plainA[i] = plainA[i]! + meanA[i]!;
    }
  }
  if (inverter) {
    const { ohm, columns } = inverter;
    for (let i = 0; i < steps; i++) {
      const watts = columns.inputW[i]!;
      plainW[i] = plainW[i]! + watts;
      plainQuad[i] = plainQuad[i]! + cableTerm(1, ohm, watts) * watts;
      plainCube[i] = plainCube[i]! + cableTerm(2, ohm, watts) * watts;
      plainFourth[i] = plainFourth[i]! + cableTerm(3, ohm, watts) * watts;
    }
  }
  const fridgeStandbyW = fridges.reduce((sum, lane) => sum + lane.model.standbyW, 0);
  for (let i = 0; i < steps; i++) {
    plainW[i] = plainW[i]! + fridgeStandbyW;
    alwaysW[i] = standbyW + (heaterW ? heaterW[i]! : 0);
  }
  return { plainW, plainQuad, plainCube, plainFourth, plainA, alwaysW };
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

function fridgeInput(steps: number, lanes: readonly FridgeLane[]) {
  const per = (value: (lane: FridgeLane) => number) => Float64Array.from(lanes, value);
  const laneColumn = (pick: (lane: FridgeLane) => Float64Array) => {
    const all = new Float64Array(lanes.length * steps);
    lanes.forEach((lane, k) => {
      all.set(pick(lane), k * steps);
    });
    return all;
  };
  return {
    fridges: lanes.length,
    fridgeOhm: per((lane) => lane.ohm),
    fridgeCutOutV: per((lane) => lane.load.cutOutV),
    fridgeCutInV: per((lane) => lane.load.cutInV),
    fridgeSetC: per((lane) => lane.load.setpointC),
    fridgeStartC: per((lane) => lane.load.startC ?? lane.load.setpointC),
    fridgePerH: per(({ model }) => model.uaWPerK / model.capacityWhPerK),
    fridgeIdleC: laneColumn(({ model, columns, roomC }) =>
      columns.heatGainW.map((watts, i) => roomC[i]! + (watts + model.secondZoneW) / model.uaWPerK),
    ),
    fridgeCoolK: laneColumn(({ model, columns }) => columns.coolingW.map((watts) => watts / model.uaWPerK)),
    fridgeRunW: laneColumn((lane) => lane.columns.electricW),
  };
}

function chargerInput(
  rig: Rig,
  steps: number,
  nominalV: number,
  batteryC: Float64Array,
  solar: readonly SolarLane[],
  engine: EngineLane | undefined,
  mainsShare: Float64Array | undefined,
) {
  interface Lane {
    readonly kind: number;
    readonly ohm: number;
    readonly profile: ChargeProfile;
    readonly drive: Float64Array;
    readonly limitA: Float64Array;
    /** share of each step in which it runs; absent = all of it */
    readonly share?: Float64Array;
    readonly sharesWith?: number;
    readonly pwmOhm?: number;
    readonly pwmA?: Float64Array;
  }
  const profileOf = (own: Partial<ChargeProfile> | undefined) => ({ ...rig.battery.charge, ...own });
  const lanes: Lane[] = solar.map((lane) => {
    const { array } = lane;
    const table = lane.columns.currentAtV;
    const lit = lane.columns.availableW;
    return {
      kind: table ? PWM : CONVERTER,
      ohm: circuitLoopOhm(array.outputCable, CONDUCTOR_C),
      profile: profileOf(array.controller.charge),
      drive: table ? lit.map((watts) => (watts > 0 ? 1 : 0)) : lane.maxOutputW,
      limitA: new Float64Array(steps).fill(array.controller.currentA),
      ...(table && { pwmOhm: lane.cableOhm, pwmA: table.currentA }),
    };
  });
  if (engine) {
    const { charger, outputOhm } = engine;
    if (charger.kind === 'dcdc') {
      const drive = new Float64Array(steps);
      for (let i = 0; i < steps; i++) {
        const terminalV = engine.terminalV[i]!;
        const inputA = dcdcMaxInputA(engine.availableA[i]!, terminalV, charger.inputCutOutV, engine.inputOhm);
        drive[i] = charger.efficiency * (terminalV - inputA * engine.inputOhm) * inputA;
      }
      const solarLane = charger.sharedWithSolar ? 0 : -1;
      lanes.push({
        kind: CONVERTER,
        ohm: outputOhm,
        profile: profileOf(charger.charge),
        drive,
        limitA: new Float64Array(steps).fill(charger.currentA),
        share: engine.share,
        ...(solarLane >= 0 && solar.length > 0 && { sharesWith: solarLane }),
      });
    } else
      lanes.push({
        kind: RELAY,
        ohm: charger.resistanceOhm + engine.inputOhm + outputOhm,
        profile: rig.battery.charge,
        drive: engine.terminalV,
        limitA: engine.availableA,
        share: engine.share,
      });
  }
  if (rig.mains && mainsShare) {
    const { mains } = rig;
    const offer = mainsColumns(mains, mainsShare);
    lanes.push({
      kind: CONVERTER,
      ohm: circuitLoopOhm(mains.cable, CONDUCTOR_C),
      profile: profileOf(mains.charge),
      // Its current is its limit; the power is set where that binds at any battery voltage.
      drive: offer.availableA.map((amps) => amps * 3 * nominalV),
      limitA: offer.availableA,
      share: offer.onShare,
    });
  }
  const per = (value: (lane: Lane) => number) => Float64Array.from(lanes, value);
  const laneColumn = (value: (lane: Lane, j: number) => Float64Array) => {
    const all = new Float64Array(lanes.length * steps);
    lanes.forEach((lane, j) => {
      all.set(value(lane, j), j * steps);
    });
    return all;
  };
  const table = solar.find((lane) => lane.columns.currentAtV)?.columns.currentAtV;
  return {
    chargers: lanes.length,
    chargerKind: per((lane) => lane.kind),
    chargerOhm: per((lane) => lane.ohm),
    absorptionV: per((lane) => lane.profile.absorptionV),
    floatV: per((lane) => lane.profile.floatV),
    absorptionH: per((lane) => lane.profile.absorptionH),
    tailC: per((lane) => lane.profile.tailCurrentC),
    rebulkV: per((lane) => lane.profile.rebulkV),
    compensationV: laneColumn(({ profile }) =>
      batteryC.map((cellC) => chargeVoltage(profile, ABSORPTION, cellC, nominalV) - profile.absorptionV),
    ),
    sharesWith: per((lane) => lane.sharesWith ?? -1),
    drive: laneColumn((lane) => lane.drive),
    limitA: laneColumn((lane) => lane.limitA),
    chargerShare: laneColumn((lane) => lane.share ?? new Float64Array(steps).fill(1)),
    pwmOhm: per((lane) => lane.pwmOhm ?? 0),
    pwmDropV: (PWM_DROP_V * nominalV) / 12,
    pwmFromV: table ? table.voltagesV[0]! : 0,
    pwmStepV: table ? table.voltagesV[1]! - table.voltagesV[0]! : 1,
    pwmPoints: table ? table.voltagesV.length : 2,
    pwmA: lanes.map((lane) => lane.pwmA ?? NO_TABLE),
  };
}
