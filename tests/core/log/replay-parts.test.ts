// The parts that hold a log against a run, each worked out by hand.
import { readRig } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { readLogTable } from '../../../packages/core/src/log/index.js';
import { clippingOf } from '../../../packages/core/src/log/replay/clipping.js';
import { comparedLoads, fitErrors, nightSteps } from '../../../packages/core/src/log/replay/fit-errors.js';
import { chargeStages } from '../../../packages/core/src/log/replay/free-steps.js';
import { type LogSteps, logSteps } from '../../../packages/core/src/log/replay/log-steps.js';
import { coverByDay, firstSteps, stepDays } from '../../../packages/core/src/log/replay/step-days.js';
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

describe('where the controller holds the harvest back', () => {
  /** Steps of ten minutes in full light, all on one day, from voltages. */
  const judged = (
    volts: number[],
    more: Partial<Record<'batteryA' | 'batteryC' | 'soc', number[]>> = {},
    rig = rigOf(),
  ) => {
    const steps = stepsOf({ voltageV: volts, ...more });
    const ones = Float64Array.from(volts, () => 80);
    const none = new Float64Array(volts.length);
    const cells = Float64Array.from(volts, () => 25);
    return chargeStages(rig, steps, cells, none, ones, new Int32Array(volts.length));
  };
  const { absorptionV, floatV } = rigOf().battery.charge;

  test('bulk is free; absorption and float are not, until the voltage lies far below float', () => {
    const volts = [13.1, 13.3, absorptionV, floatV, floatV - 0.1, floatV - 0.3];
    expect([...judged(volts).free]).toEqual([1, 0, 0, 0, 0, 1]); // the step before the rise may hold a part of it
  });

  test('set points are those of the whole bank', () => {
    const twice = rigOf('chemistry: LFP, series: 2');
    const high = twice.battery.charge.absorptionV;
    expect([...judged([26.4, 26.5, high], {}, twice).free]).toEqual([1, 0, 0]);
  });

  test('without a voltage the counter stands in', () => {
    expect([...judged([NAN, NAN, NAN], { soc: [0.89, 0.91, NAN] }).free]).toEqual([1, 0, 0]);
  });

  test('cold cells may refuse', () => {
    const { free, cold } = judged([13.1, 13.1], { batteryC: [0.5, 20] });
    expect([[...free], [...cold]]).toEqual([
      [0, 1],
      [1, 0],
    ]);
  });

  /** Days on which a bulk charge comes to a voltage and is held there while its current falls. */
  const days = (tops: readonly number[]) => {
    const rows = tops.flatMap((top, day) => [
      ...Array.from({ length: 20 }, (_, k) => ({ day, volts: 13 + (k / 20) * (top - 13.1), amps: 12 })),
      ...Array.from({ length: 12 }, (_, k) => ({ day, volts: top, amps: 12 - k })),
    ]);
    const column = (of: (row: (typeof rows)[number]) => number) => rows.map(of);
    const steps = stepsOf({ voltageV: column(({ volts }) => volts), batteryA: column(({ amps }) => amps) });
    const flat = (value: number) => Float64Array.from(rows, () => value);
    return chargeStages(rigOf(), steps, flat(25), flat(0), flat(80), Int32Array.from(column(({ day }) => day)));
  };

  test('a controller that ends below its set point is told by days on which the voltage is held there', () => {
    const { held } = days([13.9, 13.91, 13.89, 13.9, 13.9]);
    expect(held).toMatchObject({ days: 5 });
    expect(held!.volts).toBeCloseTo(13.9, 2);
  });

  test('not by days that all end elsewhere, nor where LFP is flat by itself, nor by three days', () => {
    expect(days([13.8, 14, 14.2, 13.75, 14.1]).held).toBeUndefined();
    expect(days([13.4, 13.4, 13.4, 13.4, 13.4]).held).toBeUndefined();
    expect(days([13.9, 13.9, 13.9]).held).toBeUndefined();
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
