import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  calibrate,
  calibrateAsync,
  compareLog,
  compareLogAsync,
  openRuns,
  openSweep,
  readLogTable,
  readParts,
  readRig,
  simulate,
  simulateAsync,
  sizeStudy,
  sizeStudyAsync,
  stayStudy,
  stayStudyAsync,
  withoutTrip,
  yieldStudy,
  yieldStudyAsync,
} from '../../packages/core/src/index.js';
import { finish, finishInSlices, type Task } from '../../packages/core/src/math/task.js';

const example = (name: string) => readFileSync(new URL(`../../examples/${name}`, import.meta.url), 'utf8');
const rigText = example('heron.yaml');
const { rig } = readRig(rigText);
const parked = readRig(example('log-parked.yaml')).rig;
const log = readLogTable(example('log-parked.csv'), { zone: 'Europe/Rome' });
/** A year, so that no machine is done with it within a slice. */
const trip = withoutTrip({ at: '41.7,-8.8', from: '2026-10-03', days: 365 });
const days = withoutTrip({ at: '41.7,-8.8', from: '2026-10-03', days: 20 });
const { parts } = readParts(`
batteries: [{ name: LFP 50, chemistry: LFP, capacity: 50 Ah, mass: 5.9 kg, price: 230 }]
panels: [{ name: flexible 110, power: 110 W, mass: 2.2 kg, price: 160 }]
limits: { batteries: 2, panels: 2 }
`);
const where = { at: '40.1,18.4' };
const porto = { place: 'Porto' };
const sweep = openSweep({
  rig: { text: rigText },
  trip: { text: JSON.stringify({ stops: [{ at: [41.7, -8.8], from: '2026-10-03', nights: 365 }] }) },
  vary: ['battery.capacity=50,100,150 Ah'],
});
interface How {
  readonly signal?: AbortSignal;
  readonly onProgress?: (done: unknown) => void;
}

const calls: [string, (how?: How) => unknown, (how?: How) => Promise<unknown>][] = [
  ['simulate', (how = {}) => simulate(rig, trip, how), (how = {}) => simulateAsync(rig, trip, how)],
  [
    'stayStudy',
    (how = {}) => stayStudy(rig, porto, { years: 2, months: [10], ...how }),
    (how = {}) => stayStudyAsync(rig, porto, { years: 2, months: [10], ...how }),
  ],
  [
    'yieldStudy',
    (how = {}) => yieldStudy(rig, porto, { years: 2, stepH: 1, ...how }),
    (how = {}) => yieldStudyAsync(rig, porto, { years: 2, stepH: 1, ...how }),
  ],
  [
    'sizeStudy',
    (how = {}) => sizeStudy(rig, parts, [days], { years: 2, ...how }),
    (how = {}) => sizeStudyAsync(rig, parts, [days], { years: 2, ...how }),
  ],
  ['rows of a sweep', (how = {}) => sweep.rows(0, 3, how), (how = {}) => sweep.rowsAsync(0, 3, how)],
  [
    'compareLog',
    (how = {}) => compareLog(parked, log, { where, ...how }),
    (how = {}) => compareLogAsync(parked, log, { where, ...how }),
  ],
  [
    'calibrate',
    (how = {}) => calibrate(parked, log, { where, ...how }),
    (how = {}) => calibrateAsync(parked, log, { where, ...how }),
  ],
];

describe.each(calls)('%s', (_, run, runAsync) => {
  test('comes to the same in slices, says how far it is, and lets the event loop turn', async () => {
    const shares: unknown[] = [];
    let turns = 0;
    const count = setInterval(() => turns++, 1);
    const inSlices = await runAsync({ onProgress: (done) => shares.push(done) });
    clearInterval(count);
    expect(inSlices).toStrictEqual(run());
    expect(turns).toBeGreaterThan(0);
    expect(shares.length).toBeGreaterThan(0);
    const numbers = shares.filter((share) => typeof share === 'number');
    expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
    expect(Math.max(0, ...numbers)).toBeLessThanOrEqual(1);
  });

  test('ends with the reason of a signal that is aborted: before, from progress, and from outside', async () => {
    const reason = new Error('enough');
    expect(() => run({ signal: AbortSignal.abort(reason) })).toThrow(reason);
    await expect(runAsync({ signal: AbortSignal.abort(reason) })).rejects.toBe(reason);

    const inside = new AbortController();
    expect(() => run({ signal: inside.signal, onProgress: () => inside.abort(reason) })).toThrow(reason);

    const outside = new AbortController();
    const promise = runAsync({ signal: outside.signal });
    setTimeout(() => outside.abort(reason), 0); // the first time that the event loop turns
    await expect(promise).rejects.toBe(reason);
  });
});

test('openRuns gives the figures of the summary, for one variant after another, of each weather year', async () => {
  const runs = openRuns(trip, { seed: 3 });
  for (const [ah, year] of [
    [60, 0],
    [120, 0],
    [60, 1],
  ] as const) {
    const variant = readRig(rigText, { set: { 'battery.capacity': `${ah} Ah` } }).rig;
    const { summary } = simulate(variant, trip, { seed: 3, year });
    const outcome = runs.outcome(variant, year);
    expect(outcome.lowestSoc).toBe(summary.lowestSoc);
    expect(outcome.endSoc).toBe(summary.endSoc);
    for (const key of ['pvHarvestWh', 'loadWh', 'unservedWh', 'hoursOff', 'hoursBelowFloor'] as const)
      expect(outcome[key]).toBeCloseTo(summary[key], 6);
    expect(await runs.outcomeAsync(variant, { year })).toStrictEqual(outcome);
  }
});

describe('a task', () => {
  function* counting(to: number): Task<number> {
    let sum = 0;
    for (let i = 1; i <= to; i++) {
      sum += i;
      yield;
    }
    return sum;
  }

  test('is finished at once, or in slices', async () => {
    expect(finish(counting(100))).toBe(5050);
    expect(await finishInSlices(counting(100))).toBe(5050);
  });

  test('throws whatever a signal gives as its reason', async () => {
    expect(() => finish(counting(3), { aborted: true, reason: 'why' })).toThrow('why');
    await expect(finishInSlices(counting(3), { aborted: true, reason: 'why' })).rejects.toBe('why');
  });
});
