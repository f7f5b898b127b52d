// The parts that hold a log against a run, each worked out by hand.
import { readRig } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { readLogTable } from '../../../packages/core/src/log/index.js';
import { clippingOf } from '../../../packages/core/src/log/replay/clipping.js';
import { curtailed, minPowerW } from '../../../packages/core/src/log/replay/curtailed.js';
import { comparedLoads, fitErrors, nightSteps } from '../../../packages/core/src/log/replay/fit-errors.js';
import { type LogSteps, logSteps } from '../../../packages/core/src/log/replay/log-steps.js';
import { coverByDay, firstSteps, stepDays } from '../../../packages/core/src/log/replay/step-days.js';
import { uncurtailedSteps } from '../../../packages/core/src/log/replay/uncurtailed-steps.js';
import type { Run } from '../../../packages/core/src/simulate/index.js';

const NAMES = 'voltageV batteryA batteryW soc batteryC harvestW loadW alternatorW ambientC irradianceWm2 cover'.split(
  ' ',
);
/** Columns of the same length; what is not named was not measured. */
function stepsOf(columns: Partial<Record<keyof LogSteps, readonly number[]>>): LogSteps {
  const steps = Math.max(...Object.values(columns).map((column) => column.length));
  const nothing = () => new Float64Array(steps).fill(Number.NaN);
  return {
    grid: { startMs: 0, stepH: 1, steps },
    ...Object.fromEntries(NAMES.map((name) => [name, nothing()])),
    ...Object.fromEntries(Object.entries(columns).map(([name, column]) => [name, Float64Array.from(column)])),
  } as unknown as LogSteps;
}
const NAN = Number.NaN;
const rigOf = (battery = 'chemistry: LFP', power = 100) =>
  readRig(`battery: { capacity: 100 Ah, ${battery} }\nsolar: [{ power: ${power} W }]`).rig;

describe('a log on the grid of a run', () => {
  const T0 = Date.UTC(2026, 3, 10);
  const minutes = (m: number) => new Date(T0 + m * 60_000).toISOString().slice(0, 16).replace('T', ' ');
  const logOf = (rows: readonly (readonly [number, number, number, number])[]) => {
    const lines = rows.map(([at, volts, amps, soc]) => `${minutes(at)},${volts},${amps},${soc}`);
    return readLogTable(`time (UTC),voltage (V),current (A),state of charge (%)\n${lines.join('\n')}`, {
      positive: 'charging',
    });
  };
  const every10 = (count: number, row: (k: number) => readonly [number, number, number]) =>
    Array.from({ length: count }, (_, k) => [10 * k, ...row(k)] as const);

  test('means over each step, weighted by time; the state of charge is that at its end', () => {
    // half an hour at 13 V and 2 A, half an hour at 14 V and 6 A
    const log = logOf(every10(12, (k) => (k % 6 < 3 ? [13, 2, 50 + k] : [14, 6, 50 + k])));
    const steps = logSteps(log, { startMs: T0, stepH: 1, steps: 2 });
    expect(steps.voltageV[0]).toBeCloseTo(13.5, 9);
    expect(steps.batteryA[0]).toBeCloseTo(4, 9);
    expect(steps.batteryW[0]).toBeCloseTo((13 * 2 + 14 * 6) / 2, 9);
    expect(steps.soc[0]).toBeCloseTo(0.55, 9);
    expect(steps.soc[1]).toBeCloseTo(0.61, 9);
    for (const share of steps.cover) expect(share).toBeCloseTo(1, 9);
    for (const absent of [steps.harvestW, steps.loadW, steps.ambientC]) expect([...absent]).toEqual([NAN, NAN]);
  });

  test('a gap is not filled: its steps are unknown, and one that is less than half covered too', () => {
    const rows = every10(48, (k) => [13, k < 14 ? 2 : 4, 60]).filter((_, k) => k < 14 || k >= 26);
    const steps = logSteps(logOf(rows), { startMs: T0, stepH: 1, steps: 8 });
    expect(steps.batteryA[1]).toBeCloseTo(2, 9);
    expect(steps.cover[2]).toBeCloseTo(1 / 3, 9); // 2:00 to 2:20
    expect(steps.batteryA[2]).toBeNaN();
    expect(steps.cover[3]).toBe(0);
    expect(steps.soc[3]).toBeNaN();
    expect(steps.cover[4]).toBeCloseTo(2 / 3, 9); // from 4:20
    expect(steps.batteryA[4]).toBeCloseTo(4, 9);
  });

  test('rows before and after the grid are left out, one across its edge counts inside', () => {
    const log = logOf(every10(18, (k) => [13, k, 60]));
    const steps = logSteps(log, { startMs: T0 + 65 * 60_000, stepH: 1 / 6, steps: 2 });
    // 1:05 to 1:15 is half of the row of 1:00 and half of that of 1:10
    expect(steps.batteryA[0]).toBeCloseTo(6.5, 9);
    expect(steps.batteryA[1]).toBeCloseTo(7.5, 9);
  });

  test('days, their first steps and how much of each was logged', () => {
    const day = (startMs: number) => ({ startMs });
    const grid = { startMs: 0, stepH: 6, steps: 9 };
    const itinerary = { days: [day(-36e5), day(12 * 36e5), day(36 * 36e5)] };
    const dayOf = stepDays({ itinerary, grid } as unknown as Parameters<typeof stepDays>[0]);
    expect([...dayOf]).toEqual([0, 0, 1, 1, 1, 1, 2, 2, 2]);
    expect([...firstSteps(dayOf, 3)]).toEqual([0, 2, 6, 9]);
    const cover = Float64Array.from([1, 0.5, 1, 1, 1, 2, 0, 0, 0.3]);
    expect([...coverByDay(cover, dayOf, 3)].map((share) => Number(share.toFixed(9)))).toEqual([0.75, 1, 0.1]);
  });
});

