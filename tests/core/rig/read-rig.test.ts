import { describe, expect, test } from 'vitest';
import { readRig, readTrip } from '../../../packages/core/src/rig/index.js';
import { issuesFrom } from './issues-from.js';
import { HERON, NORTH_WEST } from './section-files.js';

const minimal = (more = '') =>
  `battery: { chemistry: LFP, capacity: 100 Ah }\nloads:\n  - { name: lights, power: 9 W }\n${more}`;

describe('the example rig and trip are read as they stand', () => {
  test('the rig', () => {
    const { rig } = readRig(HERON, { file: 'heron.yaml' });
    expect(rig).toMatchObject({
      name: 'Heron',
      currency: 'EUR',
      battery: {
        chemistry: 'LFP',
        capacityAh: 100,
        count: 1,
        floor: 0.2,
        disconnect: { kind: 'soc', soc: 0.1 },
        reconnect: { kind: 'soc', soc: 0.15 },
        stands: 'cabin',
        massKg: 11.5,
        price: 410,
      },
      solar: [
        {
          name: 'roof',
          powerW: 175,
          mount: 'bonded',
          tiltDeg: 0,
          azimuthDeg: 180,
          losses: { soiling: 0.04, mismatch: 0.02 },
          shade: [{ fromH: 7, toH: 9.5, keeps: 0.4 }],
          datasheet: { vocV: 24.3, iscA: 9.2, vmpV: 20.4, impA: 8.6, tempPowerPerK: -0.0036 },
          controller: { kind: 'MPPT', currentA: 20 },
          cable: { lengthM: 5, sectionMm2: 6 },
        },
      ],
      alternator: { ratingA: 150, charger: { kind: 'dcdc', currentA: 30 }, cable: { lengthM: 5, sectionMm2: 16 } },
      inverter: { ratingW: 600, standbyW: 7 },
      cabin: { gainK: 8 },
    });
    expect(rig.loads).toMatchObject([
      {
        name: 'fridge',
        kind: 'fridge',
        volumeL: 45,
        setpointC: 4,
        rated: { energyWhPerDay: 330, ambientC: 25 },
        cover: 0.15,
        cutOutV: 10.4,
        cutInV: 11.7,
        cable: { lengthM: 4, sectionMm2: 2.5 },
      },
      {
        name: 'lights',
        draw: { kind: 'power', powerW: 9 },
        when: [{ from: { kind: 'sunset', offsetH: 0 }, to: { kind: 'clock', hour: 22.5 } }],
      },
      {
        name: 'laptop',
        draw: { kind: 'power', powerW: 60 },
        hoursPerDay: 3,
        when: [{ from: { hour: 9 }, to: { hour: 17 } }],
        inverter: true,
      },
      { name: 'pump', draw: { kind: 'current', currentA: 5 }, timesPerDay: 12, lastsH: 40 / 3600 },
      { name: 'fan', draw: { kind: 'expression', text: 'clamp(4 * (cabin - 24), 0, 30)' } },
      { name: 'always on', draw: { kind: 'current', currentA: 0.15 }, when: [] },
    ]);
  });

  test('the trip', () => {
    const { trip } = readTrip(NORTH_WEST);
    expect(trip).toMatchObject({
      name: 'North-west coast in October',
      startSoc: 0.9,
      weather: { kind: 'climate' },
      stops: [
        { at: { latDeg: 41.7, lonDeg: -8.8 }, from: '2026-10-03', nights: 4, driveH: 2, shade: 0.2 },
        { at: { latDeg: 43.6, lonDeg: -8.1 }, nights: 6, driveH: 3, use: { laptop: 1.5 } },
        { place: 'Porto', nights: 1, driveH: 4, mainsH: 8 },
      ],
    });
  });

  test('JSON is read too, and so is a file with a byte-order mark', () => {
    const json = JSON.stringify(
      { battery: { chemistry: 'AGM', capacity: '95 Ah' }, solar: [{ power: '100 W' }] },
      null,
      '\t',
    );
    expect(readRig(json).rig.battery.capacityAh).toBe(95);
    expect(readRig(`\uFEFF${HERON}`).rig.name).toBe('Heron');
    expect(readRig(HERON.replaceAll('\n', '\r\n')).rig.name).toBe('Heron');
  });
});

