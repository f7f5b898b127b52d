import { type Conditions, conditionsFor, type Rig, readRig, readTrip } from '@stayput/core';
import { assemble } from '../../../packages/core/src/simulate/inputs/assemble.js';

type ByHour = number | ((hour: number) => number);

/** What a day is to be like, a value for each of its 24 hours. */
export interface MadeHours {
  readonly ambientC?: ByHour;
  readonly cabinC?: ByHour;
  readonly driving?: ByHour;
  readonly mains?: ByHour;
}

/** A clear day of June at 45 N on the meridian of Greenwich, its clock UTC, in steps of an hour; air and engine as asked for. */
export function madeHours(rig: Rig, own: MadeHours = {}, stop = ''): Conditions {
  const { trip } = readTrip(
    `{ name: invented, weather: clear, stops: [{ at: [45, 0], zone: UTC, from: 2026-06-15, nights: 1${stop} }] }`,
  );
  const conditions = conditionsFor(rig, trip, { stepH: 1 });
  const { weather, itinerary, cabinC } = conditions;
  const column = (value: ByHour | undefined, usual: Float64Array) =>
    value === undefined
      ? usual
      : Float64Array.from({ length: 24 }, (_, hour) => (typeof value === 'number' ? value : value(hour)));
  return {
    ...conditions,
    weather: { ...weather, ambientC: column(own.ambientC, weather.ambientC) },
    cabinC: column(own.cabinC, cabinC),
    itinerary: {
      ...itinerary,
      driving: column(own.driving, itinerary.driving),
      mains: column(own.mains, itinerary.mains),
    },
  };
}

/** An invented rig; one that has neither load nor panel gets a lamp that draws nothing. */
export const rigOf = (yaml: string): Rig =>
  readRig(`name: invented\n${yaml}${/^(loads|solar):/m.test(yaml) ? '' : '\nloads: [{ name: lamp, power: 0 W }]'}`).rig;

/** A rig under such a day. */
export function assembledFor(yaml: string, own: MadeHours = {}, startSoc = 0.5) {
  const rig = rigOf(yaml);
  return assemble(rig, madeHours(rig, own), startSoc);
}

/** Copper of the usual class, out and back. Source: IEC 60228 class 5 [Ω/km at 20 °C], at 30 °C by (234.5 + 30)/254.5. */
export const copperOhm = (lengthM: number, ohmPerKm: number): number =>
  (2 * lengthM * ohmPerKm * (264.5 / 254.5)) / 1000;