describe('how far a run is from the log', () => {
  const runOf = (trace: Record<string, readonly number[]>) =>
    ({ trace: Object.fromEntries(Object.entries(trace).map(([k, v]) => [k, Float64Array.from(v)])) }) as unknown as Run;
  const run = runOf({
    soc: [0.5, 0.6, 0.7],
    batteryV: [13, 12, 13],
    batteryA: [-1, -2, 5],
    pvHarvestW: [0, 50, 150],
    pvAvailableW: [0, 50, 200],
    loadW: [10, 20, 30],
  });

  test('root mean squares over what was measured, energies as a share more or less', () => {
    const steps = stepsOf({
      soc: [0.8, NAN, 0.3], // off by -0.3 and 0.4: root of 0.125
      voltageV: [13.3, 12.4, NAN], // -0.3 and -0.4
      harvestW: [0, 40, 120], // 160 against 200
      loadW: [20, NAN, 60], // 80 against 40
    });
    const errors = fitErrors(steps, run);
    expect(errors.socRmse).toBeCloseTo(Math.sqrt(0.125), 12);
    expect(errors.voltageRmse).toBeCloseTo(Math.sqrt(0.125), 12);
    expect(errors.harvestBias).toBeCloseTo(0.25, 12);
    expect(errors.loadBias).toBeCloseTo(-0.5, 12);
  });

  test('what the log lacks is left out, and a sum of nothing has no share', () => {
    expect(fitErrors(stepsOf({ harvestW: [0, 0, 0] }), run)).toEqual({});
  });

  test('without a load column the night’s draw is compared: dark, no engine, out of the battery', () => {
    const dark = {
      harvestW: [0, NAN, 0, 2, 0, 0],
      alternatorW: [0, 0, 5, 0, NAN, 0],
      batteryW: [-9, -8, -7, -6, -5, 4],
    };
    expect([...nightSteps(stepsOf(dark), new Float64Array(6))]).toEqual([1, 1, 0, 0, 1, 0]);
    expect([...nightSteps(stepsOf(dark), Float64Array.of(0, 0.4, 0, 0, 0.6, 0))]).toEqual([1, 1, 0, 0, 0, 0]);
    const { logW, modelW } = comparedLoads(stepsOf({ batteryW: [-26, -30, -30] }), run);
    expect([...logW]).toEqual([26, NAN, NAN]); // the second and third have light
    expect([...modelW]).toEqual([13, 24, -65]);
    expect(fitErrors(stepsOf({ batteryW: [-26, -30, -30] }), run).loadBias).toBeCloseTo(-0.5, 12);
  });
});

