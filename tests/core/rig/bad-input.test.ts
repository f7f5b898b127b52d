import { describe, expect, test } from 'vitest';
import { decodeText, issueText, readParts, readRig, readTrip } from '../../../packages/core/src/rig/index.js';
import { issuesFrom } from './issues-from.js';
import { HERON, NORTH_WEST } from './section-files.js';

const bytes = (text: string) => new TextEncoder().encode(text);
const utf16 = (text: string, littleEndian: boolean, mark: boolean) => {
  const out = Buffer.from(mark ? `\uFEFF${text}` : text, 'utf16le');
  return new Uint8Array(littleEndian ? out : out.swap16());
};

describe('files that are no text', () => {
  test.each<[string, Uint8Array, RegExp]>([
    ['UTF-16, little endian', utf16(HERON, true, true), /UTF-16.*save it as UTF-8/],
    ['UTF-16, big endian', utf16(HERON, false, true), /UTF-16.*save it as UTF-8/],
    ['UTF-16 without a mark', utf16(HERON, true, false), /UTF-16/],
    ['binary', Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 0, 13, 1, 2, 3]), /binary/],
    ['Latin-1', Uint8Array.from([...bytes('name: caf'), 0xe9]), /not UTF-8/],
    ['10 MB', new Uint8Array(10_000_000).fill(35), /10 MB; at most 0\.2 MB/],
  ])('%s', (_, content, message) => {
    const [issue] = issuesFrom(() => decodeText(content, 'rig.yaml'));
    expect(issueText(issue!)).toMatch(message);
    expect(issue!.file).toBe('rig.yaml');
  });
  test('a byte-order mark is taken off', () => {
    expect(decodeText(bytes('\uFEFFname: x'), 'rig.yaml')).toBe('name: x');
    expect(decodeText(new Uint8Array(0), 'rig.yaml')).toBe('');
  });
});

const bomb = [
  'a: &a [1,1,1,1,1,1,1,1,1]',
  ...'bcdefgh'.split('').map((key, i) => `${key}: &${key} [${Array(9).fill(`*${'abcdefgh'[i]}`).join(',')}]`),
].join('\n');

describe('texts that are no rig', () => {
  test.each<[string, string, string, RegExp]>([
    ['empty', '', 'empty', /empty/],
    ['only spaces', ' \n\t\n', 'empty', /empty/],
    ['only comments', '# a rig\n', 'empty', /nothing but comments/],
    ['binary', 'a\u0000b', 'binary', /not text/],
    ['control characters', 'name: \u0007', 'binary', /U\+0007/],
    ['tabs', 'battery:\n\tchemistry: LFP', 'yaml', /^2:1: a tab.*spaces/],
    ['a key twice', 'name: a\nname: b\n', 'yaml', /^2:1 name: this key is written twice/],
    ['an alias bomb', bomb, 'yaml', /aliases/],
    ['an alias to nowhere', 'battery: *x', 'yaml', /alias/],
    ['an alias to itself', 'battery: &a [*a]', 'yaml', /alias/],
    ['a merge key', 'x: &x { name: a }\nbattery:\n  <<: *x\n', 'yaml', /^3:3 <<: merge keys/],
    ['__proto__', '__proto__: { isAdmin: true }\nbattery: {}', 'unknown_key', /__proto__/],
    ['constructor', 'battery: { constructor: { prototype: 1 } }', 'unknown_key', /constructor/],
    ['a list', '- 1\n- 2', 'wrong_type', /found a list where a rig is needed/],
    ['a word', 'hello', 'wrong_type', /found "hello"/],
    ['a number', '42', 'wrong_type', /found 42/],
    ['a trip', NORTH_WEST, 'wrong_file', /this is a trip, and a rig is needed/],
    ['two documents', `${HERON}---\n${HERON}`, 'yaml', /more than one document/],
    ['a tag', 'name: !!js/function x', 'yaml', /tags/],
    ['deep brackets', '['.repeat(100_000), 'yaml', /nested too deeply/],
    ['deep indents', '- '.repeat(50_000), 'yaml', /nested too deeply/],
    ['an unclosed bracket', 'battery: { chemistry: LFP', 'yaml', /1:\d+: not readable as YAML/],
    ['a key that is a list', '[a, b]: 1', 'yaml', /plain word/],
    ['1.1 MB', `# ${'x'.repeat(1_100_000)}`, 'too_large', /1\.1 MB/],
  ])('%s', (_, text, code, message) => {
    const [issue] = issuesFrom(() => readRig(text));
    expect(issue!.code).toBe(code);
    expect(issueText(issue!)).toMatch(message);
    expect({}).not.toHaveProperty('isAdmin');
  });
  test('a rig given as a trip, and as a parts list', () => {
    expect(issueText(issuesFrom(() => readTrip(HERON))[0]!)).toMatch(/this is a rig, and a trip is needed/);
    expect(issueText(issuesFrom(() => readParts(HERON))[0]!)).toMatch(/this is a rig, and a parts list is needed/);
  });
});

