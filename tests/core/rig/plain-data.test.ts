import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  checkRig,
  circuits,
  compareLog,
  conditionsFor,
  describeRig,
  type Log,
  type PartsList,
  type Rig,
  readLogTable,
  readParts,
  readRig,
  readTrip,
  simulate,
  simulateUnder,
  sizeStudy,
  stayStudy,
  type Trip,
  withoutTrip,
  yieldStudy,
} from '../../../packages/core/src/index.js';
import { rigText } from '../../property/random-rig.js';

const examples = new URL('../../../examples/', import.meta.url);
const rigs = readdirSync(examples)
  .map((name) => [name, readFileSync(new URL(name, examples), 'utf8')] as const)
  .filter(([name, text]) => name.endsWith('.yaml') && /^battery/m.test(text));
const WEEK = withoutTrip({ at: '41.7,-8.8', from: '2026-10-03', days: 7 });
const AGM = `battery: { chemistry: AGM, capacity: 90 Ah }
solar: [{ power: 100 W }]
loads: [{ name: fridge, kind: fridge, volume: 30 L, setpoint: 5 degC }]`;

describe('a rig is plain data', () => {
  test.each(rigs)('%s comes to the same, to the bit, after JSON and after structuredClone', (_, text) => {
    const { rig } = readRig(text);
    const { summary, daily } = simulate(rig, WEEK);
    for (const copy of [JSON.parse(JSON.stringify(rig)) as Rig, structuredClone(rig)]) {
      const again = simulate(copy, WEEK);
      expect(again.summary).toStrictEqual(summary);
      expect(again.daily).toStrictEqual(daily);
    }
  });

  test('so is any rig that can be written, trips too', () => {
    fc.assert(
      fc.property(rigText, (text) => {
        const { rig } = readRig(text);
        expect(JSON.parse(JSON.stringify(rig))).toStrictEqual(rig);
      }),
      { numRuns: 100 },
    );
    const { trip } = readTrip('stops: [{ place: Porto, from: 2026-10-03, nights: 7, shade: 20 % }]');
    expect(JSON.parse(JSON.stringify(trip))).toStrictEqual(trip);
  });

  test('a lead-acid bank has no cold limit and no discharge limit, so it has no such keys', () => {
    const { battery } = readRig(AGM).rig;
    expect('chargeMinC' in battery || 'maxDischargeA' in battery).toBe(false);
    expect(simulate(readRig(AGM).rig, WEEK).summary.pvHarvestWh).toBeGreaterThan(500);
  });
});

describe('settings change a rig, and take its defaults anew', () => {
  test('as an object they are what they are as texts', () => {
    const asTexts = readRig(AGM, { set: ['battery.capacity=200 Ah', 'loads.fridge.setpoint=3 degC'] });
    const asObject = readRig(AGM, { set: { 'battery.capacity': '200 Ah', 'loads.fridge.setpoint': '3 degC' } });
    expect(asObject).toStrictEqual(asTexts);
    expect(asObject.rig.battery.maxChargeA).toBe(50);
  });

  test('whole groups and lists can be set', () => {
    const { rig } = readRig(AGM, { set: { solar: [{ power: '200 W' }, { name: 'two', power: '50 W' }] } });
    expect(rig.solar.map(({ powerW }) => powerW)).toEqual([200, 50]);
  });

  test('a path that leads nowhere is refused by name', () => {
    expect(() => readRig(AGM, { set: { 'battery.capacty': '200 Ah' } })).toThrow(/capacty/);
    expect(() => readRig(AGM, { set: { 'loads.fan.power': '2 W' } })).toThrow(/fan/);
  });
});

describe('what is no rig, trip, list, log or conditions is refused, by function and key', () => {
  const { rig } = readRig(AGM);
  const without = (change: object) => ({ ...rig, battery: { ...rig.battery, ...change } });
  const any = (value: unknown) => value as Rig & Trip & PartsList & Log;
  const parts = readParts('batteries: [{ name: A, chemistry: LFP, capacity: 50 Ah, mass: 5 kg, price: 230 }]').parts;

  test.each([
    [() => simulate(any(WEEK), WEEK), /^simulate: the rig's battery is missing.*readRig makes one/],
    [() => simulate(any(undefined), WEEK), /^simulate: the rig is missing, and a rig is needed/],
    [() => simulate(rig, any(rig)), /^simulate: the trip's .* readTrip or withoutTrip makes one/],
    [() => simulate(any(without({ capacityAh: null })), WEEK), /battery\.capacityAh is null, and a number/],
    [() => simulate(any(without({ capacityAh: Number.NaN })), WEEK), /battery\.capacityAh is NaN, and a number/],
    [() => simulate(any(without({ capacityAh: '90 Ah' })), WEEK), /capacityAh is "90 Ah", and a number/],
    [() => simulate(any(without({ maxDischargeA: null })), WEEK), /maxDischargeA is null, and a number/],
    [
      () => simulate(any(without({ chemistry: 'lead' })), WEEK),
      /chemistry is "lead", and one of LFP, AGM, gel, flooded/,
    ],
    [
      () => simulate(any({ ...rig, loads: [{ name: 'x' }] }), WEEK),
      /loads\[0\].*, and a load of kind scheduled or fridge/,
    ],
    [() => simulate(rig, any({ ...WEEK, stops: [] })), /stops is a list, and one stop at least is needed/],
    [() => conditionsFor(rig, any({})), /^conditionsFor: the trip's /],
    [() => simulateUnder(rig, any({}) as never, 1), /^simulateUnder: its conditions are none/],
    [() => simulateUnder(rig, { ...conditionsFor(rig, WEEK), cabinC: new Float64Array(3) }, 1), /column cabinC/],
    [() => simulateUnder(rig, conditionsFor(rig, WEEK), Number.NaN), /startSoc must be 0 to 1, got NaN/],
    [() => stayStudy(rig, {}), /^stayStudy: the stop needs at/],
    [() => stayStudy(any(1), { place: 'Porto' }), /^stayStudy: the rig is 1, and a rig/],
    [() => yieldStudy(rig, any(undefined)), /^yieldStudy: the stop needs at/],
    [() => sizeStudy(rig, any({}), [WEEK]), /^sizeStudy: the parts list's /],
    [() => sizeStudy(rig, parts, [any({})]), /^sizeStudy: the trip's /],
    [() => compareLog(rig, any({})), /^compareLog: a log is needed; readLogTable makes one/],
    [() => checkRig(any([])), /^checkRig: the rig is a list/],
    [() => describeRig(any('rig.yaml')), /^describeRig: the rig is "rig\.yaml"/],
    [() => circuits(any(null)), /^circuits: the rig is null/],
    [() => readRig(any(undefined) as never), /^readRig: the text is missing, and a string is needed/],
    [() => readTrip(any({}) as never), /^readTrip: the text is an object/],
    [() => readParts(any(3) as never), /^readParts: the text is 3/],
    [() => readLogTable(any(undefined) as never), /^readLogTable: the text is missing/],
  ])('%s', (run, message) => {
    let caught: unknown;
    try {
      run();
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(message.source.includes('startSoc') ? RangeError : TypeError);
    expect((caught as Error).message).toMatch(message);
  });
});
