import { InputError } from '../failure.js';
import type { Io, Sink } from '../io.js';
import type { CommonOptions } from './options.js';

/**
 * Where the result and a second output go; checked before the work, so that nothing is written when one may not be.
 * @param second the option that names it, and what it names
 */
export async function claimOutputs(
  io: Io,
  { out = '-', json = false, force = false }: Pick<CommonOptions, 'out' | 'json' | 'force'>,
  [option, path]: readonly [string, string | undefined],
  read: readonly (string | undefined)[],
): Promise<{ result: Sink; beside?: Sink }> {
  const inputs = read.filter((input) => input !== undefined);
  const result = await io.claim(out, { force, inputs });
  if (path === undefined) return { result };
  const beside = await io.claim(path, { force, inputs });
  if (json && beside === 'stdout' && result === 'stdout')
    throw new InputError(`--json and ${option} - would both fill standard output; give one of them a file`);
  if (result !== 'stdout' && beside !== 'stdout' && !result.isDevice && result.realPath === beside.realPath)
    throw new InputError(`--out and ${option} name the same file`);
  return { result, beside };
}
