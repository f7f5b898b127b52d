import { type DefaultTaken, jsonSchemas, readRig, starterRig } from '@stayput/core';
import type { Block } from './blocks.js';
import { type DefaultWords, type SchemaNode, schemaBlocks } from './schema-blocks.js';

/** Has every part with as few keys as may be, so that reading it tells the default of every other key. */
const BARE_RIG = `
battery: { chemistry: LFP, capacity: 100 Ah, heater: { power: 40 W }, cable: { length: 1 m, section: 25 mm2 } }
solar:
  - power: 175 W
    datasheet: { voc: 24.3 V, isc: 9.2 A, vmp: 20.4 V, imp: 8.6 A }
alternator: { charger: { kind: dcdc } }
mains: {}
inverter: {}
loads:
  - { name: fridge, kind: fridge }
  - { name: always on, power: 2 W }
`;
const RELAY_RIG = BARE_RIG.replace('dcdc', 'relay');

export function rigTopic(): Block[] {
  return [
    {
      text: 'A rig is a YAML (or JSON) file that says what is bolted in. Only the battery and one load or panel are needed. The defaults below are those of a bare rig with 100 Ah of LFP; "stayput check RIG" lists what yours takes, and why. "stayput new" writes a commented one.',
    },
    { code: body(starterRig()) },
    ...schemaBlocks('The file', schema('rig'), rigDefaults()),
    {
      text: 'Any value can be changed for one run without touching the file: --set battery.count=2, --set solar[0].tilt="30 deg", --set loads.fridge.setpoint=6degC.',
    },
  ];
}

export function tripTopic(): Block[] {
  return [
    {
      text: 'A trip says where the rig stands and when, stop after stop. A weather file named in it is looked for beside it. It begins at midnight of its first day, or with start: 2026-10-03 18:00 at that clock time of the first stop; it ends at the midnight after its last night.',
    },
    {
      code: [
        'name: North-west coast in October',
        'startSoc: 90 %',
        'weather: climate',
        'stops:',
        '  - at: [41.7, -8.8]',
        '    from: 2026-10-03',
        '    nights: 4',
        '    drive: 2 h            # engine hours to get there',
        '    shade: 20 %',
        '  - { at: [43.6, -8.1], nights: 6, use: { laptop: 1.5 } }',
        '  - { place: Porto, nights: 1, drive: 4 h, mains: 8 h }',
      ].join('\n'),
    },
    ...schemaBlocks('The file', schema('trip'), new Map()),
  ];
}

export function partsTopic(): Block[] {
  return [
    {
      text: 'A parts list says what could be bought, for "stayput size": batteries, panels and chargers with their mass, price and area, limits, and the target. Keys of a battery, a panel or a charger have the defaults of a rig.',
    },
    {
      code: [
        'batteries:',
        '  - name: LFP 100',
        '    chemistry: LFP',
        '    capacity: 100 Ah',
        '    mass: 11.5 kg',
        '    price: 410',
        'panels:',
        '  - name: 175 W',
        '    power: 175 W',
        '    mass: 3.1 kg',
        '    price: 190',
        '    area: 0.9 m2',
        'limits: { batteries: 3, mass: 60 kg, area: 2.2 m2 }',
        'target: { unservedHours: 0 h, years: 90 % }',
      ].join('\n'),
    },
    ...schemaBlocks('The file', schema('parts'), new Map()),
  ];
}

export function readingsTopic(): Block[] {
  return [
    {
      text: 'Readings are what a phone or a display showed, where there is no log: sums over days, rows of days, single looks. "stayput calibrate RIG readings.yaml --place NAME" says what they tell of the vehicle, and which further reading would tell most. Energies may be in Wh, kWh or Ah.',
    },
    {
      code: [
        'totals:',
        '  - from: 2026-05-01',
        '    days: 96',
        '    solarPerDay: 210 Wh',
        '    full: 60',
        '    empty: 0',
        'days:',
        '  - { date: 2026-08-01, solar: 310 Wh, lowest: 62 % }',
        'moments:',
        '  - { at: 2026-08-02 21:10, soc: 88 % }',
        '  - { at: 2026-08-03 07:00, volts: 12.9 V, amps: -2 A }',
        '  - { at: 2026-08-04 07:00, fridge: 6 degC }',
      ].join('\n'),
    },
    ...schemaBlocks('The file', schema('readings'), new Map()),
  ];
}

const schema = (name: keyof ReturnType<typeof jsonSchemas>) => jsonSchemas()[name] as SchemaNode;

/** Without the comments for an editor and the reader that begin it. */
const body = (yaml: string) => yaml.replace(/^(#.*\n)+/, '').trimEnd();

function rigDefaults(): DefaultWords {
  const words = ({ text, why }: DefaultTaken) => `${text} (${why})`;
  const taken = [BARE_RIG, RELAY_RIG].flatMap((text) => {
    const { rig, defaults } = readRig(text);
    return defaults.map((one): [string, string] => {
      const load = /^loads\[(\d+)\]/.exec(one.path)?.[1];
      const kind = load === undefined ? '' : `${rig.loads[Number(load)]!.kind}:`;
      return [kind + one.path.replace(/\[\d+\]/g, '[]'), words(one)];
    });
  });
  return new Map(taken.reverse());
}
