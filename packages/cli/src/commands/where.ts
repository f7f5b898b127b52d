import { Option } from 'commander';
import { InputError } from '../failure.js';
import { columnOption } from './options.js';

/** Where the rig stands, and under what weather. */
export interface WhereOptions {
  readonly at?: string;
  readonly place?: string;
  readonly weather?: string;
  readonly column?: Record<string, string>;
}

export const atOption = () =>
  new Option('--at <lat,lon>', 'where, in degrees, south and west negative: 41.7,-8.8').conflicts('place');
export const placeOption = () => new Option('--place <name>', 'where, by name');
export const weatherOption = () =>
  new Option('--weather <kind>', 'clear, climate, dull, a weather file, or a folder of years');
export const weatherColumnOption = () =>
  new Option('--column <what=heading>', 'which column of a weather file holds what; may be repeated').argParser(
    columnOption,
  );

export function refuseNowhere(tripPath: string | undefined, { at, place, weather }: WhereOptions): void {
  const isSomewhere = at !== undefined || place !== undefined;
  if (tripPath === undefined && !isSomewhere)
    throw new InputError(
      'where does the rig stand? Add a trip file, or --place NAME, or --at LAT,LON such as --at 41.7,-8.8',
    );
  if (tripPath !== undefined && isSomewhere)
    throw new InputError('the trip file says where; leave it out, or leave out --at and --place');
  if (weather === '') throw new InputError('--weather is clear, climate, dull, or the name of a weather file');
}
