/**
 * The two-well kinetic battery of Manwell & McGowan: charge that is available at once (q1) and charge that is bound
 * (q2) and flows across at a rate k. Peukert's rate effect, and the recovery at rest, come out of it.
 *
 * Source: Manwell & McGowan, "Lead acid battery storage model for hybrid energy systems", Solar Energy 50(5), 1993,
 * p. 399; k is their k'/(c·(1 − c)). Their current is positive on discharge, ours is positive into the battery.
 * Closed forms, exact for a current that is constant over the step. A single well is c = 1 with q2 = 0.
 */

/**
 * What one step does to the available charge, for a fixed step length:
 * q1' = keep·q1 + share·(q1 + q2) + gainH·I, and q1' + q2' = q1 + q2 + I·dtH.
 */
export interface KineticCoefficients {
  /** e^(−k·dtH) */
  readonly keep: number;
  /** c·(1 − keep) */
  readonly share: number;
  /** available charge gained per ampere [h] */
  readonly gainH: number;
}

/**
 * Coefficients of one step, to be computed once per run.
 * @param c     share of the available well, (0, 1]
 * @param kPerH rate constant, > 0 [1/h]
 * @param dtH   step, > 0 [h]
 * @throws RangeError if an argument is out of range or NaN
 */
export function kineticCoefficients(c: number, kPerH: number, dtH: number): KineticCoefficients {
  if (!(c > 0 && c <= 1)) throw new RangeError(`c must be above 0 and at most 1, got ${c}`);
  if (!(kPerH > 0)) throw new RangeError(`kPerH must be above 0, got ${kPerH}`);
  if (!(dtH > 0)) throw new RangeError(`dtH must be above 0, got ${dtH}`);
  const x = kPerH * dtH;
  const keep = Math.exp(-x);
  const left = -Math.expm1(-x); // 1 − keep, without cancellation for short steps
  return { keep, share: c * left, gainH: (left + c * (x - left)) / kPerH };
}

/**
 * Charge that a full battery gives at the constant current that empties its available well in `hours`.
 * Tends to c·qmax for a very large current and to qmax for a very small one.
 * @param qmaxAh both wells, full [Ah]
 * @returns delivered charge [Ah]
 */
export function capacityAtHoursAh(qmaxAh: number, hours: number, c: number, kPerH: number): number {
  const { keep, share, gainH } = kineticCoefficients(c, kPerH, hours);
  return (qmaxAh * (keep * c + share) * hours) / gainH;
}
