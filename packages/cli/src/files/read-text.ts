import { join } from 'node:path';
import { decodeText, type WeatherText } from '@stayput/core';
import { LARGEST_FILE } from '@stayput/core/model';
import { InputError } from '../failure.js';
import type { Io } from '../io.js';
import { LARGEST_WEATHER } from './read-file.js';

/** Text of a rig or trip, with the name under which its errors are reported. */
export async function readText(io: Io, path: string, kind: string): Promise<{ text: string; file: string }> {
  const file = path === '-' ? 'standard input' : path;
  return { text: decodeText(await io.readBytes(path, kind, LARGEST_FILE), file), file };
}

const WEATHER_NAME = /\.(csv|tsv|txt|epw)$/i;

/**
 * A weather file; or several, each with years of the same place: a folder, or names with commas between them.
 * @throws InputError for a folder without any, and as for any file
 */
export async function readWeather(
  io: Io,
  path: string,
  columns?: Readonly<Record<string, string>>,
): Promise<WeatherText> {
  const paths = await weatherPaths(io, path);
  const texts: { name: string; text: string }[] = [];
  for (const one of paths) {
    const name = one === '-' ? 'standard input' : one;
    const bytes = await io.readBytes(one, 'weather file', LARGEST_WEATHER);
    texts.push({ name, text: decodeText(bytes, name, { maxBytes: LARGEST_WEATHER }) });
  }
  const [first, ...more] = texts as [{ name: string; text: string }, ...typeof texts];
  return { ...first, ...(columns && { columns }), ...(more.length > 0 && { more }) };
}

async function weatherPaths(io: Io, path: string): Promise<string[]> {
  const found = path === '-' ? 'file' : await io.look(path);
  if (found === 'file') return [path];
  if (found === 'missing') return path.includes(',') ? path.split(',').map((one) => one.trim()) : [path];
  const names = found.filter((name) => WEATHER_NAME.test(name)).toSorted();
  if (names.length === 0)
    throw new InputError(
      `${path} is a folder without a weather file: none of its names ends in .csv, .tsv, .txt or .epw`,
    );
  return names.map((name) => join(path, name));
}
