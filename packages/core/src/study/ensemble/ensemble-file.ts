import { ConfigError, requireText } from '../../rig/index.js';
import { VEHICLE_KEYS, type VehicleDraw } from './vehicle.js';

/** Between what and what a factor of a vehicle may lie: beyond these it is no such file. */
const LIMITS: Readonly<Record<(typeof VEHICLE_KEYS)[number], readonly [number, number]>> = {
  loads: [0, 100],
  heatLeak: [0.01, 100],
  harvest: [0, 10],
  shade: [0, 1],
  capacity: [0.01, 10],
};
const MAX_VEHICLES = 5000;

/** Vehicles as the text of a file, one a line, and read back by `readEnsemble`. @param rig its name */
export function ensembleText(rig: string, vehicles: readonly VehicleDraw[]): string {
  const rows = vehicles.map((one) =>
    JSON.stringify(Object.fromEntries(VEHICLE_KEYS.map((key) => [key, Number(one[key].toPrecision(5))]))),
  );
  return `{"ensemble": ${JSON.stringify(rig)}, "vehicles": [\n${rows.join(',\n')}\n]}\n`;
}

/**
 * Vehicles that a rig may be, from the text of `ensembleText`.
 * @throws ConfigError for a text that is no such file
 */
export function readEnsemble(text: string, options: { readonly file?: string } = {}): VehicleDraw[] {
  requireText('readEnsemble', text);
  const refuse = (path: string, message: string): never => {
    throw new ConfigError([
      {
        code: 'wrong_file',
        path,
        ...(options.file !== undefined && { file: options.file }),
        message,
        hint: 'calibrate with readings writes such a file',
      },
    ]);
  };
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    refuse('', 'this is no ensemble: it is not readable as JSON');
  }
  const vehicles = (value as { vehicles?: unknown } | null)?.vehicles;
  if (!Array.isArray(vehicles) || vehicles.length === 0 || vehicles.length > MAX_VEHICLES)
    return refuse('vehicles', `this is no ensemble: it needs vehicles, 1 to ${MAX_VEHICLES} of them`);
  return vehicles.map((one: unknown, k) => {
    const entries = VEHICLE_KEYS.map((key) => {
      const found = (one as Record<string, unknown> | null)?.[key];
      const [low, high] = LIMITS[key];
      if (typeof found !== 'number' || !(found >= low && found <= high))
        return refuse(
          `vehicles[${k}].${key}`,
          `found ${JSON.stringify(found)} where a number from ${low} to ${high} is needed`,
        );
      return [key, found];
    });
    return Object.fromEntries(entries) as VehicleDraw;
  });
}
