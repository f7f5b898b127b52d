import { FieldError, field, found, part, wrong } from './field.js';
import type { VehicleDraw } from './types.js';
import { VEHICLE_KEYS } from './vehicle.js';

const MAX_VEHICLES = 5000;

/** One value a vehicle. */
function column(description: string, low: number, high: number) {
  return field<number[]>({ description, type: 'array', examples: [[0.94, 1.08]] }, (value) => {
    if (!Array.isArray(value) || value.length === 0 || value.length > MAX_VEHICLES)
      throw new FieldError('wrong_type', `found ${found(value)} where 1 to ${MAX_VEHICLES} numbers are needed`);
    const at = value.findIndex((one: unknown) => !(typeof one === 'number' && one >= low && one <= high));
    if (at >= 0)
      throw new FieldError(
        'out_of_range',
        `of vehicle ${at + 1} is ${found(value[at])} where a number from ${low} to ${high} is needed`,
      );
    return value as number[];
  });
}

/** Vehicles that a rig may be, as they are written: a column for each thing in which they differ. */
export const ensemblePart = part(
  'vehicles that the rig may be, as calibrate finds them from readings; answers are given with their spread',
  {
    loads: column('power of all loads but fridges, times what is written', 0, 100),
    heatLeak: column("heat leak of the fridges, times the rig's", 0.01, 100),
    harvest: column("what the panels give, times the rig's", 0, 10),
    shade: column('share of the direct sun that trees and the like take besides', 0, 1),
    capacity: column('capacity of the battery, times what is written', 0.01, 10),
  },
  (columns, context) => {
    const count = columns.loads.length;
    for (const key of VEHICLE_KEYS)
      if (columns[key].length !== count)
        wrong(
          context,
          [key],
          `has ${columns[key].length} values, and loads has ${count}`,
          'each vehicle has one of each',
        );
  },
);

/** A row a vehicle. */
export function vehiclesFrom(columns: Readonly<Record<keyof VehicleDraw, readonly number[]>>): VehicleDraw[] {
  return columns.loads.map((loads, k) => ({
    loads,
    heatLeak: columns.heatLeak[k]!,
    harvest: columns.harvest[k]!,
    shade: columns.shade[k]!,
    capacity: columns.capacity[k]!,
  }));
}
