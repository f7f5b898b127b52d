import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readRig, withoutTrip } from '../../../packages/core/src/rig/index.js';
import {
  assemble,
  conditionsFor,
  partMemo,
  simulateUnder,
  whenDriven,
} from '../../../packages/core/src/simulate/index.js';

const text = readFileSync(new URL('../../../examples/heron.yaml', import.meta.url), 'utf8');
const { stops, ...whole } = withoutTrip({ at: '60.2,24.9', from: '2026-03-10', days: 6 });
const { from: _, ...next } = { ...stops[0]!, driveH: 2 };
const trip = { ...whole, stops: [stops[0]!, next] };
const rigWith = (...set: string[]) => readRig(text, { set: ['solar[0].tilt=30 deg', ...set] }).rig;
const conditions = conditionsFor(rigWith(), trip);

/** One quantity of each part, and what only some kinds have. */
const VARIANTS = [
  'battery.capacity=50 Ah',
  'battery.chemistry=AGM',
  'battery.count=3',
  'battery.stands=outside',
  'battery.health=80 %',
  'battery.maxCharge=2 A',
  'battery.heater={ power: 30 W }',
  'battery.cable={ length: 2 m, section: 16 mm2 }',
  'solar[0].count=2',
  'solar[0].tilt=40 deg',
  'solar[0].controller={ kind: PWM, current: 20 A }',
  'albedo=60 %',
  'alternator.charger.current=3 A',
  'inverter.standby=20 W',
  'loads.lights.power=30 W',
  'loads.laptop.hours=6',
  'loads.fridge.setpoint=-6 degC',
  'loads.fan.power="soc > 0.5 ? 20 : 2"',
];

describe('columns remembered from other variants of a rig', () => {
  test.each(VARIANTS)('%s: the same to the last bit as assembled anew, before and after', (set) => {
    const memo = partMemo();
    for (const rig of [rigWith(), rigWith(set), rigWith('battery.capacity=75 Ah', set), rigWith()])
      expect(assemble(rig, conditions, 0.5, memo).input).toStrictEqual(assemble(rig, conditions, 0.5).input);
  });

  test('each of those variants is told apart from the rig as it stands: its run differs', () => {
    const asItStands = simulateUnder(rigWith(), conditions, 0.5).trace.soc;
    for (const set of VARIANTS)
      expect(simulateUnder(rigWith(set), conditions, 0.5).trace.soc, set).not.toStrictEqual(asItStands);
  });

  test('a battery of another size shares all that the sun, the engine and the loads give and take', () => {
    const memo = partMemo();
    const small = assemble(rigWith('battery.capacity=50 Ah'), conditions, 1, memo);
    const large = assemble(rigWith('battery.capacity=200 Ah'), conditions, 1, memo);
    for (const key of ['drive', 'limitA', 'compensationV', 'plainW', 'fridgeRunW', 'resistanceFactor'] as const)
      expect(large.input[key], key).toBe(small.input[key]);
    expect(large.solar[0]).toBe(small.solar[0]);
    expect(large.input.chargeLimitA).not.toBe(small.input.chargeLimitA);
  });

  test.each(['cabin', 'outside', 'engine bay'])(
    '%s battery: with the engine run otherwise, as assembled anew',
    (stands) => {
      const rig = rigWith(`battery.stands=${stands}`, 'battery.heater={ power: 30 W }');
      const { itinerary } = conditions;
      const driven = {
        ...conditions,
        itinerary: { ...itinerary, driving: new Float64Array(conditions.grid.steps).fill(0.5) },
      };
      const memo = partMemo();
      assemble(rig, conditions, 0.5, memo);
      const { input, solar } = assemble(rig, driven, 0.5, whenDriven(memo, rig));
      expect(input).toStrictEqual(assemble(rig, driven, 0.5).input);
      expect(input).not.toStrictEqual(assemble(rig, conditions, 0.5, memo).input);
      if (stands !== 'engine bay') expect(solar[0]).toBe(assemble(rig, conditions, 0.5, memo).solar[0]);
    },
  );

  test('a load of another size shares the light on the panels', () => {
    const memo = partMemo();
    const [one, other] = ['10 W', '20 W'].map((power) =>
      assemble(rigWith(`loads.lights.power=${power}`), conditions, 1, memo),
    );
    expect(other!.solar[0]).toBe(one!.solar[0]);
    expect(other!.fridges[0]).toBe(one!.fridges[0]);
    expect(other!.input.plainW).not.toBe(one!.input.plainW);
  });
});
