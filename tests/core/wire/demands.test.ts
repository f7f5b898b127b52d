import { expect, test } from 'vitest';
import type { Rig } from '../../../packages/core/src/rig/index.js';
import { type Circuit, circuits, type WireAir } from '../../../packages/core/src/wire/index.js';
import { cable, rigWith } from './example.js';

const base = rigWith(cable(4, 2.5));
const battery = (fields: Partial<Rig['battery']>): Partial<Rig> => ({ battery: { ...base.battery, ...fields } });
const array = (fields: Partial<Rig['solar'][number]>): Partial<Rig> => ({ solar: [{ ...base.solar[0]!, ...fields }] });
const relay = {
  alternator: { ...base.alternator!, charger: { kind: 'relay', resistanceOhm: 0.002 } },
} satisfies Partial<Rig>;
const mains = { currentA: 25, efficiency: 0.9 };

const named = (name: string, rest: Partial<Rig> = {}, air: WireAir = {}): Circuit =>
  circuits({ ...base, ...rest }, air).find((circuit) => circuit.name === name)!;

// Currents and voltages worked by hand from the rig's own figures; within 4 %, as a constant power takes
// more at the end of its cable: the alternator's 463 W lose 3.3 % of their voltage on 5 m of 16 mm².
test.each<[string, string, Partial<Rig>, number, number, number]>([
  ['roof panel', 'the maximum power point', {}, 20.4, 8.6, 3],
  ['roof panel', 'two strings of two', array({ count: 4, series: 2 }), 2 * 20.4, 2 * 8.6, 3],
  ['roof controller', '175 W / 14.2 V', {}, 14.2, 12.32, 3],
  ['roof controller', 'its own limit', array({ count: 4, series: 2 }), 14.2, 20, 3],
  ['roof controller', 'PWM passes on the short-circuit current', array({ controller: pwm() }), 14.2, 9.2, 3],
  ['alternator', '30 A · 14.2 V / 0.92 / 14.2 V', {}, 14.2, 32.61, 3],
  ['alternator', 'relay: 150 A less 30 A of the vehicle, for the battery and the loads', relay, 14.2, 120, 3],
  ['alternator charger', 'its rating', {}, 14.2, 30, 3],
  ['alternator charger', 'relay: the same current goes on', relay, 14.2, 120, 3],
  ['mains charger', 'its rating at the battery’s voltage', { mains }, 14.2, 25, 3],
  ['mains charger', 'at its own voltage', { mains: { ...mains, charge: { absorptionV: 14.6 } } }, 14.6, 25, 3],
  ['inverter', '(7 W + 1.0528 · 600 W + 0.1215e-3 / W · (600 W)²) / 12 V', {}, 12, 56.9, 3],
  ['fridge', '45.3 W / 12 V', {}, 12, 3.775, 3],
  ['fridge', 'the same power at 24 V', battery({ series: 2 }), 24, 1.8875, 3],
  ['pump', 'its own', battery({ series: 2 }), 24, 5, 10],
  ['winch', 'the starter side stays at 12 V', battery({ series: 2 }), 12, 200, 10],
  ['battery main', 'loads and inverter: 3.775 + 5 + 56.9', {}, 12, 65.7, 3],
  ['battery main', 'no more than it may give', battery({ maxDischargeA: 50 }), 12, 50, 3],
  ['battery main', 'what charges it, if more: 12.3 + 30 + 60', { mains: { ...mains, currentA: 60 } }, 12, 102.3, 3],
])('%s (%s)', (name, _why, rest, sourceV, currentA, limitPercent) => {
  const limits = name === 'battery main' && rest.mains ? battery({ maxChargeA: 300 }) : {};
  const circuit = named(name, { ...rest, ...limits });
  expect(circuit.sourceV).toBeCloseTo(sourceV, 9);
  expect(circuit.limitPercent).toBeCloseTo(limitPercent, 9);
  expect(circuit.currentA).toBeGreaterThanOrEqual(currentA * 0.999);
  expect(circuit.currentA).toBeLessThanOrEqual(currentA * 1.04);
});

function pwm(): Rig['solar'][number]['controller'] {
  return { ...base.solar[0]!.controller, kind: 'PWM' };
}

test('chargers give a battery no more than it accepts, a relay gives what the alternator has', () => {
  expect(named('battery main', { mains: { ...mains, currentA: 200 } }).currentA).toBe(100);
  // 1 C of 100 Ah LFP, less than the 150 A less 30 A of the vehicle, and 175 W / 14.2 V of sun
  expect(named('battery main', relay).currentA).toBeCloseTo(100 + 175 / 14.2, 9);
});

