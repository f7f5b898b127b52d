import { checkRig, type Finding, readRig, readTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { at, DCDC, found, INVERTER, isOfFile, LEAD, RELAY, type Said, SOUND } from './sound-rig.js';

// What just brings it, and what just does not: the figures by hand.
const lead = (...more: string[]) => [...LEAD, ...more];
test.each<[string, string, Said, string[], string[]]>([
  // 14 to 14.6 V, and 0.05 V for rounding
  [
    'battery.charge.absorption',
    'danger',
    ['absorption_high', { absorptionV: 14.66, lowV: 14, highV: 14.6, chemistry: 'LFP' }],
    ['battery.charge.absorption=14.66 V'],
    ['battery.charge.absorption=14.64 V'],
  ],
  [
    'battery.charge.absorption',
    'caution',
    ['absorption_low', { absorptionV: 13.94, lowV: 14, highV: 14.6, chemistry: 'LFP' }],
    ['battery.charge.absorption=13.94 V'],
    ['battery.charge.absorption=13.96 V'],
  ],
  [
    'battery.charge.absorption',
    'caution',
    ['absorption_low', { absorptionV: 27.9, lowV: 28, highV: 29.2 }],
    ['battery.nominal=24 V', 'battery.charge.absorption=27.9 V', 'battery.charge.float=27 V'],
    ['battery.nominal=24 V', 'battery.charge.absorption=28 V', 'battery.charge.float=27 V'],
  ],
  [
    'battery.charge.absorption',
    'caution',
    ['absorption_high', { absorptionV: 14.9, lowV: 14.4, highV: 14.8, chemistry: 'flooded' }],
    lead('battery.chemistry=flooded', 'battery.charge.absorption=14.9 V'),
    lead('battery.chemistry=flooded', 'battery.charge.absorption=14.8 V'),
  ],
  // 10 A · 1.17 · 12 V = 140.4 W, and 15 % more is 161.5 W
  [
    'solar[0].controller.current',
    'note',
    ['controller_clips', { currentA: 10, maxW: expect.closeTo(140.4, 2), arrayW: 162 }],
    ['solar=[{ name: roof, power: 81 W, count: 2, controller: { current: 10 A } }]'],
    ['solar=[{ name: roof, power: 80.5 W, count: 2, controller: { current: 10 A } }]'],
  ],
  [
    'solar[0].controller.current',
    'note',
    ['controller_clips', { currentA: 10, maxW: expect.closeTo(280.8, 2), arrayW: 400 }],
    ['battery.series=2', 'solar=[{ name: roof, power: 200 W, count: 2, series: 2, controller: { current: 10 A } }]'],
    ['battery.series=2', 'solar=[{ name: roof, power: 160 W, count: 2, series: 2, controller: { current: 10 A } }]'],
  ],
  [
    'solar[0].controller.current',
    'note',
    ['controller_clips', { arrayW: 400 }],
    ['solar=[{ name: roof, power: 400 W, controller: { current: 10 A } }]'],
    ['solar=[{ name: roof, power: 400 W, controller: { kind: PWM, current: 10 A } }]'],
  ],
  [
    'solar[0].datasheet',
    'note',
    ['datasheet_differs', { sheetW: expect.closeTo(188, 2), powerW: 200 }],
    ['solar[0].datasheet.imp=9.4 A'],
    ['solar=[{ name: roof, power: 200 W, controller: { current: 20 A } }]'],
  ],
  // 1.6 · 12 V = 19.2 V
  [
    'solar[0].controller.kind',
    'caution',
    ['pwm_wastes_voltage', { vmpV: 19.3, lostShare: expect.closeTo(0.3285, 3) }],
    ['solar[0].controller.kind=PWM', 'solar[0].datasheet.vmp=19.3 V'],
    ['solar[0].controller.kind=PWM', 'solar[0].datasheet.vmp=19.1 V'],
  ],
  // 20 A through twice the length of 1.91 Ω/km (10 mm², IEC 60228 class 5) at 30 °C: 79.4 mV a metre, so 3.8 m are 0.3 V
  [
    'solar[0].outputCable',
    'caution',
    ['absorption_late', { dropV: expect.closeTo(0.31, 2) }],
    ['solar[0].outputCable.length=3.9 m'],
    ['solar[0].outputCable.length=3.7 m'],
  ],
  [
    'solar[0].outputCable',
    'caution',
    ['absorption_late', { dropV: expect.closeTo(0.62, 2) }],
    ['battery.series=2', 'solar[0].outputCable.length=7.8 m'],
    ['battery.series=2', 'solar[0].outputCable.length=7.4 m'],
  ],
  // 200 W at 13.2 V are 15.15 A, of which the controller may pass 5 A; with 30 A of the other charger
  [
    'battery.maxCharge',
    'caution',
    ['chargers_above_battery', { chargersA: expect.closeTo(45.15, 2), maxChargeA: 44.6 }],
    [DCDC(150), 'battery.maxCharge=44.6 A'],
    [DCDC(150), 'battery.maxCharge=44.8 A'],
  ],
  [
    'battery.maxCharge',
    'caution',
    ['chargers_above_battery', { chargersA: 35, maxChargeA: 30 }],
    [DCDC(150), 'solar[0].controller.current=5 A', 'battery.maxCharge=30 A'],
    [DCDC(150), 'solar[0].controller.current=5 A', 'battery.maxCharge=35 A'],
  ],
  [
    'battery.maxCharge',
    'caution',
    ['chargers_above_battery', { chargersA: expect.closeTo(30.3, 2) }], // two modules
    ['solar[0].count=2', 'solar[0].controller.current=40 A', 'battery.maxCharge=20 A'],
    ['solar[0].count=1', 'solar[0].controller.current=40 A', 'battery.maxCharge=20 A'],
  ],
  // at 26.4 V half the amperes; a relay gives what it will, and is told by itself
  [
    'battery.maxCharge',
    'caution',
    ['chargers_above_battery', { chargersA: expect.closeTo(15.15, 2) }],
    ['battery.maxCharge=10 A'],
    ['battery.maxCharge=10 A', 'battery.series=2'],
  ],
  [
    'battery.maxCharge',
    'caution',
    ['chargers_above_battery', { chargersA: expect.closeTo(45.15, 2) }],
    [DCDC(150), 'battery.maxCharge=20 A'],
    [RELAY, 'battery.maxCharge=20 A'],
  ],
  [
    'mains.current',
    'caution',
    ['mains_above_battery', { currentA: 20.5, maxChargeA: 20 }],
    ['mains={ current: 20.5 A }', 'battery.maxCharge=20 A'],
    ['mains={ current: 20.1 A }', 'battery.maxCharge=20 A'],
  ],
  // 100 A · 60 % − 20 A = 40 A, of which a charger may take a fifth more than it gives
  [
    'alternator.charger.current',
    'note',
    ['alternator_short_when_hot', { leftA: 40, currentA: 34 }],
    ['alternator={ rating: 100 A, hotShare: 60 %, vehicle: 20 A, charger: { kind: dcdc, current: 34 A } }'],
    ['alternator={ rating: 100 A, hotShare: 60 %, vehicle: 20 A, charger: { kind: dcdc, current: 33 A } }'],
  ],
  [
    'alternator.charger.current',
    'note',
    ['alternator_short_when_hot', { leftA: 0 }],
    ['alternator={ rating: 50 A, hotShare: 60 %, vehicle: 40 A, charger: { kind: dcdc, current: 30 A } }'],
    ['alternator={ rating: 50 A, hotShare: 60 %, vehicle: 40 A, charger: { kind: relay } }'],
  ],
  ['alternator.charger', 'caution', ['relay_with_lithium', {}], [RELAY], [DCDC(150)]],
  // 15.15 A are 5 % of 303 Ah
  [
    'solar',
    'note',
    ['rarely_filled', { chargersA: expect.closeTo(15.15, 2), capacityAh: 304, minShare: 0.05 }],
    lead('battery.capacity=304 Ah'),
    lead('battery.capacity=302 Ah'),
  ],
  [
    'solar',
    'note',
    ['rarely_filled', { minShare: 0.05 }],
    lead('battery.capacity=152 Ah', 'battery.count=2'),
    lead('battery.capacity=152 Ah'),
  ],
  [
    'solar',
    'note',
    ['rarely_filled', { minShare: 0.05 }],
    lead('battery.capacity=400 Ah', 'battery.health=76 %'),
    lead('battery.capacity=400 Ah', 'battery.health=75 %'),
  ],
  [
    'solar',
    'note',
    ['rarely_filled', { minShare: 0.05 }],
    lead('battery.capacity=400 Ah'),
    ['battery.capacity=400 Ah'],
  ],
  [
    'solar',
    'note',
    ['rarely_filled', { minShare: 0.05 }],
    lead('battery.capacity=400 Ah'),
    lead('battery.capacity=400 Ah', 'solar=[]'),
  ],
  ['', 'note', ['nothing_charges', {}], ['solar=[]'], ['solar=[]', RELAY]],
  ['', 'note', ['nothing_charges', {}], ['solar=[]'], ['solar=[]', 'mains={ current: 20 A }']],
  // 600 W / 0.92 / 12 V = 54.3 A
  [
    'inverter.rating',
    'caution',
    ['inverter_above_battery', { fullA: expect.closeTo(54.35, 2), maxDischargeA: 54 }],
    [INVERTER('efficiency: 92 %'), 'battery.maxDischarge=54 A'],
    [INVERTER('efficiency: 92 %'), 'battery.maxDischarge=54.5 A'],
  ],
  [
    'inverter.rating',
    'caution',
    ['inverter_above_battery', { fullA: expect.closeTo(27.17, 2), maxDischargeA: 25 }],
    [INVERTER('efficiency: 92 %'), 'battery.series=2', 'battery.maxDischarge=25 A'],
    [INVERTER('efficiency: 92 %'), 'battery.series=2', 'battery.maxDischarge=28 A'],
  ],
  ['inverter', 'note', ['inverter_mains_voltage', {}], [INVERTER('')], []],
  [
    'inverter',
    'note',
    ['inverter_without_loads', { whPerDay: 168 }],
    [INVERTER('on: with loads')],
    [INVERTER('on: with loads'), 'loads.lamp.inverter=true'],
  ],
  [
    'inverter.on',
    'note',
    ['inverter_always_on', { whPerDay: 168 }],
    [INVERTER('on: always'), 'loads.lamp.inverter=true'],
    [INVERTER('on: always')],
  ],
  [
    'battery.reconnect',
    'caution',
    ['reconnect_close', { aboveV: expect.closeTo(0.29, 2) }],
    ['battery.disconnect=12 V', 'battery.reconnect=12.29 V'],
    ['battery.disconnect=12 V', 'battery.reconnect=12.31 V'],
  ],
  [
    'battery.reconnect',
    'caution',
    ['reconnect_close', { aboveV: expect.closeTo(0.59, 2) }],
    ['battery.nominal=24 V', 'battery.disconnect=24 V', 'battery.reconnect=24.59 V'],
    ['battery.nominal=24 V', 'battery.disconnect=24 V', 'battery.reconnect=24.61 V'],
  ],
  [
    'battery.stands',
    'caution',
    ['battery_in_weather', { mounted: 'engine bay' }],
    ['battery.stands=engine bay'],
    lead('battery.stands=engine bay'),
  ],
  [
    'battery.stands',
    'caution',
    ['battery_in_engine_bay', {}],
    ['battery.stands=engine bay'],
    ['battery.stands=outside'],
  ],
  ['battery.stands', 'note', ['hydrogen_when_overcharged', {}], LEAD, lead('battery.chemistry=flooded')],
  ['battery.stands', 'danger', ['hydrogen', {}], lead('battery.chemistry=flooded'), LEAD],
  [
    'battery.noChargeBelow',
    'danger',
    ['charge_below_freezing', { chemistry: 'LFP' }],
    ['battery.noChargeBelow=-0.1 degC'],
    lead('battery.noChargeBelow=-5 degC'),
  ],
  ['battery.floor', 'caution', ['floor_low_for_lead', { floor: 0.49 }], lead('battery.floor=49 %'), LEAD],
  [
    'battery.disconnect',
    'caution',
    ['disconnect_above_floor', { disconnect: 0.31, floor: 0.3 }],
    ['battery.floor=30 %', 'battery.disconnect=31 %', 'battery.reconnect=40 %'],
    ['battery.floor=30 %', 'battery.disconnect=12 V', 'battery.reconnect=13 V'],
  ],
  [
    'battery.cable.fuse',
    'caution',
    ['battery_fuse_not_named', {}],
    ['battery.cable={ length: 0.5 m, section: 35 mm2 }'],
    ['battery={ chemistry: LFP, capacity: 100 Ah }'],
  ],
])('%s: %s of %j, and just when', (path, level, [code, args], brings, doesNot) => {
  const isIt = (finding: Finding) => finding.level === level && finding.code === code;
  expect(at(path, brings).filter(isIt), JSON.stringify(at(path, brings))).toMatchObject([{ args }]);
  expect(at(path, doesNot).filter(isIt)).toEqual([]);
  expect(isOfFile(path), path).toBe(true);
});

test('circuits without a cable are told together, by name, in one note; the rest of its circuit is said of each', () => {
  const bare = found([
    'loads=[{ name: lamp, power: 10 W }, { name: pump, power: 20 W }, { name: fan, power: 5 W, cable: { length: 3 m, section: 2.5 mm2 } }]',
  ]);
  expect(bare).toEqual([
    {
      level: 'note',
      path: '',
      code: 'no_cable_given',
      args: { circuits: ['lamp', 'pump'] },
    },
  ]);
  // 500 W at 12 V through 1 mm², which carries 19 A: it burns
  const [hot] = found(['loads=[{ name: kettle, power: 500 W, cable: { length: 2 m, section: 1 mm2 } }]']);
  expect(hot).toMatchObject({
    level: 'danger',
    path: 'loads[0].cable',
    code: 'cable_overloaded',
    args: { name: 'kettle', faults: [{ code: 'cable_overloaded', args: { fuseProtects: false } }, {}] },
  });
});

test('each array is told of at its own place', () => {
  const second = found([
    'solar=[{ name: a, power: 100 W, controller: { current: 10 A } }, { name: b, power: 300 W, controller: { current: 10 A } }]',
  ]).filter(({ code }) => code === 'controller_clips');
  expect(second.map(({ path }) => path)).toEqual(['solar[1].controller.current']);
});

describe('what a trip offers and a rig cannot take', () => {
  const { rig } = readRig(SOUND);
  const tripOf = (stops: string) => readTrip(`stops: [${stops}]`).trip;
  const STAY = '{ at: [45, 10], from: 2026-06-10, nights: 1';
  const mains = { currentA: 20, efficiency: 0.9 };

  test('is told with the stop at which it first does', () => {
    const trip = tripOf(`${STAY}, mains: 2 h }, { at: [45, 11], nights: 1, drive: 1 h, mains: 2 h }`);
    expect(checkRig(rig, trip)).toEqual([
      {
        level: 'caution',
        code: 'mains_without_charger',
        path: 'stops[0].mains',
        args: {},
      },
      {
        level: 'note',
        code: 'drive_without_alternator',
        path: 'stops[1].drive',
        args: {},
      },
    ]);
  });

  test('is not told of a trip that stays and is not plugged in, nor of a rig that takes it', () => {
    expect(checkRig(rig, tripOf(`${STAY} }`))).toEqual([]);
    const fitted = readRig(SOUND, { set: [DCDC(150)] }).rig;
    const codes = checkRig({ ...fitted, mains }, tripOf(`${STAY}, mains: 2 h, drive: 1 h }`)).map(({ code }) => code);
    expect(codes).not.toContain('mains_without_charger');
    expect(codes).not.toContain('drive_without_alternator');
  });
});
