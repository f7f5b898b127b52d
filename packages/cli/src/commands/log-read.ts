import { createLogReader, findPlace, isUnsorted, type LogOptions, type LogReading, withoutTrip } from '@stayput/core';
import { textOf } from '../files/log-text.js';
import type { Io } from '../io.js';
import { spanText } from '../show/rate.js';
import type { LogReadOptions } from './given.js';

const REDRAW_MS = 500;

/** Options of the command line as the reader takes them. */
export function readerOptions(io: Io, path: string, options: LogReadOptions): LogOptions {
  const { at, place, zone, dateOrder, column, positive, unit, ignore, solarSide, calendar, sort } = options;
  const site = siteOf(io, at, place);
  return {
    file: path === '-' ? 'standard input' : path,
    ...(site && { at: site }),
    ...(zone !== undefined && { zone }),
    ...(dateOrder && { dateOrder }),
    ...(column && { columns: column }),
    ...(positive && { positive }),
    ...(unit && { units: unit }),
    ...(ignore && { ignore }),
    ...(solarSide && { solarSide }),
    ...(calendar && { calendar }),
    ...(sort && { sort }),
    todayMs: Date.parse(io.today()),
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

/** Where the rows of a log go: each reading, of which there may be two, begins with fresh ones. */
export interface RowSinks extends Pick<LogOptions, 'onColumns' | 'onRow' | 'onAccount'> {
  /** awaited after each piece of the file */
  readonly drain?: () => Promise<void>;
}

/**
 * Reads a log as it comes. Rows that are out of order can only be sorted when all are there: such a file is read once more.
 * @param begin gives the sinks of a reading
 */
export async function readLogFile(
  io: Io,
  path: string,
  options: LogOptions,
  begin: () => RowSinks = () => ({}),
): Promise<LogReading> {
  try {
    return await readOnce(io, path, options, begin());
  } catch (error) {
    if (!isUnsorted(error) || path === '-') throw error;
    return readOnce(io, path, { ...options, sort: true }, begin());
  }
}

/** Reads a log as it comes, once. */
export async function readOnce(
  io: Io,
  path: string,
  options: LogOptions,
  { drain = async () => {}, ...sinks }: RowSinks,
): Promise<LogReading> {
  const reader = createLogReader({ ...options, ...sinks });
  const began = performance.now();
  let shownMs = began;
  let characters = 0;
  for await (const text of textOf(await io.openBytes(path, 'log'), path === '-' ? 'standard input' : path)) {
    reader.push(text);
    await drain();
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
