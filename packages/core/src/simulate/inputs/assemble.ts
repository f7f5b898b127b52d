import { type BatteryModel, batteryModel } from '../../battery/index.js';
import { thermostatSwingK } from '../../load/index.js';
import { finish, type Task } from '../../math/index.js';
import type { Rig, ScheduledLoad } from '../../rig/index.js';
import type { LoopInput } from '../loop/loop.js';
import type { Conditions } from '../types.js';
import { batteryClimate, batteryInput, cellColumns, climateReads, joinedShare } from './assemble-battery.js';
import { chargerInput, type EngineLane, engineLane } from './assemble-chargers.js';
import type { SocDraw } from './assemble-loads.js';
import {
  type FridgeLane,
  fridgeInput,
  fridgeLanes,
  type HeavyLane,
  heavyInput,
  heavyLanes,
  type InverterLane,
  inverterLane,
  plainInput,
  plainLane,
  type ScheduledLoadInput,
} from './assemble-loads.js';
import { arrayLane, lightReads, planeOfArray, type SolarLane } from './assemble-solar.js';
import { type Memo, withoutMemo } from './memo.js';
import { ownLane, ownLoad } from './own-loads.js';

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
  readonly plain: readonly ScheduledLoadInput[];
  readonly inverter?: InverterLane;
  readonly heavies: readonly HeavyLane[];
  readonly starterSide: readonly string[];
  readonly fridges: readonly FridgeLane[];
  readonly input: LoopInput;
  readonly socDraw?: SocDraw;
}

/**
 * Turns a rig and its conditions into the loop's columns: light on each array and what it can give, the engine's and
 * the mains' offer, what each load asks, the battery's temperature. Nothing here depends on the battery's state.
 * @param memo columns of other rigs under the same conditions, which serve again where the rigs are the same
 */
export function assemble(rig: Rig, conditions: Conditions, startSoc: number, memo: Memo = withoutMemo): Assembled {
  return finish(assembleTask(rig, conditions, startSoc, memo));
}

/** The same with pauses. */
export function* assembleTask(
  rig: Rig,
  conditions: Conditions,
  startSoc: number,
  memo: Memo = withoutMemo,
): Task<Assembled> {
  const { grid } = conditions;
  const { battery } = rig;
  const steps = grid.steps;
  const nominalV = battery.nominalV * battery.series;
  const model = batteryModel(battery);

  const { alternator, mains, albedo, snow } = rig;
  const solar: SolarLane[] = [];
  for (const [k, array] of rig.solar.entries()) {
    const lit = memo(`light ${k}`, lightReads(array, rig), () => planeOfArray(array, rig, conditions));
    yield;
    solar.push(
      memo(`solar ${k}`, [array, albedo, snow, nominalV], () => arrayLane(array, rig, lit, conditions, nominalV)),
    );
    yield;
  }
  const engine = alternator && memo('engine', alternator, () => engineLane(alternator, conditions));
  const mainsShare = mains && conditions.itinerary.mains;
  const house = [...rig.loads, ...ownLoadsFor(rig, conditions)].filter((load) => !load.starterSide);
  const fridgeLoads = house.filter((load) => load.kind === 'fridge');
  const fridges: FridgeLane[] = [];
  for (const [k, load] of fridgeLoads.entries()) {
    fridges.push(...memo(`fridge ${k}`, load, () => fridgeLanes(load, conditions)));
    yield;
  }
  const own = new Map(conditions.ownLoads?.map(({ name, powerW }) => [name, powerW]));
  const atHouse = house.filter((load) => load.kind !== 'fridge');
  const plain: ScheduledLoadInput[] = [];
  for (const [k, load] of atHouse.filter(({ inverter: isBehind }) => !isBehind).entries()) {
    const powerW = own.get(load.name);
    plain.push(
      powerW
        ? ownLane(load.name, powerW)
        : memo(`load ${k}`, [load, nominalV], () => plainLane(load, conditions, nominalV)),
    );
    yield;
  }
  const behind = atHouse.filter((load) => load.inverter);
  const inverter =
    rig.inverter && memo('inverter', [rig.inverter, behind], () => inverterLane(rig, behind, conditions));

  const heavies = heavyLanes(rig.inverter, inverter, plain);
  yield;
  const warmedBy = climateReads(battery);
  const { batteryC, heaterW } = memo('cells', warmedBy, () => batteryClimate(battery, conditions));
  const cells = memo('cell limits', [warmedBy, battery.chemistry, battery.chargeMinC], () =>
    cellColumns(battery, batteryC),
  );
  yield;
  const standbyW = rig.solar.reduce((sum, array) => sum + array.controller.standbyW, 0);
  const chargeBy = [rig.solar, albedo, snow, nominalV, alternator, mains, battery.charge, warmedBy];
  const { tailC, ...chargers } = memo('chargers', chargeBy, () =>
    chargerInput(rig, steps, nominalV, batteryC, solar, engine, mainsShare),
  );
  yield;
  const input: LoopInput = {
    steps,
    stepH: grid.stepH,
    fridgeSwingK: thermostatSwingK(grid.stepH),
    ...batteryInput(rig, model, batteryC, grid.stepH, startSoc, joinedShare(rig, conditions), cells),
    ...memo('loads', [house, nominalV, rig.inverter, standbyW, heaterW && warmedBy], () =>
      plainInput(steps, plain, inverter, fridges, standbyW, heaterW),
    ),
    ...memo('heavy loads', [atHouse, nominalV, rig.inverter], () => heavyInput(steps, heavies)),
    ...memo('fridges', fridgeLoads, () => fridgeInput(steps, fridges)),
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
    heavies,
    starterSide: rig.loads.filter((load) => load.starterSide).map((load) => load.name),
    fridges,
    input,
    ...(bySoc.length > 0 && {
      socDraw: (step: number, soc: number) => bySoc.reduce((sum, lane) => sum + lane.byStep!(step, soc), 0),
    }),
  };
}

/** The loads that come with the conditions. @throws TypeError when one has a name of the rig's */
function ownLoadsFor(rig: Rig, { ownLoads = [] }: Conditions): ScheduledLoad[] {
  const taken = ownLoads.find(({ name }) => rig.loads.some((load) => load.name === name));
  if (taken)
    throw new TypeError(`ownLoads: the rig has a load ${taken.name} already, and each needs a name of its own`);
  return ownLoads.map(({ name }) => ownLoad(name));
}

/** The same memory under conditions that differ in when the engine runs: what looks at that is made anew. */
export function whenDriven(memo: Memo, { battery }: Pick<Rig, 'battery'>): Memo {
  if (battery.stands === 'engine bay') return withoutMemo;
  return (kind, reads, make) => (kind === 'engine' || kind === 'chargers' ? make() : memo(kind, reads, make));
}
