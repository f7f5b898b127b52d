import { ABSORPTION, alternatorColumns, chargeVoltage, dcdcMaxInputA, mainsColumns } from '../../charge/index.js';
import type { AlternatorCharger, ChargeProfile, Rig } from '../../rig/index.js';
import { PWM_DROP_V } from '../../solar/index.js';
import { CONDUCTOR_C, circuitLoopOhm } from '../../wire/index.js';
import { CONVERTER, PWM, RELAY } from '../loop/loop.js';
import type { Conditions } from '../types.js';
import type { SolarLane } from './assemble-solar.js';

/** A PWM lane's table when there is none. */
const NO_TABLE = new Float64Array(0);

/** A relay that the engine switches, which sees no voltage. */
const ENGINE_SWITCHED = { joinV: 0, partV: 0, drawA: 0 };

/** The alternator and what stands behind it, as the loop takes them. */
export interface EngineLane {
  readonly charger: AlternatorCharger;
  /** what the vehicle takes with the engine on [A] */
  readonly vehicleA: number;
  readonly inputOhm: number;
  readonly outputOhm: number;
  /** left for charging while the engine runs [A], and held at its terminals [V] */
  readonly availableA: Float64Array;
  readonly terminalV: Float64Array;
  /** share of the step that it runs */
  readonly share: Float64Array;
}

export function engineLane(alternator: NonNullable<Rig['alternator']>, conditions: Conditions): EngineLane {
  const drivingShare = conditions.itinerary.driving;
  const offer = alternatorColumns(alternator, { drivingShare, ambientC: conditions.weather.ambientC });
  return {
    charger: alternator.charger,
    vehicleA: alternator.vehicleA,
    inputOhm: circuitLoopOhm(alternator.cable, CONDUCTOR_C),
    outputOhm: circuitLoopOhm(alternator.outputCable, CONDUCTOR_C),
    availableA: offer.availableA,
    terminalV: offer.terminalV,
    share: offer.engineShare,
  };
}

export function chargerInput(
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
    readonly limitA: Float64Array | number;
    /** share of each step in which it runs; absent = all of it */
    readonly share?: Float64Array;
    readonly sharesWith?: number;
    readonly pwmOhm?: number;
    readonly pwmA?: Float64Array;
    readonly relay?: { readonly backA: number; readonly joinV: number; readonly partV: number; readonly drawA: number };
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
      limitA: array.controller.currentA,
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
        limitA: charger.currentA,
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
        // A relay that senses voltage may join the batteries with the engine off.
        share: charger.sensing ? engine.share.map((share) => (share > 0 ? share : 1)) : engine.share,
        relay: { backA: engine.vehicleA, ...(charger.sensing ?? ENGINE_SWITCHED) },
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
  const laneColumn = (value: (lane: Lane) => Float64Array | number) => {
    const all = new Float64Array(lanes.length * steps);
    lanes.forEach((lane, j) => {
      const values = value(lane);
      if (typeof values === 'number') all.fill(values, j * steps, (j + 1) * steps);
      else all.set(values, j * steps);
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
    holdH: per((lane) => lane.profile.holdH),
    tailC: per((lane) => lane.profile.fullBelowC),
    restartBelowV: per((lane) => lane.profile.restartBelowV),
    compensationV: laneColumn(({ profile }) => compensation(profile, batteryC, nominalV)),
    sharesWith: per((lane) => lane.sharesWith ?? -1),
    drive: laneColumn((lane) => lane.drive),
    limitA: laneColumn((lane) => lane.limitA),
    chargerShare: laneColumn((lane) => lane.share ?? 1),
    pwmOhm: per((lane) => lane.pwmOhm ?? 0),
    relayBackA: per((lane) => lane.relay?.backA ?? 0),
    relayJoinV: per((lane) => lane.relay?.joinV ?? 0),
    relayPartV: per((lane) => lane.relay?.partV ?? 0),
    relayDrawA: per((lane) => lane.relay?.drawA ?? 0),
    pwmDropV: (PWM_DROP_V * nominalV) / 12,
    pwmFromV: table ? table.voltagesV[0]! : 0,
    pwmStepV: table ? table.voltagesV[1]! - table.voltagesV[0]! : 1,
    pwmPoints: table ? table.voltagesV.length : 2,
    pwmA: lanes.map((lane) => lane.pwmA ?? NO_TABLE),
  };
}

/** Correction of a charger's set points for the cells' temperature; one value where it is the same for all [V]. */
export function compensation(profile: ChargeProfile, batteryC: Float64Array, nominalV: number): Float64Array | number {
  if (profile.perDegreeV === 0) return 0;
  const volts = new Float64Array(batteryC.length);
  for (let i = 0; i < volts.length; i++)
    volts[i] = chargeVoltage(profile, ABSORPTION, batteryC[i]!, nominalV) - profile.absorptionV;
  return volts;
}
