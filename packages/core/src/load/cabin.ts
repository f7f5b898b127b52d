import type { Cabin } from '../rig/index.js';

/** When a cabin's heater can run, and when its tank is filled. */
export interface HeaterSupply {
  /** share of each step in which it has power; absent = always */
  readonly powered?: Float64Array;
  /** first steps of stops to which it was driven: the tank is full again */
  readonly filledAt?: readonly number[];
}

/**
 * Air temperature in the cabin. It follows ambient + gain · GHI / 1000 W/m² + offset with the cabin's time constant:
 * dT/dt = (T∞ − T) / lag, solved exactly in each step (T∞ constant within it), so the step's length does not matter.
 * The gain is the owner's: ventilated or not, light or dark paint are in that one number. The offset is another for the day and
 * for the night (without any light): people, cooking, the fridge. A heater holds its own floor, by as much as it can, while
 * it has power and fuel; without, the cabin falls back with its time constant.
 * @param ghiWm2 on the horizontal; already without the beam that trees take if no `shade` is given [W/m²]
 * @param shade  share of the sun taken at each step, 0..1
 * @returns mean over each step, starting from balance with the first [°C]
 */
export function cabinColumn(
  ambientC: Float64Array,
  ghiWm2: Float64Array,
  cabin: Cabin,
  shade: Float64Array | undefined,
  stepH: number,
  { powered, filledAt = [] }: HeaterSupply = {},
): Float64Array {
  const steps = ambientC.length;
  const cabinC = new Float64Array(steps);
  const lagSteps = cabin.lagH / stepH;
  const decay = lagSteps > 0 ? Math.exp(-1 / lagSteps) : 0;
  const meanWeight = lagSteps * (1 - decay); // mean of exp(−t/lag) over the step
  const { heatedC = -Infinity, heater, offset = { dayK: 0, nightK: 0 } } = cabin;
  const fuelWh = heater?.fuelWh ?? Infinity;
  let leftWh = fuelWh;
  let stateC = Number.NaN;
  for (let i = 0; i < steps; i++) {
    if (filledAt.includes(i)) leftWh = fuelWh;
    const lit = shade === undefined ? 1 : 1 - shade[i]!;
    const offsetK = ghiWm2[i]! > 0 ? offset.dayK : offset.nightK;
    const freeC = ambientC[i]! + offsetK + (cabin.gainK * ghiWm2[i]! * lit) / 1000;
    let targetC = freeC;
    if (heatedC > freeC) {
      const wantedK = Math.min(heatedC - freeC, heater?.upToK ?? Infinity);
      const wantedWh = heater ? (wantedK / heater.upToK) * heater.powerW * stepH : 0;
      const share = Math.min(powered ? powered[i]! : 1, wantedWh > leftWh ? leftWh / wantedWh : 1);
      leftWh -= share * wantedWh;
      targetC = freeC + share * wantedK;
    }
    if (i === 0) stateC = targetC;
    cabinC[i] = targetC + (stateC - targetC) * meanWeight;
    stateC = targetC + (stateC - targetC) * decay;
  }
  return cabinC;
}
