import { readFile } from 'node:fs/promises';

/** A file that is shipped beside the bundled program, whose code stands in chunks/. */
export function shippedFile(name: string): Promise<Uint8Array> {
  return readFile(new URL(`../${name}`, import.meta.url));
}
