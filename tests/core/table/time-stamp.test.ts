import { describe, expect, test } from 'vitest';
import { type DateOrder, dateOrderOf, readStamp, readTimeOfDay } from '../../../packages/core/src/table/time-stamp.js';

const utc = (text: string) => Date.parse(`${text}Z`);

describe('a stamp means an instant of the file’s clock', () => {
  // forms: ISO 8601 and what spreadsheets and loggers write; seconds since 1970 by hand: 1767225600 s = 20454 days = 2026-01-01
  const said: [string, DateOrder, string, number | undefined][] = [
    ['2026-07-05', 'ymd', '2026-07-05T00:00', undefined],
    ['2026-07-05T13:45', 'ymd', '2026-07-05T13:45', undefined],
    ['2026-07-05 13:45:09', 'ymd', '2026-07-05T13:45:09', undefined],
    ['2026-07-05T13:45:09.250', 'ymd', '2026-07-05T13:45:09', undefined],
    ['2026-07-05T13:45:09,5', 'ymd', '2026-07-05T13:45:09', undefined],
    ['2026-07-05 13', 'ymd', '2026-07-05T13:00', undefined],
    ['2026-07-05 13h45', 'ymd', '2026-07-05T13:45', undefined],
    ['2026-7-5 3:05', 'ymd', '2026-07-05T03:05', undefined],
    ['  2026/07/05 13:45  ', 'ymd', '2026-07-05T13:45', undefined],
    ['2026-07-05T23:59:60', 'ymd', '2026-07-06T00:00', undefined], // a leap second
    ['2026-07-05 24:00', 'ymd', '2026-07-06T00:00', undefined],
    ['2026-12-31 24:00', 'ymd', '2027-01-01T00:00', undefined],
    ['2024-02-29 12:00', 'ymd', '2024-02-29T12:00', undefined],
    ['2026-01-31', 'ymd', '2026-01-31T00:00', undefined],
    ['2026-12-01', 'ymd', '2026-12-01T00:00', undefined],
    ['05.07.2026 13:45', 'dmy', '2026-07-05T13:45', undefined],
    ['07/05/2026 13:45', 'mdy', '2026-07-05T13:45', undefined],
    ['05/07/2026 13:45', 'dmy', '2026-07-05T13:45', undefined],
    ['05/07/69', 'dmy', '2069-07-05T00:00', undefined],
    ['05/07/70', 'dmy', '1970-07-05T00:00', undefined],
    ['05/07/99', 'dmy', '1999-07-05T00:00', undefined],
    ['05/07/26', 'dmy', '2026-07-05T00:00', undefined],
    ['7/5/2026 1:45 PM', 'mdy', '2026-07-05T13:45', undefined],
    ['7/5/2026 1:45 pm', 'mdy', '2026-07-05T13:45', undefined],
    ['7/5/2026 1:45 a.m.', 'mdy', '2026-07-05T01:45', undefined],
    ['7/5/2026 12:45 AM', 'mdy', '2026-07-05T00:45', undefined],
    ['7/5/2026 12:45 PM', 'mdy', '2026-07-05T12:45', undefined],
    ['2026-07-05T13:45Z', 'ymd', '2026-07-05T13:45', 0],
    ['2026-07-05 13:45 UTC', 'ymd', '2026-07-05T13:45', 0],
    ['2026-07-05 13:45 gmt', 'ymd', '2026-07-05T13:45', 0],
    ['2026-07-05T13:45+05:30', 'ymd', '2026-07-05T13:45', 5.5],
    ['2026-07-05T13:45-0330', 'ymd', '2026-07-05T13:45', -3.5],
    ['2026-07-05T13:45+02', 'ymd', '2026-07-05T13:45', 2],
    ['2026-07-05T13:45-10:00', 'ymd', '2026-07-05T13:45', -10],
    ['20260705', 'ymd', '2026-07-05T00:00', undefined],
    ['2026070513', 'ymd', '2026-07-05T13:00', undefined],
    ['1998070513', 'ymd', '1998-07-05T13:00', undefined],
    ['202607051345', 'ymd', '2026-07-05T13:45', undefined],
    ['20260705134509', 'ymd', '2026-07-05T13:45:09', undefined],
    ['20260705T1345', 'ymd', '2026-07-05T13:45', undefined],
    ['20260705:1345', 'ymd', '2026-07-05T13:45', undefined],
    ['20260705T134509Z', 'ymd', '2026-07-05T13:45:09', 0],
    ['1767225600', 'ymd', '2026-01-01T00:00', 0],
    ['  1767225600 ', 'ymd', '2026-01-01T00:00', 0],
    ['1767225600000', 'ymd', '2026-01-01T00:00', 0],
    ['1000000000', 'ymd', '2001-09-09T01:46:40', 0],
    ['1000000000000', 'ymd', '2001-09-09T01:46:40', 0],
  ];
  test.each(said)('%j as %s is %s, offset %s', (text, order, clock, offsetH) => {
    expect(readStamp(text, order)).toEqual({ clockMs: utc(clock), offsetH });
  });

  test.each([
    ['', 'ymd'],
    ['noon', 'ymd'],
    ['2026-13-05', 'ymd'],
    ['2026-00-05', 'ymd'],
    ['2026-07-00', 'ymd'],
    ['2026-07-32', 'ymd'],
    ['2026-06-31', 'ymd'],
    ['2026-02-29', 'ymd'], // no leap year
    ['2026-07-05 25:00', 'ymd'],
    ['2026-07-05 13:60', 'ymd'],
    ['2026-07-05 13:45:61', 'ymd'],
    ['2026-07/05', 'ymd'],
    ['13/05/2026', 'mdy'],
    ['05/13/2026', 'dmy'],
    ['20261305', 'ymd'],
    ['2026070525', 'ymd'],
    ['x1767225600', 'ymd'],
    ['1767225600x', 'ymd'],
    ['17672256001', 'ymd'],
    ['2767225600000', 'ymd'],
  ] as const)('%j as %s is none', (text, order) => {
    expect(readStamp(text, order)).toBeUndefined();
  });

  test('blanks around it count for nothing up to 80 characters, and no more is looked at', () => {
    expect(readStamp('2026-07-05'.padEnd(80), 'ymd')?.clockMs).toBe(utc('2026-07-05T00:00'));
    expect(readStamp('2026-07-05'.padEnd(81), 'ymd')).toBeUndefined();
    expect(readTimeOfDay('14:30'.padEnd(80))).toBe(52_200_000);
    expect(readTimeOfDay('14:30'.padEnd(81))).toBeUndefined();
    expect(dateOrderOf(['13/02/2026'.padEnd(80)])).toBe('dmy');
    expect(dateOrderOf(['13/02/2026'.padEnd(81)])).toBeUndefined();
  });
});

