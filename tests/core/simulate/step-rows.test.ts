import { describe, expect, test } from 'vitest';
import { fillBatteryRows, fillStepRows, scaleLoadRows } from '../../../packages/core/src/simulate/inputs/step-rows.js';
import { layOutSteps, loopState } from '../../../packages/core/src/simulate/loop/loop.js';
import {
  FRIDGE_STEP_WIDTH,
  HEAVY_SHARE,
  HEAVY_STEP_WIDTH,
  HEAVY_W,
  RUN_W,
} from '../../../packages/core/src/simulate/loop/loop-rows.js';
import { byHand } from './by-hand.js';

const FRIDGES = `
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC, cable: { length: 3 m, section: 2.5 mm2 } }
  - { name: freezer, kind: fridge, volume: 30 L, setpoint: -18 degC, insulation: 60 mm, compressor: 60 W }`;
const rigWith = ({ battery = '', chargers = '', lampW = 30, pumpA = 2 }) => `
battery: { chemistry: AGM, capacity: 100 Ah, stands: outside${battery} }
${chargers}
loads:
  - { name: lamp, power: ${lampW} W, cable: { length: 5 m, section: 2.5 mm2 } }
  - { name: far, power: ${2 * lampW} W, hours: 6, cable: { length: 12 m, section: 1 mm2 } }
  - { name: pump, current: ${pumpA} A }${FRIDGES}`;
const CHARGERS = `
solar: [{ power: 200 W, controller: { kind: MPPT, current: 10 A, standby: 0.4 W } }]
mains: { current: 15 A }
alternator: { charger: { kind: dcdc, current: 30 A } }`;
const TRIP = `
weather: clear
stops: [{ at: [45, 10], from: 2026-06-10, nights: 2, drive: 2 h, mains: 3 h }]`;
const inputOf = (rig: string) => byHand(rig, TRIP).assembled.input;

describe('rows put together from parts', () => {
  const whole = inputOf(rigWith({ chargers: CHARGERS }));
  const loads = inputOf(rigWith({}));
  const loadRows = layOutSteps(loads);
  const { steps } = whole;
  const column = (lanes: Float64Array, j: number) => lanes.slice(j * steps, (j + 1) * steps);
  const chargers = Array.from({ length: whole.chargers }, (_, j) => ({
    drive: column(whole.drive, j),
    limitA: column(whole.limitA, j),
    share: column(whole.chargerShare, j),
    compensationV: column(whole.compensationV, j),
  }));
  const expected = layOutSteps(whole);

  test('are those of the rig that has them all', () => {
    expect(whole.chargers).toBe(3);
    const rows = new Float64Array(expected.length);
    fillStepRows(rows, loadRows, loadRows.length / steps, whole.unswitchedW, chargers, 0, steps);
    expect(rows).toEqual(expected);
  });

  test('one value stands for a whole column', () => {
    const width = loadRows.length / steps;
    const plain = { drive: new Float64Array(steps).fill(7), limitA: 20, share: 0.5, compensationV: -0.1 };
    const byColumn = {
      drive: plain.drive,
      limitA: new Float64Array(steps).fill(20),
      share: new Float64Array(steps).fill(0.5),
      compensationV: new Float64Array(steps).fill(-0.1),
    };
    const [one, other] = [new Float64Array(steps * (width + 4)), new Float64Array(steps * (width + 4))];
    fillStepRows(one, loadRows, width, 0.4, [plain], 0, steps);
    fillStepRows(other, loadRows, width, new Float64Array(steps).fill(0.4), [byColumn], 0, steps);
    expect(one).toEqual(other);
    expect([...one.slice(width, width + 4)]).toEqual([7, 20, 0.5, -0.1]);
  });

  test('fill a day of the run and leave the rest as it is', () => {
    const rows = new Float64Array(expected.length).fill(-1);
    fillStepRows(rows, loadRows, loadRows.length / steps, whole.unswitchedW, chargers, 30, 50);
    const wide = expected.length / steps;
    const untouched = new Float64Array(expected.length).fill(-1);
    expect(rows.slice(30 * wide, 50 * wide)).toEqual(expected.slice(30 * wide, 50 * wide));
    expect(rows.slice(0, 30 * wide)).toEqual(untouched.slice(0, 30 * wide));
    expect(rows.slice(50 * wide)).toEqual(untouched.slice(50 * wide));
    const byValue = chargers.map((charger) => ({ ...charger, limitA: 20, share: 1, compensationV: 0 }));
    rows.fill(-1);
    fillStepRows(rows, loadRows, loadRows.length / steps, 0.4, byValue, 30, 50);
    expect([...rows.slice(30 * wide, 50 * wide)]).not.toContain(-1);
    expect(rows.slice(0, 30 * wide)).toEqual(untouched.slice(0, 30 * wide));
    expect(rows.slice(50 * wide)).toEqual(untouched.slice(50 * wide));
  });
});

