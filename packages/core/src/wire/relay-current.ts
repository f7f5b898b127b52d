import { type BatteryModel, batteryModel, chargeLimitA } from '../battery/index.js';
import { isLead, type Rig } from '../rig/index.js';
import { CONDUCTOR_C, circuitLoopOhm } from './conductor.js';

/** What a bare relay passes into the battery at most: the lesser of `maxA` and Ohm's law, (sourceV − farV)/(restOhm + a cable's resistance). */
export interface RelayCurrent {
  /** with the cables as they are [A] */
  readonly currentA: number;
  /** what the alternator has left while cool, and what the battery's protection lets in [A] */
  readonly maxA: number;
  /** what the alternator has left alone [A] */
  readonly leftA: number;
  readonly sourceV: number;
  /** the battery at the charge at which it takes most, as a voltage behind a resistance [V], [Ω] */
  readonly farV: number;
  readonly batteryOhm: number;
  /** relay and cables as they are [Ω] */
  readonly wayOhm: number;
}

/**
 * Largest current behind a bare relay, from empty to full: voltages, resistances, the alternator's rating less what the
 * vehicle takes, and what the management system of a lithium battery takes for its makers' limit. Nothing holds it at `maxCharge`. At
 * 25 °C, house loads left out.
 * @returns undefined without a relay
 */
export function relayCurrent({ alternator, battery }: Pick<Rig, 'alternator' | 'battery'>): RelayCurrent | undefined {
  if (alternator?.charger.kind !== 'relay') return undefined;
  const { voltageV: sourceV, ratingA, vehicleA, charger, cable, outputCable } = alternator;
  const wayOhm =
    charger.resistanceOhm +
    [cable, outputCable, battery.cable].reduce((sum, one) => sum + circuitLoopOhm(one, CONDUCTOR_C), 0);
  const model = batteryModel(battery);
  const leftA = Math.max(0, ratingA - vehicleA);
  const maxA = Math.min(leftA, protectionA(battery, model));
  let most = { currentA: 0, farV: model.ocvV[0]!, batteryOhm: model.chargeOhm[0]! };
  for (let n = 0; n < model.points; n++) {
    const ocvV = model.ocvV[n]!;
    for (const [farV, batteryOhm] of [
      [ocvV, model.chargeSteepOhm[n]!],
      [ocvV + model.chargeBendV[n]!, model.chargeOhm[n]!],
    ] as const) {
      const currentA = (sourceV - farV) / (batteryOhm + wayOhm);
      if (currentA > most.currentA) most = { currentA, farV, batteryOhm };
    }
  }
  return { ...most, currentA: Math.min(maxA, most.currentA), maxA, leftA, sourceV, wayOhm };
}

/** What the management system of a lithium battery lets in, its makers' limit; lead-acid has none [A]. */
function protectionA({ chemistry, chargeMinC }: Rig['battery'], { capacityAh }: BatteryModel): number {
  return isLead(chemistry) ? Infinity : chargeLimitA(chemistry, capacityAh, 25, chargeMinC);
}
