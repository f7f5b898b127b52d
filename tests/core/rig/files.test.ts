import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { jsonSchemas, readParts, readRig, starterRig, withoutTrip } from '../../../packages/core/src/rig/index.js';
import { issuesFrom } from './issues-from.js';

describe('the starter rig', () => {
  test('passes, and points an editor at the shipped schema', () => {
    expect(readRig(starterRig()).rig.loads.map((load) => load.name)).toEqual([
      'fridge',
      'lights',
      'phones',
      'pump',
      'fan',
      'standby',
    ]);
    expect(starterRig().split('\n')[0]).toBe(
      '# yaml-language-server: $schema=./node_modules/@stayput/core/schema/rig.schema.json',
    );
  });
  test('takes any name', () => {
    for (const name of ['Heron', 'a: "b" #c', "d'e", '42']) expect(readRig(starterRig({ name })).rig.name).toBe(name);
  });
  test('passes with its commented lines in use', () => {
    expect(readRig(starterRig().replace('# inverter:', 'inverter:')).rig.inverter).toMatchObject({ ratingW: 300 });
  });
});

describe('the JSON Schemas for editors', () => {
  test.each(['rig', 'trip', 'parts', 'readings'] as const)(
    '%s.schema.json in the repository is the current one (if not: build)',
    (kind) => {
      const file = new URL(`../../../packages/core/schema/${kind}.schema.json`, import.meta.url);
      expect(JSON.parse(readFileSync(file, 'utf8'))).toEqual(JSON.parse(JSON.stringify(jsonSchemas()[kind])));
    },
  );
  test('every key says what it is, and no other key is allowed', () => {
    const seen: string[] = [];
    const walk = (node: unknown, path: string): void => {
      if (typeof node !== 'object' || node === null) return;
      const { properties, items, oneOf, additionalProperties } = node as {
        properties?: Record<string, { description?: string; const?: unknown }>;
        items?: unknown;
        oneOf?: unknown[];
        additionalProperties?: unknown;
      };
      if (properties) expect(additionalProperties, path).toBe(false);
      for (const [key, value] of Object.entries(properties ?? {})) {
        if (value.const === undefined) expect(value.description, `${path}.${key}`).toBeTruthy();
        seen.push(`${path}.${key}`);
        walk(value, `${path}.${key}`);
      }
      walk(items, `${path}[]`);
      oneOf?.forEach((one) => {
        walk(one, path);
      });
    };
    for (const schema of Object.values(jsonSchemas())) walk(schema, '');
    expect(seen).toContain('.battery.charge.absorption');
    expect(seen).toContain('.loads[].secondZone.setpoint');
    expect(seen).toContain('.stops[].mainsFrom');
    expect(seen).toContain('.ensemble.heatLeak');
    expect(seen).toContain('.totals[].solarPerDay');
    expect(seen).toContain('.moments[].volts');
  });
});

const PARTS = `# what could be bought; invented
name: shelf
batteries:
  - { name: LFP 100, chemistry: LFP, capacity: 100 Ah, mass: 11.5 kg, price: 410 }
  - { name: AGM 95, chemistry: AGM, capacity: 95 Ah, mass: 27 kg, price: 210 }
panels:
  - { name: flat 100, power: 100 W, mount: bonded, mass: 2.4 kg, price: 120, area: 0.55 m2 }
chargers:
  - { name: converter 30, kind: dcdc, current: 30 A, mass: 1.1 kg, price: 190 }
  - { name: relay, kind: relay, mass: 0.2 kg, price: 30 }
limits: { batteries: 2, panels: 4, mass: 60 kg, price: 2000, area: 2.2 m2 }
target: { unservedHours: 0, years: 90 % }
`;

describe('a parts list', () => {
  test('is read', () => {
    const { parts } = readParts(PARTS);
    expect(parts).toMatchObject({
      name: 'shelf',
      batteries: [
        {
          name: 'LFP 100',
          massKg: 11.5,
          price: 410,
          battery: { capacityAh: 100, massKg: 11.5, price: 410, charge: { absorptionV: 14.2 } },
        },
        { battery: { floor: 0.5 } },
      ],
      panels: [{ name: 'flat 100', massKg: 2.4, areaM2: 0.55, array: { powerW: 100, mount: 'bonded', areaM2: 0.55 } }],
      chargers: [{ charger: { kind: 'dcdc', currentA: 30 } }, { charger: { kind: 'relay' } }],
      limits: { batteries: 2, panels: 4, massKg: 60, price: 2000, areaM2: 2.2 },
      target: { unservedHours: 0, years: 0.9 },
    });
  });
  test('its faults are said at once', () => {
    const broken = PARTS.replace('mass: 27 kg, ', '')
      .replace('name: AGM 95', 'name: LFP 100')
      .replace('kind: relay', 'kind: rely');
    expect(issuesFrom(() => readParts(broken)).map((issue) => [issue.path, issue.code])).toEqual([
      ['batteries[1].mass', 'missing'],
      ['batteries[1].name', 'duplicate'],
      ['chargers[1].kind', 'wrong_choice'],
    ]);
  });
});

describe('without a trip, the command line makes one of one stop', () => {
  test('at a position, or a place', () => {
    expect(withoutTrip({ at: '35.0,-106.6', from: '2026-06-01', days: 30 })).toMatchObject({
      startSoc: 1,
      weather: { kind: 'climate' },
      stops: [{ at: { latDeg: 35, lonDeg: -106.6 }, from: '2026-06-01', nights: 30, driveH: 0 }],
    });
    expect(withoutTrip({ place: 'Porto', from: '2026-06-01', days: 1, weather: 'x.epw' })).toMatchObject({
      name: 'Porto',
      weather: { kind: 'file', path: 'x.epw' },
    });
  });
  test('with every fault at once', () => {
    expect(
      issuesFrom(() => withoutTrip({ at: '91,0', from: '2026-06-31', days: 0, weather: 'climat' })).map(
        (issue) => issue.path,
      ),
    ).toEqual(['at', 'from', 'days', 'weather']);
    expect(issuesFrom(() => withoutTrip({ from: '2026-06-01', days: 1 }))[0]).toMatchObject({
      path: 'at',
      code: 'missing',
    });
    expect(issuesFrom(() => withoutTrip({ at: ',', from: '2026-06-01', days: 1 }))[0]).toMatchObject({ path: 'at' });
  });
});
