import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ConfigError, decodeText, readParts, readRig, readTrip } from '../../packages/core/src/rig/index.js';
import { HERON, NORTH_WEST } from '../core/rig/section-files.js';

/** Runs it; anything but success or a ConfigError with at least one worded issue fails. */
function onlyConfigError(run: () => unknown): void {
  try {
    run();
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    expect(error.issues.length).toBeGreaterThan(0);
    for (const issue of error.issues) expect(issue.message).not.toMatch(/undefined|\[object|at Object|Invalid input/);
  }
}

const readers = [readRig, readTrip, readParts];

test('random bytes give only a ConfigError', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
      for (const read of readers) onlyConfigError(() => read(decodeText(bytes, 'x')));
    }),
    { numRuns: 150 },
  );
});

test('random text gives only a ConfigError', () => {
  const marks = fc
    .array(
      fc.constantFrom(
        'a',
        ':',
        ' ',
        '\n',
        '- ',
        '[',
        ']',
        '{',
        '}',
        '&a ',
        '*a',
        '"',
        "'",
        '#',
        '|',
        '>',
        '!',
        '%',
        '<<: ',
        '?',
        '~',
        '1',
        '\t',
        ',',
        '---',
      ),
      { maxLength: 40 },
    )
    .map((all) => all.join(''));
  fc.assert(
    fc.property(fc.oneof(fc.string({ unit: 'binary' }), marks), (text) => {
      for (const read of readers) onlyConfigError(() => read(text));
    }),
    { numRuns: 200 },
  );
});

test('a good file with a piece cut out, doubled or replaced gives a rig or a ConfigError', () => {
  const piece = fc.tuple(
    fc.nat(2200),
    fc.nat(60),
    fc.oneof(
      fc.string({ maxLength: 8 }),
      fc.constantFrom('', '-', 'NaN', '1e999 Ah', '.inf', 'null', '[]', '{}', '\t', ': '),
    ),
  );
  fc.assert(
    fc.property(piece, fc.constantFrom(HERON, NORTH_WEST), ([at, length, put], text) => {
      const changed = text.slice(0, at) + put + text.slice(at + length);
      onlyConfigError(() => (text === HERON ? readRig : readTrip)(changed));
    }),
    { numRuns: 200 },
  );
});

test('any JSON value under the keys of a rig gives a rig or a ConfigError', () => {
  const keys = [
    'name',
    'battery',
    'solar',
    'alternator',
    'mains',
    'inverter',
    'cabin',
    'loads',
    'months',
    'albedo',
    'chemistry',
    'capacity',
    'kind',
    'power',
    'charger',
  ];
  const value = fc.letrec<{ any: unknown }>((tie) => ({
    any: fc.oneof(
      { maxDepth: 4 },
      fc.constantFrom('LFP', '100 Ah', '5 W', 'fridge', 'dcdc', 12, -1, true, null),
      fc.jsonValue({ maxDepth: 1 }),
      fc.array(tie('any'), { maxLength: 3 }),
      fc.dictionary(fc.constantFrom(...keys), tie('any'), { maxKeys: 5 }),
    ),
  })).any;
  fc.assert(
    fc.property(fc.dictionary(fc.constantFrom(...keys), value, { maxKeys: 6 }), (rig) => {
      onlyConfigError(() => readRig(JSON.stringify(rig)));
    }),
    { numRuns: 200 },
  );
});

test('any setting gives a rig or a ConfigError', () => {
  const path = fc
    .array(
      fc.constantFrom(
        'battery',
        'loads',
        'fridge',
        '.',
        '[0]',
        '[9]',
        'capacity',
        'solar',
        'roof',
        '__proto__',
        'name',
        'charge',
        'float',
      ),
      { maxLength: 6 },
    )
    .map((parts) => parts.join(''));
  fc.assert(
    fc.property(
      fc.oneof(path, fc.string()),
      fc.oneof(fc.string(), fc.constantFrom('1', '[]', '{}', '200 Ah', '&a 1', '*a', '!!x y')),
      (at, value) => {
        onlyConfigError(() => readRig(HERON, { set: [`${at}=${value}`] }));
      },
    ),
    { numRuns: 200 },
  );
});
