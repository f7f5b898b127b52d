import { parseQuantity, readLog, readRig, readTrip, readWeatherFile } from '@stayput/core';
import { compileExpression, parseClock, parseWindows, roleOf } from '@stayput/core/model';
import { expect, test } from 'vitest';
import { wordsOf } from '../../packages/core/src/table/column-wording.js';
import { dateOrderOf, readStamp, readTimeOfDay } from '../../packages/core/src/table/time-stamp.js';
import { isRefusal } from './targets.js';

/**
 * Long runs of what patterns repeat, with something behind that keeps them from matching: a pattern that tries every way
 * to divide the run would take minutes to hours over these, all texts together.
 */
const LENGTH = 20_000;
const RUNS = [
  ' ',
  '\t',
  '"',
  "'",
  '0',
  '1',
  '9',
  '.',
  ',',
  '-',
  '+',
  '/',
  ':',
  'a',
  'A',
  'e',
  'm',
  '(',
  '[',
  '1 ',
  '1,',
  ' ,',
  '1.',
  'a-',
  'm ',
  'A/',
];
const long = RUNS.flatMap((run) => {
  const text = run.repeat(LENGTH / run.length);
  return [text, `${text}x`, `1${text}x`, `2026-04-10${text}x`, `12:00${text}x`, `utc${text}x`, `m${text}x`, `x${text}`];
});

const HEAD = 'time (UTC),voltage (V),current (A)\n';
const ROWS = '2026-04-10 00:00,13,1\n2026-04-10 00:10,13,1\n';
const WEATHER = 'time (UTC),GHI (W/m2),air temperature (C)\n';
const HOURS = '2026-07-05 01:00,0,20\n2026-07-05 02:00,0,20\n2026-07-05 03:00,0,20\n';
const plain = (text: string) => text.replaceAll(/[\n\r]/g, ' ');
const rigWith = (load: object) =>
  readRig(
    JSON.stringify({
      battery: { chemistry: 'LFP', capacity: '100 Ah' },
      loads: [{ name: 'lamp', power: '1 W', ...load }],
    }),
  );

const READERS: readonly (readonly [string, (text: string) => unknown])[] = [
  ['a quantity', (text) => parseQuantity(text, 'charge')],
  ['a section', (text) => parseQuantity(`${text} AWG`, 'section')],
  ['a count a day', (text) => parseQuantity(`1 ${text} a day`, 'count')],
  ['a clock time', (text) => parseClock(text)],
  ['a time after sunset', (text) => parseClock(`sunset + ${text}`)],
  ['windows', (text) => parseWindows(text)],
  ['an expression', (text) => compileExpression(text, ['cabin'])],
  ['a stamp', (text) => [readStamp(text, 'dmy'), readTimeOfDay(text), dateOrderOf([text])]],
  ['a heading', (text) => [roleOf(text), wordsOf(text)]],
  ['a rig', (text) => readRig(text)],
  ['a power', (text) => rigWith({ power: text })],
  ['a timetable', (text) => rigWith({ when: text })],
  ['a name', (text) => rigWith({ name: text })],
  [
    'a setting',
    (text) => readRig('battery: { chemistry: LFP, capacity: 1 Ah }', { set: [`battery.capacity=${text}`] }),
  ],
  [
    'months',
    (text) => readRig(JSON.stringify({ battery: { chemistry: 'LFP', capacity: '100 Ah' }, months: { sun: text } })),
  ],
  [
    'a stop',
    (text) => readTrip(JSON.stringify({ stops: [{ at: text, zone: text, from: text, nights: 1, driveFrom: text }] })),
  ],
  ['a log', (text) => readLog(text)],
  ['a heading of a log', (text) => readLog(`time (UTC),voltage (V),${plain(text)}\n${ROWS}`)],
  ['a stamp of a log', (text) => readLog(`${HEAD}${ROWS}${plain(text)},13,1\n`)],
  ['a cell of a log', (text) => readLog(`${HEAD}${ROWS}2026-04-10 00:20,${plain(text)},1\n`)],
  ['what stands above a log', (text) => readLog(`time zone ${plain(text)}\n${HEAD}${ROWS}`)],
  ['a weather file', (text) => readWeatherFile(text)],
  ['a heading of weather', (text) => readWeatherFile(`${WEATHER.trim()},${plain(text)}\n${HOURS}`)],
  ['a stamp of weather', (text) => readWeatherFile(`${WEATHER}${HOURS}${plain(text)},0,20\n`)],
  ['a cell of weather', (text) => readWeatherFile(`${WEATHER}${HOURS}2026-07-05 04:00,0,${plain(text)}\n`)],
  ['what stands above weather', (text) => readWeatherFile(`time zone ${plain(text)}\n${WEATHER}${HOURS}`)],
  ['an EPW record', (text) => readWeatherFile(`LOCATION,${plain(text)},40,-60,-4,100\n1995,1,1,1,0,${plain(text)}`)],
];

test.each(READERS)(
  '%s of 20,000 characters is read or refused, and no pattern runs away',
  (_, read) => {
    const began = performance.now();
    for (const text of long)
      try {
        read(text);
      } catch (error) {
        if (!isRefusal(error)) throw error;
      }
    // Only a hang is meant: on an idle machine each takes below a second or two, all texts together.
    expect(performance.now() - began).toBeLessThan(60_000);
  },
  120_000,
);
