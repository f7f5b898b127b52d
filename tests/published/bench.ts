/** Rigs on the bench: the program's own run, under air, light, engine and mains that a check sets hour by hour. */
import { readRig, readTrip } from '../../packages/core/src/rig/index.js';
import { type Conditions, conditionsFor, type Run, simulateUnder } from '../../packages/core/src/simulate/index.js';

/** One value for all of the run, or by the hour since its start. */
export type ByHour = number | ((hour: number) => number);

/** What surrounds a rig; what is left out is dark, still, 25 °C, parked and unplugged. */
export interface Around {
  readonly days?: number;
  readonly stepH?: number;
  /** outside; the cabin has the same unless given */
  readonly airC?: ByHour;
  readonly cabinC?: ByHour;
  /** shares of the time that the vehicle is driven, or plugged in */
  readonly driving?: ByHour;
  readonly mains?: ByHour;
  /** beam of a sun that stands overhead, and the wind at 10 m */
  readonly beamWm2?: ByHour;
  readonly windMs?: ByHour;
}

/** The columns that a run looks at, made of `around`. The sun, when there is one, is overhead. */
export function conditionsOf(around: Around = {}): Conditions {
  const { days = 1, stepH = 1 / 6, airC = 25, cabinC = airC, driving = 0, mains = 0, beamWm2 = 0, windMs = 0 } = around;
  const { trip } = readTrip(
    `{ name: bench, weather: clear, stops: [{ at: [0, 0], zone: UTC, from: 2026-03-20, nights: ${days} }] }`,
  );
  const conditions = conditionsFor({ cabin: { gainK: 0, lagH: 0 } }, trip, { stepH });
  const { steps } = conditions.grid;
  const column = (value: ByHour) =>
    Float64Array.from({ length: steps }, (_, i) => (typeof value === 'number' ? value : value((i + 0.5) * stepH)));
  const light = column(beamWm2);
  return {
    ...conditions,
    sun: { cosZenith: column(1), azimuthDeg: column(180), extraNormalWm2: column(1367) },
    weather: { ghiWm2: light, dniWm2: light, dhiWm2: column(0), ambientC: column(airC), windMs: column(windMs) },
    cabinC: column(cabinC),
    itinerary: { ...conditions.itinerary, driving: column(driving), mains: column(mains) },
  };
}

/** A rig's own file; one that has neither load nor panel gets a lamp that draws nothing. */
export const rigOf = (yaml: string) =>
  readRig(`name: bench\n${yaml}${/^(loads|solar):/m.test(yaml) ? '' : '\nloads: [{ name: lamp, power: 0 W }]'}`).rig;

/** The run of a rig under what surrounds it. */
export function runOn(yaml: string, around: Around = {}, startSoc = 0.5): Run {
  return simulateUnder(rigOf(yaml), conditionsOf(around), startSoc);
}

/** A battery of 100 Ah at 12 V that neither loses charge by itself nor has a disconnect; more of its fields in `own`. */
export const bank = (chemistry: string, own = '') =>
  `battery: { chemistry: ${chemistry}, capacity: 100 Ah, selfDischarge: 0 %, disconnect: 0 %, reconnect: 99 %${own && `, ${own}`} }`;

/** Copper of IEC 60228 class 5 out and back, from its Ω/km at 20 °C, at the 30 °C that a run takes conductors at: (234.5 + 30)/254.5 [Ω]. */
export const copperOhm = (lengthM: number, ohmPerKm: number): number =>
  (2 * lengthM * ohmPerKm * (264.5 / 254.5)) / 1000;

/** Fuse and lugs where a circuit has no cable, as the rig counts them [Ω]. */
export const LUGS_OHM = 0.001;
