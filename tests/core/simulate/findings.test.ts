import { expect, test } from 'vitest';
import { at, DCDC, found, INVERTER, isOfFile, LEAD, RELAY } from './sound-rig.js';

test('a sound rig has nothing to be told', () => {
  expect(found([])).toEqual([]);
});

// path, grade, words that must be there; what brings it, and what just does not
test.each<[string, string, RegExp, string[], string[]]>([
  [
    'battery.noChargeBelow',
    'danger',
    /LFP.*damaged by charging below 0 °C/,
    ['battery.noChargeBelow=-5 degC'],
    ['battery.noChargeBelow=0 degC'],
  ],
  [
    'battery.stands',
    'caution',
    /standing outside it follows the weather.*below 0 °C it takes no charge/,
    ['battery.stands=outside'],
    ['battery.stands=outside', 'battery.heater={ power: 60 W }'],
  ],
  ['battery.stands', 'caution', /hottest place/, ['battery.stands=engine bay', ...LEAD], LEAD.slice(1)],
  [
    'battery.stands',
    'danger',
    /hydrogen.*vented to the outside, away from sparks/,
    [...LEAD, 'battery.chemistry=flooded'],
    [...LEAD, 'battery.chemistry=flooded', 'battery.stands=outside'],
  ],
  ['battery.stands', 'note', /sealed lead-acid can still vent hydrogen/, LEAD, [...LEAD, 'battery.stands=outside']],
  ['battery.floor', 'caution', /down to 49 % .*half is the usual floor/, [...LEAD, 'battery.floor=49 %'], LEAD],
  [
    'battery.floor',
    'caution',
    /down to 30 %/,
    [...LEAD, 'battery.floor=30 %', 'battery.disconnect=20 %', 'battery.reconnect=25 %'],
    ['battery.floor=30 %'],
  ],
  [
    'battery.disconnect',
    'caution',
    /cut at 31 %, before the floor of 30 %/,
    ['battery.floor=30 %', 'battery.disconnect=31 %', 'battery.reconnect=40 %'],
    ['battery.floor=30 %', 'battery.disconnect=30 %', 'battery.reconnect=40 %'],
  ],
  [
    'battery.reconnect',
    'caution',
    /less than 0.3 V per 12 V/,
    ['battery.disconnect=12 V', 'battery.reconnect=12.2 V'],
    ['battery.disconnect=12 V', 'battery.reconnect=12.4 V'],
  ],
  [
    'battery.reconnect',
    'caution',
    /again and again/,
    ['battery.series=2', 'battery.disconnect=24 V', 'battery.reconnect=24.5 V'],
    ['battery.series=2', 'battery.disconnect=24 V', 'battery.reconnect=24.7 V'],
  ],
  ['battery.cable.fuse', 'caution', /no fuse is named/, ['battery.cable={ length: 0.5 m, section: 35 mm2 }'], []],
  [
    'battery.charge.absorption',
    'danger',
    /14.8 V is above the usual 14 to 14.6 V of LFP: it can harm/,
    ['battery.charge.absorption=14.8 V'],
    ['battery.charge.absorption=14.6 V'],
  ],
  [
    'battery.charge.absorption',
    'caution',
    /15 V is above the usual 14.2 to 14.7 V of AGM/,
    [...LEAD, 'battery.charge.absorption=15 V'],
    [...LEAD, 'battery.charge.absorption=14.7 V'],
  ],
  [
    'battery.charge.absorption',
    'danger',
    /of gel/,
    [...LEAD, 'battery.chemistry=gel', 'battery.charge.absorption=14.8 V'],
    [...LEAD, 'battery.chemistry=gel', 'battery.charge.absorption=14.4 V'],
  ],
  [
    'battery.charge.absorption',
    'caution',
    /13.8 V is below the usual 14 to 14.6 V of LFP: it may never be full/,
    ['battery.charge.absorption=13.8 V'],
    ['battery.charge.absorption=14 V'],
  ],
  [
    'battery.charge.absorption',
    'danger',
    /29.6 V is above the usual 28 to 29.2 V/,
    ['battery.series=2', 'battery.charge.absorption=29.6 V', 'battery.charge.float=27 V'],
    ['battery.series=2', 'battery.charge.absorption=29.2 V', 'battery.charge.float=27 V'],
  ],
  // 10 A · 1.17 · 12 V = 140 W, and 15 % more is 161 W
  [
    'solar[0].controller.current',
    'note',
    /10 A at the battery are about 140 W: the rest of 200 W is cut off/,
    ['solar[0].controller.current=10 A'],
    ['solar[0].controller.current=13 A'],
  ],
  ['solar[0].controller.current', 'note', /of 400 W/, ['solar[0].count=2'], []],
  [
    'solar[0].datasheet',
    'note',
    /vmp times imp is 180 W, but the nameplate says 200 W/,
    ['solar[0].datasheet.imp=9 A'],
    ['solar[0].datasheet.imp=9.6 A'],
  ],
  ['solar[0].datasheet', 'note', /220 W/, ['solar[0].datasheet.vmp=22 V'], ['solar[0].datasheet.vmp=20.8 V']],
  // 20 V on 12.96 V: 35 %
  [
    'solar[0].controller.kind',
    'caution',
    /20.0 V down to the battery's: about 35 % of its power is lost/,
    ['solar[0].controller.kind=PWM'],
    [],
  ],
  [
    'solar[0].controller.kind',
    'caution',
    /40.0 V/,
    ['battery.series=2', 'solar[0].controller.kind=PWM', 'solar[0].count=2', 'solar[0].series=2'],
    ['battery.series=2', 'solar[0].controller.kind=PWM'],
  ],
  // 2 · 4 m of 4.95 Ω/km (IEC 60228 class 5) at 30 °C: 41 mΩ, at 20 A 0.82 V
  [
    'solar[0].outputCable',
    'caution',
    /0.82 V above the battery/,
    ['solar[0].outputCable={ length: 4 m, section: 4 mm2 }'],
    ['solar[0].outputCable={ length: 4 m, section: 16 mm2 }'],
  ],
  // 200 W / 13.2 V = 15 A, with 30 A of the charger 45 A
  [
    'battery.maxCharge',
    'caution',
    /45 A together, more than the 40 A/,
    [DCDC(150), 'battery.maxCharge=40 A'],
    [DCDC(150), 'battery.maxCharge=46 A'],
  ],
  [
    'mains.current',
    'caution',
    /50 A are more than the 40 A/,
    ['mains={ current: 50 A, cable: { length: 1 m, section: 25 mm2 } }', 'battery.maxCharge=40 A'],
    ['mains={ current: 40 A, cable: { length: 1 m, section: 25 mm2 } }', 'battery.maxCharge=40 A'],
  ],
  ['alternator.charger', 'caution', /bare relay lets an LFP battery draw all/, [RELAY], [RELAY, ...LEAD]],
  ['alternator.charger.current', 'note', /hot, the alternator has about \d+ A left.*its 30 A/, [DCDC(70)], [DCDC(150)]],
  [
    'solar',
    'note',
    /under 5 % of the capacity/,
    [...LEAD, 'battery.capacity=400 Ah'],
    [...LEAD, 'battery.capacity=250 Ah'],
  ],
  [
    'inverter.rating',
    'caution',
    /takes 5[0-9] A, more than the 50 A/,
    [INVERTER('efficiency: 90 %'), 'battery.maxDischarge=50 A'],
    [INVERTER('efficiency: 90 %'), 'battery.maxDischarge=60 A'],
  ],
  // 7 W · 24 h
  [
    'inverter',
    'note',
    /no load is behind it, yet it takes 168 Wh a day/,
    [INVERTER('on: always')],
    [INVERTER('on: always'), 'loads.lamp.inverter=true'],
  ],
  [
    'inverter.on',
    'note',
    /left on it takes 168 Wh a day/,
    [INVERTER('on: always'), 'loads.lamp.inverter=true'],
    [INVERTER('on: with loads'), 'loads.lamp.inverter=true'],
  ],
  ['', 'note', /no cable is given for lamp: only terminals/, ['loads=[{ name: lamp, power: 10 W }]'], []],
  ['', 'note', /nothing charges the battery/, ['solar=[]'], []],
  [
    'loads[0].cable',
    'caution',
    /^lamp: loses .* use at least/,
    ['loads=[{ name: lamp, power: 60 W, cable: { length: 9 m, section: 1 mm2 } }]'],
    [],
  ],
])('%s: %s that says %s', (path, level, words, brings, doesNot) => {
  const isIt = (finding: { level: string; text: string }) => finding.level === level && words.test(finding.text);
  expect(at(path, brings).filter(isIt), JSON.stringify(at(path, brings))).toHaveLength(1);
  expect(at(path, doesNot).filter(isIt)).toEqual([]);
  expect(isOfFile(path), path).toBe(true);
});

test('nothing that draws is worth a note', () => {
  expect(at('loads', ['loads=[]'])).toMatchObject([{ level: 'note', text: 'nothing draws on the battery' }]);
});

test('the gravest comes first', () => {
  const rank = { danger: 0, caution: 1, note: 2 };
  const ranks = found([...LEAD, 'battery.chemistry=flooded', 'battery.floor=30 %', INVERTER('on: always')]).map(
    ({ level }) => rank[level],
  );
  expect(new Set(ranks).size).toBe(3);
  expect(ranks).toEqual([...ranks].sort());
});
