import { ConfigError } from './config-error.js';
import { ensemblePart, vehiclesFrom } from './ensemble-part.js';
import { part } from './field.js';
import { inOrder, issuesOf } from './issues.js';
import { requireText } from './sound.js';
import { Source } from './source.js';
import type { VehicleDraw } from './types.js';
import { VEHICLE_KEYS } from './vehicle.js';

const ensembleFile = part('an ensemble', { ensemble: ensemblePart });
const DIGITS = 5;

/** Vehicles in columns, as a file has them. */
export function vehicleColumns(vehicles: readonly VehicleDraw[]): Record<keyof VehicleDraw, number[]> {
  const column = (key: keyof VehicleDraw) => vehicles.map((one) => Number(one[key].toPrecision(DIGITS)));
  return Object.fromEntries(VEHICLE_KEYS.map((key) => [key, column(key)])) as Record<keyof VehicleDraw, number[]>;
}

/** Vehicles as the text of a file, read back by `readEnsemble`; its key fits into a rig file too. */
export function ensembleText(vehicles: readonly VehicleDraw[]): string {
  const columns = Object.entries(vehicleColumns(vehicles)).map(
    ([key, values]) => `"${key}": ${JSON.stringify(values)}`,
  );
  return `{"ensemble": {\n${columns.join(',\n')}\n}}\n`;
}

/**
 * Vehicles that a rig may be, from the text of `ensembleText`: `{ ...rig, ensemble: readEnsemble(text) }` is a rig with its spread.
 * @throws ConfigError for a text that is no such file
 */
export function readEnsemble(text: string, options: { readonly file?: string } = {}): VehicleDraw[] {
  requireText('readEnsemble', text);
  const source = Source.read(text, options.file);
  const { value } = source;
  if (typeof value !== 'object' || value === null || !('ensemble' in value))
    throw new ConfigError([
      source.issue('wrong_file', [], 'this is no ensemble', 'calibrate writes one from readings'),
    ]);
  const parsed = ensembleFile.safeParse(value);
  if (!parsed.success) throw new ConfigError(inOrder(issuesOf(parsed.error, source)));
  return vehiclesFrom(parsed.data.ensemble);
}
