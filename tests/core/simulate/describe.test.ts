import { describeRig, readRig } from '@stayput/core';
import { expect, test } from 'vitest';

/** All that an owner wrote must be found again in the words that are to show them their rig. */
const linesOf = (yaml: string, heading: string) =>
  describeRig(readRig(yaml).rig).find((paragraph) => paragraph.heading === heading)?.lines ?? [];
const battery = (fields: string) =>
  linesOf(`battery: { chemistry: LFP, capacity: 100 Ah${fields} }\nloads: [{ name: lamp, power: 1 W }]`, 'Battery');
const load = (fields: string) =>
  linesOf(`battery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: it, ${fields} }]`, 'Loads')[0];
const solar = (fields: string) =>
  linesOf(
    `battery: { chemistry: LFP, capacity: 100 Ah }\nsolar: [{ name: roof, power: 100 W${fields} }]\nloads: [{ name: lamp, power: 1 W }]`,
    'Solar',
  ).join('\n');
const charging = (yaml: string) =>
  linesOf(
    `battery: { chemistry: LFP, capacity: 100 Ah }\n${yaml}\nloads: [{ name: lamp, power: 1 W }]`,
    'Other charging',
  ).join('\n');

const inverter = (fields: string) =>
  linesOf(
    `battery: { chemistry: LFP, capacity: 100 Ah }\ninverter: ${fields}\nloads: [{ name: lamp, power: 1 W }]`,
    'Inverter',
  ).join('\n');

const headings = (yaml: string) => describeRig(readRig(yaml).rig).map(({ heading }) => heading);

test('a part has its heading when it is there, in the order in which power flows', () => {
  const least = 'battery: { chemistry: LFP, capacity: 100 Ah }\n';
  expect(headings(`${least}solar: [{ power: 100 W }]`)).toEqual(['Battery', 'Solar', 'Cabin']);
  expect(headings(`${least}loads: [{ name: lamp, power: 1 W }]`)).toEqual(['Battery', 'Loads', 'Cabin']);
  expect(
    headings(
      'battery: { chemistry: LFP, capacity: 100 Ah, mass: 11 kg }\nsolar: [{ power: 100 W }]\nmains: { current: 20 A }\nloads: [{ name: lamp, power: 1 W }]',
    ),
  ).toEqual(['Battery', 'Solar', 'Other charging', 'Loads', 'Cabin', 'Mass and price']);
});

test('the cabin: its heating, and how warm the sun makes it', () => {
  const cabin = (fields: string) =>
    linesOf(
      `battery: { chemistry: LFP, capacity: 100 Ah }\ncabin: { ${fields} }\nloads: [{ name: lamp, power: 1 W }]`,
      'Cabin',
    );
  expect(cabin('gain: 6 degC')).toEqual(['not heated; up to 6 K warmer than outside in full sun']);
  expect(cabin('gain: 6.2549 degC, heated: 18 degC')).toEqual([
    'heated to 18 °C; up to 6.25 K warmer than outside in full sun',
  ]);
  expect(cabin('gain: 6 degC, heated: 0 degC')[0]).toMatch(/^heated to 0 °C;/);
});

test('a bank holds what its batteries hold together, as far as they still do', () => {
  const fullWh = (fields: string) => Number(/(\d+) Wh when full$/.exec(battery(fields)[0]!)![1]);
  expect(fullWh(', count: 2, series: 3') / 6 / fullWh('')).toBeCloseTo(1, 3);
  expect(fullWh(', health: 80 %') / 0.8 / fullWh('')).toBeCloseTo(1, 2);
  expect(battery(', series: 2')[0]).toMatch(/^LFP, 100 Ah, 2 in series: \d+ Wh when full$/);
  expect(battery(', health: 80 %')[0]).toMatch(/^LFP, 100 Ah, 80 % left of it: \d+ Wh when full$/);
});

test('a battery without a limit takes or gives what is asked', () => {
  const lead =
    'battery: { chemistry: AGM, capacity: 100 Ah, maxCharge: 33.333 A }\nloads: [{ name: lamp, power: 1 W }]';
  expect(linesOf(lead, 'Battery')[3]).toBe('takes at most 33.3 A, gives what is asked');
});

