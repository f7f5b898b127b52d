import { createLogTable, type Log, type ReplayOptions, type Rig, type Trip } from '@stayput/core';
import { InputError } from '../failure.js';
import { readWeather } from '../files/read-text.js';
import type { Io } from '../io.js';
import type { LogAndRigOptions } from './given.js';
import { loadRig } from './load-rig.js';
import { readerOptions, readLogFile } from './log-read.js';
import { refuseNowhere } from './where.js';

export interface LogAndRigPaths {
  readonly rigPath: string;
  readonly logPath: string;
  readonly tripPath: string | undefined;
}

export interface LogAndRig {
  readonly rig: Rig;
  readonly rigText: string;
  readonly log: Log;
  readonly replay: ReplayOptions;
  readonly logName: string;
}

/** Reads a rig, a log into columns, and what says where and under what weather it was written. */
export async function readLogAndRig(
  io: Io,
  { rigPath, logPath, tripPath }: LogAndRigPaths,
  options: LogAndRigOptions,
): Promise<LogAndRig> {
  const { at, place, from, to, weatherColumn } = options;
  refuseNowhere(tripPath, {
    ...(at !== undefined && { at }),
    ...(place !== undefined && { place }),
    ...(options.weather !== undefined && { weather: options.weather }),
  });
  const fromStdin = [rigPath, logPath, tripPath].filter((path) => path === '-');
  if (fromStdin.length > 1) throw new InputError('only one of rig, log and trip can come from standard input');
  const { rig, rigText, trip } = await loadRig(io, rigPath, tripPath, options.set ?? []);
  const weatherPath = options.weather ?? (trip?.weather.kind === 'file' ? trip.weather.path : undefined);
  const weatherFile = weatherPath === undefined ? undefined : await readWeather(io, weatherPath, weatherColumn);

  let gathered = createLogTable();
  const wanted = readerOptions(io, logPath, { ...options, ...(trip && siteOf(trip)) });
  const reading = await readLogFile(io, logPath, wanted, () => {
    gathered = createLogTable();
    return { onColumns: gathered.onColumns, onRow: gathered.onRow };
  });
  return {
    rig,
    rigText,
    log: { reading, table: gathered.table() },
    logName: wanted.file!,
    replay: {
      ...(trip ? { trip } : { where: { ...(at !== undefined && { at }), ...(place !== undefined && { place }) } }),
      ...(weatherFile && { weatherFile }),
      ...(from !== undefined && { from }),
      ...(to !== undefined && { to }),
      ...(options.stamps && { stamps: options.stamps }),
    },
  };
}

/** Where a trip begins tells a log's night from its day. */
function siteOf({ stops }: Trip): { at?: string; place?: string } {
  const { at, place } = stops[0]!;
  return at ? { at: `${at.latDeg},${at.lonDeg}` } : { place: place! };
}
