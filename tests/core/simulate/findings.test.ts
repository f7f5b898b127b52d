import type { Finding } from '@stayput/core';
import { expect, test } from 'vitest';
import { at, DCDC, found, INVERTER, isOfFile, LEAD, RELAY, type Said } from './sound-rig.js';

test('a sound rig has nothing to be told', () => {
  expect(found([])).toEqual([]);
});

// path, grade, code and arguments; what brings it, and what just does not
test.each<[string, string, Said, string[], string[]]>([
  [
    'battery.noChargeBelow',
    'danger',
    ['charge_below_freezing', { chemistry: 'LFP', chargeMinC: -5 }],
    ['battery.noChargeBelow=-5 degC'],
    ['battery.noChargeBelow=0 degC'],
  ],
  [
    'battery.stands',
    'caution',
    ['battery_in_weather', { mounted: 'outside' }],
    ['battery.stands=outside'],
    ['battery.stands=outside', 'battery.heater={ power: 60 W }'],
  ],
  ['battery.stands', 'caution', ['battery_in_engine_bay', {}], ['battery.stands=engine bay', ...LEAD], LEAD.slice(1)],
  [
    'battery.stands',
    'danger',
    ['hydrogen', {}],
    [...LEAD, 'battery.chemistry=flooded'],
    [...LEAD, 'battery.chemistry=flooded', 'battery.stands=outside'],
  ],
  ['battery.stands', 'note', ['hydrogen_when_overcharged', {}], LEAD, [...LEAD, 'battery.stands=outside']],
  ['battery.floor', 'caution', ['floor_low_for_lead', { floor: 0.49 }], [...LEAD, 'battery.floor=49 %'], LEAD],
  [
    'battery.floor',
    'caution',
    ['floor_low_for_lead', { floor: 0.3 }],
    [...LEAD, 'battery.floor=30 %', 'battery.disconnect=20 %', 'battery.reconnect=25 %'],
    ['battery.floor=30 %'],
  ],
  [
    'battery.disconnect',
    'caution',
    ['disconnect_above_floor', { disconnect: 0.31, floor: 0.3 }],
    ['battery.floor=30 %', 'battery.disconnect=31 %', 'battery.reconnect=40 %'],
    ['battery.floor=30 %', 'battery.disconnect=30 %', 'battery.reconnect=40 %'],
  ],
  [
    'battery.reconnect',
    'caution',
    ['reconnect_close', { aboveV: expect.closeTo(0.2, 2), nominalV: 12 }],
    ['battery.disconnect=12 V', 'battery.reconnect=12.2 V'],
    ['battery.disconnect=12 V', 'battery.reconnect=12.4 V'],
  ],
  [
    'battery.reconnect',
    'caution',
    ['reconnect_close', { aboveV: expect.closeTo(0.5, 2), nominalV: 24 }],
    ['battery.series=2', 'battery.disconnect=24 V', 'battery.reconnect=24.5 V'],
    ['battery.series=2', 'battery.disconnect=24 V', 'battery.reconnect=24.7 V'],
  ],
  [
    'battery.cable.fuse',
    'caution',
    ['battery_fuse_not_named', {}],
    ['battery.cable={ length: 0.5 m, section: 35 mm2 }'],
    [],
  ],
  [
    'battery.charge.absorption',
    'danger',
    ['absorption_high', { absorptionV: 14.8, lowV: 14, highV: 14.6, chemistry: 'LFP' }],
    ['battery.charge.absorption=14.8 V'],
    ['battery.charge.absorption=14.6 V'],
  ],
  [
    'battery.charge.absorption',
    'caution',
    ['absorption_high', { absorptionV: 15, lowV: 14.2, highV: 14.7, chemistry: 'AGM' }],
    [...LEAD, 'battery.charge.absorption=15 V'],
    [...LEAD, 'battery.charge.absorption=14.7 V'],
  ],
  [
    'battery.charge.absorption',
    'danger',
    ['absorption_high', { absorptionV: 14.8, chemistry: 'gel' }],
    [...LEAD, 'battery.chemistry=gel', 'battery.charge.absorption=14.8 V'],
    [...LEAD, 'battery.chemistry=gel', 'battery.charge.absorption=14.4 V'],
  ],
  [
    'battery.charge.absorption',
    'caution',
    ['absorption_low', { absorptionV: 13.8, lowV: 14, highV: 14.6 }],
    ['battery.charge.absorption=13.8 V'],
    ['battery.charge.absorption=14 V'],
  ],
  [
    'battery.charge.absorption',
    'danger',
    ['absorption_high', { absorptionV: 29.6, lowV: 28, highV: 29.2 }],
    ['battery.series=2', 'battery.charge.absorption=29.6 V', 'battery.charge.float=27 V'],
    ['battery.series=2', 'battery.charge.absorption=29.2 V', 'battery.charge.float=27 V'],
  ],
  // 10 A · 1.17 · 12 V = 140 W, and 15 % more is 161 W
  [
    'solar[0].controller.current',
    'note',
    ['controller_clips', { currentA: 10, maxW: expect.closeTo(140.4, 2), arrayW: 200 }],
    ['solar[0].controller.current=10 A'],
    ['solar[0].controller.current=13 A'],
  ],
  ['solar[0].controller.current', 'note', ['controller_clips', { arrayW: 400 }], ['solar[0].count=2'], []],
  [
    'solar[0].datasheet',
    'note',
    ['datasheet_differs', { sheetW: expect.closeTo(180, 2), powerW: 200 }],
    ['solar[0].datasheet.imp=9 A'],
    ['solar[0].datasheet.imp=9.6 A'],
  ],
  [
    'solar[0].datasheet',
    'note',
    ['datasheet_differs', { sheetW: expect.closeTo(220, 2) }],
    ['solar[0].datasheet.vmp=22 V'],
    ['solar[0].datasheet.vmp=20.8 V'],
  ],
  // 20 V on 12.96 V: 35 %
  [
    'solar[0].controller.kind',
    'caution',
    ['pwm_wastes_voltage', { vmpV: 20, lostShare: expect.closeTo(0.352, 3) }],
    ['solar[0].controller.kind=PWM'],
    [],
  ],
  [
    'solar[0].controller.kind',
    'caution',
    ['pwm_wastes_voltage', { vmpV: 40 }],
    ['battery.series=2', 'solar[0].controller.kind=PWM', 'solar[0].count=2', 'solar[0].series=2'],
    ['battery.series=2', 'solar[0].controller.kind=PWM'],
  ],
  // 2 · 4 m of 4.95 Ω/km (IEC 60228 class 5) at 30 °C: 41 mΩ, at 20 A 0.82 V
  [
    'solar[0].outputCable',
    'caution',
    ['absorption_late', { dropV: expect.closeTo(0.82, 2) }],
    ['solar[0].outputCable={ length: 4 m, section: 4 mm2 }'],
    ['solar[0].outputCable={ length: 4 m, section: 16 mm2 }'],
  ],
  // 200 W / 13.2 V = 15 A, with 30 A of the charger 45 A
  [
    'battery.maxCharge',
    'caution',
    ['chargers_above_battery', { chargersA: expect.closeTo(45.15, 2), maxChargeA: 40 }],
    [DCDC(150), 'battery.maxCharge=40 A'],
    [DCDC(150), 'battery.maxCharge=46 A'],
  ],
  [
    'mains.current',
    'caution',
    ['mains_above_battery', { currentA: 50, maxChargeA: 40 }],
    ['mains={ current: 50 A, cable: { length: 1 m, section: 25 mm2 } }', 'battery.maxCharge=40 A'],
    ['mains={ current: 40 A, cable: { length: 1 m, section: 25 mm2 } }', 'battery.maxCharge=40 A'],
  ],
  ['alternator.charger', 'caution', ['relay_with_lithium', {}], [RELAY], [RELAY, ...LEAD]],
  ['alternator.charger.current', 'note', ['alternator_short_when_hot', { currentA: 30 }], [DCDC(70)], [DCDC(150)]],
  [
    'solar',
    'note',
    ['rarely_filled', { capacityAh: 400, minShare: 0.05 }],
    [...LEAD, 'battery.capacity=400 Ah'],
    [...LEAD, 'battery.capacity=250 Ah'],
  ],
  [
    'inverter.rating',
    'caution',
    ['inverter_above_battery', { maxDischargeA: 50 }],
    [INVERTER('efficiency: 90 %'), 'battery.maxDischarge=50 A'],
    [INVERTER('efficiency: 90 %'), 'battery.maxDischarge=60 A'],
  ],
  // 7 W · 24 h
  [
    'inverter',
    'note',
    ['inverter_without_loads', { whPerDay: 168 }],
    [INVERTER('on: always')],
    [INVERTER('on: always'), 'loads.lamp.inverter=true'],
  ],
  [
    'inverter.on',
    'note',
    ['inverter_always_on', { whPerDay: 168 }],
    [INVERTER('on: always'), 'loads.lamp.inverter=true'],
    [INVERTER('on: with loads'), 'loads.lamp.inverter=true'],
  ],
  ['', 'note', ['no_cable_given', { circuits: ['lamp'] }], ['loads=[{ name: lamp, power: 10 W }]'], []],
  ['', 'note', ['nothing_charges', {}], ['solar=[]'], []],
  [
    'loads[0].cable',
    'caution',
    ['drop_too_large', { name: 'lamp', adviseMm2: expect.any(Number) }],
    ['loads=[{ name: lamp, power: 60 W, cable: { length: 9 m, section: 1 mm2 } }]'],
    [],
  ],
])('%s: %s of %j', (path, level, [code, args], brings, doesNot) => {
  const isIt = (finding: Finding) => finding.level === level && finding.code === code;
  expect(at(path, brings).filter(isIt), JSON.stringify(at(path, brings))).toMatchObject([{ args }]);
  expect(at(path, doesNot).filter(isIt)).toEqual([]);
  expect(isOfFile(path), path).toBe(true);
});

test('nothing that draws is worth a note', () => {
  expect(at('loads', ['loads=[]'])).toMatchObject([{ level: 'note', code: 'no_loads' }]);
});

test('the gravest comes first', () => {
  const rank = { danger: 0, caution: 1, note: 2 };
  const ranks = found([...LEAD, 'battery.chemistry=flooded', 'battery.floor=30 %', INVERTER('on: always')]).map(
    ({ level }) => rank[level],
  );
  expect(new Set(ranks).size).toBe(3);
  expect(ranks).toEqual([...ranks].sort());
});
