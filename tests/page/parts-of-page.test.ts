import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { controlsOf } from '../../packages/cli/src/page/controls.js';
import { formatFor } from '../../packages/cli/src/page/format.js';
import { firstOf, positionOf, tripText } from '../../packages/cli/src/page/made-trip.js';
import type { Reading, Setup } from '../../packages/cli/src/page/protocol.js';
import { exampleOf, keyWords, pathText, type Schema, typedValue } from '../../packages/cli/src/page/schema.js';
import { asking, changed, heard, remembered, type State, sideOf, undone } from '../../packages/cli/src/page/state.js';
import { jsonSchemas, readRig, readTrip } from '../../packages/core/src/index.js';
import { writeValues } from '../../packages/core/src/model.js';

const example = (name: string) =>
  readFileSync(fileURLToPath(new URL(`../../examples/${name}`, import.meta.url)), 'utf8');

describe('figures', () => {
  test('have the digits of the command line, and the signs of the reader', () => {
    const [english, german] = [formatFor('en-GB', 'metric'), formatFor('de-DE', 'metric')];
    expect([english.days(2.66, 60), german.days(2.66, 60), german.days(60, 60)]).toEqual(['2.7', '2,7', '60+']);
    expect([english.number(1234.5, 1), german.number(1234.5, 1)]).toEqual(['1,234.5', '1.234,5']);
  });

  test('and his units: 4 °C is 39 °F, 10 K are 18 °F, 10 kg are 22 lb (NIST SP 811)', () => {
    const f = formatFor('en-US', 'imperial');
    expect([f.temperature(4), f.kelvin(10), f.mass(10)]).toEqual(['39 °F', '18 °F', '22 lb']);
  });
});

describe('a made trip', () => {
  test.each([
    [{ where: 'Porto', from: '2026-10-01', driveEvery: 0, driveH: 1 }, 1],
    [{ where: '41.7, -8.8', from: '2026-10-01', driveEvery: 4, driveH: 0.5 }, 4],
    [{ where: 'Porto, Portugal', from: '2026-12-24', driveEvery: 1, driveH: 6 }, 14],
  ])('%j is a trip file of a fortnight', (made, stops) => {
    const { trip } = readTrip(tripText(made));
    expect(trip.stops).toHaveLength(stops);
    expect(trip.stops.reduce((sum, { nights }) => sum + nights, 0)).toBe(14);
    for (const [k, stop] of trip.stops.entries()) expect(stop.driveH).toBe(k === 0 ? 0 : made.driveH);
  });

  test('begins on the first of the month, this year or the next', () => {
    expect(firstOf(10, '2026-10-31')).toBe('2026-10-01');
    expect(firstOf(3, '2026-10-31')).toBe('2027-03-01');
    expect(positionOf('41.7;-8.8')).toEqual([41.7, -8.8]);
    expect(positionOf('Porto')).toBeUndefined();
  });
});

test.each(['heron.yaml', 'heron-agm.yaml', 'log-parked.yaml', 'thin-cable.yaml'])(
  'every control of %s, at both its ends, leaves a rig that can be read and that says so',
  (name) => {
    const text = example(name);
    const f = formatFor('en-GB', 'metric');
    const controls = controlsOf({ rig: readRig(text).rig } as Reading, f);
    expect(controls.length).toBeGreaterThan(5);
    for (const { id, min, max, edits } of controls)
      for (const value of [min, max]) {
        const written = edits(value).reduce((before, { file: _, ...edit }) => writeValues(before, [edit]), text);
        const again = controlsOf({ rig: readRig(written).rig } as Reading, f).find((one) => one.id === id);
        expect(again?.value, `${id} at ${value}`).toBeCloseTo(value, 9);
      }
  },
);

describe('the form', () => {
  const schema = jsonSchemas().rig as Schema;

  test('begins each new part with what the reader accepts', () => {
    const { battery, loads } = schema.properties!;
    const base = { battery: exampleOf(battery!) };
    for (const kind of loads!.items!.oneOf!) {
      const load = { ...(exampleOf(kind) as object), ...(kind.properties?.power && { power: '9 W' }) };
      expect(() => readRig(JSON.stringify({ ...base, loads: [load] }))).not.toThrow();
    }
  });

  test('writes what was typed as the schema has it, and nothing for an empty field', () => {
    expect(typedValue({ type: 'integer' }, ' 2 ')).toBe(2);
    expect(typedValue({ type: 'integer' }, 'two')).toBe('two');
    expect(typedValue({ type: ['string', 'number'] }, '20 %')).toBe('20 %');
    expect(typedValue({ type: 'boolean' }, 'true')).toBe(true);
    expect(typedValue({ type: 'string' }, ' ')).toBeUndefined();
    expect(pathText(['solar', 0, 'cable', 'length'])).toBe('solar[0].cable.length');
    expect(keyWords('noChargeBelow')).toBe('no charge below');
  });
});

describe('what is known', () => {
  const setup: Setup = { rig: 'one', trip: 't', stop: 0 };
  const edit = { file: 'rig', path: ['name'], value: 'x' } as const;
  const state = (a = sideOf(setup)): State => ({
    given: { version: '' },
    places: [],
    a,
    active: 'a',
    units: 'metric',
    past: [],
  });

  test('an answer to the question before does not undo what was changed since', () => {
    const asked = asking(changed(sideOf(setup), {}, [edit]));
    const typed = changed(asked, { rig: 'typed' });
    const told = {
      kind: 'read',
      lane: 'a',
      seq: asked.seq,
      setup: { ...setup, rig: 'written' },
      reading: {} as Reading,
    } as const;
    expect(heard(typed, told).setup.rig).toBe('typed');
    expect(heard(asked, told).setup.rig).toBe('written');
    expect(heard(asked, told).edits).toEqual([]);
    expect(heard(asking(asked), told)).toEqual(asking(asked));
  });

  test('what is refused keeps the answer from before, and says so until it is read again', () => {
    const side = asking(sideOf(setup));
    const good = heard(side, {
      kind: 'read',
      lane: 'a',
      seq: side.seq,
      setup,
      reading: { month: 3 } as Reading,
    });
    const bad = heard(asking(changed(good, { rig: 'bad' })), {
      ...{ kind: 'refused', lane: 'a', seq: side.seq + 1, setup: { ...setup, rig: 'bad' }, values: undefined },
      ...{ file: 'rig', issues: [{ code: 'yaml', path: '', message: 'broken' }] },
    } as const);
    expect(bad.answer.reading?.month).toBe(3);
    expect(bad.answer.refused?.issues[0]?.message).toBe('broken');
    expect(bad.setup.rig).toBe('bad');
  });

  test('one gesture is undone at once, and two by two', () => {
    const first = remembered(state(), 'battery', 0);
    const moved = { ...first, a: changed(first.a!, { rig: 'two' }) };
    const again = { ...remembered(moved, 'battery', 300), a: changed(moved.a, { rig: 'three' }) };
    const other = { ...remembered(again, 'tilt', 400), a: changed(again.a, { rig: 'four' }) };
    expect(undone(other).a?.setup.rig).toBe('three');
    expect(undone(undone(other)).a?.setup.rig).toBe('one');
    expect(undone(state())).toEqual(state());
  });
});
