import { readEnsemble, type VehicleDraw } from '@stayput/core/model';
import { readText } from '../files/read-text.js';
import type { Io } from '../io.js';

/** The vehicles of --ensemble. */
export async function ensembleFrom(io: Io, path: string | undefined): Promise<VehicleDraw[] | undefined> {
  if (path === undefined) return undefined;
  const { text, file } = await readText(io, path, 'ensemble');
  return readEnsemble(text, { ...(file !== undefined && { file }) });
}