test('an alternator that the vehicle needs for itself has nothing for the relay', () => {
  const weak = { alternator: { ...base.alternator!, ...relay.alternator, ratingA: 20 } };
  expect(named('alternator', weak).currentA).toBe(0);
});

test('a panel’s fuse carries its short-circuit current: 1.25 · 9.2 A asks for 15 A, of two strings 25 A', () => {
  expect(named('roof panel').fuseA).toBe(15);
  expect(named('roof panel', array({ count: 2 })).fuseA).toBe(25);
});

test('a panel without a data sheet is wired as one of its power', () => {
  const { datasheet: _, ...unknown } = base.solar[0]!;
  const { currentA, sourceV } = named('roof panel', { solar: [unknown] });
  expect(currentA * sourceV).toBeCloseTo(175, 0);
});

test('cables stand in 40 °C, engine spaces in 50 °C: sqrt((70 − T) / 40) of 98 A for 16 mm²', () => {
  const thick = { ...base.alternator!, outputCable: cable(1, 16) };
  const alternator = { alternator: { ...thick, cable: cable(5, 16) } };
  expect(named('alternator', alternator).ampacityA).toBeCloseTo(98 * Math.sqrt(20 / 40), 9);
  expect(named('alternator charger', alternator).ampacityA).toBeCloseTo(98 * Math.sqrt(30 / 40), 9);
  for (const [stands, airC] of [
    ['cabin', 40],
    ['engine bay', 50],
  ] as const)
    expect(named('battery main', battery({ stands, cable: cable(0.5, 16) })).ampacityA).toBeCloseTo(
      98 * Math.sqrt((70 - airC) / 40),
      9,
    );
});

test('a panel’s cable lies in 68 °C on the roof, in the cabin’s air where the panel stands on the ground', () => {
  // NEC 310.15(B)(2): 60 °F, 33 K, above the outside air close to a sunlit roof; 54 A of 6 mm², insulation of 90 °C, by sqrt.
  const roofA = named('roof panel').ampacityA!;
  const groundA = named('roof panel', array({ mount: 'ground' })).ampacityA!;
  expect(roofA / groundA).toBeCloseTo(Math.sqrt((90 - 35 - 33) / (90 - 40)), 9);
  expect(named('roof panel', {}, { roofC: 50 }).ampacityA! / roofA).toBeCloseTo(Math.sqrt(40 / 22), 9);
  for (const roofC of [-40.1, 90.1]) expect(() => named('fridge', {}, { roofC })).toThrow(RangeError);
});

test('the ends of the air’s range are in it', () => {
  for (const airC of [-40, 60]) expect(named('fridge', {}, { cabinC: airC, engineC: airC }).ok).not.toBeNull();
  for (const engineC of [-40.1, 60.1]) expect(() => named('fridge', {}, { engineC })).toThrow(RangeError);
});

test('a fridge starts with 10 A where its owner names no other, a plain load with none', () => {
  expect(named('fridge').surgeA).toBe(10);
  expect(named('pump').surgeA).toBeUndefined();
  expect(named('pump').surgeArrivesV).toBeUndefined();
});

test('every circuit names the place of its cable in the file', () => {
  const paths = Object.fromEntries(circuits({ ...base, mains }).map(({ name, path }) => [name, path]));
  expect(paths).toEqual({
    'battery main': 'battery.cable',
    'roof panel': 'solar[0].cable',
    'roof controller': 'solar[0].outputCable',
    alternator: 'alternator.cable',
    'alternator charger': 'alternator.outputCable',
    'mains charger': 'mains.cable',
    inverter: 'inverter.cable',
    fridge: 'loads[0].cable',
    pump: 'loads[2].cable',
    winch: 'loads[3].cable',
  });
});

test('what must be known beside the figures is said', () => {
  const remark = (name: string, more = {}) => named(name, more).remark?.code;
  expect(remark('alternator')).toBe('fuse_at_both_ends');
  expect(remark('winch')).toBe('on_starter_battery');
  expect(remark('roof controller')).toBe('drop_delays_absorption');
  expect(remark('battery main')).toBe('fuse_at_battery');
  for (const chemistry of ['AGM', 'gel', 'flooded'] as const)
    expect(remark('battery main', battery({ chemistry }))).toBe('fuse_at_battery');
});
