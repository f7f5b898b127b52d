import { expect, test } from 'vitest';
import { callError } from '../../packages/cli/src/help/call-errors.js';
import { topicHint } from '../../packages/cli/src/help/topic-hint.js';
import { TOPICS } from '../../packages/cli/src/help/topics.js';
import { folderWith, RIG, stayput } from './run-cli.js';

test('a wrong value of an option is said by option, value, and what would be right', () => {
  expect(callError("error: option '--days <n>' argument 'two' is invalid. Give whole days.")).toBe(
    'error: --days two: give whole days.',
  );
  expect(callError("error: option '-x, --name <n>' argument 'it's' is invalid. Give.")).toBe(
    "error: --name it's: give.",
  );
  expect(callError("error: command-argument value 'tcsh' is invalid for argument 'shell'. Take bash.")).toBe(
    'error: shell tcsh: take bash.',
  );
  expect(callError('error: anything else')).toBe('error: anything else');
});

test('a hint names a topic that is there, and none stands beside a guess', () => {
  const topics = TOPICS.map(({ name }) => name);
  for (const [code, path, topic] of [
    ['bare_number', 'battery.capacity', 'units'],
    ['unknown_key', 'battery.foo', 'rig'],
    ['unknown_key', 'stops[0].foo', 'trip'],
    ['missing', 'limits.mass', 'parts'],
    ['unknown_place', '', 'places'],
    ['weather_no_air', '', 'weather'],
    ['log_no_time', '', 'logs'],
  ] as const) {
    expect(topicHint({ code, path })).toContain(`stayput help ${topic} `);
    expect(topics).toContain(topic);
    expect(topicHint({ code, path, hint: 'did you mean that?' })).toBeUndefined();
  }
  expect(topicHint({ code: 'yaml', path: '' })).toBeUndefined();
});

test.each([
  [['simulate', 'rig.yaml', '--days', 'two'], /^stayput: --days two: give whole days.*\n\(stayput help simulate tells/],
  [['sweep', 'merge'], /\(stayput help sweep merge tells/],
  [['simulate', 'rig.yaml', '--plce', 'x'], /\(Did you mean --place\?\)\n$/],
  [['simulate', 'rig.yaml', '--place', 'Porto', '--weather', 'clera'], /--weather clera .*did you mean clear\?/],
  [['simulate', 'rig.yaml', '--place', 'Xyzzyq'], /Xyzzyq.*\n\(stayput help places lists them\)\n$/],
  [['size', 'rig.yaml', 'rig.yaml', '--month', 'octember'], /^stayput: --month octember: give a month/],
  [
    ['size', 'rig.yaml', 'shop.yaml', '--place', 'Porto'],
    /currency: unknown key .*\n\(stayput help parts tells its keys\)\n$/,
  ],
  [['check', 'rig.yaml', 'way.yaml'], /colour: unknown key .*\n\(stayput help trip tells its keys\)\n$/],
  [['check', 'tab.yaml'], /^stayput: tab\.yaml:3:1: a tab is used to indent \(YAML is indented with spaces\)\n$/],
  [['check', 'foo.yaml'], /battery\.foo: unknown key "foo" \(known here: .*\n\(stayput help rig tells its keys\)\n$/],
  [['sweep', 'rig.yaml', '--place', 'Porto'], /^stayput: --vary: nothing is varied/],
] as const)('%j: what, where, what would be right, and where more is told', async (args, says) => {
  const cwd = folderWith({
    'rig.yaml': RIG,
    'tab.yaml': RIG.replace('  chemistry', '\tchemistry'),
    'shop.yaml': 'currency: EUR\nbatteries: [{ name: a, chemistry: LFP, capacity: 100 Ah, mass: 11 kg, price: 400 }]\n',
    'way.yaml': 'colour: red\nstops: [{ place: Porto, from: 2026-10-03, nights: 1 }]\n',
    'foo.yaml': RIG.replace('  capacity', '  foo: 1\n  capacity'),
  });
  const { stdout, stderr, code } = await stayput(args, { cwd });
  expect(stderr).toMatch(says);
  expect({ stdout, code }).toEqual({ stdout: '', code: 2 });
});