test('a battery: bank, health, energy, limits, place, voltages, cable', () => {
  const [bank, limits, stands, currents, cold, ...none] = battery('');
  // 100 Ah at about 13.1 V (open circuit, mean over the charge)
  expect(bank).toMatch(/^LFP, 100 Ah: 1[23]\d\d Wh when full$/);
  expect(limits).toMatch(/^\d+ Wh of that above the floor of \d+ %; loads are cut at .+ and come back at .+$/);
  expect(stands).toMatch(/^stands in the cabin; charged to 14.2 V, then held at 13.5 V$/);
  expect(currents).toMatch(/^takes .+, gives .+$/);
  expect(cold).toBe('takes no charge when its cells are below 0 °C');
  expect(none).toEqual([]);
  expect(battery(', count: 2')[0]).toMatch(/^LFP, 100 Ah, 2 in parallel: 2[56]\d\d Wh/);
  expect(battery(', count: 2, series: 3, health: 80 %')[0]).toMatch(
    /^LFP, 100 Ah, 3 in series, 2 in parallel, 80 % left of it: /,
  );
  expect(battery(', stands: outside')[2]).toMatch(/^stands outside;/);
  expect(battery(', stands: engine bay')[2]).toMatch(/^stands in the engine bay;/);
  expect(battery(', floor: 25 %, disconnect: 12 %, reconnect: 18 %')[1]).toMatch(
    /floor of 25 %; loads are cut at 12 % and come back at 18 %$/,
  );
  expect(battery(', disconnect: 11.2 V, reconnect: 12.6 V')[1]).toMatch(/cut at 11.2 V and come back at 12.6 V$/);
  expect(battery(', maxCharge: 50 A, maxDischarge: 80 A')[3]).toBe('takes at most 50 A, gives at most 80 A');
  expect(battery(', heater: { power: 60 W, below: 4 degC }')[4]).toMatch(/0 °C; a heater of 60 W starts below 4 °C$/);
  expect(battery(', cable: { length: 0.5 m, section: 35 mm2 }').at(-1)).toBe('main cable 0.5 m of 35 mm²');
});

test('the energy above the floor is that part of the whole', () => {
  const [whole = '', above = ''] = battery(', floor: 50 %');
  const wh = (text: string) => Number(/(\d+) Wh/.exec(text)![1]);
  expect(wh(above) / wh(whole)).toBeGreaterThan(0.49);
  expect(wh(above) / wh(whole)).toBeLessThan(0.52);
});

test('lead-acid has no limit of cold', () => {
  const lines = linesOf(
    'battery: { chemistry: AGM, capacity: 100 Ah }\nloads: [{ name: lamp, power: 1 W }]',
    'Battery',
  );
  expect(lines).toHaveLength(4);
  expect(lines.join()).not.toMatch(/takes no charge/);
});

test('an array: number, power, aim, mount, losses, controller, cable, shade', () => {
  expect(solar('')).toMatch(/^roof: 100 W, flat, /);
  expect(solar(', count: 2, tilt: 30 deg, azimuth: 170 deg, mount: rack')).toMatch(
    /^roof: 2 × 100 W, tilted 30° toward 170°, on a rack; /,
  );
  expect(solar(', mount: bonded')).toMatch(/bonded to the roof/);
  expect(solar(', mount: gap')).toMatch(/with a gap under it/);
  expect(solar(', mount: ground')).toMatch(/on the ground/);
  expect(solar(', tilt: 45 deg, reaimed: 3')).toMatch(/turned to the sun 3 times a day/);
  // 1 − 0.9 · 0.8 = 28 %
  expect(solar(', losses: { soiling: 10 %, mismatch: 20 %, ageing: 0 % }')).toMatch(
    /; 28 % lost to dirt, mismatch and age$/m,
  );
  expect(solar(', losses: { soiling: 10 %, mismatch: 0 %, ageing: 20 % }')).toMatch(/; 28 % lost/);
  expect(solar(', losses: { soiling: 10 %, mismatch: 0 %, ageing: 0 %, other: 20 % }')).toMatch(
    /; 28 % lost to dirt, mismatch, age and what was found by measuring$/m,
  );
  expect(solar(', controller: { kind: PWM, current: 10 A }')).toMatch(/^ {2}PWM controller, 10 A$/m);
  expect(solar(', controller: { kind: MPPT, current: 20 A }, cable: { length: 5 m, gauge: 10 AWG }')).toMatch(
    /MPPT controller, 20 A, panel cable 5 m of 10 AWG$/m,
  );
  expect(
    solar(', shade: [{ from: "07:00", to: "09:30", keeps: 40 % }, { from: "16:00", to: "17:15", keeps: 0 % }]'),
  ).toMatch(/; shaded 07:00 to 09:30 \(40 % of the direct sun left\), 16:00 to 17:15 \(0 % of the direct sun left\)$/m);
});

