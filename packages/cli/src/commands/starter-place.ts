import { climateAt, findPlace, withoutTrip } from '@stayput/core';

/** Where a rig is likely to stand first. */
export interface StarterPlace {
  /** as a trip has it */
  readonly where: string | readonly [latDeg: number, lonDeg: number];
  /** as the options of other commands have it */
  readonly option: string;
  /** mean of the daily lowest temperature in the coldest month [°C] */
  readonly coldestC: number;
}

/** @throws ConfigError when no place is called so, or the position is none */
export function starterPlace({
  place,
  at,
}: {
  readonly place?: string;
  readonly at?: string;
}): StarterPlace | undefined {
  if (place !== undefined) {
    const found = findPlace(place);
    const { climate } = found;
    const isPlain = findPlace(found.name).latDeg === found.latDeg;
    const name = isPlain ? found.name : `${found.name}, ${found.country}`;
    return {
      where: name,
      option: `--place ${/^[\w-]+$/.test(name) ? name : JSON.stringify(name)}`,
      coldestC: Math.min(...climate.tMinC),
    };
  }
  if (at === undefined) return undefined;
  const { latDeg, lonDeg } = withoutTrip({ at, from: '2026-01-01', days: 1 }).stops[0]!.at!;
  return {
    where: [latDeg, lonDeg],
    option: `--at ${latDeg},${lonDeg}`,
    coldestC: Math.min(...climateAt(latDeg, lonDeg).climate.tMinC),
  };
}
