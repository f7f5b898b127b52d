import type { Cabin } from '../rig/index.js';

/**
 * Air temperature in the cabin. It follows ambient + gain · GHI / 1000 W/m² with the cabin's time constant:
 * dT/dt = (T∞ − T) / lag, solved exactly in each step (T∞ constant within it), so the step's length does not matter.
 * The gain is the owner's: ventilated or not, light or dark paint are in that one number. A heater holds its own floor.
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
): Float64Array {
  const steps = ambientC.length;
  const cabinC = new Float64Array(steps);
  const lagSteps = cabin.lagH / stepH;
  const decay = lagSteps > 0 ? Math.exp(-1 / lagSteps) : 0;
  const meanWeight = lagSteps * (1 - decay); // mean of exp(−t/lag) over the step
  const minC = cabin.heatedC ?? -Infinity;
  let stateC = Number.NaN;
  for (let i = 0; i < steps; i++) {
    const lit = shade === undefined ? 1 : 1 - shade[i]!;
    const targetC = Math.max(minC, ambientC[i]! + (cabin.gainK * ghiWm2[i]! * lit) / 1000);
    if (i === 0) stateC = targetC;
    cabinC[i] = targetC + (stateC - targetC) * meanWeight;
    stateC = targetC + (stateC - targetC) * decay;
  }
  return cabinC;
}
