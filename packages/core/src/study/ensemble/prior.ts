import { normalQuantile, Z90 } from '../../math/index.js';
import { AS_WRITTEN, type Range, type Rig, type VehicleDraw } from '../../rig/index.js';

/** Axes of the unit cube that `statedDraw` uses. */
export const STATED_AXES = 2;

/**
 * A vehicle drawn from the ranges that the rig states or takes: its fridges' heat leak and its panels' dirt, each a normal spread
 * with its own width on either side.
 * @param at a value of 0 to 1 for each of `STATED_AXES`
 */
export function statedDraw(rig: Rig, at: readonly number[]): VehicleDraw {
  const fridge = rig.loads.find((load) => load.kind === 'fridge');
  const [array] = rig.solar;
  const heatLeak = fridge?.kind === 'fridge' ? within(1, fridge.heatLeakRange, at[0]!) : 1;
  const soiling = array && Math.min(0.95, Math.max(0, within(array.losses.soiling, array.soilingRange, at[1]!)));
  return {
    ...AS_WRITTEN,
    heatLeak: Math.max(0.05, heatLeak),
    harvest: array && soiling !== undefined ? (1 - soiling) / (1 - array.losses.soiling) : 1,
  };
}

/** The middle at one half; nine in ten between the ends of the range. */
function within(middle: number, { low, high }: Range, share: number): number {
  const z = normalQuantile(share) / Z90;
  return middle + z * (z < 0 ? middle - low : high - middle);
}
