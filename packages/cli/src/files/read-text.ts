import { decodeText } from '@stayput/core';
import { LARGEST_FILE } from '@stayput/core/model';
import type { Io } from '../io.js';
import { LARGEST_WEATHER } from './read-file.js';

/** Text of a rig or trip, with the name under which its errors are reported. */
export async function readText(io: Io, path: string, kind: string): Promise<{ text: string; file: string }> {
  const file = path === '-' ? 'standard input' : path;
  return { text: decodeText(await io.readBytes(path, kind, LARGEST_FILE), file), file };
}

export async function readWeatherText(io: Io, path: string): Promise<{ text: string; file: string }> {
  const file = path === '-' ? 'standard input' : path;
  const bytes = await io.readBytes(path, 'weather file', LARGEST_WEATHER);
  return { text: decodeText(bytes, file, { maxBytes: LARGEST_WEATHER }), file };
}
