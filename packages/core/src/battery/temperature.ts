import type { Chemistry } from '../rig/index.js';
import { CHEMISTRIES, type ColdTable } from './chemistry.js';
import { capacityAtHoursAh } from './kinetic.js';

const GAS_J_PER_MOL_K = 8.314;
const ZERO_C_K = 273.15;

const REFERENCE_C = 25;
const COLDEST_C = -40;
const HOTTEST_C = 60;
/** The available well grows with warmth up to here [°C]. */
const WIDEST_C = 40;

const inRange = (cellC: number, hottestC = HOTTEST_C) => Math.min(hottestC, Math.max(COLDEST_C, cellC));

/**
 * Resistance while discharging against its value at 25 °C, clamped to −40 … 60 °C: exp(Ea/R·(1/T − 1/298.15 K)), of LFP with
 * a larger Ea in the cold. Lead-acid is half as much again at 0 °C and double at −20 °C (common practice, no source), LFP 2.4
 * and nine times.
 * @param cellC cell (not air) temperature [°C]
 */
export function resistanceFactor(chemistry: Chemistry, cellC: number): number {
  const { cold } = CHEMISTRIES[chemistry];
  return inTheCells(cold, inRange(cellC));
}

/** What lifts the voltage while charging against its value at 25 °C, as `resistanceFactor`: the inverse of the acceptance. */
export function chargeFactor(chemistry: Chemistry, cellC: number): number {
  const { chargeJPerMol } = CHEMISTRIES[chemistry].cold;
  if (chargeJPerMol === undefined) return resistanceFactor(chemistry, cellC);
  return arrhenius(chargeJPerMol, inRange(cellC), REFERENCE_C);
}

/**
 * The two wells at a cell temperature: share of the available one, and the rate at which they even out [1/h]. Colder cells
 * give less at once and the rest more slowly; nothing is lost, so that a slow discharge gets nearly all of it.
 */
export function wellsAt(chemistry: Chemistry, cellC: number): { readonly c: number; readonly kPerH: number } {
  const { c, kPerH, cold } = CHEMISTRIES[chemistry];
  const { flowJPerMol } = cold;
  const flow =
    flowJPerMol === undefined ? inTheCells(cold, inRange(cellC)) : arrhenius(flowJPerMol, inRange(cellC), REFERENCE_C);
  return {
    c: Math.min(1, c * (1 + cold.sharePerK * (inRange(cellC, WIDEST_C) - REFERENCE_C))),
    kPerH: kPerH / flow,
  };
}

/**
 * Share of the rated capacity that a constant current takes in `hours` from a full battery at a cell temperature, by the
 * two wells alone: what the lowest voltage leaves of that at high rates is the step loop's to say.
 * @param hours of the discharge; absent = those that the capacity is rated for
 */
export function capacityFactor(
  chemistry: Chemistry,
  cellC: number,
  hours: number = CHEMISTRIES[chemistry].ratedH,
): number {
  const { c, kPerH, ratedH } = CHEMISTRIES[chemistry];
  const cold = wellsAt(chemistry, cellC);
  return capacityAtHoursAh(1, hours, cold.c, cold.kPerH) / capacityAtHoursAh(1, ratedH, c, kPerH);
}

function inTheCells({ jPerMol, coldJPerMol, coldC }: ColdTable, cellC: number): number {
  if (cellC >= coldC) return arrhenius(jPerMol, cellC, REFERENCE_C);
  return arrhenius(jPerMol, coldC, REFERENCE_C) * arrhenius(coldJPerMol, cellC, coldC);
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
