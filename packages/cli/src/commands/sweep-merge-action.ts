import { EXIT } from '../failure.js';
import { mergedRows } from '../files/merge-rows.js';
import type { Io } from '../io.js';
import { counted } from '../show/number.js';

export async function runMerge(
  io: Io,
  out: string,
  parts: readonly string[],
  { force = false, quiet = false }: { readonly force?: boolean; readonly quiet?: boolean },
): Promise<number> {
  const sink = await io.claim(out, { force, inputs: parts });
  const { variants, content } = await mergedRows(parts);
  await io.write(sink, content, { quiet, what: counted(variants, 'row') });
  return EXIT.done;
}
