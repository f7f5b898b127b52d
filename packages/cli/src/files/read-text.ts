import { decodeText } from '@stayput/core';
import type { Io } from '../io.js';
import { MOST_BYTES } from './read-file.js';

/** Text of a rig or trip, with the name under which its errors are reported. */
export async function readText(io: Io, path: string, kind: string): Promise<{ text: string; file: string }> {
  const file = path === '-' ? 'standard input' : path;
  return { text: decodeText(await io.readBytes(path, kind, MOST_BYTES.text), file), file };
}

export async function readWeatherText(io: Io, path: string): Promise<{ text: string; file: string }> {
  const file = path === '-' ? 'standard input' : path;
  const bytes = await io.readBytes(path, 'weather file', MOST_BYTES.weather);
  return { text: decodeText(bytes, file, { maxBytes: MOST_BYTES.weather }), file };
}
