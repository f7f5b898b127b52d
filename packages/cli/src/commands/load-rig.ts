import { dirname, isAbsolute, join } from 'node:path';
import { type DefaultTaken, isTripSetting, type Rig, readRig, readTrip, type Trip } from '@stayput/core';
import { InputError } from '../failure.js';
import { readText } from '../files/read-text.js';
import type { Io } from '../io.js';

export interface LoadedRig {
  readonly rig: Rig;
  /** as it stands in its file */
  readonly rigText: string;
  readonly trip?: Trip;
  readonly tripText?: string;
  readonly defaults: readonly DefaultTaken[];
  readonly tripDefaults: readonly DefaultTaken[];
}

/** Reads the rig, and the trip when there is one; settings go to the file whose key they begin with. */
export async function loadRig(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  set: readonly string[],
): Promise<LoadedRig> {
  if (rigPath === '-' && tripPath === '-')
    throw new InputError('only one of rig and trip can come from standard input');
  const forTrip = set.filter(isTripSetting);
  if (tripPath === undefined && forTrip[0] !== undefined)
    throw new InputError(
      `--set ${forTrip[0]}: this is a trip's, and there is no trip file; use --from, --days, --weather or --start-soc`,
    );

  const rigSource = await readText(io, rigPath, 'rig');
  const { rig, defaults } = readRig(rigSource.text, {
    file: rigSource.file,
    set: set.filter((setting) => !isTripSetting(setting)),
  });
  if (tripPath === undefined) return { rig, rigText: rigSource.text, defaults, tripDefaults: [] };
  const tripSource = await readText(io, tripPath, 'trip');
  const { trip, defaults: tripDefaults } = readTrip(tripSource.text, {
    file: tripSource.file,
    set: forTrip,
    loads: rig.loads.map(({ name }) => name),
    arrays: rig.solar.map(({ name }) => name),
  });
  return {
    rig,
    rigText: rigSource.text,
    trip: besideFile(trip, tripPath),
    tripText: tripSource.text,
    defaults,
    tripDefaults,
  };
}

/** A weather file named in a trip stands beside the trip's own file. */
export function besideFile(trip: Trip, tripPath: string): Trip {
  if (trip.weather.kind !== 'file' || tripPath === '-' || isAbsolute(trip.weather.path)) return trip;
  return { ...trip, weather: { kind: 'file', path: join(dirname(tripPath), trip.weather.path) } };
}