test('of an array no more is told than there is', () => {
  // 1 − 0.9 · 0.8 = 28 %
  const lossesOf28 = ', losses: { soiling: 10 %, mismatch: 20 %, ageing: 0 % }, controller: { current: 20 A }';
  expect(solar(lossesOf28)).toBe(
    'roof: 100 W, flat, with a gap under it; 28 % lost to dirt, mismatch and age\n  MPPT controller, 20 A',
  );
  expect(solar(`, count: 2, tilt: 30 deg, azimuth: 170 deg, mount: rack${lossesOf28}`)).toBe(
    'roof: 2 × 100 W, tilted 30° toward 170°, on a rack; 28 % lost to dirt, mismatch and age\n  MPPT controller, 20 A',
  );
  expect(solar(`, shade: [{ from: "07:00", to: "09:30", keeps: 40 % }]${lossesOf28}`)).toMatch(
    /^ {2}MPPT controller, 20 A; shaded 07:00 to 09:30 \(40 % of the direct sun left\)$/m,
  );
});

test('of several arrays each is told', () => {
  const two = linesOf(
    'battery: { chemistry: LFP, capacity: 100 Ah }\nsolar: [{ name: roof, power: 100 W }, { name: side, power: 60 W, controller: { kind: PWM, current: 5 A } }]',
    'Solar',
  );
  expect(two).toHaveLength(4);
  expect(two[0]).toMatch(/^roof: 100 W/);
  expect(two[2]).toMatch(/^side: 60 W/);
  expect(two[3]).toBe('  PWM controller, 5 A');
});

test('what else charges', () => {
  expect(charging('')).toBe('');
  expect(
    charging(
      'alternator: { rating: 90 A, voltage: 14.4 V, perDegree: -0.01 V/K, charger: { kind: relay } }\nmains: { current: 25 A }',
    ),
  ).toBe('alternator 90 A at 14.4 V at 25 °C, -0.01 V/K through a relay\nmains charger 25 A');
  expect(charging('alternator: { rating: 150 A, voltage: 14.4 V, charger: { kind: dcdc, current: 30 A } }')).toBe(
    'alternator 150 A at 14.4 V through a DC-DC charger of 30 A',
  );
  expect(
    charging('alternator: { rating: 90 A, charger: { kind: relay }, cable: { length: 5 m, section: 16 mm2 } }'),
  ).toMatch(/^alternator 90 A at 1\d(\.\d+)? V through a relay, cable 5 m of 16 mm²$/);
  expect(charging('alternator: { rating: 90 A, lowVoltage: 12.8 V, charger: { kind: relay } }')).toMatch(
    /at as low as 12.8 V through/,
  );
  expect(charging('mains: { current: 25 A }')).toBe('mains charger 25 A');
  expect(inverter('{ rating: 600 W, standby: 7 W, on: always }')).toBe(
    '600 W, 7 W by itself, always on, off below 10.5 V',
  );
  expect(inverter('{ rating: 600 W, standby: 7 W, on: with loads }')).toMatch(
    /by itself, on with its loads, off below 10.5 V$/,
  );
});

test('a fridge: volume, set point, heat leak and its origin, cover, cut-out, cable', () => {
  const text = load('kind: fridge, volume: 45 L, setpoint: 4 degC, insulation: 45 mm, cutOut: 10.4 V, cutIn: 11.7 V');
  expect(text).toMatch(
    /^it: 45 L kept at 4 °C; lets in \d\.\d\d W of heat per degree between inside and outside \(from its [^)]+\); its own cut-out is at 10.4 V$/,
  );
  expect(
    load('kind: fridge, volume: 45 L, setpoint: 4 degC, cover: 15 %, cable: { length: 4 m, section: 2.5 mm2 }'),
  ).toMatch(/, 15 % less by its cover\).*; cable 4 m of 2.5 mm²$/);
});

