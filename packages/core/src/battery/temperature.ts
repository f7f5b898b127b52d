import type { Chemistry } from '../rig/index.js';
import { CHEMISTRIES, curveAt } from './chemistry.js';

const GAS_J_PER_MOL_K = 8.314;
const ZERO_C_K = 273.15;

/**
 * Share of the capacity that can be had at a cell temperature, 0..1; 1 from 25 °C up. What is locked is not lost:
 * discharge ends at a state of charge of 1 − factor, and the rest is there again when the cells are warm.
 * Accuracy: ±0.05 above −10 °C, ±0.1 below. Flat outside −40 to 25 °C.
 * @param cellC cell (not air) temperature [°C]
 */
export function capacityFactor(chemistry: Chemistry, cellC: number): number {
  return curveAt(CHEMISTRIES[chemistry].capacity, cellC);
}

/**
 * Resistance against its value at 25 °C: exp(Ea/R·(1/T − 1/298.15 K)), clamped to −40 … 60 °C. Lead-acid is half
 * as much again at 0 °C and double at −20 °C, LFP twice and four times (common practice, no source).
 * @param cellC cell temperature [°C]
 */
export function resistanceFactor(chemistry: Chemistry, cellC: number): number {
  return arrhenius(CHEMISTRIES[chemistry].resistanceJPerMol, Math.min(60, Math.max(-40, cellC)), 25);
}

/** Self-discharge against its value at 20 °C: doubles per 10 K (Linden & Reddy, from memory). */
export function selfDischargeFactor(cellC: number): number {
  return 2 ** ((cellC - 20) / 10);
}

/** exp(Ea/R·(1/T − 1/Tref)): a resistance, which falls as it warms. */
export function arrhenius(energyJPerMol: number, cellC: number, referenceC: number): number {
  return Math.exp((energyJPerMol / GAS_J_PER_MOL_K) * (1 / (cellC + ZERO_C_K) - 1 / (referenceC + ZERO_C_K)));
}

/**
 * Cell temperature from the air where the battery stands: a first-order lag, exact for air that is constant over a
 * step. Heat of the current is left out: in leisure use it is under 1 K.
 * @param airC   per step [°C]
 * @param stepH  step, > 0 [h]
 * @param lagH   time constant, >= 0 [h]
 * @param startC at the beginning; absent = mean air of the first day [°C]
 * @returns mean over each step [°C]
 * @throws RangeError if stepH or lagH is out of range or NaN
 */
export function batteryTemperature(
  airC: Float64Array,
  stepH: number,
  lagH: number,
  startC: number = firstDayMean(airC, stepH),
): Float64Array {
  checkStep(stepH, lagH);
  if (lagH === 0) return airC.slice(); // and of "-0 h", whose quotient below would be infinite
  const cellC = new Float64Array(airC.length);
  const keep = Math.exp(-stepH / lagH);
  const mean = (-Math.expm1(-stepH / lagH) * lagH) / stepH;
  let now = startC;
  for (let i = 0; i < airC.length; i++) {
    const air = airC[i]!;
    cellC[i] = air + (now - air) * mean;
    now = air + (now - air) * keep;
  }
  return cellC;
}

/** Mean of the first 24 hours of a column, or of all of it when it is shorter; NaN for an empty one. */
export function firstDayMean(values: Float64Array, stepH: number): number {
  const n = Math.min(values.length, Math.max(1, Math.round(24 / stepH)));
  let sum = 0;
  for (let i = 0; i < n; i++) sum += values[i]!;
  return sum / n;
}

/** @throws RangeError if the step is not positive or the lag negative, or either NaN */
export function checkStep(stepH: number, lagH: number): void {
  if (!(stepH > 0)) throw new RangeError(`stepH must be above 0, got ${stepH}`);
  if (!(lagH >= 0)) throw new RangeError(`lagH must be 0 or more, got ${lagH}`);
}
