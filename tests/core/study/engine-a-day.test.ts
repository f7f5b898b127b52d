import { readRig, simulate, simulateUnder, withoutTrip } from '@stayput/core';
import { expect, test } from 'vitest';
import {
  engineMinutesADay,
  MAX_ENGINE_MINUTES,
  withMornings,
} from '../../../packages/core/src/study/run/engine-a-day.js';

const { rig } = readRig(`
battery: { chemistry: LFP, capacity: 100 Ah, floor: 20 %, selfDischarge: 0 % }
alternator: { rating: 150 A, charger: { kind: dcdc, current: 30 A } }
cabin: { gain: 0 K }
loads: [{ name: lamp, power: 30 W }]`);
const dark = (startSoc: number, days = 6) => ({
  ...withoutTrip({ at: '0, 20', from: '2026-03-10', days }),
  weather: { kind: 'dull' as const },
  startSoc,
});

test.each([0.5, 0.6, 0.7, 0.9])(
  'from %d the answer keeps the battery above its floor, and five minutes less do not',
  (startSoc) => {
    const run = simulate(rig, dark(startSoc));
    const minutes = engineMinutesADay(rig, run);
    const hoursBelow = (mornings: number) =>
      simulateUnder(rig, withMornings(run.conditions, mornings / 60), startSoc).summary.hoursBelowFloor;
    expect(minutes).toBeGreaterThan(5);
    expect(minutes).toBeLessThan(MAX_ENGINE_MINUTES);
    expect(minutes % 5).toBe(0);
    expect(hoursBelow(minutes)).toBe(0);
    expect(hoursBelow(minutes - 5)).toBeGreaterThan(0);
  },
);

test('nothing where the floor is never reached; without end where four hours do not do, or nothing charges', () => {
  expect(engineMinutesADay(rig, simulate(rig, dark(1, 1)))).toBe(0);
  const { alternator: _left, ...without } = rig;
  expect(engineMinutesADay(without, simulate(without, dark(0.5)))).toBe(Infinity);
  // 24 h of 30 A is more than four hours of the same bring back
  const greedy = { ...rig, loads: [{ ...rig.loads[0]!, draw: { kind: 'current' as const, currentA: 30 } }] };
  expect(engineMinutesADay(greedy as typeof rig, simulate(greedy as typeof rig, dark(0.9)))).toBe(Infinity);
});

test('mornings begin at ten, end by the minute, and leave the trip’s own driving', () => {
  const { conditions } = simulate(rig, dark(1, 2));
  const { localHour, driving } = withMornings(conditions, 1.25).itinerary;
  const { stepH } = conditions.grid;
  const hours = driving.reduce((sum, share) => sum + share * stepH, 0);
  expect(hours).toBeCloseTo(2 * 1.25, 9);
  driving.forEach((share, i) => {
    if (share > 0) expect(localHour[i]! + stepH / 2).toBeGreaterThan(10);
    if (share > 0) expect(localHour[i]! - stepH / 2).toBeLessThan(11.25);
  });
  const all = { ...conditions, itinerary: { ...conditions.itinerary, driving: driving.map(() => 1) } };
  expect(withMornings(all, 0.5).itinerary.driving.every((share) => share === 1)).toBe(true);
});
