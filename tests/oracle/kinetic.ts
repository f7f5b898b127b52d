/**
 * The two wells of Manwell & McGowan 1993 by their closed form, a step at a time: a second route beside the step loop, which carries
 * its own. Current is positive into the battery.
 */
function coefficients(c: number, kPerH: number, dtH: number) {
  const left = -Math.expm1(-kPerH * dtH);
  return { keep: 1 - left, share: c * left, gainH: (left + c * (kPerH * dtH - left)) / kPerH };
}

/** Available charge after a step at constant current; below zero means that the current cannot be kept up [Ah]. */
export function kineticStep(
  q1Ah: number,
  q2Ah: number,
  currentA: number,
  dtH: number,
  c: number,
  kPerH: number,
): number {
  const { keep, share, gainH } = coefficients(c, kPerH, dtH);
  return keep * q1Ah + share * (q1Ah + q2Ah) + gainH * currentA;
}

/** The constant discharge current that just empties the available well at the end of a step, positive [A]. */
export function kineticMaxDischargeA(q1Ah: number, q2Ah: number, dtH: number, c: number, kPerH: number): number {
  const { keep, share, gainH } = coefficients(c, kPerH, dtH);
  return (keep * q1Ah + share * (q1Ah + q2Ah)) / gainH;
}
