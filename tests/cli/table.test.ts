import { expect, test } from 'vitest';
import { energy, fixed, hours, momentText, percent, significant } from '../../packages/cli/src/show/number.js';
import { table, textWidth, wrapped } from '../../packages/cli/src/show/table.js';

test.each([
  [energy(0), '0.0 Wh'],
  [energy(383.4), '383 Wh'],
  [energy(999.6), '1.00 kWh'],
  [energy(1234567), '1,230 kWh'],
  [energy(-0.01), '0.0 Wh'],
  [significant(0.012345), '0.0123'],
  [significant(99.96), '100'],
  [significant(Number.POSITIVE_INFINITY), '-'],
  [fixed(-1234.5, 1), '-1,234.5'],
  [percent(0.198, 0.2), '19.8 %'],
  [percent(0.544, 0.2), '54 %'],
  [hours(0.2), '12 min'],
  [hours(12.4), '12 h'],
  [hours(120), '5.0 days'],
  [momentText('2026-10-05T08:10:00+01:00'), '5 Oct 08:10'],
])('%s is shown as %s', (got, expected) => {
  expect(got).toBe(expected);
});

const rows = [
  { name: 'fridge', wh: 327 },
  { name: 'lights and a long name', wh: 9 },
];
const columns = [
  { head: 'Load', cell: (row: (typeof rows)[number]) => row.name },
  { head: 'Wh', cell: (row: (typeof rows)[number]) => String(row.wh), align: 'right' as const },
  { head: 'note', cell: () => 'something', drop: 1 },
];

test('a table aligns, drops columns that have no room, then cuts the first', () => {
  expect(table(rows, columns, 80)).toEqual([
    'Load                     Wh  note',
    'fridge                  327  something',
    'lights and a long name    9  something',
  ]);
  expect(table(rows, columns, 30)).toEqual([
    'Load                     Wh',
    'fridge                  327',
    'lights and a long name    9',
  ]);
  expect(table(rows, columns, 20)).toEqual(['Load              Wh', 'fridge           327', 'lights and a l.    9']);
});

test('a last column that may break takes the room that is left', () => {
  const why = [...columns.slice(0, 2), { head: 'why', cell: () => 'because of this and that', drop: 1, wrap: true }];
  expect(table(rows.slice(0, 1), why, 32)).toEqual([
    'Load     Wh  why',
    'fridge  327  because of this and',
    '             that',
  ]);
  expect(table(rows.slice(0, 1), why, 20)).toEqual(['Load     Wh', 'fridge  327']);
});

test('wide signs count twice, marks that combine not at all (Unicode East Asian Width, UAX 11)', () => {
  expect([textWidth('abc'), textWidth('日本'), textWidth('e\u0301')]).toEqual([3, 4, 1]);
});

test('text is broken at spaces', () => {
  expect(wrapped('one two three', 7, ' ')).toEqual(['one two', ' three']);
  expect(wrapped('one two three', 7, '    ', '  ')).toEqual(['  one', '    two', '    three']);
});