test('the heat leak of a fridge, where it is from, and what a cover takes off it', () => {
  const told = (fields: string) => {
    const text = load(`kind: fridge, volume: 45 L, setpoint: 4 degC, ${fields}`)!;
    const [, leak, origin] = /lets in (\d\.\d\d) W of heat .* \((from its [^)]+)\)/.exec(text)!;
    return { leakWPerK: Number(leak), origin };
  };
  const bare = told('insulation: 30 mm');
  expect(bare.origin).toBe('from its insulation');
  const covered = told('insulation: 30 mm, cover: 40 %');
  expect(covered.origin).toBe('from its insulation, 40 % less by its cover');
  expect(covered.leakWPerK / 0.6).toBeCloseTo(bare.leakWPerK, 1);
  expect(told('rated: { energy: 300 Wh/day, ambient: 25 degC }').origin).toBe('from its rated consumption');
});

test.each([
  ['power: 9 W', 'it: 9 W, always'],
  ['current: 0.15 A', 'it: 0.15 A, always'],
  ['power: 2 * 3', 'it: 2 * 3 W, always'],
  ['power: 9 W, when: "18:00 to 22:30"', 'it: 9 W, 18:00 to 22:30'],
  ['power: 60 W, hours: 3', 'it: 60 W, 3 h a day'],
  ['power: 60 W, hours: 1', 'it: 60 W, 1 h a day'],
  ['power: 60 W, hours: 1.23456', 'it: 60 W, 1.23 h a day'],
  ['power: 60 W, hours: 0.5', 'it: 60 W, 30 min a day'],
  ['power: 60 W, hours: 3, when: "09:00 to 17:00"', 'it: 60 W, 3 h a day, 09:00 to 17:00'],
  ['current: 5 A, times: 12, lasts: 40 s', 'it: 5 A, 12 times a day for 40 s'],
  ['current: 5 A, times: 2, lasts: 15 min', 'it: 5 A, 2 times a day for 15 min'],
  ['current: 5 A, times: 2, lasts: 1 min', 'it: 5 A, 2 times a day for 1 min'],
  ['current: 5 A, times: 2, lasts: 59 s', 'it: 5 A, 2 times a day for 59 s'],
  ['current: 5 A, times: 2, lasts: 1 h', 'it: 5 A, 2 times a day for 1 h'],
  ['current: 5 A, times: 2, lasts: 90 min', 'it: 5 A, 2 times a day for 1.5 h'],
  ['power: 9 W, everyDays: 3, share: 50 %', 'it: 9 W, always (every 3 days, 50 % of it)'],
  ['power: 9 W, starterSide: true', 'it: 9 W, always (on the starter battery: not counted)'],
  ['power: 9 W, cable: { length: 3 m, section: 1.5 mm2 }', 'it: 9 W, always; cable 3 m of 1.5 mm²'],
])('a load of { %s }', (fields, text) => {
  expect(load(fields)).toBe(text);
});

test('a load behind the inverter', () => {
  const lines = linesOf(
    'battery: { chemistry: LFP, capacity: 100 Ah }\ninverter: { rating: 300 W }\nloads: [{ name: it, power: 60 W, inverter: true }]',
    'Loads',
  );
  expect(lines).toEqual(['it: 60 W, always (behind the inverter)']);
});

test('mass and price, of what is given and by number', () => {
  const total = (batteryFields: string, solarFields: string, currency = '') =>
    linesOf(
      `${currency}battery: { chemistry: LFP, capacity: 100 Ah, count: 2${batteryFields} }\nsolar: [{ name: roof, power: 100 W, count: 3${solarFields} }]\nloads: [{ name: lamp, power: 1 W }]`,
      'Mass and price',
    );
  // 2 · 11.5 kg + 3 · 3.1 kg; 2 · 410 + 3 · 190
  expect(total(', mass: 11.5 kg, price: 410', ', mass: 3.1 kg, price: 190', 'currency: EUR\n')).toEqual([
    '32.3 kg, 1390 EUR for battery and panels, as far as given',
  ]);
  expect(total(', mass: 11.5 kg', '')).toEqual(['23 kg for battery and panels, as far as given']);
  expect(total('', ', price: 190')).toEqual(['570 for battery and panels, as far as given']);
  expect(total('', ', price: 190', 'currency: EUR\n')).toEqual(['570 EUR for battery and panels, as far as given']);
  expect(total(', series: 2, mass: 11.567 kg', '')).toEqual(['46.27 kg for battery and panels, as far as given']);
  expect(total('', '')).toEqual([]);
});
