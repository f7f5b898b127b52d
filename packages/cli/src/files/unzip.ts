import { Readable } from 'node:stream';
import { createInflateRaw } from 'node:zlib';
import { InputError } from '../failure.js';
import { damagedZip, LARGEST_ZIP, ZipError, zippedFile } from './zip-file.js';

/**
 * The content of the one file in a ZIP archive.
 * @throws InputError when there are several, none, or what cannot be unpacked
 */
export async function* unzipped(bytes: AsyncIterable<Uint8Array>, name: string): AsyncGenerator<Uint8Array> {
  try {
    const { bytes: packed, isDeflated } = zippedFile(await gathered(bytes));
    if (isDeflated) yield* Readable.from([packed]).pipe(createInflateRaw()) as AsyncIterable<Uint8Array>;
    else yield packed;
  } catch (error) {
    const known = (error as NodeJS.ErrnoException).code?.startsWith('Z_') ? damagedZip() : error;
    throw known instanceof ZipError ? new InputError(`${name}: ${known.message}`) : known;
  }
}

async function gathered(bytes: AsyncIterable<Uint8Array>): Promise<Buffer<ArrayBuffer>> {
  const chunks: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of bytes) {
    length += chunk.length;
    if (length > LARGEST_ZIP)
      throw new ZipError(`the ZIP archive is larger than ${LARGEST_ZIP / 1e6} MB; unpack it first`);
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}
