import type { Battery, Heater } from '../rig/index.js';
import { checkStep, firstDayMean } from './temperature.js';

/** LFP batteries: about 9 kg per kWh, specific heat about 1000 J/(kg·K); common practice, from memory. */
const KG_PER_KWH = 9;
const HEAT_WH_PER_KG_K = 1000 / 3600;
/** Off this far above the temperature that switches it on [K]. */
const HYSTERESIS_K = 3;
/** Below this heat capacity or lag the thermostat would chatter; the battery then simply follows the air. */
const SHORTEST_LAG_H = 0.1;

/** A battery with a heater, per step. */
export interface HeatedColumns {
  /** mean cell temperature [°C] */
  readonly cellC: Float64Array;
  /** share of the step that the heater runs, 0..1 */
  readonly onShare: Float64Array;
  /** mean draw [W] */
  readonly powerW: Float64Array;
}

/** Heat capacity of the bank: from its mass, or from its energy when that is not known [Wh/K]. */
export function heatCapacityWhPerK(battery: Battery): number {
  const { massKg, capacityAh, nominalV, count, series } = battery;
  return HEAT_WH_PER_KG_K * count * series * (massKg ?? (KG_PER_KWH * capacityAh * nominalV) / 1000);
}

/**
 * Cell temperature with a heater on a thermostat: on below `belowC`, off 3 K above. One heat capacity, whose
 * loss to the air is set by the time constant of the lag:  Cth·dT/dt = P − Cth/lag·(T − air).  Exact within a
 * step for constant air: the moments of switching are solved for, so the step does not matter.
 * Assumption: the heater is always fed; a bank whose loads are cut off would not heat.
 * @param airC    per step [°C]
 * @param stepH   step, > 0 [h]
 * @param lagH    time constant of the unheated battery; shorter than 0.1 h is taken as that [h]
 * @param whPerK  heat capacity of the bank, > 0 [Wh/K]
 * @param startC  at the beginning; absent = mean air of the first day [°C]
 * @throws RangeError if stepH, lagH or whPerK is out of range or NaN
 */
export function heatedTemperature(
  airC: Float64Array,
  stepH: number,
  lagH: number,
  heater: Heater,
  whPerK: number,
  startC: number = firstDayMean(airC, stepH),
): HeatedColumns {
  checkStep(stepH, lagH);
  if (!(whPerK > 0)) throw new RangeError(`whPerK must be above 0, got ${whPerK}`);
  const lag = Math.max(SHORTEST_LAG_H, lagH);
  const riseK = (heater.powerW * lag) / whPerK;
  const onC = heater.belowC;
  const offC = heater.belowC + HYSTERESIS_K;
  const cellC = new Float64Array(airC.length);
  const onShare = new Float64Array(airC.length);
  let now = startC;
  let on = now < onC;
  for (let i = 0; i < airC.length; i++) {
    let left = stepH;
    let degreeHours = 0;
    let onH = 0;
    while (left > 0) {
      const target = airC[i]! + (on ? riseK : 0);
      const limit = on ? offC : onC;
      const crosses = on ? target > limit : target < limit;
      const untilH = crosses ? Math.max(0, lag * Math.log((now - target) / (limit - target))) : Infinity;
      const h = Math.min(left, untilH);
      degreeHours += target * h + (now - target) * lag * -Math.expm1(-h / lag);
      if (on) onH += h;
      now = untilH <= left ? limit : target + (now - target) * Math.exp(-h / lag);
      if (untilH <= left) on = !on;
      left -= h;
    }
    cellC[i] = degreeHours / stepH;
    onShare[i] = onH / stepH;
  }
  return { cellC, onShare, powerW: onShare.map((share) => share * heater.powerW) };
}
