import { isAscii, isUtf8 } from 'node:buffer';
import { Readable } from 'node:stream';
import { TextDecoder } from 'node:util';
import { createGunzip } from 'node:zlib';
import { InputError } from '../failure.js';
import { unzipped } from './unzip.js';

/**
 * Text of a log's bytes, chunk by chunk: UTF-8, UTF-16 by its byte-order mark or by the zero that is half of each letter, or
 * windows-1252 where it is no UTF-8; as it stands, within gzip, or as the one file in a ZIP archive.
 * @throws InputError for an archive of several files, or one that is damaged
 */
export async function* textOf(bytes: AsyncIterable<Uint8Array>, name = 'the log'): AsyncGenerator<string, void, void> {
  yield* decoded(plainBytes(bytes, name));
}

async function* plainBytes(bytes: AsyncIterable<Uint8Array>, name: string): AsyncGenerator<Uint8Array> {
  const { first, all } = await beginning(bytes, 4);
  if (first[0] === 0x1f && first[1] === 0x8b) yield* gunzipped(all, name);
  else if (first[0] === 0x50 && first[1] === 0x4b && first[2] === 3 && first[3] === 4) yield* unzipped(all, name);
  else yield* all;
}

/** The first bytes, and an iterable of all of them. */
async function beginning(bytes: AsyncIterable<Uint8Array>, count: number) {
  const iterator = bytes[Symbol.asyncIterator]();
  const chunks: Uint8Array[] = [];
  let length = 0;
  let isDone = false;
  while (length < count && !isDone) {
    const { value, done } = await iterator.next();
    if (done) isDone = true;
    else {
      chunks.push(value);
      length += value.length;
    }
  }
  const first = chunks.length === 1 ? chunks[0]! : Buffer.concat(chunks);
  const all = (async function* () {
    try {
      if (first.length > 0) yield first;
      while (!isDone) {
        const { value, done } = await iterator.next();
        if (done) return;
        yield value;
      }
    } finally {
      await iterator.return?.();
    }
  })();
  return { first, all };
}

async function* gunzipped(bytes: AsyncIterable<Uint8Array>, name: string): AsyncGenerator<Uint8Array> {
  const source = Readable.from(bytes, { objectMode: false });
  const plain = createGunzip();
  source.on('error', (error) => plain.destroy(error));
  try {
    yield* source.pipe(plain) as AsyncIterable<Uint8Array>;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw code?.startsWith('Z_') ? new InputError(`${name}: the gzip file is damaged or cut short`) : error;
  } finally {
    source.destroy();
  }
}

async function* decoded(bytes: AsyncIterable<Uint8Array>): AsyncGenerator<string, void, void> {
  let decoder: TextDecoder | undefined;
  /** a letter may have begun at the end of the chunk before */
  let isOpen = true;
  for await (const chunk of bytes) {
    decoder ??= new TextDecoder(encodingOf(chunk));
    // plain ASCII, which most of a log is, needs no decoder, and its strings take half the memory
    const isPlain = decoder.encoding === 'utf-8' && !isOpen && isAscii(chunk);
    const text = isPlain ? latin1(chunk) : decoder.decode(chunk, { stream: true });
    if (chunk.length > 0) isOpen = chunk.at(-1)! > 127;
    if (text !== '') yield text;
  }
  const rest = decoder?.decode() ?? '';
  if (rest !== '') yield rest;
}

const latin1 = ({ buffer, byteOffset, length }: Uint8Array) =>
  Buffer.from(buffer, byteOffset, length).toString('latin1');

function encodingOf(first: Uint8Array): string {
  const [a, b, c, d] = first;
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (a && b === 0 && c && d === 0) return 'utf-16le';
  if (a === 0 && b && c === 0 && d) return 'utf-16be';
  return isUtf8(whole(first)) ? 'utf-8' : 'windows-1252';
}

/** Without the letter that the chunk may end within: up to three of its bytes are missing. */
function whole(chunk: Uint8Array): Uint8Array {
  for (let back = 1; back <= Math.min(3, chunk.length); back++) {
    const byte = chunk.at(-back)!;
    if (byte >= 0xc0) return chunk.subarray(0, -back);
    if (byte < 0x80) return chunk;
  }
  return chunk;
}
