import { conditionsFor, type Rig, readRig, readTrip, simulateUnder } from '@stayput/core';
import { expect, test } from 'vitest';
import { assemble } from '../../../packages/core/src/simulate/inputs/assemble.js';
import { openLoopOf } from '../../../packages/core/src/study/run/open-loop.js';
import { follower, outcomeOf } from '../../../packages/core/src/study/run/outcome.js';

const trip = readTrip(`
startSoc: 45 %
stops:
  - { place: Porto, from: 2026-03-25, nights: 9, drive: 2 h }   # summer time begins on the 29th
  - { place: Porto, nights: 3, drive: 30 min, mains: 5 h }`).trip;
const common = `
battery: { chemistry: LFP, capacity: 40 Ah, floor: 30 %, disconnect: 10 %, reconnect: 20 % }
cabin: { gain: 6 K }`;
const loads = `
loads:
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC, cable: { length: 9 m, section: 1.5 mm2 } }
  - { name: lamp, power: 12 W, when: "sunset to 23:00" }
  - { name: pump, current: 4 A, times: 10, lasts: 1 min }
  - { name: laptop, power: 60 W, hours: 4, inverter: true }`;
const rigs: [string, string][] = [
  [
    'MPPT, DC-DC charger, mains, inverter, fridge',
    `${common}
solar: [{ name: roof, power: 120 W, cable: { length: 5 m, section: 4 mm2 } }]
alternator: { rating: 100 A, charger: { kind: dcdc, current: 20 A } }
mains: { current: 10 A }
inverter: { rating: 300 W, standby: 6 W }${loads}`,
  ],
  [
    'PWM, relay, overloaded inverter, a load by its state of charge',
    `${common.replace('LFP', 'AGM')}
solar: [{ name: roof, power: 60 W, controller: { kind: PWM, current: 10 A } }]
alternator: { rating: 100 A, charger: { kind: relay } }
inverter: { rating: 40 W, standby: 2 W }${loads}
  - { name: heater, power: "soc > 0.6 ? 40 : 5" }`,
  ],
];

const read = (text: string): Rig => readRig(text).rig;

test.each(rigs)('an outcome is the summary of the same run without its trace: %s', (_, text) => {
  const rig = read(text);
  const conditions = conditionsFor(rig, trip, { seed: 3 });
  const { summary, trace } = simulateUnder(rig, conditions, trip.startSoc);
  const outcome = outcomeOf(assemble(rig, conditions, trip.startSoc));
  const near = (found: number, wanted: number) =>
    expect(Math.abs(found - wanted)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(wanted)));
  expect(outcome.hours).toBeCloseTo(trace.grid.steps * trace.grid.stepH, 9);
  for (const key of [
    'endSoc',
    'lowestSoc',
    'hoursBelowFloor',
    'hoursOff',
    'unservedWh',
    'loadWh',
    'pvAvailableWh',
    'pvHarvestWh',
    'alternatorWh',
    'mainsWh',
    'equivalentCycles',
    'fullDays',
  ] as const)
    near(outcome[key], summary[key]);
  expect(summary.hoursBelowFloor).toBeGreaterThan(0);
  expect(summary.unservedWh).toBeGreaterThan(0);
  // The run begins above the floor and falls below it; the trace tells in which step.
  const below = trace.soc.findIndex((soc) => soc < rig.battery.floor);
  expect(outcome.firstEnd).toMatchObject({ cause: 'floor', step: below });
});

test('until its end it stops there, and again from the same columns it comes to the same', () => {
  const rig = read(rigs[1]![1]);
  const assembled = assemble(rig, conditionsFor(rig, trip), trip.startSoc);
  const whole = outcomeOf(assembled);
  const follow = follower(assembled, openLoopOf(assembled));
  const first = follow({ untilEnd: true });
  expect(first.firstEnd).toEqual(whole.firstEnd);
  expect(first.firstEnd!.cause).toBe('floor');
  expect(first.hours).toBeCloseTo((first.firstEnd!.step + 1) / 6, 9);
  expect(first.endSoc).toBeLessThan(0.3);
  expect(first.firstEnd!.afterH).toBeGreaterThanOrEqual(first.firstEnd!.step / 6);
  expect(first.firstEnd!.afterH).toBeLessThanOrEqual((first.firstEnd!.step + 1) / 6);
  expect(follow({ untilEnd: true })).toEqual(first);
  expect(follow({})).toEqual(whole);
});

test('without the floor it ends where loads go off, later; from below the floor at once', () => {
  const rig = read(rigs[0]![1]);
  const follow = follower(assemble(rig, conditionsFor(rig, trip), trip.startSoc));
  const floor = follow({ untilEnd: true }).firstEnd!;
  const off = follow({ untilEnd: true, endAt: 'off' }).firstEnd!;
  expect(off.cause).not.toBe('floor');
  expect(off.afterH).toBeGreaterThan(floor.afterH);
  expect(follow({ untilEnd: true, startSoc: 0.2 }).firstEnd).toEqual({ step: 0, afterH: 0, cause: 'floor' });
});

test('two runs end to end are one long run: the grid goes round', () => {
  const rig = read(rigs[0]![1]);
  const assembled = assemble(rig, conditionsFor(rig, trip), 0.8);
  const follow = follower(assembled);
  const { steps } = assembled.input;
  const twice = follow({ steps: 2 * steps });
  expect(twice.hours).toBeCloseTo((2 * steps) / 6, 6);
  expect(twice.pvAvailableWh / (2 * follow({}).pvAvailableWh)).toBeCloseTo(1, 12);
  const shifted = follow({ fromStep: steps - 144, steps });
  expect(shifted.hours).toBeCloseTo(steps / 6, 6);
});