test('three mistakes give three messages, with lines and guesses', () => {
  const broken = HERON.replace('capacity: 100 Ah', 'capcity: 100 Ah')
    .replace('rating: 600 W', 'rating: 600')
    .replace('cutIn: 11.7 V', 'cutIn: 9.7 V');
  const lineOf = (text: string) => broken.split('\n').findIndex((line) => line.includes(text)) + 1;
  expect(issuesFrom(() => readRig(broken, { file: 'heron.yaml' }))).toEqual([
    {
      code: 'unknown_key',
      path: 'battery.capcity',
      file: 'heron.yaml',
      line: lineOf('capcity'),
      column: 3,
      message: 'unknown key "capcity"',
      hint: 'did you mean capacity?',
    },
    {
      code: 'bare_number',
      path: 'inverter.rating',
      file: 'heron.yaml',
      line: lineOf('rating: 600'),
      column: 21,
      message: '600 has no unit where a power in W is needed',
      hint: 'write it with its unit, such as 600 W',
    },
    {
      code: 'contradiction',
      path: 'loads[0].cutIn',
      file: 'heron.yaml',
      line: lineOf('cutIn: 9.7'),
      column: 12,
      message: 'cutIn 9.7 V must be above cutOut 10.4 V',
      hint: 'are they swapped?',
    },
  ]);
});

