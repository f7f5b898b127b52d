import {
  type BatteryModel,
  batteryTemperature,
  chargeFactor,
  chargeLimitA,
  heatCapacityWhPerK,
  heatedTemperature,
  resistanceFactor,
  selfDischargeFactor,
  wellsAt,
} from '../../battery/index.js';
import { type Battery, isLead, type Rig } from '../../rig/index.js';
import { CONDUCTOR_C, circuitLoopOhm } from '../../wire/index.js';
import type { Conditions } from '../types.js';

/** How warm the battery is [°C], and what its heater draws for it [W], a value a step. */
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
export function climateReads(battery: Battery): unknown {
  return battery.heater ? battery : [battery.stands, battery.thermalLagH];
}

/** Lead-acid is never charged at so much of its capacity in an hour: where only voltages and resistances limit its current [1/h]. */
const NO_LIMIT_C = 10;

/** The share of each step in which a bare relay joins alternator and battery. */
export function joinedShare(
  { alternator }: Pick<Rig, 'alternator'>,
  { itinerary }: Conditions,
): Float64Array | undefined {
  return alternator?.charger.kind === 'relay' ? itinerary.driving : undefined;
}

/** What the cells' temperature makes of any size of battery. */
export function cellColumns({ chemistry, chargeMinC }: Battery, batteryC: Float64Array) {
  const column = () => new Float64Array(batteryC.length);
  const cells = {
    resistanceFactor: column(),
    chargeFactor: column(),
    wellShare: column(),
    wellPerH: column(),
    /** most that it may be charged with [A per Ah] */
    chargeLimitC: column(),
    selfDischargeFactor: column(),
  };
  for (let i = 0; i < batteryC.length; i++) {
    const cellC = batteryC[i]!;
    const wells = wellsAt(chemistry, cellC);
    cells.resistanceFactor[i] = resistanceFactor(chemistry, cellC);
    cells.chargeFactor[i] = chargeFactor(chemistry, cellC);
    cells.wellShare[i] = wells.c;
    cells.wellPerH[i] = wells.kPerH;
    cells.chargeLimitC[i] = chargeLimitA(chemistry, 1, cellC, chargeMinC);
    cells.selfDischargeFactor[i] = selfDischargeFactor(cellC);
  }
  return cells;
}

/**
 * The battery's part of the loop's input. The current that a voltage held for a step drives into a battery is the mean of
 * one that falls with it, (1 − e^(−λ·h))/(λ·h) of the first, so that a run's step does not matter to how long it takes to fill.
 * @param stepH of the run [h]
 * @param joined as `joinedShare` has it: while it is above 0, `maxCharge` limits nothing
 * @param cells worked out before for the same chemistry and temperatures
 */
export function batteryInput(
  rig: Pick<Rig, 'battery'>,
  model: BatteryModel,
  batteryC: Float64Array,
  stepH: number,
  startSoc: number,
  joined?: Float64Array,
  cells = cellColumns(rig.battery, batteryC),
) {
  const { battery } = rig;
  const { chemistry, disconnect, reconnect } = battery;
  const { capacityAh, chargeOhm, acceptanceOhm, taperPerH } = model;
  const meanTaper = (perH: number) => (perH > 0 ? -Math.expm1(-perH * stepH) / (perH * stepH) : 1);
  const steps = batteryC.length;
  const rated = Math.min(battery.maxChargeA, chargeLimitA(chemistry, capacityAh, 25, battery.chargeMinC));
  const limitA = new Float64Array(steps);
  const coldLimited = new Float64Array(steps);
  const leakA = new Float64Array(steps);
  const leakPerFactor = model.selfDischargePerH * capacityAh;
  const { maxChargeA } = battery;
  const { chargeLimitC, selfDischargeFactor: factor } = cells;
  // Nothing holds the current at `maxCharge` behind a bare relay, but a management system at its makers' limit.
  const joinedA = NO_LIMIT_C * capacityAh;
  for (let i = 0; i < steps; i++) {
    const isFree = joined !== undefined && joined[i]! > 0;
    const coldA = isFree && isLead(chemistry) ? joinedA : chargeLimitC[i]! * capacityAh;
    const setA = isFree ? joinedA : maxChargeA;
    limitA[i] = coldA < setA ? coldA : setA;
    coldLimited[i] = coldA < rated ? 1 : 0;
    leakA[i] = leakPerFactor * factor[i]!;
  }
  return {
    points: model.points,
    ocvV: model.ocvV,
    energyWh: model.energyWh,
    dischargeOhm: model.dischargeOhm,
    chargeOhm,
    chargeSteepOhm: model.chargeSteepOhm,
    chargeStepOhm: chargeOhm.map((ohm, n) => Math.max(0, acceptanceOhm[n]! / meanTaper(taperPerH[n]!) - ohm)),
    chargeBendV: model.chargeBendV,
    chargeEfficiency: model.chargeEfficiency,
    capacityAh,
    lowestV: model.lowestV,
    kneeV: model.kneeV,
    kneeA: model.kneeA,
    wellReserveAh: model.wells.reserveAh,
    emptySoc: model.emptySoc,
    mainOhm: circuitLoopOhm(battery.cable, CONDUCTOR_C),
    startSoc,
    maxDischargeA: battery.maxDischargeA ?? Infinity,
    resistanceFactor: cells.resistanceFactor,
    chargeFactor: cells.chargeFactor,
    wellShare: cells.wellShare,
    wellPerH: cells.wellPerH,
    chargeLimitA: limitA,
    coldLimited,
    selfDischargeA: leakA,
    // at 0 % the battery's own end is meant, which a slow discharge of lead-acid comes to later
    disconnectSoc: disconnect.kind === 'soc' && disconnect.soc > 0 ? disconnect.soc : -1,
    disconnectV: disconnect.kind === 'voltage' ? disconnect.voltageV : 0,
    reconnectSoc: reconnect.kind === 'soc' ? reconnect.soc : 2,
    reconnectV: reconnect.kind === 'voltage' ? reconnect.voltageV : 1e9,
  };
}
