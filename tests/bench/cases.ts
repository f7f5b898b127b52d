import { readRig, readTrip } from '@stayput/core';
import { type Assembled, assemble } from '../../packages/core/src/simulate/inputs/assemble.js';
import { conditionsFor } from '../../packages/core/src/simulate/inputs/conditions.js';

/** Invented rigs that lead the loop through its branches, each with the place and season it is in. */
export interface LoopCase {
  readonly name: string;
  readonly rig: string;
  readonly at: readonly [number, number];
  readonly from: string;
  readonly weather?: 'clear' | 'climate' | 'dull';
  readonly startSoc?: number;
  readonly driveH?: number;
  readonly mainsH?: number;
}

const solar = (kind: 'MPPT' | 'PWM', power = 175) =>
  `solar: [{ name: roof, power: ${power} W, controller: { kind: ${kind}, current: 20 A }, cable: { length: 5 m, section: 6 mm2 } }]`;
const fridge = (name: string, setpoint = 4, cable = 2.5, cutOut = 10.4) =>
  `{ name: ${name}, kind: fridge, volume: 45 L, setpoint: ${setpoint} degC, insulation: 45 mm, cutOut: ${cutOut} V, cutIn: ${cutOut + 1.3} V, cable: { length: 4 m, section: ${cable} mm2 } }`;
const evening =
  '{ name: lights, power: 9 W, when: sunset to 22:30 }, { name: pump, current: 5 A, times: 12, lasts: 40 s }';

export const LOOP_CASES: readonly LoopCase[] = [
  {
    name: 'LFP, MPPT and DC-DC, disconnect by charge',
    rig: `{ battery: { chemistry: LFP, capacity: 100 Ah, disconnect: 10 %, reconnect: 15 % }, ${solar('MPPT')}, alternator: { rating: 150 A, charger: { kind: dcdc, current: 30 A } }, loads: [${fridge('fridge')}, ${evening}] }`,
    at: [41.7, -8.8],
    from: '2026-10-20',
    driveH: 1.7,
  },
  {
    name: 'AGM with two wells, a heavy load, disconnect by voltage',
    rig: `{ battery: { chemistry: AGM, capacity: 90 Ah, disconnect: 11.6 V, reconnect: 12.6 V }, ${solar('MPPT', 120)}, inverter: { rating: 900 W, standby: 7 W }, loads: [{ name: kettle, power: 500 W, hours: 1.5, when: "18:00 to 22:00", inverter: true }, ${fridge('fridge')}] }`,
    at: [43.6, -8.1],
    from: '2026-03-01',
  },
  {
    name: 'AGM run down into its wells, disconnect by charge',
    rig: `{ battery: { chemistry: AGM, capacity: 60 Ah, disconnect: 5 %, reconnect: 10 %, floor: 5 % }, ${solar('MPPT', 100)}, inverter: { rating: 900 W, standby: 7 W }, loads: [{ name: heater, power: 350 W, hours: 6, inverter: true }] }`,
    at: [38, -4],
    from: '2026-05-01',
  },
  {
    name: 'flooded behind a PWM controller, two fridges, thin cable',
    rig: `{ battery: { chemistry: flooded, capacity: 180 Ah }, ${solar('PWM', 240)}, loads: [${fridge('fridge', 4, 1.5, 11.6)}, ${fridge('freezer', -15)}, ${evening}] }`,
    at: [37, -3],
    from: '2026-07-01',
  },
  {
    name: 'gel behind a relay, driven every day',
    rig: `{ battery: { chemistry: gel, capacity: 120 Ah }, alternator: { rating: 140 A, charger: { kind: relay }, cable: { length: 4 m, section: 16 mm2 } }, loads: [${fridge('fridge')}, ${evening}] }`,
    at: [45, 7],
    from: '2026-09-01',
    weather: 'dull',
    driveH: 2.4,
  },
  {
    name: 'LFP outside in frost, solar and DC-DC in one box, mains',
    rig: `{ battery: { chemistry: LFP, capacity: 100 Ah, stands: outside }, ${solar('MPPT', 300)}, alternator: { rating: 150 A, charger: { kind: dcdc, current: 30 A, sharedWithSolar: true } }, mains: { current: 10 A }, loads: [${evening}] }`,
    at: [46.5, 9.8],
    from: '2026-01-10',
    weather: 'clear',
    driveH: 1.1,
    mainsH: 3.3,
  },
  {
    name: 'LFP with a heater, left alone until empty',
    rig: `{ battery: { chemistry: LFP, capacity: 20 Ah, stands: outside, disconnect: 0 %, reconnect: 5 %, floor: 0 %, heater: { power: 30 W } }, loads: [{ name: lamp, power: 6 W }] }`,
    at: [60, 10],
    from: '2026-01-10',
    startSoc: 0.6,
  },
];

/** The case's rig under its conditions: a drive, where it drives, every second day. */
export function assembleCase(one: LoopCase, days: number): Assembled {
  const { rig } = readRig(one.rig);
  const nights = one.driveH === undefined ? days : 2;
  const stops = Array.from({ length: Math.ceil(days / nights) }, (_, k) => ({
    at: one.at,
    nights,
    ...(k === 0 && { from: one.from }),
    ...(one.driveH !== undefined && { drive: `${one.driveH} h` }),
    ...(one.mainsH !== undefined && { mains: `${one.mainsH} h` }),
  }));
  const { trip } = readTrip(JSON.stringify({ name: one.name, weather: one.weather ?? 'climate', stops }));
  return assemble(rig, conditionsFor(rig, trip, {}), one.startSoc ?? 0.9);
}
