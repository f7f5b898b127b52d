import { normalShare, Z90 } from '../../math/index.js';
import type { Rig, VehicleDraw } from '../../rig/index.js';

/** A vehicle as standard normal scores, in the order of `VEHICLE_KEYS`: what is fitted is drawn from N(0, 1) before any reading. */
export type Scores = readonly number[];

/**
 * Between what and what a vehicle may lie before any reading, 9 times in 10, and its middle. The heat leak is the rig's own range; the
 * others are what fitted-out vehicles are off from what their owners write. Common practice, no source.
 */
const LOADS = { low: 0.55, middle: 1, high: 1.7 };
const HARVEST = { low: 0.65, middle: 0.95, high: 1.12 };
const CAPACITY = { low: 0.75, middle: 0.97, high: 1.06 };
/** Of the direct sun; evenly between none and this. */
const MOST_SHADE = 0.4;

/** The vehicle that scores stand for. */
export function drawOf(rig: Rig, [loads, heatLeak, harvest, shade, capacity]: Scores): VehicleDraw {
  const fridge = rig.loads.find((load) => load.kind === 'fridge');
  const leak = fridge?.kind === 'fridge' ? fridge.heatLeakRange : { low: 1, high: 1 };
  return {
    loads: within(LOADS, loads!),
    heatLeak: within({ ...leak, middle: Math.min(leak.high, Math.max(leak.low, 1)) }, heatLeak!),
    harvest: within(HARVEST, harvest!),
    shade: normalShare(shade!) * MOST_SHADE,
    capacity: within(CAPACITY, capacity!),
  };
}

/** Nine in ten between the ends, on a scale of ratios. */
function within({ low, middle, high }: { low: number; middle: number; high: number }, score: number): number {
  const end = score < 0 ? low / middle : high / middle;
  return middle * end ** (Math.abs(score) / Z90);
}
