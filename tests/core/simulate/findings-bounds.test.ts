import { checkRig, readRig, readTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { at, DCDC, found, INVERTER, isOfFile, LEAD, RELAY, SOUND } from './sound-rig.js';

// What just brings it, and what just does not: the figures of the text by hand.
const lead = (...more: string[]) => [...LEAD, ...more];
test.each<[string, string, RegExp, string[], string[]]>([
  // 14 to 14.6 V, and 0.05 V for rounding
  [
    'battery.charge.absorption',
    'danger',
    /^14\.66 V is above the usual 14 to 14\.6 V of LFP: it can harm the cells$/,
    ['battery.charge.absorption=14.66 V'],
    ['battery.charge.absorption=14.64 V'],
  ],
  [
    'battery.charge.absorption',
    'caution',
    /^13\.94 V is below the usual 14 to 14\.6 V of LFP: it may never be full$/,
    ['battery.charge.absorption=13.94 V'],
    ['battery.charge.absorption=13.96 V'],
  ],
  [
    'battery.charge.absorption',
    'caution',
    /^27\.9 V is below the usual 28 to 29\.2 V of LFP/,
    ['battery.nominal=24 V', 'battery.charge.absorption=27.9 V', 'battery.charge.float=27 V'],
    ['battery.nominal=24 V', 'battery.charge.absorption=28 V', 'battery.charge.float=27 V'],
  ],
  [
    'battery.charge.absorption',
    'caution',
    /^14\.9 V is above the usual 14\.4 to 14\.8 V of flooded/,
    lead('battery.chemistry=flooded', 'battery.charge.absorption=14.9 V'),
    lead('battery.chemistry=flooded', 'battery.charge.absorption=14.8 V'),
  ],
  // 10 A · 1.17 · 12 V = 140.4 W, and 15 % more is 161.5 W
  [
    'solar[0].controller.current',
    'note',
    /^10 A at the battery are about 140 W: the rest of 162 W is cut off at noon$/,
    ['solar=[{ name: roof, power: 81 W, count: 2, controller: { current: 10 A } }]'],
    ['solar=[{ name: roof, power: 80.5 W, count: 2, controller: { current: 10 A } }]'],
  ],
  [
    'solar[0].controller.current',
    'note',
    /^10 A at the battery are about 281 W: the rest of 400 W/,
    ['battery.series=2', 'solar=[{ name: roof, power: 200 W, count: 2, series: 2, controller: { current: 10 A } }]'],
    ['battery.series=2', 'solar=[{ name: roof, power: 160 W, count: 2, series: 2, controller: { current: 10 A } }]'],
  ],
  [
    'solar[0].controller.current',
    'note',
    /cut off at noon/,
    ['solar=[{ name: roof, power: 400 W, controller: { current: 10 A } }]'],
    ['solar=[{ name: roof, power: 400 W, controller: { kind: PWM, current: 10 A } }]'],
  ],
  [
    'solar[0].datasheet',
    'note',
    /^vmp times imp is 188 W, but the nameplate says 200 W: the nameplate is used for power, the datasheet for voltages/,
    ['solar[0].datasheet.imp=9.4 A'],
    ['solar=[{ name: roof, power: 200 W, controller: { current: 20 A } }]'],
  ],
  // 1.6 · 12 V = 19.2 V
  [
    'solar[0].controller.kind',
    'caution',
    /^a PWM controller pulls this array's 19\.3 V down to the battery's: about 33 % of its power is lost; an MPPT keeps it$/,
    ['solar[0].controller.kind=PWM', 'solar[0].datasheet.vmp=19.3 V'],
    ['solar[0].controller.kind=PWM', 'solar[0].datasheet.vmp=19.1 V'],
  ],
  // 20 A through twice the length of 1.91 Ω/km (10 mm², IEC 60228 class 5) at 30 °C: 79.4 mV a metre, so 3.8 m are 0.3 V
  [
    'solar[0].outputCable',
    'caution',
    /^at full current the controller stands 0\.31 V above the battery: it believes the battery full while it is not, and absorption comes late or never; use a thicker or shorter cable$/,
    ['solar[0].outputCable.length=3.9 m'],
    ['solar[0].outputCable.length=3.7 m'],
  ],
  [
    'solar[0].outputCable',
    'caution',
    /stands 0\.62 V above/,
    ['battery.series=2', 'solar[0].outputCable.length=7.8 m'],
    ['battery.series=2', 'solar[0].outputCable.length=7.4 m'],
  ],
  // 200 W at 13.2 V are 15.15 A, of which the controller may pass 5 A; with 30 A of the other charger
  [
    'battery.maxCharge',
    'caution',
    /^chargers can give 45 A together, more than the 45 A that the battery may take$/,
    [DCDC(150), 'battery.maxCharge=44.6 A'],
    [DCDC(150), 'battery.maxCharge=44.8 A'],
  ],
  [
    'battery.maxCharge',
    'caution',
    /can give 35 A together, more than the 30 A/,
    [DCDC(150), 'solar[0].controller.current=5 A', 'battery.maxCharge=30 A'],
    [DCDC(150), 'solar[0].controller.current=5 A', 'battery.maxCharge=35 A'],
  ],
  [
    'battery.maxCharge',
    'caution',
    /can give 30 A together/, // two modules
    ['solar[0].count=2', 'solar[0].controller.current=40 A', 'battery.maxCharge=20 A'],
    ['solar[0].count=1', 'solar[0].controller.current=40 A', 'battery.maxCharge=20 A'],
  ],
  // at 26.4 V half the amperes; a relay gives what it will, and is told by itself
  [
    'battery.maxCharge',
    'caution',
    /can give 15 A together/,
    ['battery.maxCharge=10 A'],
    ['battery.maxCharge=10 A', 'battery.series=2'],
  ],
  ['battery.maxCharge', 'caution', /45 A/, [DCDC(150), 'battery.maxCharge=20 A'], [RELAY, 'battery.maxCharge=20 A']],
  [
    'mains.current',
    'caution',
    /^20\.5 A are more than the 20 A that the battery may take$/,
    ['mains={ current: 20.5 A }', 'battery.maxCharge=20 A'],
    ['mains={ current: 20.1 A }', 'battery.maxCharge=20 A'],
  ],
  // 100 A · 60 % − 20 A = 40 A, of which a charger may take a fifth more than it gives
  [
    'alternator.charger.current',
    'note',
    /^hot, the alternator has about 40 A left for charging: the charger will not always reach its 34 A$/,
    ['alternator={ rating: 100 A, hotShare: 60 %, vehicle: 20 A, charger: { kind: dcdc, current: 34 A } }'],
    ['alternator={ rating: 100 A, hotShare: 60 %, vehicle: 20 A, charger: { kind: dcdc, current: 33 A } }'],
  ],
  [
    'alternator.charger.current',
    'note',
    /about 0 A left/,
    ['alternator={ rating: 50 A, hotShare: 60 %, vehicle: 40 A, charger: { kind: dcdc, current: 30 A } }'],
    ['alternator={ rating: 50 A, hotShare: 60 %, vehicle: 40 A, charger: { kind: relay } }'],
  ],
  [
    'alternator.charger',
    'caution',
    /^a bare relay lets an LFP battery draw all the alternator has, for hours: it can overheat/,
    [RELAY],
    [DCDC(150)],
  ],
  // 15.15 A are 5 % of 303 Ah
  [
    'solar',
    'note',
    /^all charging together is under 5 % of the capacity per hour: a lead-acid battery will rarely be filled$/,
    lead('battery.capacity=304 Ah'),
    lead('battery.capacity=302 Ah'),
  ],
  ['solar', 'note', /under 5 %/, lead('battery.capacity=152 Ah', 'battery.count=2'), lead('battery.capacity=152 Ah')],
  [
    'solar',
    'note',
    /under 5 %/,
    lead('battery.capacity=400 Ah', 'battery.health=76 %'),
    lead('battery.capacity=400 Ah', 'battery.health=75 %'),
  ],
  ['solar', 'note', /under 5 %/, lead('battery.capacity=400 Ah'), ['battery.capacity=400 Ah']],
  ['solar', 'note', /under 5 %/, lead('battery.capacity=400 Ah'), lead('battery.capacity=400 Ah', 'solar=[]')],
  ['', 'note', /^nothing charges the battery: it only lasts until it is empty$/, ['solar=[]'], ['solar=[]', RELAY]],
  ['', 'note', /^nothing charges the battery/, ['solar=[]'], ['solar=[]', 'mains={ current: 20 A }']],
  // 600 W / 0.92 / 12 V = 54.3 A
  [
    'inverter.rating',
    'caution',
    /^at full load it takes 54 A, more than the 54 A that the battery may give$/,
    [INVERTER('efficiency: 92 %'), 'battery.maxDischarge=54 A'],
    [INVERTER('efficiency: 92 %'), 'battery.maxDischarge=54.5 A'],
  ],
  [
    'inverter.rating',
    'caution',
    /takes 27 A, more than the 25 A/,
    [INVERTER('efficiency: 92 %'), 'battery.series=2', 'battery.maxDischarge=25 A'],
    [INVERTER('efficiency: 92 %'), 'battery.series=2', 'battery.maxDischarge=28 A'],
  ],
  [
    'inverter',
    'note',
    /^what comes out of it is mains voltage, which can kill: .*residual-current/,
    [INVERTER('')],
    [],
  ],
  [
    'inverter',
    'note',
    /^no load is behind it, yet it takes 168 Wh a day when left on$/,
    [INVERTER('on: with loads')],
    [INVERTER('on: with loads'), 'loads.lamp.inverter=true'],
  ],
  [
    'inverter.on',
    'note',
    /^left on it takes 168 Wh a day by itself: "on: with loads"/,
    [INVERTER('on: always'), 'loads.lamp.inverter=true'],
    [INVERTER('on: always')],
  ],
  [
    'battery.reconnect',
    'caution',
    /^less than 0\.3 V per 12 V above the disconnect: loads may switch off and on again and again$/,
    ['battery.disconnect=12 V', 'battery.reconnect=12.29 V'],
    ['battery.disconnect=12 V', 'battery.reconnect=12.31 V'],
  ],
  [
    'battery.reconnect',
    'caution',
    /0\.3 V per 12 V/,
    ['battery.nominal=24 V', 'battery.disconnect=24 V', 'battery.reconnect=24.59 V'],
    ['battery.nominal=24 V', 'battery.disconnect=24 V', 'battery.reconnect=24.61 V'],
  ],
  [
    'battery.stands',
    'caution',
    /^standing in the engine bay it follows the weather: .* a heater or a place in the cabin mends the first$/,
    ['battery.stands=engine bay'],
    lead('battery.stands=engine bay'),
  ],
  [
    'battery.stands',
    'caution',
    /^an engine bay is the hottest place a battery can have: every 10 K halve its life, roughly$/,
    ['battery.stands=engine bay'],
    ['battery.stands=outside'],
  ],
  [
    'battery.stands',
    'note',
    /^sealed lead-acid can still vent hydrogen when overcharged/,
    LEAD,
    lead('battery.chemistry=flooded'),
  ],
  ['battery.stands', 'danger', /hydrogen/, lead('battery.chemistry=flooded'), LEAD],
  [
    'battery.noChargeBelow',
    'danger',
    /below 0 °C/,
    ['battery.noChargeBelow=-0.1 degC'],
    lead('battery.noChargeBelow=-5 degC'),
  ],
  [
    'battery.floor',
    'caution',
    /^going down to \d+ % often costs a lead-acid battery much of its life/,
    lead('battery.floor=49 %'),
    LEAD,
  ],
  [
    'battery.disconnect',
    'caution',
    /^loads are cut at 31 %, before the floor of 30 % is reached$/,
    ['battery.floor=30 %', 'battery.disconnect=31 %', 'battery.reconnect=40 %'],
    ['battery.floor=30 %', 'battery.disconnect=12 V', 'battery.reconnect=13 V'],
  ],
  [
    'battery.cable.fuse',
    'caution',
    /fuse it within a hand’s breadth of the battery$/,
    ['battery.cable={ length: 0.5 m, section: 35 mm2 }'],
    ['battery={ chemistry: LFP, capacity: 100 Ah }'],
  ],
])('%s: %s that says %s, and just when', (path, level, words, brings, doesNot) => {
  const isIt = (finding: { level: string; text: string }) => finding.level === level && words.test(finding.text);
  expect(at(path, brings).filter(isIt), JSON.stringify(at(path, brings))).toHaveLength(1);
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
      text: 'no cable is given for lamp, pump: only terminals are counted there, so drop, ampacity and fuse were not looked at',
    },
  ]);
  // 500 W at 12 V through 1 mm², which carries 19 A: it burns
  const [hot] = found(['loads=[{ name: kettle, power: 500 W, cable: { length: 2 m, section: 1 mm2 } }]']);
  expect(hot).toMatchObject({ level: 'danger', path: 'loads[0].cable' });
  expect(hot!.text).toMatch(/^kettle: .*it can burn/);
});

test('each array is told of at its own place', () => {
  const second = found([
    'solar=[{ name: a, power: 100 W, controller: { current: 10 A } }, { name: b, power: 300 W, controller: { current: 10 A } }]',
  ]).filter(({ text }) => text.includes('cut off at noon'));
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
        text: expect.stringMatching(/no mains charger: nothing is charged then; .*mains: \{ current: 20 A \}$/),
      },
      {
        level: 'note',
        code: 'drive_without_alternator',
        path: 'stops[1].drive',
        text: expect.stringMatching(/no alternator: driving charges nothing/),
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
