import { expect, test } from 'vitest';
import { writeValues } from '../../../packages/core/src/model.js';

const take = (text: string, ...path: (string | number)[]) => writeValues(text, [{ path, isRemoved: true }]);

test('a key goes with its line and the comment on it, and the rest stays as it stands', () => {
  const text = 'battery:   # ours\n  capacity: 100 Ah\n  floor: 20 %   # never below\n\nloads: []\n';
  expect(take(text, 'battery', 'floor')).toBe('battery:   # ours\n  capacity: 100 Ah\n\nloads: []\n');
  expect(take(text, 'battery', 'nothing')).toBe(text);
});

test.each([
  ['a: { b: 1, c: 2, d: 3 }', ['a', 'b'], 'a: { c: 2, d: 3 }'],
  ['a: { b: 1, c: 2, d: 3 }', ['a', 'd'], 'a: { b: 1, c: 2 }'],
  ['a: { b: 1 }', ['a', 'b'], 'a: {}'],
  ['l: [x, y, z]', ['l', 1], 'l: [x, z]'],
  ['l: [x]', ['l', 0], 'l: []'],
  ['{"a": {"b": 1, "c": 2}}', ['a', 'c'], '{"a": {"b": 1}}'],
] as const)('%s without %j is %s', (text, path, expected) => {
  expect(take(text, ...path)).toBe(expected);
});

const LIST =
  'loads:\n  - name: fridge\n    kind: fridge\n    # its label\n    volume: 45 L\n  - { name: lights, power: 9 W }\n';

test('an item of a list goes whole, and the first key of one leaves its dash', () => {
  expect(take(LIST, 'loads', 0)).toBe('loads:\n  - { name: lights, power: 9 W }\n');
  expect(take(LIST, 'loads', 1)).toBe(LIST.slice(0, LIST.indexOf('  - { name')));
  expect(take(LIST, 'loads', 0, 'name')).toBe(LIST.replace('name: fridge\n    kind', 'kind'));
  expect(take('loads:\n  - name: one\n', 'loads', 0)).toBe('loads:\n  []\n');
});
