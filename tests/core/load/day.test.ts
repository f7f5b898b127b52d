import { describe, expect, test } from 'vitest';
import { clockMs, type DayInfo, windowSpans } from '../../../packages/core/src/load/index.js';
import type { ClockPoint } from '../../../packages/core/src/rig/index.js';
import { changeDay, clock, HOUR_MS, plainDay, sunrise, sunset, window } from './example.js';

/** The spans of one window, in hours since the day began. */
function hours(from: ClockPoint, to: ClockPoint, day: DayInfo = plainDay(0)): number[][] {
  return windowSpans([window(from, to)], day).map(({ fromMs, toMs }) => [
    (fromMs - day.startMs) / HOUR_MS,
    (toMs - day.startMs) / HOUR_MS,
  ]);
}

describe('clock times', () => {
  test('are local, whatever the zone', () => {
    const day = plainDay(0, { startMs: -2 * HOUR_MS, endMs: 22 * HOUR_MS, offsets: [{ fromMs: 0, utcOffsetH: 2 }] });
    expect(clockMs(day, 7.5)).toBe(5.5 * HOUR_MS);
    expect(clockMs(day, 24)).toBe(day.endMs);
  });
  test('on a day of 23 hours: the skipped hour falls on the change, later hours come an hour sooner', () => {
    const day = changeDay(23);
    expect([1, 2, 2.5, 3, 12, 24].map((h) => (clockMs(day, h) - day.startMs) / HOUR_MS)).toEqual([1, 2, 2, 2, 11, 23]);
  });
  test('on a day of 25 hours: the hour that comes twice is the first, later hours come an hour later', () => {
    const day = changeDay(25);
    expect([1, 2, 2.5, 3, 12, 24].map((h) => (clockMs(day, h) - day.startMs) / HOUR_MS)).toEqual([
      1, 2, 2.5, 4, 13, 25,
    ]);
  });
  test('a day that begins some minutes off midnight keeps the clock', () => {
    const day = plainDay(0, { startMs: 0.25 * HOUR_MS });
    expect(clockMs(day, 7)).toBe(7 * HOUR_MS);
    expect(clockMs(day, 0)).toBe(day.startMs);
  });
});

describe('windows', () => {
  test('by the clock', () => expect(hours(clock(9), clock(17))).toEqual([[9, 17]]));
  test('across midnight give the day its early and its late part', () =>
    expect(hours(clock(22), clock(2))).toEqual([
      [0, 2],
      [22, 24],
    ]));
  test('to midnight', () => expect(hours(clock(20), clock(0))).toEqual([[20, 24]]));
  test('from sunset', () => expect(hours(sunset(), clock(22.5))).toEqual([[18, 22.5]]));
  test('from an hour before sunrise to the sun up', () => expect(hours(sunrise(-1), sunrise(1))).toEqual([[5, 7]]));
  test('through the night', () =>
    expect(hours(sunset(), sunrise())).toEqual([
      [0, 6],
      [18, 24],
    ]));
  test('a sunset later than the end of its window gives nothing, not 23 hours', () =>
    expect(hours(sunset(), clock(22.5), plainDay(0, { sunsetMs: 22.7 * HOUR_MS }))).toEqual([]));
  test('a sunset after midnight leaves the dark between it and sunrise', () =>
    expect(hours(sunset(), sunrise(), plainDay(0, { sunriseMs: 3 * HOUR_MS, sunsetMs: 24.5 * HOUR_MS }))).toEqual([
      [0.5, 3],
    ]));
  test('that overlap are merged', () =>
    expect(windowSpans([window(clock(8), clock(12)), window(clock(10), clock(14))], plainDay(0))).toEqual([
      { fromMs: 8 * HOUR_MS, toMs: 14 * HOUR_MS },
    ]));
  test('none at all means the whole day', () =>
    expect(windowSpans([], changeDay(25))).toEqual([{ fromMs: -2 * HOUR_MS, toMs: 23 * HOUR_MS }]));
});

test.each([
  ['sunset to 22:30', 0, 22.5, sunset(), clock(22.5)],
  ['sunset to 01:00', 0, 24, sunset(), clock(1)],
  ['sunset to sunrise', 0, 24, sunset(), sunrise()],
  ['sunrise to sunset', 24, 0, sunrise(), sunset()],
  ['20:00 to sunrise', 0, 24, clock(20), sunrise()],
  ['06:00 to sunset', 18, 0, clock(6), sunset()],
] as const)(
  '%s lasts %d h where the sun does not set and %d h where it does not rise',
  (_name, polarDayH, polarNightH, from, to) => {
    const length = (polar: 'day' | 'night') => {
      const { sunriseMs: _up, sunsetMs: _down, ...rest } = plainDay(0);
      return hours(from, to, { ...rest, polar }).reduce((total, [a, b]) => total + b! - a!, 0);
    };
    expect([length('day'), length('night')]).toEqual([polarDayH, polarNightH]);
  },
);

test('a day without sun times that is not marked polar is a fault of the caller', () => {
  const { sunsetMs: _down, ...rest } = plainDay(0);
  expect(() => hours(sunset(), clock(22), rest)).toThrow(RangeError);
});