describe('trips', () => {
  const stop = (text: string) => `stops:\n  - { ${text} }`;
  test.each<[string, string, string, RegExp]>([
    [
      'latitude 91',
      stop('at: [91, 8], from: 2026-10-03, nights: 1'),
      'stops[0].at',
      /latitude 91 is out of range: -90 to 90/,
    ],
    ['longitude 181', stop('at: [41, 181], from: 2026-10-03, nights: 1'), 'stops[0].at', /longitude 181/],
    ['one number', stop('at: [41], from: 2026-10-03, nights: 1'), 'stops[0].at', /latitude and longitude/],
    ['.nan', stop('at: [.nan, 3], from: 2026-10-03, nights: 1'), 'stops[0].at', /latitude and longitude/],
    [
      'a zone that does not exist',
      stop('at: [41, 8], zone: Europe/Lisbn, from: 2026-10-03, nights: 1'),
      'stops[0].zone',
      /did you mean Europe\/Lisbon/,
    ],
    ['a day that does not exist', stop('at: [41, 8], from: 2026-02-30, nights: 1'), 'stops[0].from', /not a date/],
    ['no beginning', stop('at: [41, 8], nights: 1'), 'stops[0]', /add from/],
    ['no place', stop('from: 2026-10-03, nights: 1'), 'stops[0]', /neither at nor place/],
    ['two places', stop('at: [41, 8], place: Porto, from: 2026-10-03, nights: 1'), 'stops[0].place', /keep one/],
    ['half a night', stop('at: [41, 8], from: 2026-10-03, nights: 1.5'), 'stops[0].nights', /whole/],
    ['no night', stop('at: [41, 8], from: 2026-10-03, nights: 0'), 'stops[0].nights', /out of range/],
    [
      'a day of 28 h',
      stop('at: [41, 8], from: 2026-10-03, nights: 1, drive: 20 h, mains: 8 h'),
      'stops[0].mains',
      /more than a day/,
    ],
    [
      'dates that do not join',
      `${stop('at: [41, 8], from: 2026-10-03, nights: 2')}\n  - { place: Porto, from: 2026-10-09, nights: 1 }`,
      'stops[1].from',
      /ends on 2026-10-05/,
    ],
    ['no stops', 'stops: []', 'stops', /one stop at least/],
    [
      'a misspelt weather',
      `weather: climat\n${stop('at: [41, 8], from: 2026-10-03, nights: 1')}`,
      'weather',
      /did you mean climate/,
    ],
    [
      'a use that is no number',
      stop('at: [41, 8], from: 2026-10-03, nights: 1, use: { laptop: lots }'),
      'stops[0].use',
      /factor/,
    ],
  ])('%s', (_, text, path, message) => {
    const issues = issuesFrom(() => readTrip(text, { file: 'trip.yaml' }));
    expect(issues).toHaveLength(1);
    expect(issues[0]).toMatchObject({ path, file: 'trip.yaml', line: expect.any(Number) });
    expect(issueText(issues[0]!)).toMatch(message);
  });
  test('a file is taken for weather when it looks like one', () => {
    const text = (weather: string) => `weather: ${weather}\n${stop('at: [41, 8], from: 2026-10-03, nights: 1')}`;
    expect(readTrip(text('years/coast.epw')).trip.weather).toEqual({ kind: 'file', path: 'years/coast.epw' });
    expect(readTrip(text('Dull')).trip.weather).toEqual({ kind: 'dull' });
  });
  test('a load that the rig does not have is found when the loads are known', () => {
    const misspelt = NORTH_WEST.replace('use: { laptop', 'use: { lpatop');
    expect(readTrip(misspelt).trip.stops[1]!.use).toEqual({ lpatop: 1.5 });
    expect(readTrip(NORTH_WEST, { loads: ['fridge', 'laptop'] }).trip.stops[1]!.use).toEqual({ laptop: 1.5 });
    expect(issuesFrom(() => readTrip(misspelt, { loads: ['fridge', 'laptop'] }))).toMatchObject([
      { code: 'unknown_load', path: 'stops[1].use.lpatop', line: 7, hint: 'did you mean laptop?' },
    ]);
  });
});

test('a battery without mass is refused: its heater would have nothing to warm', () => {
  const rig = (mass: string) =>
    `battery: { chemistry: LFP, capacity: 100 Ah, mass: ${mass}, heater: { power: 40 W } }\nsolar: [{ power: 100 W }]`;
  for (const mass of ['0 kg', '1e-320 kg'])
    expect(issuesFrom(() => readRig(rig(mass)))).toMatchObject([{ code: 'out_of_range', path: 'battery.mass' }]);
  expect(readRig(rig('0.1 kg')).rig.battery.massKg).toBe(0.1);
});

test.each<[string, (i: number) => string]>([
  ['keys', (i) => `k${i}: 1\n`],
  ['the same key', () => 'a: 1\n'],
  ['anchors', (i) => `k${i}: &a${i} 1\n`],
  ['aliases', (i) => (i === 0 ? 'a: &a 1\nb: [*a' : ', *a')],
  ['groups where none can be', (i) => (i === 0 ? 'a: ' : '{b: 1}')],
  ['list items', (i) => (i === 0 ? 'loads:\n' : '- { name: a, power: 1 W }\n')],
])('a file of the largest size full of %s is told of at once, and briefly', (_, piece) => {
  let text = '';
  for (let i = 0; text.length < 199_000; i++) text += piece(i);
  const began = performance.now();
  expect(issuesFrom(() => readRig(text)).length).toBeGreaterThan(0);
  // A generous limit, for a hang: each compared with all before it once took minutes.
  expect(performance.now() - began).toBeLessThan(30_000);
});

test('many unknown keys are told of a few at a time', () => {
  const text = `${Array.from({ length: 500 }, (_, i) => `k${i}: 1`).join('\n')}\nbattery: { chemistry: LFP, capacity: 1 Ah }`;
  expect(issuesFrom(() => readRig(text)).filter(({ code }) => code === 'unknown_key')).toHaveLength(20);
});
