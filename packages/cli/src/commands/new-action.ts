import { starterRig } from '@stayput/core';
import { EXIT } from '../failure.js';
import type { Io } from '../io.js';
import type { NewOptions } from './new.js';

export async function runNew(
  io: Io,
  { out = '-', force = false, quiet = false, ...options }: NewOptions,
): Promise<number> {
  const sink = await io.claim(out, { force, inputs: [] });
  await io.write(sink, starterRig(options), { quiet });
  if (sink !== 'stdout' && !quiet) io.tell(`next: stayput check ${sink.path}`);
  return EXIT.done;
}