describe('where the battery holds the harvest back', () => {
  test('below 90 %, and well below absorption; a log with only one of the two is judged by that', () => {
    const rig = rigOf();
    const low = rig.battery.charge.absorptionV - 0.25; // of 12 V
    const [free, high] = [low - 0.01, low + 0.01];
    const judged = (columns: Parameters<typeof stepsOf>[0]) => [...uncurtailedSteps(rig, stepsOf(columns))];
    expect(judged({ soc: [0.89, 0.91, 0.5], voltageV: [free, free, high] })).toEqual([1, 0, 0]);
    expect(judged({ soc: [0.89, 0.9, NAN] })).toEqual([1, 0, 0]);
    expect(judged({ voltageV: [free, high, NAN] })).toEqual([1, 0, 0]);
    expect(judged({ harvestW: [10, 10, 10] })).toEqual([0, 0, 0]);
    const twice = rigOf('chemistry: LFP, series: 2');
    const at24 = twice.battery.charge.absorptionV - 0.5;
    expect([...uncurtailedSteps(twice, stepsOf({ voltageV: [at24 - 0.01, at24 + 0.01] }))]).toEqual([1, 0]);
  });

  /** Steps at a voltage with a harvest, all free and with the same offer. */
  const held = (parts: readonly (readonly [count: number, volts: number, harvestW: number, cellC?: number])[]) => {
    const rows = parts.flatMap(([count, ...row]) => Array.from({ length: count }, () => row));
    return stepsOf({
      voltageV: rows.map(([volts]) => volts),
      harvestW: rows.map(([, watts]) => watts),
      batteryC: rows.map(([, , cellC = 20]) => cellC),
    });
  };
  const judge = (steps: LogSteps) => {
    const { length } = steps.voltageV;
    return curtailed(rigOf(), steps, new Uint8Array(length).fill(1), new Float64Array(length).fill(80));
  };
  const count = (marks: Uint8Array) => marks.reduce((sum, one) => sum + one, 0);

  test('a charger that stops short: the harvest collapses at the highest voltage, below absorption', () => {
    const { atVoltage, doubtful, inCold, topV, withinV } = judge(
      held([
        [40, 13, 80],
        [10, 13.6, 10],
      ]),
    );
    expect(count(atVoltage)).toBe(10);
    expect(count(doubtful)).toBe(10);
    expect(count(inCold)).toBe(0);
    expect(topV).toBeCloseTo(13.6, 9);
    expect(withinV).toBeCloseTo(0.12, 9);
  });

  test('not where the same voltage sees the usual harvest too, nor at absorption, nor in too few steps', () => {
    expect(
      count(
        judge(
          held([
            [40, 13, 80],
            [10, 13.6, 10],
            [4, 13.6, 80],
          ]),
        ).atVoltage,
      ),
    ).toBe(0);
    const { absorptionV } = rigOf().battery.charge;
    expect(
      count(
        judge(
          held([
            [40, 13, 80],
            [10, absorptionV, 10],
          ]),
        ).atVoltage,
      ),
    ).toBe(0);
    expect(
      count(
        judge(
          held([
            [40, 13, 80],
            [5, 13.6, 10],
          ]),
        ).atVoltage,
      ),
    ).toBe(0);
  });

  test('cells too cold to be charged say nothing of the panel', () => {
    const { inCold, doubtful, atVoltage } = judge(
      held([
        [20, 13, 80],
        [8, 13.1, 0, -2],
      ]),
    );
    expect([count(inCold), count(doubtful), count(atVoltage)]).toEqual([8, 8, 0]);
  });

  test('an offer counts from 15 % of all panels’ nameplate', () => {
    expect(minPowerW(rigOf('chemistry: LFP', 200))).toBeCloseTo(30, 9);
    expect(minPowerW({ ...rigOf(), solar: [] })).toBe(0);
  });
});

describe('a harvest that is flat at its top', () => {
  /** On each of some days 30 steps: light from nothing to 300 W, of which the share `kept` arrives, up to a top. */
  const days = (count: number, top: (offerW: number) => number) => {
    const offers = Array.from({ length: count * 30 }, (_, i) => 10 * ((i % 30) + 1));
    return {
      steps: stepsOf({ harvestW: offers.map((watts) => top(0.9 * watts)) }),
      free: new Uint8Array(offers.length).fill(1),
      offers: Float64Array.from(offers),
      dayOf: Int32Array.from(offers, (_, i) => Math.floor(i / 30)),
    };
  };
  const found = ({ steps, free, offers, dayOf }: ReturnType<typeof days>) => clippingOf(steps, free, offers, dayOf);

  test('is found with its top, the share below it, and how often', () => {
    const clipping = found(days(4, (watts) => Math.min(150, watts)))!;
    expect(clipping.topW).toBeCloseTo(150, 9);
    expect(clipping.ratio).toBeCloseTo(0.9, 9);
    // offers above 1.15 x 150 / 0.9 = 191.7 W: 200 to 300 W, 11 steps a day
    expect(clipping).toMatchObject({ steps: 44, days: 4 });
  });

  test('is not one that goes on rising, nor one of two days, nor one that scatters', () => {
    expect(found(days(4, (watts) => watts))).toBeUndefined();
    expect(found(days(2, (watts) => Math.min(150, watts)))).toBeUndefined();
    let odd = 0;
    expect(found(days(4, (watts) => (watts < 150 ? watts : odd++ % 2 ? 150 : 100)))).toBeUndefined();
  });

  test('is not judged from steps that are not free', () => {
    const all = days(4, (watts) => Math.min(150, watts));
    expect(found({ ...all, free: new Uint8Array(all.free.length) })).toBeUndefined();
    const mornings = all.free.map((_, i) => (i % 30 < 17 ? 1 : 0));
    expect(found({ ...all, free: mornings })).toBeUndefined();
  });
});
