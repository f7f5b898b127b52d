import { createLogReader, findPlace, type LogOptions, type LogReading, withoutTrip } from '@stayput/core';
import { textOf } from '../files/log-text.js';
import type { Io } from '../io.js';
import { spanText } from '../show/rate.js';
import type { LogReadOptions } from './log.js';

const REDRAW_MS = 500;

/** Options of the command line as the reader takes them. */
export function readerOptions(io: Io, path: string, options: LogReadOptions): LogOptions {
  const { at, place, zone, dateOrder, column, positive } = options;
  const site = siteOf(io, at, place);
  return {
    file: path === '-' ? 'standard input' : path,
    ...(site && { at: site }),
    ...(zone !== undefined && { zone }),
    ...(dateOrder && { dateOrder }),
    ...(column && { columns: column }),
    ...(positive && { positive }),
  };
}

function siteOf(io: Io, at: string | undefined, place: string | undefined) {
  if (at === undefined && place === undefined) return undefined;
  if (place !== undefined) {
    const { latDeg, lonDeg } = findPlace(place);
    return { latDeg, lonDeg };
  }
  return withoutTrip({ at: at!, from: io.today(), days: 1 }).stops[0]!.at;
}

/** Reads a log as it comes; `between` is awaited after each piece of it. */
export async function readLogFile(
  io: Io,
  path: string,
  options: LogOptions,
  between: () => Promise<void> = async () => {},
): Promise<LogReading> {
  const reader = createLogReader(options);
  const began = performance.now();
  let shownMs = began;
  let characters = 0;
  for await (const text of textOf(await io.openBytes(path, 'log'))) {
    reader.push(text);
    await between();
    characters += text.length;
    const now = performance.now();
    if (io.redraw && now - shownMs > REDRAW_MS) {
      shownMs = now;
      io.redraw(`${(characters / 1e6).toFixed(0)} MB read in ${spanText((now - began) / 1000)}`);
    }
  }
  if (io.redraw && shownMs > began) io.redraw('');
  return reader.end();
}
