import type { Inverter } from '../rig/index.js';
import { type ConverterCoefficients, converterCoefficients, inputFromOutputW } from '../solar/index.js';

/** An inverter and all that runs behind it, a value a step. */
export interface InverterColumns {
  /** drawn from the battery side, standby included [W] */
  readonly inputW: Float64Array;
  /** of that, the fixed part that is there whatever the load [W] */
  readonly standbyW: Float64Array;
  /** drawn from the battery side while loads run behind it, standby included, and the share of the step in which they do [W] */
  readonly runW: Float64Array;
  readonly runShare: Float64Array;
  /** what the loads behind it get [W] */
  readonly servedW: Float64Array;
  /** steps in which the loads asked for more than the rating */
  readonly overloadedSteps: number;
}

/** The three terms of the inverter's loss: fixed, per watt, per watt squared. */
export function inverterCoefficients(inverter: Inverter): ConverterCoefficients {
  return converterCoefficients({
    efficiency: inverter.efficiency,
    ratingW: inverter.ratingW,
    standbyW: inverter.standbyW,
  });
}

/**
 * Power into an inverter that is switched on: Pin = p0 + (1 + a) · Pout + b · Pout².
 * Source: Schmidt & Sauer 1996, loss form; the terms from the best efficiency and the standby.
 * @param acW what the loads take, >= 0; above the rating it is served up to the rating [W]
 */
export function inverterInputW(inverter: Inverter, acW: number): number {
  return inputFromOutputW(inverterCoefficients(inverter), Math.min(acW, inverter.ratingW));
}

/**
 * The same for a column of step means. A load that runs part of a step takes its full power then, so loss is taken at
 * that power and weighted with the time; standby counts all day ('always') or while a load is on ('with loads').
 * @param onShare share of each step in which any load behind the inverter is on, 0..1; absent = on where acPowerW > 0
 */
export function inverterInputColumns(
  inverter: Inverter,
  acPowerW: Float64Array,
  onShare?: Float64Array,
): InverterColumns {
  const steps = acPowerW.length;
  const inputW = new Float64Array(steps);
  const standbyW = new Float64Array(steps);
  const runW = new Float64Array(steps);
  const runShare = new Float64Array(steps);
  const servedW = new Float64Array(steps);
  const coefficients = inverterCoefficients(inverter);
  const always = inverter.on === 'always';
  let overloadedSteps = 0;
  for (let i = 0; i < steps; i++) {
    const meanW = acPowerW[i]!;
    const share = meanW > 0 ? Math.min(1, onShare === undefined ? 1 : onShare[i]!) : 0;
    const whileOnW = share > 0 ? meanW / share : 0;
    if (whileOnW > inverter.ratingW * (1 + 1e-12)) overloadedSteps++;
    const outW = Math.min(whileOnW, inverter.ratingW);
    const onH = always ? 1 : share;
    const standby = coefficients.p0W * onH;
    standbyW[i] = standby;
    servedW[i] = share * outW;
    runShare[i] = share;
    runW[i] = share > 0 ? inputFromOutputW(coefficients, outW) : 0;
    inputW[i] = standby + share * (inputFromOutputW(coefficients, outW) - coefficients.p0W);
  }
  return { inputW, standbyW, runW, runShare, servedW, overloadedSteps };
}

/**
 * Share of each step in which at least one of several loads is on, as if their runs fell independently: 1 − Π(1 − s).
 * @param shares one column a load, at least one
 */
export function anyOnShare(shares: readonly Float64Array[]): Float64Array {
  const steps = shares[0]?.length ?? 0;
  const any = new Float64Array(steps);
  for (let i = 0; i < steps; i++) {
    let none = 1;
    for (let k = 0; k < shares.length; k++) none *= 1 - Math.min(1, shares[k]![i]!);
    any[i] = 1 - none;
  }
  return any;
}
