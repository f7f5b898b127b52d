import type { Alternator } from '../rig/index.js';

/** Copper loses output as it warms: resistance grows by about 0.4 % per kelvin (IEC 60028). */
const HEAT_PER_K = 0.004;
/** The rig's hot and idle shares are taken to be stated for this ambient [°C]. */
const STATED_AT_C = 25;
/** A regulator stands in the engine's air, this much above the outside, once it is warm. Common practice, no source [K]. */
const REGULATOR_ABOVE_AIR_K = 25;

/** What the alternator depends on, a value a step. */
export interface EngineColumns {
  /** share of each step that the vehicle is driven, 0..1 */
  readonly drivingShare: Float64Array;
  /** share of each step that the engine idles besides, 0..1; absent = never */
  readonly idlingShare?: Float64Array;
  /** outside air [°C]; absent = 25 °C */
  readonly ambientC?: Float64Array;
}

/**
 * What the alternator offers, per step. `availableA` and `terminalV` hold **while the engine runs**; `engineShare` is
 * the part of the step in which it does. The loop works out the charging current from the limits while running, and
 * only then multiplies it by `engineShare` to get the mean of the step: three minutes at 30 A are 1.5 Ah, whereas
 * a mean limit of 9 A would hide that the charger's 30 A was the limit.
 */
export interface AlternatorColumns {
  /** left for charging, after heat or idle and the vehicle's own draw; 0 with the engine off [A] */
  readonly availableA: Float64Array;
  /** held at the alternator's terminals; 0 with the engine off [V] */
  readonly terminalV: Float64Array;
  /** share of the step with the engine on, 0..1 */
  readonly engineShare: Float64Array;
}

/**
 * Alternator output left for charging:  rating·share·heat − vehicle, where share is the rig's `hotShare` on the road
 * or `idleShare` at idle and heat = 1 − 0.004·(ambient − 25 °C), so never above the rating. Driving and idling in
 * one step are averaged by their time.
 * Variable-voltage regulation is taken at its low voltage: the short overrun with a high one is left out, so
 * the answer is on the safe side.
 * A temperature-compensated regulator holds voltage + compensation·(ambient + 25 K − 25 °C): it feels the engine's air.
 * Left out: the minutes until it is warm, in which it holds more, and what the alternator's own heat adds.
 * Source: shares, ISO 8854 rating method and common practice; balance of currents.
 * @throws RangeError if the columns differ in length
 */
export function alternatorColumns(alternator: Alternator, engine: EngineColumns): AlternatorColumns {
  const { ratingA, hotShare, idleShare, vehicleA, voltageV, lowVoltageV, perDegreeV = 0 } = alternator;
  const { drivingShare, idlingShare, ambientC } = engine;
  const n = drivingShare.length;
  if ((idlingShare && idlingShare.length !== n) || (ambientC && ambientC.length !== n))
    throw new RangeError(`engine columns must have the same length, ${n}`);
  const availableA = new Float64Array(n);
  const terminalV = new Float64Array(n);
  const engineShare = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const driving = drivingShare[i]!;
    const idling = idlingShare ? Math.min(idlingShare[i]!, 1 - driving) : 0;
    const on = driving + idling;
    if (!(on > 0)) continue;
    const airK = (ambientC ? ambientC[i]! : STATED_AT_C) - STATED_AT_C;
    const heat = 1 - HEAT_PER_K * airK;
    const drivingA = Math.max(0, ratingA * Math.min(1, hotShare * heat) - vehicleA);
    const idlingA = Math.max(0, ratingA * Math.min(1, idleShare * heat) - vehicleA);
    availableA[i] = (driving * drivingA + idling * idlingA) / on;
    terminalV[i] = lowVoltageV ?? voltageV + perDegreeV * (airK + REGULATOR_ABOVE_AIR_K);
    engineShare[i] = on;
  }
  return { availableA, terminalV, engineShare };
}