describe('the rows of a bank of several batteries', () => {
  const one = loopState(inputOf(rigWith({}))).battery;
  const three = loopState(inputOf(rigWith({ battery: ', count: 3' }))).battery;
  const { steps } = inputOf(rigWith({}));

  test('are those of one, with its currents so many times as large', () => {
    const rows = new Float64Array(one.length);
    fillBatteryRows(rows, one, 3, 0, steps);
    for (let at = 0; at < rows.length; at++) expect(rows[at]).toBeCloseTo(three[at]!, 9);
    expect([...one].every((value, at) => value === three[at])).toBe(false);
  });

  test('are filled from one step to before another', () => {
    const rows = new Float64Array(one.length).fill(-1);
    fillBatteryRows(rows, one, 3, 10, 20);
    const width = one.length / steps;
    expect(rows.slice(0, 10 * width).every((value) => value === -1)).toBe(true);
    expect(rows.slice(20 * width).every((value) => value === -1)).toBe(true);
    const whole = new Float64Array(one.length);
    fillBatteryRows(whole, one, 3, 0, steps);
    expect(rows.slice(10 * width, 20 * width)).toEqual(whole.slice(10 * width, 20 * width));
  });
});

test('loads that draw twice as much have the rows of a rig with loads of twice the power and current', () => {
  // without their own draw, which is a power too; the compressor's heat does not double with its power
  const bare = (text: string) => text.replaceAll('kind: fridge,', 'kind: fridge, standby: 0 W,');
  const once = inputOf(bare(rigWith({})));
  const twice = layOutSteps(inputOf(bare(rigWith({ lampW: 60, pumpA: 4 }))));
  const scaled = scaleLoadRows(layOutSteps(once), once, 2);
  const width = scaled.length / once.steps;
  const heavyAt = 6 + 2 * FRIDGE_STEP_WIDTH;
  expect(width).toBe(heavyAt + HEAVY_STEP_WIDTH);
  for (let i = 0; i < once.steps; i++) {
    const [ofScaled, ofTwice] = [scaled, twice].map((rows) => rows.slice(i * width, (i + 1) * width)) as [
      Float64Array,
      Float64Array,
    ];
    for (let k = 0; k < 6; k++) expect(ofScaled[k]! / (ofTwice[k]! || 1)).toBeCloseTo(ofTwice[k] ? 1 : 0, 12);
    for (const f of [0, 1]) {
      const at = 6 + FRIDGE_STEP_WIDTH * f;
      for (let k = 0; k < FRIDGE_STEP_WIDTH; k++)
        expect(ofScaled[at + k]).toBe((k === RUN_W ? 2 : 1) * ofTwice[at + k]!);
    }
    expect([ofScaled[heavyAt + HEAVY_W], ofTwice[heavyAt + HEAVY_W]]).toEqual([120, 120]);
    expect(ofScaled[heavyAt + HEAVY_SHARE]).toBe(ofTwice[heavyAt + HEAVY_SHARE]);
  }
});
