import { openSweep, type Rig, type SweepRequest, type Trip, withoutTrip } from '@stayput/core';
import { InputError } from '../failure.js';
import { readText, readWeather } from '../files/read-text.js';
import type { Io } from '../io.js';
import type { SweepOptions } from './given.js';
import { besideFile } from './load-rig.js';
import { startSettings } from './options.js';
import { weatherChoice } from './weather-choice.js';
import { refuseNowhere } from './where.js';

/** A whole year, and always the same, so that a sweep can be gone on with on another day. */
const FROM = '2025-01-01';
const DAYS = 365;
/** Variants looked through for one without a contradiction. */
const MAX_TRIED = 1000;

/** Everything that the answers depend on, read from files and options, and checked. */
export async function sweepRequest(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: SweepOptions,
): Promise<{ request: SweepRequest; rig: Rig; trip: Trip; weatherPath?: string }> {
  refuseNowhere(tripPath, options);
  if (rigPath === '-' && tripPath === '-')
    throw new InputError('only one of rig and trip can come from standard input');
  if (tripPath !== undefined && options.days !== undefined)
    throw new InputError('the trip file says how long; leave it out, or leave out --days');
  const { vary = [], sample, seed, years, step, randomLoads, column } = options;
  const request: SweepRequest = {
    rig: await readText(io, rigPath, 'rig'),
    trip: tripPath === undefined ? { text: tripText(options) } : await readText(io, tripPath, 'trip'),
    set: [...settingsOf(tripPath, options), ...(options.set ?? [])],
    vary,
    ...(sample !== undefined && { sample }),
    ...(seed !== undefined && { seed }),
    ...(years !== undefined && { years }),
    ...(step !== undefined && { stepH: step }),
    ...(randomLoads !== undefined && { randomLoads }),
  };
  const { rig, trip } = firstSound(request);
  const beside = tripPath === undefined || options.weather !== undefined ? trip : besideFile(trip, tripPath);
  if (beside.weather.kind !== 'file') return { request, rig, trip };
  const weatherFile = await readWeather(io, beside.weather.path, column);
  return { request: { ...request, weatherFile }, rig, trip, weatherPath: beside.weather.path };
}

/**
 * The first variant whose values do not contradict each other: its weather is that of all, its rig is named for all.
 * @throws ConfigError for values that are wrong, or when none of the first ones goes together
 */
function firstSound(request: SweepRequest): { readonly rig: Rig; readonly trip: Trip } {
  const sweep = openSweep(request);
  const most = Math.min(MAX_TRIED, sweep.plan.variants);
  for (let index = 1; index < most; index++)
    try {
      return sweep.variant(index - 1);
    } catch (error) {
      if (!(error instanceof Error && error.name === 'ConfigError')) throw error;
    }
  return sweep.variant(most - 1);
}

/** The options as a trip of one stop, so that its parts can be varied like those of a file. */
function tripText({ at, place, from = FROM, days = DAYS }: SweepOptions): string {
  const { name, startH, stops } = withoutTrip({
    ...(at !== undefined && { at }),
    ...(place !== undefined && { place }),
    from,
    days,
  });
  const [stop] = stops;
  const where = stop!.at ? { at: [stop!.at.latDeg, stop!.at.lonDeg] } : { place: stop!.place };
  return JSON.stringify({
    name,
    ...(startH !== undefined && { start: from }),
    stops: [{ ...where, from: stop!.from, nights: days }],
  });
}

function settingsOf(tripPath: string | undefined, { weather, startSoc, from }: SweepOptions): string[] {
  const choice = weather === undefined ? undefined : weatherChoice(weather);
  const named = choice?.kind === 'file' ? JSON.stringify(choice.path) : choice?.kind;
  return [
    ...(named === undefined ? [] : [`weather=${named}`]),
    ...(startSoc === undefined ? [] : [`startSoc=${Number((startSoc * 100).toPrecision(12))} %`]),
    ...(tripPath !== undefined && from !== undefined ? startSettings(from) : []),
  ];
}
