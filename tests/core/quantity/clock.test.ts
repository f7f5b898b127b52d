import { expect, test } from 'vitest';
import {
  formatWindows,
  parseClock,
  parseWindows,
  QuantityError,
  windowHours,
} from '../../../packages/core/src/quantity/index.js';

test.each([
  ['22:30', { kind: 'clock', hour: 22.5 }],
  ['7:00', { kind: 'clock', hour: 7 }],
  ['24:00', { kind: 'clock', hour: 24 }],
  ['sunset', { kind: 'sunset', offsetH: 0 }],
  ['Sunrise + 1 h', { kind: 'sunrise', offsetH: 1 }],
  ['sunset - 30 min', { kind: 'sunset', offsetH: -0.5 }],
])('%s', (text, point) => {
  expect(parseClock(text)).toEqual(point);
});

test.each(['', '25:00', '24:01', '12:60', '9', 'noon', 'sunset + 5', 'sunset + 3 V', 'sunset + 30 h', 'sunset * 2 h'])(
  '%j is no time of day',
  (text) => {
    expect(() => parseClock(text)).toThrow(QuantityError);
  },
);

test('several windows are joined by and', () => {
  const windows = parseWindows('07:00 to 09:00 and sunset to 22:30');
  expect(windows).toEqual([
    { from: { kind: 'clock', hour: 7 }, to: { kind: 'clock', hour: 9 } },
    { from: { kind: 'sunset', offsetH: 0 }, to: { kind: 'clock', hour: 22.5 } },
  ]);
  expect(formatWindows(windows)).toBe('07:00 to 09:00 and sunset to 22:30');
  expect(parseWindows(formatWindows(windows))).toEqual(windows);
  expect(parseWindows('always')).toEqual([]);
});

test('a window may cross midnight', () => {
  expect(windowHours(parseWindows('22:00 to 06:00')[0]!)).toBe(8);
  expect(windowHours(parseWindows('sunset to 06:00')[0]!)).toBeUndefined();
});

test.each(['09:00', '09:00 to', 'to 09:00', '09:00 to 09:00', '09:00 - 17:00', '09:00 to 10:00 to 11:00', ' and '])(
  '%j is no window',
  (text) => {
    expect(() => parseWindows(text)).toThrow(QuantityError);
  },
);
