/**
 * One current-voltage curve of the single-diode circuit:
 *   I = photoA − saturationA · (exp((V + I·seriesOhm) / aV) − 1) − (V + I·seriesOhm) / shuntOhm
 * for a module or anything scaled from one. `shuntOhm` may be Infinity, `seriesOhm` 0.
 */
export interface DiodeCurve {
  /** modified ideality factor: n · cells · kT/q [V] */
  readonly aV: number;
  readonly photoA: number;
  readonly saturationA: number;
  readonly seriesOhm: number;
  readonly shuntOhm: number;
}

/** A point of a current-voltage curve. */
export interface OperatingPoint {
  readonly powerW: number;
  readonly voltageV: number;
  readonly currentA: number;
}

/**
 * Current that leaves the module at a terminal voltage [A]; negative above open circuit.
 * Solved for the junction voltage u = V + I·Rs, of which I is an explicit function: u − Rs·I(u) − V is increasing and
 * convex, so Newton's method from an upper bound walks down to the root without overshoot.
 * Accuracy: 1e-12 V of u.
 */
export function currentAtVoltageA(curve: DiodeCurve, voltageV: number): number {
  const { aV, photoA, saturationA, seriesOhm } = curve;
  const shuntS = 1 / curve.shuntOhm;
  let u = voltageV;
  if (seriesOhm > 0) {
    // The diode carries at most what light and terminals feed it, which bounds u from above.
    const maxA = photoA + Math.max(0, voltageV) / seriesOhm;
    u = Math.min(voltageV + photoA * seriesOhm, aV * Math.log1p(maxA / saturationA));
    for (let k = 0; k < 100; k++) {
      const diodeA = saturationA * Math.exp(u / aV);
      const f = u - seriesOhm * (photoA - (diodeA - saturationA) - u * shuntS) - voltageV;
      const step = f / (1 + seriesOhm * (diodeA / aV + shuntS));
      u -= step;
      if (!(Math.abs(step) > 1e-12)) break;
    }
  }
  return photoA - saturationA * Math.expm1(u / aV) - u * shuntS;
}

/** Open-circuit voltage [V]; 0 in the dark. Without a shunt it is aV · ln(photoA / saturationA + 1). */
export function openCircuitV(curve: DiodeCurve): number {
  const { aV, photoA, saturationA } = curve;
  if (!(photoA > 0)) return 0;
  const shuntS = 1 / curve.shuntOhm;
  let u = aV * Math.log1p(photoA / saturationA);
  for (let k = 0; k < 100; k++) {
    const diodeA = saturationA * Math.exp(u / aV);
    const step = (diodeA - saturationA + u * shuntS - photoA) / (diodeA / aV + shuntS);
    u -= step;
    if (!(Math.abs(step) > 1e-12)) break;
  }
  return u;
}

/**
 * Maximum power point. Along the junction voltage u both I and V = u − I·Rs are explicit, and dP/du = 0 is
 * I'·(u − 2·I·Rs) + I = 0; one root lies between short and open circuit. Newton, kept inside its bracket by halving.
 */
export function maximumPower(curve: DiodeCurve): OperatingPoint {
  const { aV, photoA, saturationA, seriesOhm } = curve;
  if (!(photoA > 0)) return { powerW: 0, voltageV: 0, currentA: 0 };
  const shuntS = 1 / curve.shuntOhm;
  let low = 0;
  let high = aV * Math.log1p(photoA / saturationA);
  let u = high - aV * Math.log1p(high / aV);
  for (let k = 0; k < 100; k++) {
    const diodeA = saturationA * Math.exp(u / aV);
    const currentA = photoA - (diodeA - saturationA) - u * shuntS;
    const slope = -diodeA / aV - shuntS;
    const f = slope * (u - 2 * currentA * seriesOhm) + currentA;
    if (f > 0) low = u;
    else high = u;
    const bend = -diodeA / (aV * aV);
    const df = bend * (u - 2 * currentA * seriesOhm) + slope * (2 - 2 * slope * seriesOhm);
    let next = u - f / df;
    if (!(next > low && next < high)) next = (low + high) / 2;
    const moved = Math.abs(next - u);
    u = next;
    if (!(moved > 1e-10)) break;
  }
  const currentA = photoA - saturationA * Math.expm1(u / aV) - u * shuntS;
  const voltageV = u - currentA * seriesOhm;
  return { powerW: voltageV * currentA, voltageV, currentA };
}
