import type { FridgeLoad, Rig, ScheduledLoad, SolarArray } from '../../rig/index.js';

/** One vehicle of an ensemble: by what it differs from the rig as its file has it. All are factors but `shade`. */
export interface VehicleDraw {
  /** power of all loads but fridges, times so much */
  readonly loads: number;
  /** heat leak of the fridges, times so much */
  readonly heatLeak: number;
  /** what the panels give, times so much */
  readonly harvest: number;
  /** share of the direct sun that trees and the like take, beside what the rig says, 0..1 */
  readonly shade: number;
  /** of the battery, times so much */
  readonly capacity: number;
}

/** What a vehicle may differ in, in the order in which it is reported. */
export const VEHICLE_KEYS = ['loads', 'heatLeak', 'harvest', 'shade', 'capacity'] as const;

/** The rig as its file has it. */
export const AS_WRITTEN: VehicleDraw = { loads: 1, heatLeak: 1, harvest: 1, shade: 0, capacity: 1 };

/** The rig that a draw makes of the one that is written. */
export function vehicleOf(rig: Rig, { loads, heatLeak, harvest, shade, capacity }: VehicleDraw): Rig {
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

function shaded(array: SolarArray, share: number): SolarArray {
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
