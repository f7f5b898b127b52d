import { constants } from 'node:fs';
import { open, readdir, stat } from 'node:fs/promises';
import type { Readable } from 'node:stream';
import { InputError } from '../failure.js';

/** A year of weather by the minute is about 40 MB [bytes]. */
export const LARGEST_WEATHER = 200e6;

/**
 * Reads a file, or standard input for `-`, and stops at the limit.
 * @param kind what is read, for the message: "rig", "trip", "weather file"
 * @throws InputError when it is missing, a folder, not readable or too large
 */
export async function readBytes(path: string, kind: string, maxBytes: number, stdin: Readable): Promise<Uint8Array> {
  const name = path === '-' ? 'standard input' : path;
  const tooLarge = (bytes?: number) =>
    new InputError(
      `${name} is ${bytes === undefined ? 'too large' : `${megabytes(bytes)} MB`}; a ${kind} may hold at most ${megabytes(maxBytes)} MB. Is it the right file?`,
    );
  if (path === '-') return collect(stdin, maxBytes, tooLarge);

  const file = await opened(path, kind);
  try {
    const stat = await file.stat();
    if (stat.size > maxBytes) throw tooLarge(stat.size);
    return await collect(file.createReadStream({ autoClose: false }), maxBytes, tooLarge);
  } catch (error) {
    throw error instanceof InputError ? error : readFailure(error as NodeJS.ErrnoException, name, kind);
  } finally {
    await file.close();
  }
}

/** What a path names: a file, nothing that can be seen, or the names in a folder. */
export async function look(path: string): Promise<'file' | 'missing' | readonly string[]> {
  const found = await stat(path).catch(() => undefined);
  if (!found) return 'missing';
  return found.isDirectory() ? readdir(path) : 'file';
}

/**
 * Opens a file of any size, or standard input for `-`, to be read as it comes.
 * @throws InputError when it is missing, a folder or not readable; so may the stream
 */
export async function openBytes(path: string, kind: string, stdin: Readable): Promise<AsyncIterable<Uint8Array>> {
  const name = path === '-' ? 'standard input' : path;
  if (path === '-') return stdin;
  const file = await opened(path, kind);
  return (async function* () {
    try {
      yield* file.createReadStream({ highWaterMark: 1 << 18 }) as AsyncIterable<Uint8Array>;
    } catch (error) {
      throw readFailure(error as NodeJS.ErrnoException, name, kind);
    }
  })();
}

/** A pipe or a device may never begin or never end, and opening it could wait for ever: looked at before, and opened without waiting. */
async function opened(path: string, kind: string) {
  const found = await stat(path).catch((error: NodeJS.ErrnoException) => {
    throw readFailure(error, path, kind);
  });
  if (found.isDirectory()) throw new InputError(`${path} is a folder; name the ${kind} in it`);
  if (!found.isFile())
    throw new InputError(
      `${path} is ${found.isFIFO() ? 'a pipe' : found.isSocket() ? 'a socket' : 'a device'}, not a file: give - for the ${kind} and send it to standard input, as in "stayput ... - < ${path}"`,
    );
  return open(path, constants.O_RDONLY | constants.O_NONBLOCK).catch((error: NodeJS.ErrnoException) => {
    throw readFailure(error, path, kind);
  });
}

async function collect(stream: Readable, maxBytes: number, tooLarge: () => Error): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  for await (const chunk of stream as AsyncIterable<Uint8Array>) {
    bytes += chunk.length;
    if (bytes > maxBytes) throw tooLarge();
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}

function readFailure(error: NodeJS.ErrnoException, name: string, kind: string): Error {
  switch (error.code) {
    case 'ENOENT':
      return new InputError(
        `${name}: there is no such ${kind}; ${kind === 'weather file' ? 'weather that is made is clear, climate or dull' : 'see the spelling and the folder you are in'}`,
      );
    case 'ENOTDIR':
      return new InputError(`${name}: a part of this path is a file, not a folder`);
    case 'EISDIR':
      return new InputError(`${name} is a folder; name the ${kind} in it`);
    case 'EACCES':
    case 'EPERM':
      return new InputError(`${name}: you may not read this file`);
    case undefined:
      return error;
    default:
      return new InputError(`${name} cannot be read: ${error.message}`);
  }
}

const megabytes = (bytes: number) => Number((bytes / 1e6).toPrecision(3));
