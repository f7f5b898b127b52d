import { describe, expect, test } from 'vitest';
import {
  addDays,
  civilText,
  daysBetween,
  isZone,
  offsetSpans,
  standardOffsetH,
  startOfDayMs,
  utcOffsetH,
} from '../../../packages/core/src/place/index.js';

// Rules of the zones: IANA time zone database, 2025 and 2026.
const utc = (text: string) => Date.parse(`${text}Z`);

test.each([
  ['Europe/Lisbon', true],
  ['UTC', true],
  ['Europe/Nowhere', false],
  ['', false],
])('%s is a zone: %s', (zone, known) => {
  expect(isZone(zone)).toBe(known);
});

test.each([
  ['2026-07-03', 'UTC', '2026-07-03T00:00'],
  ['2026-07-03', 'Europe/Lisbon', '2026-07-02T23:00'],
  ['2026-01-03', 'Europe/Lisbon', '2026-01-03T00:00'],
  ['2026-07-03', 'America/Denver', '2026-07-03T06:00'],
  ['2026-04-24', 'Africa/Cairo', '2026-04-23T22:00'], // summer time begins at midnight, which is left out
])('%s in %s begins at %s UTC', (date, zone, expected) => {
  expect(startOfDayMs(date, zone)).toBe(utc(expected));
});

test.each([
  ['2026-02-27', 2, '2026-03-01'],
  ['2028-02-27', 2, '2028-02-29'],
  ['2026-12-31', 1, '2027-01-01'],
  ['2026-03-01', -1, '2026-02-28'],
  ['2026-03-01', 0, '2026-03-01'],
  ['2026-01-01', 365, '2027-01-01'],
])('%s and %i days is %s', (from, days, to) => {
  expect(addDays(from, days)).toBe(to);
  expect(daysBetween(from, to)).toBe(days);
  expect(daysBetween(to, from) + days).toBe(0);
});

test.each([
  ['2026-01-15T12:00', 'Europe/Lisbon', 0],
  ['2026-03-29T00:59', 'Europe/Lisbon', 0],
  ['2026-03-29T01:00', 'Europe/Lisbon', 1],
  ['2026-07-15T12:00', 'Asia/Kathmandu', 5.75],
  ['2026-07-15T12:00', 'America/St_Johns', -2.5],
])('at %s UTC the clock of %s is %d h ahead', (at, zone, hours) => {
  expect(utcOffsetH(utc(at), zone)).toBe(hours);
});

test('an unknown zone is refused', () => {
  expect(() => utcOffsetH(0, 'Europe/Nowhere')).toThrow(RangeError);
});

test.each([
  ['Europe/Lisbon', 0],
  ['Europe/Madrid', 1],
  ['Australia/Sydney', 10],
  ['America/Denver', -7],
  ['Asia/Kolkata', 5.5],
])('outside summer time the clock of %s is %d h ahead, asked in any month', (zone, hours) => {
  for (let month = 0; month < 12; month++) expect(standardOffsetH(Date.UTC(2026, month, 15), zone)).toBe(hours);
});

test('the standard offset is that of the year asked for: Istanbul left winter time in 2016', () => {
  expect(standardOffsetH(utc('2015-06-01T00:00'), 'Europe/Istanbul')).toBe(2);
  expect(standardOffsetH(utc('2020-06-01T00:00'), 'Europe/Istanbul')).toBe(3);
});

describe('offsets in force', () => {
  const [spring, autumn] = [utc('2026-03-29T01:00'), utc('2026-10-25T01:00')];

  test('over two years change in March and October', () => {
    expect(offsetSpans(utc('2026-01-10T06:00'), utc('2027-12-31T00:00'), 'Europe/Madrid')).toEqual([
      { fromMs: utc('2026-01-10T06:00'), utcOffsetH: 1 },
      { fromMs: spring, utcOffsetH: 2 },
      { fromMs: autumn, utcOffsetH: 1 },
      { fromMs: utc('2027-03-28T01:00'), utcOffsetH: 2 },
      { fromMs: utc('2027-10-31T01:00'), utcOffsetH: 1 },
    ]);
  });

  test('begin with the span asked for and leave out a change at its end', () => {
    expect(offsetSpans(spring - 1, spring, 'Europe/Lisbon')).toEqual([{ fromMs: spring - 1, utcOffsetH: 0 }]);
    expect(offsetSpans(spring - 1, spring + 1, 'Europe/Lisbon')).toEqual([
      { fromMs: spring - 1, utcOffsetH: 0 },
      { fromMs: spring, utcOffsetH: 1 },
    ]);
    expect(offsetSpans(spring, spring + 1, 'Europe/Lisbon')).toEqual([{ fromMs: spring, utcOffsetH: 1 }]);
  });

  test('of a zone without summer time are one', () => {
    for (const zone of ['UTC', 'Asia/Kolkata'])
      expect(offsetSpans(utc('2026-01-01T00:00'), utc('2036-01-01T00:00'), zone)).toHaveLength(1);
  });
});

test.each([
  ['2026-10-03T13:20:59', 'Europe/Lisbon', '2026-10-03 14:20'],
  ['2026-12-31T23:00:00', 'Europe/Madrid', '2027-01-01 00:00'],
  ['2026-01-01T02:05:00', 'America/Denver', '2025-12-31 19:05'],
])('%s UTC is read in %s as %s', (at, zone, text) => {
  expect(civilText(utc(at), zone)).toBe(text);
});
