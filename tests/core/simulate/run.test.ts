import { InternalError } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { loopOutput, loopState } from '../../../packages/core/src/simulate/loop/loop.js';
import { runSteps } from '../../../packages/core/src/simulate/run/run-steps.js';
import { runOf } from '../../../packages/core/src/simulate/run/simulate.js';
import { byHand } from './by-hand.js';

/** 94 steps of half an hour, in which the battery runs empty. */
const rigWith = (loads: string) => `
battery: { chemistry: LFP, capacity: 60 Ah }
solar: [{ name: roof, power: 60 W, mount: bonded }, { name: side, power: 40 W, tilt: 90 deg }]
loads:
  - { name: lamp, power: 20 W }
${loads}`;
const plain = (loads: string) => byHand(rigWith(loads)).assembled;

describe('a draw that depends on the charge', () => {
  test('and never changes is as a load of that power; it is asked at each step with the charge of its beginning', () => {
    const { input } = plain('');
    const out = loopOutput(input.steps, input);
    runSteps({ input }, out, loopState({ ...input, plainW: input.plainW.map((watts) => watts + 30) }), 0, input.steps);
    const [led, askedW] = [loopOutput(input.steps, input), new Float64Array(input.steps)];
    const asked: number[] = [];
    const socDraw = (step: number, soc: number) => {
      expect(soc).toBe(step > 0 ? led.soc[step - 1] : 0.5);
      asked.push(step);
      return 30;
    };
    runSteps({ input, socDraw }, led, loopState(input), 0, input.steps, askedW);
    expect(asked).toEqual(Array.from({ length: input.steps }, (_, i) => i));
    for (let i = 0; i < input.steps; i++) {
      expect(led.soc[i]).toBeCloseTo(out.soc[i]!, 9);
      expect(askedW[i]).toBe(30);
    }
    expect(out.onShare).toContain(0);
  });
});

test('a run longer than a stretch of the loop goes on to its end', () => {
  const days = (nights: number) =>
    byHand(rigWith(''), `weather: dull\nstops: [{ at: [0, 0], from: 2026-06-10, nights: ${nights} }]`, 1 / 6).assembled;
  const [two, one] = [days(2), days(1)];
  const [long, short] = [two, one].map(({ input }) => {
    const out = loopOutput(input.steps, input);
    runSteps({ input }, out, loopState(input), 0, input.steps);
    return out;
  });
  expect(long!.soc).toHaveLength(288);
  expect([...long!.busV].every((volts) => volts > 10)).toBe(true);
  expect([...long!.soc.slice(0, 144)]).toEqual([...short!.soc]);
});

describe('a ledger that does not close is a fault of ours', () => {
  // what a controller takes by itself, in the ledger but not in the loop
  const unrecorded = (extraW: number) => {
    const assembled = plain('');
    return () => runOf({ ...assembled, standbyW: assembled.standbyW + extraW });
  };

  test('and is reported with the watt-hours that are missing', () => {
    expect(unrecorded(0)).not.toThrow();
    expect(unrecorded(1e-9)).not.toThrow();
    expect(unrecorded(1)).toThrow(InternalError);
    // 1 W for the 47 h of the run
    expect(unrecorded(1)).toThrow(/the ledger does not close: -4[67](\.\d+)? Wh of \d+(\.\d+)? Wh/);
    expect(unrecorded(-0.1)).toThrow(InternalError);
    const assembled = plain('');
    const heaterW = new Float64Array(assembled.input.steps).fill(Number.NaN);
    expect(() => runOf({ ...assembled, heaterW })).toThrow(/does not close: NaN Wh/);
  });

  test('from a millionth of what went through it, and 1e-5 A at 16 V, to which the loop solves a step', () => {
    const { summary } = runOf(plain(''));
    const throughputWh =
      summary.pvHarvestWh + summary.alternatorWh + summary.mainsWh + summary.loadWh + Math.abs(summary.storedChangeWh);
    const minW = (1e-6 * throughputWh) / 47 + 1e-5 * 16;
    expect(unrecorded(0.9 * minW)).not.toThrow();
    expect(unrecorded(1.1 * minW)).toThrow(InternalError);
  });
});

test('the trace of a run has the loads together, and the light on the first array', () => {
  const assembled = plain('  - { name: fan, power: 30 W }');
  const { trace, loads } = runOf(assembled);
  const [lamp, fan] = trace.loads;
  for (let i = 0; i < trace.grid.steps; i++)
    expect(trace.loadW[i]).toBeCloseTo(lamp!.servedW[i]! + fan!.servedW[i]!, 9);
  const sum = (column: Float64Array) => column.reduce((total, watts) => total + watts / 2, 0);
  expect(sum(trace.unservedW)).toBeCloseTo(
    loads.reduce((total, load) => total + load.unservedWh, 0),
    6,
  );
  expect(sum(trace.unservedW)).toBeGreaterThan(100);
  expect(trace.poaWm2).toBe(assembled.solar[0]!.plane.poaWm2);
  expect(Math.max(...trace.poaWm2)).toBeGreaterThan(50);
  const dark = runOf(
    byHand('battery: { chemistry: LFP, capacity: 60 Ah }\nloads: [{ name: lamp, power: 2 W }]').assembled,
  );
  expect([...dark.trace.poaWm2]).toEqual(Array(94).fill(0));
});