test.each([
  [['2026/07/05', '2026/07/06'], 'ymd'],
  [['05.07.2026'], 'dmy'],
  [['13/07/2026'], 'dmy'],
  [['12/07/2026'], undefined],
  [['07/13/2026'], 'mdy'],
  [['07/12/2026'], undefined],
  [['01/02/2026', '13/02/2026', '01/03/2026'], 'dmy'],
  [['02/01/2026', '02/13/2026', '03/01/2026'], 'mdy'],
  [['', 'total', '31/12/2026 10:00'], 'dmy'],
  [['20260705'], undefined],
  [[], undefined],
])('the dates %j are in the order %s', (samples, order) => {
  expect(dateOrderOf(samples)).toBe(order);
});

describe('a time of day', () => {
  const HOUR = 3_600_000;
  test.each([
    ['0', 0],
    ['14', 14 * HOUR],
    ['24', 24 * HOUR],
    ['24:00', 24 * HOUR],
    ['14:30', 14.5 * HOUR],
    ['14h30', 14.5 * HOUR],
    ['14.30', 14.5 * HOUR],
    ['9:05:36', 9 * HOUR + 336_000],
    ['23:59', 24 * HOUR - 60_000],
    [' 7:15 ', 7.25 * HOUR],
    ['2:30 PM', 14.5 * HOUR],
    ['2:30pm', 14.5 * HOUR],
    ['2:30 P.M.', 14.5 * HOUR],
    ['2:30 am', 2.5 * HOUR],
    ['2 a.m', 2 * HOUR],
    ['12:15 am', 0.25 * HOUR],
    ['12:15 pm', 12.25 * HOUR],
  ])('%j is %d ms after midnight', (text, ms) => {
    expect(readTimeOfDay(text)).toBe(ms);
  });

  test.each(['', 'noon', '25', '14:60', '14:5', '14:300', '2026', '-1', 'x14', '14x', '14:30:5', '14:30 o’clock'])(
    '%j is none',
    (text) => {
      expect(readTimeOfDay(text)).toBeUndefined();
    },
  );
});
