import { type Trip, withoutTrip } from '@stayput/core';
import type { Io } from '../io.js';
import { weatherChoice } from './weather-choice.js';
import type { WhereOptions } from './where.js';

/** Stops and weather of a study, which runs over whole years: the trip's, or one place whose date is of no account. */
export function studyWhere(
  io: Io,
  trip: Trip | undefined,
  { at, place, weather }: WhereOptions,
): Pick<Trip, 'weather' | 'stops'> {
  const found =
    trip ??
    withoutTrip({
      ...(at !== undefined && { at }),
      ...(place !== undefined && { place }),
      from: io.today(),
      days: 1,
    });
  return { stops: found.stops, weather: weather === undefined ? found.weather : weatherChoice(weather) };
}
