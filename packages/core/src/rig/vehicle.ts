import type { FridgeLoad, Rig, ScheduledLoad, SolarArray, VehicleDraw } from './types.js';

/** What a vehicle may differ in, in the order in which it is reported. */
export const VEHICLE_KEYS = ['loads', 'heatLeak', 'harvest', 'shade', 'capacity'] as const;

/** The rig as its file has it. */
export const AS_WRITTEN: VehicleDraw = { loads: 1, heatLeak: 1, harvest: 1, shade: 0, capacity: 1 };

/** The rig that a draw makes of the one that is written; that has no ensemble any more. */
export function vehicleOf({ ensemble: _, ...rig }: Rig, vehicle: VehicleDraw): Rig {
  const { loads, heatLeak, harvest, shade, capacity } = vehicle;
  return {
    ...rig,
    battery: capacity === 1 ? rig.battery : { ...rig.battery, capacityAh: rig.battery.capacityAh * capacity },
    solar: harvest === 1 && shade === 0 ? rig.solar : rig.solar.map((array) => shaded(lit(array, harvest), shade)),
    loads: rig.loads.map((load) => (load.kind === 'fridge' ? leaking(load, heatLeak) : drawing(load, loads))),
  };
}

/** The heat leak times so much: the cover is where a load can say so. */
export function leaking(load: FridgeLoad, times: number): FridgeLoad {
  return times === 1 ? load : { ...load, cover: 1 - (1 - load.cover) * times };
}

/** More or less light on the cells, as less or more dirt. */
export function lit(array: SolarArray, times: number): SolarArray {
  if (times === 1) return array;
  return { ...array, losses: { ...array.losses, soiling: 1 - (1 - array.losses.soiling) * times } };
}

/** Less direct sun, all day and on all of the panel alike. */
export function shaded(array: SolarArray, share: number): SolarArray {
  if (share === 0) return array;
  return { ...array, shade: [...array.shade, { fromH: 0, toH: 24, keeps: 1 - share, edge: 'soft' }] };
}

function drawing(load: ScheduledLoad, times: number): ScheduledLoad {
  if (times === 1) return load;
  const { draw } = load;
  switch (draw.kind) {
    case 'power':
      return { ...load, draw: { kind: 'power', powerW: draw.powerW * times } };
    case 'current':
      return { ...load, draw: { kind: 'current', currentA: draw.currentA * times } };
    case 'expression':
      return { ...load, draw: { kind: 'expression', text: `${times} * (${draw.text})` } };
  }
}

/** What the rig is most likely: the vehicle in the middle of its ensemble, or the rig as its file has it where there is none. */
export function middleVehicle(rig: Rig): Rig {
  return rig.ensemble ? vehicleOf(rig, middleOf(rig.ensemble)) : rig;
}

/** The vehicle nearest to the middle of all on every axis, each measured by its own spread. */
export function middleOf(ensemble: readonly VehicleDraw[]): VehicleDraw {
  const axes = VEHICLE_KEYS.map((key) => {
    const sorted = ensemble.map((one) => one[key]).toSorted((a, b) => a - b);
    const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))]!;
    return { key, middle: at(0.5), spread: at(0.84) - at(0.16) };
  });
  const off = (one: VehicleDraw) =>
    axes.reduce((sum, { key, middle, spread }) => sum + (spread > 0 ? ((one[key] - middle) / spread) ** 2 : 0), 0);
  return ensemble.reduce((best, one) => (off(one) < off(best) ? one : best));
}

/** So many of the vehicles, or all where there are fewer: evenly from first to last. */
export function someVehicles(ensemble: readonly VehicleDraw[], count: number): VehicleDraw[] {
  const n = Math.min(count, ensemble.length);
  return Array.from({ length: n }, (_, k) => ensemble[Math.floor(((k + 0.5) * ensemble.length) / n)]!);
}