describe('what is wrong is said, with the place', () => {
  test.each<[string, string, string, RegExp]>([
    [
      'a charge as a current',
      HERON.replace('100 Ah ', '100 A '),
      'battery.capacity',
      /100 A where a charge in Ah is needed \(did you mean 100 Ah\?\)/,
    ],
    ['a negative charge', HERON.replace('100 Ah ', '-100 Ah '), 'battery.capacity', /out of range/],
    ['a bare power', HERON.replace('175 W', '175'), 'solar[0].power', /175 has no unit.*175 W/],
    ['a section as a length', HERON.replace('16 mm2', '16 mm'), 'alternator.cable.section', /16 mm2/],
    [
      'a misspelt chemistry',
      HERON.replace('chemistry: LFP', 'chemistry: LPF'),
      'battery.chemistry',
      /did you mean LFP/,
    ],
    ['a floor over 1', HERON.replace('floor: 20 %', 'floor: 20'), 'battery.floor', /did you mean 20 %/],
    [
      'reconnect below disconnect',
      HERON.replace('reconnect: 15 %', 'reconnect: 5 %'),
      'battery.reconnect',
      /must be above disconnect/,
    ],
    [
      'a disconnect of another system',
      HERON.replace('disconnect: 10 %', 'disconnect: 22 V'),
      'battery.disconnect',
      /not a voltage of a 12 V bank/,
    ],
    ['vmp above voc', HERON.replace('vmp: 20.4 V', 'vmp: 25 V'), 'solar[0].datasheet.vmp', /must be below voc/],
    [
      'count and series',
      HERON.replace('count: 1\n    mount', 'count: 3\n    series: 2\n    mount'),
      'solar[0].count',
      /strings of 2/,
    ],
    [
      'two loads of one name',
      HERON.replace('name: pump', 'name: lights'),
      'loads[3].name',
      /"lights" is taken by loads\[1\]/,
    ],
    [
      'an inverter that is not there',
      HERON.replace(/inverter: \{ rating.*\n/, ''),
      'loads[2].inverter',
      /the rig has none/,
    ],
    [
      'hours longer than the window',
      HERON.replace('hours: 3', 'hours: 9'),
      'loads[2].hours',
      /9 h a day do not fit into 8 h/,
    ],
    [
      'an unknown name in an expression',
      HERON.replace('cabin - 24', 'cabn - 24'),
      'loads[4].power',
      /character 12 .*did you mean cabin/,
    ],
    [
      'an expression that fails somewhere',
      HERON.replace('clamp(4 * (cabin - 24), 0, 30)', '100 / (soc - 1)'),
      'loads[4].power',
      /gives no number when/,
    ],
    ['times without lasts', HERON.replace(', lasts: 40 s', ''), 'loads[3]', /times but not lasts/],
    ['a load without power', HERON.replace('power: 9 W, ', ''), 'loads[1]', /neither power nor current/],
    ['a cable without section', HERON.replace(', section: 2.5 mm2', ''), 'loads[0].cable', /no section/],
    [
      'both section and gauge',
      HERON.replace('section: 2.5 mm2', 'section: 2.5 mm2, gauge: 14 AWG'),
      'loads[0].cable.gauge',
      /keep one/,
    ],
    [
      'a gauge without AWG',
      HERON.replace('section: 2.5 mm2', 'gauge: 14'),
      'loads[0].cable.gauge',
      /did you mean 14 AWG/,
    ],
    [
      'perhaps for yes',
      HERON.replace('inverter: true', 'inverter: perhaps'),
      'loads[2].inverter',
      /yes or no is needed/,
    ],
    ['an unknown kind of load', HERON.replace('kind: fridge', 'kind: frige'), 'loads[0].kind', /did you mean fridge/],
    [
      'an unknown kind of charger',
      HERON.replace('kind: dcdc', 'kind: dc-dc'),
      'alternator.charger.kind',
      /did you mean dcdc/,
    ],
    ['a group where a list belongs', minimal('solar: { power: 100 W }'), 'solar', /where a list is needed/],
    ['a part left empty', minimal('alternator:'), 'alternator', /found nothing/],
    ['a price in words', HERON.replace('price: 410', 'price: 410 EUR'), 'battery.price', /where a number is needed/],
    [
      '11 months',
      minimal('months: { irradiation: 1 2 3 4 5 6 6 5 4 3 2 kWh/m2/day }'),
      'months.irradiation',
      /found 11 values/,
    ],
    ['no load and no panel', 'battery: { chemistry: LFP, capacity: 100 Ah }', '', /neither a load nor a solar panel/],
    ['no battery', 'loads: [{ name: a, power: 1 W }]', 'battery', /missing/],
    [
      'a heater in lead-acid',
      minimal().replace('LFP, ', 'AGM, heater: { power: 20 W }, '),
      'battery.heater',
      /for lithium, such as LFP/,
    ],
  ])('%s', (_, text, path, message) => {
    const issues = issuesFrom(() => readRig(text, { file: 'rig.yaml' }));
    expect(issues).toHaveLength(1);
    expect(issues[0]).toMatchObject({ path, file: 'rig.yaml', line: expect.any(Number), column: expect.any(Number) });
    expect(`${issues[0]!.message} (${issues[0]!.hint})`).toMatch(message);
  });
});

describe('defaults', () => {
  const defaultsOf = (text: string) => new Map(readRig(text).defaults.map((one) => [one.path, one.text]));

  test('nothing that the file says is called a default, and every default has a reason', () => {
    const { defaults } = readRig(HERON);
    const paths = defaults.map((one) => one.path);
    for (const said of [
      'battery.floor',
      'battery.disconnect',
      'solar[0].mount',
      'solar[0].controller.current',
      'loads[0].rated',
      'inverter.standby',
    ])
      expect(paths).not.toContain(said);
    expect(paths).toContain('battery.charge.absorption');
    expect(new Set(paths).size).toBe(paths.length);
    for (const one of defaults) expect(one.why.length).toBeGreaterThan(2);
  });

  test('by chemistry', () => {
    expect(defaultsOf(minimal()).get('battery.floor')).toBe('20 %');
    expect(defaultsOf(minimal()).get('battery.disconnect')).toBe('10 %');
    expect(defaultsOf(minimal()).get('battery.maxCharge')).toBe('50 A');
    const agm = defaultsOf(minimal().replace('LFP', 'AGM'));
    expect([agm.get('battery.floor'), agm.get('battery.disconnect'), agm.get('battery.maxCharge')]).toEqual([
      '50 %',
      '40 %',
      '25 A',
    ]);
    expect(agm.get('battery.charge.perDegree')).toBe('-0.024 V/K');
  });

  // Ranges at 25 degC: common practice; IEEE 1361 (from memory).
  test.each([
    ['flooded', [14.4, 14.8], [13.2, 13.5]],
    ['AGM', [14.2, 14.7], [13.4, 13.8]],
    ['gel', [14.0, 14.4], [13.5, 13.8]],
    ['LFP', [14.0, 14.6], [13.4, 13.6]],
  ])(
    'charge voltages of %s lie in the range of common practice, doubled in a 24 V bank',
    (chemistry, absorption, float) => {
      const one = readRig(minimal().replace('LFP', chemistry)).rig.battery.charge;
      expect(one.absorptionV).toBeGreaterThanOrEqual(absorption[0]!);
      expect(one.absorptionV).toBeLessThanOrEqual(absorption[1]!);
      expect(one.floatV).toBeGreaterThanOrEqual(float[0]!);
      expect(one.floatV).toBeLessThanOrEqual(float[1]!);
      const two = readRig(minimal().replace('LFP,', `${chemistry}, series: 2,`)).rig.battery.charge;
      expect(two.absorptionV).toBeCloseTo(2 * one.absorptionV, 9);
      expect(two.floatV).toBeCloseTo(2 * one.floatV, 9);
      expect(two.perDegreeV).toBeCloseTo(2 * one.perDegreeV, 9);
      const single = readRig(minimal().replace('LFP,', `${chemistry}, nominal: 24 V,`)).rig.battery.charge;
      expect(single).toEqual(two);
    },
  );

  test('disconnect is never above the floor, and reconnect is above disconnect', () => {
    for (const floor of ['5 %', '10 %', '60 %', '0 %'])
      for (const chemistry of ['LFP', 'gel']) {
        const { battery } = readRig(minimal().replace('LFP,', `${chemistry}, floor: ${floor},`)).rig;
        if (battery.disconnect.kind !== 'soc' || battery.reconnect.kind !== 'soc')
          throw new Error('a state of charge is the default');
        expect(battery.disconnect.soc).toBeLessThanOrEqual(battery.floor);
        expect(battery.reconnect.soc).toBeGreaterThan(battery.disconnect.soc);
      }
    expect(readRig(minimal().replace('LFP,', 'LFP, disconnect: 11.2 V,')).rig.battery.reconnect).toEqual({
      kind: 'voltage',
      voltageV: 13,
    });
    expect(readRig(minimal().replace('LFP,', 'LFP, disconnect: 30 %,')).rig.battery.floor).toBe(0.3);
  });

  test('a reconnect that is given stays above the disconnect that is not', () => {
    const { battery } = readRig(minimal().replace('LFP,', 'LFP, reconnect: 8 %,')).rig;
    expect(battery.disconnect).toEqual({ kind: 'soc', soc: 0.03 });
  });

  test.each([
    ['6 V', 2, 1],
    ['12 V', 1, 1],
    ['12.8 V', 1, 1],
    ['12.8 V', 2, 2],
    ['24 V', 1, 2],
    ['25.6 V', 1, 2],
    ['48 V', 1, 4],
    ['51.2 V', 1, 4],
  ])('%s, %d in series, has %d times the voltages of 12 V', (nominal, series, scale) => {
    const { charge } = readRig(minimal().replace('LFP,', `LFP, nominal: ${nominal}, series: ${series},`)).rig.battery;
    expect(charge.absorptionV).toBeCloseTo(14.2 * scale, 9);
  });

  test('the controller is the next usual size for the array and the bank', () => {
    const controller = (solar: string, battery = 'LFP,') =>
      readRig(minimal(`solar: [${solar}]`).replace('LFP,', battery)).rig.solar[0]!.controller.currentA;
    expect(controller('{ power: 175 W }')).toBe(15);
    expect(controller('{ power: 175 W, count: 2 }')).toBe(30);
    expect(controller('{ power: 175 W, count: 2 }', 'LFP, series: 2,')).toBe(15);
  });

  test('a fridge without figures takes what is usual for its volume', () => {
    const fridge = (more: string) =>
      readRig(`battery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: f, kind: fridge${more} }]`).rig.loads[0]!;
    // 14 to 28 Ah a day at 12 V, 25 degC: common practice, no source.
    expect(fridge('')).toMatchObject({ compressorW: 45, setpointC: 4, rated: { ambientC: 25 } });
    const { rated } = fridge('') as { rated?: { energyWhPerDay: number } };
    expect(rated!.energyWhPerDay / 12).toBeGreaterThan(14);
    expect(rated!.energyWhPerDay / 12).toBeLessThan(28);
    expect(fridge(', insulation: 45 mm')).toMatchObject({ insulationMm: 45 });
    expect(fridge(', insulation: 45 mm')).not.toHaveProperty('rated');
    expect(fridge(', cutOut: 11 V')).toMatchObject({ cutInV: 12.3 });
  });

  test('a gauge becomes its area', () => {
    const { rig } = readRig(HERON.replace('section: 2.5 mm2', 'gauge: 10 AWG'));
    expect(rig.loads[0]!.cable).toMatchObject({ gaugeAwg: '10' });
    expect(rig.loads[0]!.cable!.sectionMm2).toBeCloseTo(5.261, 3); // AWG table, from memory
  });

  test('every default is text that the file could hold: written in, it is read to the same rig', () => {
    const { rig, defaults } = readRig(HERON);
    const set = defaults.map((one) => `${one.path}=${one.text}`);
    const again = readRig(HERON, { set });
    expect(again.rig).toEqual(rig);
    expect(again.defaults).toEqual([]);
  });
});

test('months are twelve values, with one unit or one each', () => {
  const one = readRig(
    minimal(
      'months: { irradiation: 1 2 3 4 5 6 6 5 4 3 2 1.5 peak sun hours, minTemperature: -5, 0 1 2 3 4 5 4 3 2 1 0 degC }'.replace(
        '-5, 0',
        '-5 0',
      ),
    ),
  );
  expect(one.rig.months).toEqual({
    ghiKwhM2Day: [1, 2, 3, 4, 5, 6, 6, 5, 4, 3, 2, 1.5],
    tMinC: [-5, 0, 1, 2, 3, 4, 5, 4, 3, 2, 1, 0],
  });
  const each = readRig(
    minimal(`months: { irradiation: [${Array.from({ length: 12 }, () => '3.6 MJ/m2/day').join(', ')}] }`),
  );
  expect(each.rig.months!.ghiKwhM2Day![11]).toBeCloseTo(1, 9);
});

test('an alternator is compensated by temperature or variable, not both', () => {
  const { alternator } = readRig(minimal('alternator: { perDegree: -10 mV/K }')).rig;
  expect(alternator!.perDegreeV).toBeCloseTo(-0.01, 12);
  expect(readRig(minimal('alternator: {}')).rig.alternator).not.toHaveProperty('perDegreeV');
  const issues = issuesFrom(() => readRig(minimal('alternator: { perDegree: -10 mV/K, lowVoltage: 12.6 V }')));
  expect(issues[0]!.path).toBe('alternator.perDegree');
});

test.each([
  ['battery: { chemistry: AGM, capacity: 100 Ah, charge: { absorptionTime: 2 h } }', 'holdFor'],
  ['battery: { chemistry: AGM, capacity: 100 Ah, charge: { tailCurrent: 2 % } }', 'fullBelow'],
  ['battery: { chemistry: AGM, capacity: 100 Ah, charge: { rebulk: 12.6 V } }', 'restartBelow'],
  ['battery: { chemistry: AGM, capacity: 100 Ah, charge: { compensation: -24 mV/K } }', 'perDegree'],
])('a key of an earlier version is answered with its name now: %s', (battery, now) => {
  const [issue] = issuesFrom(() => readRig(`${battery}\nloads: [{ name: lamp, power: 5 W }]\n`));
  expect(issue).toMatchObject({ code: 'unknown_key', line: 1, hint: `write ${now}` });
});

test.each([
  ['100 W', 300],
  ['1800 W', 2000],
  ['7.2 kW', 8000],
])('the inverter that is proposed carries its load of %s', (power, rating) => {
  const text = `battery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: hob, power: ${power}, hours: 1, inverter: yes }]\n`;
  expect(() => readRig(text)).toThrow(`add inverter: { rating: ${rating} W }`);
});
