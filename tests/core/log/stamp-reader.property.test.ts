import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createClockReader } from '../../../packages/core/src/log/clock/clock-reader.js';
import { createStampReader } from '../../../packages/core/src/log/clock/stamp-reader.js';
import { readStamp, readTimeOfDay } from '../../../packages/core/src/table/index.js';

const part = (most: number) =>
  fc
    .tuple(fc.integer({ min: 0, max: most }), fc.boolean())
    .map(([n, pad]) => (pad ? String(n).padStart(2, '0') : `${n}`));
const mark = fc.constantFrom('-', '/', '.');
const date = fc.oneof(
  fc
    .tuple(fc.constantFrom('2026', '2026', '26', '1999'), mark, part(13), part(32))
    .map(([y, s, m, d]) => [y, m, d].join(s)),
  fc
    .tuple(fc.constantFrom('2026', '2026', '26', '1999'), mark, part(13), part(32))
    .map(([y, s, m, d]) => [d, m, y].join(s)),
);
const time = fc
  .tuple(part(25), part(60), fc.option(part(61)), fc.constantFrom('', '', '', '.', '.5', '.0004', '.1234567', ',25'))
  .map(([h, m, s, decimals]) => `${h}:${m}${s === null ? '' : `:${s}`}${decimals}`);
const behind = fc.constantFrom(
  '',
  '',
  '',
  ' AM',
  ' pm',
  'PM',
  ' p.m.',
  'Z',
  'z',
  ' utc',
  '+02:00',
  '-0330',
  '+05',
  ' +01:00',
  ' ',
  'x',
);
const epoch = fc.oneof(
  fc.integer({ min: 999_999_990, max: 1_899_999_999 }).map(String),
  fc.integer({ min: 999_999_999_990, max: 2_000_000_000_010 }).map(String),
  fc.constantFrom('1000000000000', '177000000a', '1e12', '01770000000'),
);
const order = fc.constantFrom('ymd', 'dmy', 'mdy');

/** Few dates and ways of writing among many times, so that what is known of one stamp is tried on the next. */
const stamps = fc
  .tuple(
    fc.array(
      fc.tuple(date, fc.constantFrom(' ', ' ', 'T', '  ', ', ')).map((parts) => parts.join('')),
      { minLength: 1, maxLength: 3 },
    ),
    fc.array(behind, { minLength: 1, maxLength: 3 }),
  )
  .chain(([dates, ends]) =>
    fc.array(
      fc.oneof(
        {
          weight: 9,
          arbitrary: fc.tuple(fc.constantFrom(...dates), time, fc.constantFrom(...ends)).map((cells) => cells.join('')),
        },
        {
          weight: 1,
          arbitrary: fc.oneof(
            epoch,
            time,
            date,
            fc.constantFrom('4 May 2026, 10:30 pm', '14:20 10/04/2026', '', 'soon'),
          ),
        },
      ),
      { maxLength: 40 },
    ),
  );

test('a stamp says the same whatever was read before it', () => {
  fc.assert(
    fc.property(order, stamps, (dateOrder, texts) => {
      const one = createStampReader(dateOrder);
      for (const text of texts) {
        const fresh = createStampReader(dateOrder);
        const ms = one.read(text);
        expect([text, ms]).toEqual([text, fresh.read(text)]);
        if (!Number.isNaN(ms)) expect([text, one.isUtc]).toEqual([text, fresh.isUtc]);
      }
    }),
    { numRuns: 1000 },
  );
});

test('seconds and milliseconds since 1970 are read as the patterns read them', () => {
  fc.assert(
    fc.property(epoch, (text) => {
      const stamp = readStamp(text, 'ymd');
      const reader = createStampReader('ymd');
      expect(reader.read(text)).toBe(stamp?.clockMs ?? Number.NaN);
      if (stamp) expect(reader.isUtc).toBe(true);
    }),
  );
});

test('ten digits from 19… on are seconds after 2030 in a log, not hours of the last century', () => {
  const reader = createStampReader('ymd');
  expect(reader.read('1903010203')).toBe(1_903_010_203_000);
  expect(reader.isUtc).toBe(true);
});

test('a time of day that is read in place is what the pattern makes of it', () => {
  fc.assert(
    fc.property(time, fc.constantFrom('', 'x', '2026-04-10 '), (text, before) => {
      const clock = createClockReader();
      const ms = clock.read(before + text, before.length);
      if (Number.isNaN(ms + clock.decimalsMs) || clock.end !== before.length + text.length) return;
      expect(ms).toBe(readTimeOfDay(text.replace(/\.\d+$/, '')));
      const decimals = /\.\d+$/.exec(text)?.[0];
      expect(clock.decimalsMs).toBe(decimals === undefined ? 0 : Math.round(Number(`0${decimals}`) * 1000));
    }),
    { numRuns: 1000 },
  );
});
