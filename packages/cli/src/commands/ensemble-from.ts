import type { Rig } from '@stayput/core';
import { readEnsemble } from '@stayput/core/model';
import { readText } from '../files/read-text.js';
import type { Io } from '../io.js';

/** The rig with the vehicles of --ensemble; without the option as its file has it. */
export async function withEnsemble(io: Io, rig: Rig, path: string | undefined): Promise<Rig> {
  if (path === undefined) return rig;
  const { text, file } = await readText(io, path, 'ensemble');
  return { ...rig, ensemble: readEnsemble(text, { ...(file !== undefined && { file }) }) };
}
