import { describe, expect, test } from 'vitest';
import { readCounter } from '../../../packages/core/src/log/columns/counters.js';
import { readHeading } from '../../../packages/core/src/log/columns/heading-wording.js';
import { readLog } from '../../../packages/core/src/log/index.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const FROM = Date.UTC(2026, 4, 4);
const STEP = 10 * MINUTE;

/** Three days by ten minutes: 8 A in from 9 to 15 h, 3 A out else, 13 V; sun 8 A more than the battery takes of loads. */
interface Row {
  readonly ms: number;
  readonly amps: number;
  readonly solarW: number;
}
const ROWS: Row[] = Array.from({ length: 3 * 144 }, (_, k) => {
  const hour = (k / 6) % 24;
  const isDay = hour >= 9 && hour < 15;
  return { ms: FROM + k * STEP, amps: isDay ? 8 : -3, solarW: isDay ? 143 : 0 };
});
const iso = (ms: number) => new Date(ms).toISOString().slice(0, 19);

/** The log with a counter that adds up what flowed before each row. */
function logOf(
  heading: string,
  rate: (row: Row) => number,
  { daily = false, kept = () => true }: { daily?: boolean; kept?: (row: Row) => boolean } = {},
): string {
  let sum = 0;
  const lines = ROWS.flatMap((row) => {
    if (daily && (row.ms - FROM) % (24 * HOUR) === 0) sum = 0;
    const line = `${iso(row.ms)},13,${row.amps},${row.solarW},${sum.toFixed(3)}`;
    sum += (rate(row) * STEP) / HOUR;
    return kept(row) ? [line] : [];
  });
  return `time (UTC),battery voltage (V),battery current (A),solar power (W),${heading}\n${lines.join('\n')}\n`;
}
const read = (text: string, ignore: readonly string[] = []) =>
  readLog(text, { positive: 'charging', ...(ignore.length > 0 && { ignore }) });

test.each([
  ['Yield today (kWh)', { of: 'harvest', in: 'Wh', times: 1000 }],
  ['PV energy (Wh)', { of: 'harvest', in: 'Wh', times: 1 }],
  ['Solarertrag (kWh)', { of: 'harvest', in: 'Wh', times: 1000 }],
  ['Charged energy (kWh)', { of: 'charged', in: 'Wh', times: 1000 }],
  ['Discharged Ah', { of: 'discharged', in: 'Ah', times: 1 }],
  ['Ah below full', { of: 'net', in: 'Ah', times: 1 }],
  ['Consumed (mAh)', { of: 'net', in: 'Ah', times: 0.001 }],
  ['Load energy (Wh)', { of: 'load', in: 'Wh', times: 1 }],
])('"%s" is a counter', (heading, counter) => {
  expect(readCounter(heading)).toEqual(counter);
  expect(readHeading(heading)).toBeUndefined();
});

test.each([
  'Capacity (Ah)',
  'Rated capacity (Ah)',
  'Total Ah',
  'Solar irradiation (Wh/m2)',
  'Alternator energy (Wh)',
  'AC energy (kWh)',
  'Energy (kWh)',
  'Yield',
])('"%s" is none that anything can be held against', (heading) => {
  expect(readCounter(heading)).toBeUndefined();
});

describe('a counter that counts what the columns show', () => {
  test.each([
    ['Yield today (kWh)', ({ solarW }: Row) => solarW / 1000, true],
    ['Total PV yield (Wh)', ({ solarW }: Row) => solarW, false],
    ['Charged (Ah)', ({ amps }: Row) => Math.max(0, amps), false],
    ['Discharged energy (Wh)', ({ amps }: Row) => 13 * Math.max(0, -amps), true],
    ['Discharged Ah', ({ amps }: Row) => Math.min(0, amps), false], // it counts down
    ['Consumed Ah', ({ amps }: Row) => amps, false],
    ['Ah below full', ({ amps }: Row) => -amps, false],
  ])('%s', (heading, rate, daily) => {
    expect(read(logOf(heading, rate, { daily })).unused).toEqual([]);
  });

  test('also over a gap in which it counted on', () => {
    const kept = ({ ms }: Row) => ms < FROM + 10 * HOUR || ms > FROM + 40 * HOUR;
    expect(read(logOf('Total PV yield (Wh)', ({ solarW }) => solarW, { kept })).gapCount).toBe(1);
  });
});

describe('a counter that contradicts them', () => {
  test.each([
    [
      'Yield today (kWh)',
      ({ solarW }: Row) => (2 * solarW) / 1000,
      true,
      /contradicts "solar power \(W\)".* 2 times.*units\.solarPower/,
    ],
    ['Yield today (kWh)', () => 0.1, true, /contradicts "solar power \(W\)"/],
    [
      'Charged (Ah)',
      ({ amps }: Row) => 0.3 * Math.max(0, amps),
      false,
      /contradicts "battery current \(A\)".* 0\.3 times/,
    ],
    [
      'Discharged energy (Wh)',
      ({ amps }: Row) => Math.max(0, -amps),
      false,
      /contradicts "battery current \(A\)".* 0\.077 times/,
    ],
    ['Consumed Ah', ({ amps }: Row) => 2 * amps, false, /contradicts "battery current \(A\)".* 2 times/],
    ['Consumed Ah', ({ amps }: Row) => amps / 1000, false, /contradicts "battery current \(A\)".* 0\.001 times/],
  ])('%s %#', (heading, rate, daily, says) => {
    const text = logOf(heading, rate, { daily });
    expect(() => read(text)).toThrow(says);
    expect(() => read(text)).toThrow(`ignore ${heading} leaves the counter out`);
    expect(read(text, [heading]).unused).toEqual([heading]);
  });
});

test('a state of charge that goes its own way contradicts the current', () => {
  const lines = (soc: (k: number) => number) =>
    ROWS.map(({ ms, amps }, k) => `${iso(ms)},13,${amps},${(100 * soc(k)).toFixed(1)}`).join('\n');
  const head = 'time (UTC),battery voltage (V),battery current (A),state of charge (%)\n';
  const own = head + lines((k) => 0.6 + 0.3 * Math.sin(k / 7));
  expect(() => read(own)).toThrow(/the state of charge contradicts the current.*columns\.soc/);
  let soc = 0.6;
  const sound = head + lines((k) => (soc += ROWS[k]!.amps / 6 / 100));
  expect(read(sound).counterAh).toBeCloseTo(100, -1);
});

test.each(['Fridge current (A)', 'Heater power (W)', 'USB voltage (V)', 'Courant frigo (A)', 'Pumpe (W)'])(
  '"%s" is not the battery\'s',
  (heading) => {
    expect(readHeading(heading)).toBeUndefined();
  },
);

test.each([
  ['PV1 power (W)', 'solarPower'],
  ['MPPT2 (A)', 'solarCurrent'],
  ['Net current (A)', 'current'],
  ['Stromstärke (A)', 'current'],
  ['Momentanleistung (W)', 'power'],
  ['V', 'voltage'],
  ['Main DC voltage', 'voltage'],
])('"%s" is the %s', (heading, role) => {
  expect(readHeading(heading)?.role).toBe(role);
});
