import { InputError } from '../failure.js';
import type { Io, Sink } from '../io.js';
import type { CommonOptions } from './options.js';

export interface Outputs<Option extends string> {
  readonly result: Sink;
  /** by the option that names it, where it was given */
  readonly beside: Readonly<Partial<Record<Option, Sink>>>;
  /** whether another output fills standard output, so that the result is not printed there */
  readonly isTaken: boolean;
}

/**
 * Where the result and what is asked for beside it go; checked before the work, so that nothing is written when one may not be.
 * @param named paths by the option that names them, such as { '--plot': options.plot }
 */
export async function claimOutputs<Option extends string>(
  io: Io,
  { out = '-', json = false, force = false }: Pick<CommonOptions, 'out' | 'json' | 'force'>,
  named: Readonly<Record<Option, string | undefined>>,
  read: readonly (string | undefined)[],
): Promise<Outputs<Option>> {
  const inputs = read.filter((input) => input !== undefined);
  const result = await io.claim(out, { force, inputs });
  const beside: Partial<Record<Option, Sink>> = {};
  const files = new Map<string, string>();
  if (isFile(result)) files.set(result.realPath, '--out');
  let printed: Option | undefined;
  for (const option of Object.keys(named) as Option[]) {
    const path = named[option];
    if (path === undefined) continue;
    const sink = await io.claim(path, { force, inputs });
    if (sink === 'stdout') {
      if (printed)
        throw new InputError(`${printed} - and ${option} - would both fill standard output; give one of them a file`);
      if (json && result === 'stdout')
        throw new InputError(`--json and ${option} - would both fill standard output; give one of them a file`);
      printed = option;
    } else if (isFile(sink)) {
      const other = files.get(sink.realPath);
      if (other) throw new InputError(`${other} and ${option} name the same file`);
      files.set(sink.realPath, option);
    }
    beside[option] = sink;
  }
  return { result, beside, isTaken: printed !== undefined && result === 'stdout' };
}

const isFile = (sink: Sink): sink is Exclude<Sink, 'stdout'> => sink !== 'stdout' && !sink.isDevice;
