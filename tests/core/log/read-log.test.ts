import { expect, test } from 'vitest';
import {
  createLogReader,
  type LogOptions,
  type RowAccount,
  readLog,
  readLogTable,
} from '../../../packages/core/src/log/index.js';

const MINUTE = 60_000;
const iso = (ms: number) => new Date(ms).toISOString().slice(0, 19).replace('T', ' ');

/** A quiet day and night every 10 minutes from 10 April 2026, UTC: 2 A in by day, 1 A out by night. */
function rows(count: number, line: (ms: number, k: number) => string, startMs = Date.UTC(2026, 3, 10)): string {
  return Array.from({ length: count }, (_, k) => line(startMs + k * 10 * MINUTE, k)).join('\n');
}
const isDay = (ms: number) => ms % 864e5 >= 7 * 36e5 && ms % 864e5 < 17 * 36e5;
const plain = (ms: number) => `${iso(ms)},${isDay(ms) ? 13.4 : 13},${isDay(ms) ? 2 : -1},${isDay(ms) ? 30 : 0}`;
const HEAD = 'time (UTC),voltage (V),current (A),solar power (W)\n';

function read(text: string, options: LogOptions = {}) {
  const accounts: RowAccount[] = [];
  const reader = createLogReader({ ...options, onAccount: (account) => accounts.push(account) });
  reader.push(text);
  return { reading: reader.end(), accounts };
}
const times = (text: string, options: LogOptions = {}) =>
  [...readLogTable(text, options).table.timeMs].map((ms) => new Date(ms).toISOString().slice(0, 16));

test('charge, harvest, night draw and always-on draw of a day worked out by hand', () => {
  const { reading } = read(HEAD + rows(144, plain));
  const day = reading.daily[0]!;
  expect(day.chargedAh).toBeCloseTo(20, 9); // 10 h at 2 A
  expect(day.dischargedAh).toBeCloseTo(14, 9); // 14 h at 1 A
  expect(day.harvestWh).toBeCloseTo(300, 9); // 10 h at 30 W
  expect(day.baseLoadW).toBeCloseTo(13, 9);
  expect(day.baseLoadWh).toBeCloseTo(14 * 13, 9);
  expect(Math.abs(day.alwaysOnA! - 1)).toBeLessThan(0.02); // bins of 20 mA
  expect([day.lowestV, day.highestV]).toEqual([13, 13.4]);
  expect(reading.rows).toEqual({ read: 144, kept: 144, corrected: 0, rejected: 0 });
  expect(reading.time.stepH).toBeCloseTo(1 / 6, 9);
});

test.each([
  ['semicolon, decimal comma', 'time (UTC);voltage (V);current (A)', (ms: number) => `${iso(ms)};13,25;-1,5`],
  ['tab', 'time (UTC)\tvoltage (V)\tcurrent (A)', (ms: number) => `${iso(ms)}\t13.25\t-1.5`],
  [
    'quoted, with a comma in a heading',
    '"time (UTC)","voltage, house (V)","current (A)"',
    (ms: number) => `"${iso(ms)}","13.25","-1.5"`,
  ],
  [
    'quoted decimal comma between commas',
    'time (UTC),voltage (V),current (A)',
    (ms: number) => `${iso(ms)},"13,25","-1,5"`,
  ],
  ['millivolts and milliamperes', 'time (UTC),Batt mV,Batt mA', (ms: number) => `${iso(ms)},13250,-1500`],
  ['units below the headings', 'time (UTC),voltage,current\n,V,A', (ms: number) => `${iso(ms)},13.25,-1.5`],
  ['units beside the numbers', 'time (UTC),voltage,current', (ms: number) => `${iso(ms)},13.25 V,-1.5 A`],
  [
    'a preamble',
    'Export of a log\nSerial: 12\n\ntime (UTC),voltage (V),current (A)',
    (ms: number) => `${iso(ms)},13.25,-1.5`,
  ],
  [
    'German headings',
    'Datum;Uhrzeit;Spannung (V);Strom (A)',
    (ms: number) => `${iso(ms).slice(0, 10).split('-').reverse().join('.')};${iso(ms).slice(11)};13,25;-1,5`,
  ],
])('%s reads as 13.25 V and -1.5 A', (_, head, line) => {
  const { table } = readLogTable(`\ufeff${head}\r\n${rows(30, line).replaceAll('\n', '\r\n')}\r\n`, {
    positive: 'charging',
  });
  expect(table.rows).toBe(30);
  expect(table.values.voltage![7]).toBe(13.25);
  expect(table.values.current![7]).toBe(-1.5);
  expect(table.timeMs[29]).toBe(Date.UTC(2026, 3, 10) + 29 * 10 * MINUTE);
});

test.each([
  ['2026-04-10 14:20', 'ymd'],
  ['10/04/2026 14:20', 'dmy'],
  ['04/10/2026 14:20', 'mdy'],
  ['04/10/2026 02:20 PM', 'mdy'],
  ['10.04.2026 14:20:00', 'dmy'],
  ['10 Apr 2026 14:20', 'dmy'],
  ['Fri Apr 10, 2026 14:20', 'dmy'],
  ['14:20 10/04/2026', 'dmy'],
  ['2026-04-10T14:20:00Z', 'ymd'],
  ['2026-04-10T16:20:00+02:00', 'ymd'],
  ['1775830800', 'ymd'],
])('the stamp %s is 10 April 2026, 14:20', (stamp, dateOrder) => {
  const later = stamp.replace(/(\d\d):20/, '$1:30').replace('1775830800', '1775831400');
  const text = `time,voltage (V)\n"${stamp}",13.2\n"${later}",13.3\n`;
  expect(times(text, { dateOrder: dateOrder as 'ymd', zone: 'UTC' })).toEqual(['2026-04-10T14:20', '2026-04-10T14:30']);
});

test('the order of dates is told by a part above 12, or by which part changes overnight; else it is asked', () => {
  const stamped = (order: (d: string, m: string) => string, count: number, start: number) =>
    `time,voltage (V)\n${rows(count, (ms) => `${order(iso(ms).slice(8, 10), iso(ms).slice(5, 7))}/2026 ${iso(ms).slice(11, 16)},13`, start)}`;
  const monthFirst = (d: string, m: string) => `${m}/${d}`;
  const dayFirst = (d: string, m: string) => `${d}/${m}`;
  const third = Date.UTC(2026, 3, 3);
  expect(read(stamped(monthFirst, 2000, third)).reading.time).toMatchObject({ dateOrder: 'mdy', dateOrderBy: 'dates' });
  expect(read(stamped(monthFirst, 300, third)).reading.time).toMatchObject({ dateOrder: 'mdy', dateOrderBy: 'dates' });
  expect(read(stamped(dayFirst, 300, third)).reading.time).toMatchObject({ dateOrder: 'dmy', dateOrderBy: 'dates' });
  expect(() => read(stamped(monthFirst, 100, third))).toThrow(/day first or month first.*dateOrder dmy, mdy or ymd/);
  expect(read(stamped(monthFirst, 100, third), { dateOrder: 'mdy' }).reading.span.from).toBe('2026-04-03T00:00:00Z');
});

test('local time over both changes of daylight saving becomes an even row of UTC', () => {
  for (const change of [Date.UTC(2026, 2, 29, 1), Date.UTC(2026, 9, 25, 1)]) {
    const start = change - 6 * 36e5;
    const before = change === Date.UTC(2026, 2, 29, 1) ? 1 : 2;
    const local = (ms: number) => iso(ms + (ms < change ? before : 3 - before) * 36e5);
    const { table } = readLogTable(`time,voltage (V)\n${rows(72, (ms) => `${local(ms)},13`, start)}`, {
      zone: 'Europe/Rome',
    });
    expect(table.rows).toBe(72);
    expect([...table.timeMs].every((ms, k) => ms === start + k * 10 * MINUTE)).toBe(true);
  }
});

test('a clock that lost the time is moved to end where it is right again, and never before rows already there', () => {
  const start = Date.UTC(2026, 3, 10);
  const text =
    HEAD +
    rows(200, (ms, k) => (k >= 50 && k < 80 ? plain(Date.UTC(2000, 0, 1) + (k - 50) * 10 * MINUTE) : plain(ms)), start);
  const { reading } = read(text);
  expect(reading.reasons).toMatchObject([{ code: 'clock reset', count: 30, firstLine: 52 }]);
  expect(times(text)).toEqual(
    Array.from({ length: 200 }, (_, k) => new Date(start + k * 10 * MINUTE).toISOString().slice(0, 16)),
  );
  // it never comes back: nobody knows the time
  const lost = read(
    HEAD + rows(200, (ms, k) => plain(k >= 150 ? Date.UTC(2000, 0, 1) + k * 10 * MINUTE : ms), start),
  ).reading;
  expect(lost.rows).toMatchObject({ kept: 150, rejected: 50 });
  expect(lost.reasons).toMatchObject([{ code: 'clock lost', count: 50 }]);
});

test('a clock that was never set is not believed for the room before the first row', () => {
  const { reading } = read(
    `${HEAD}2026-04-12 03:40,13,0,0\n2026-04-10 00:00,13,0,0\n2000-01-01 00:00,13,0,0\n2026-04-12 00:10,13,0,0\n${rows(4, plain, Date.UTC(2026, 3, 14, 4))}`,
    { positive: 'charging' },
  );
  expect(reading.span.from).toBe('2026-04-10T00:00:00Z');
  expect(reading.reasons).toContainEqual(expect.objectContaining({ code: 'clock lost', count: 1 }));
});

test('two rows of one time at the end, after a long gap, are one', () => {
  const text = `${HEAD}${rows(3, plain)}\n2026-07-01 10:00,13,0,0\n2026-07-01 10:00,13,0,0`;
  expect(read(text, { positive: 'charging' }).reading.rows).toEqual({ read: 5, kept: 4, corrected: 0, rejected: 1 });
});

test('late rows find their place, repeats and stamps out of line are rejected, a real gap is told', () => {
  const lines = rows(300, plain).split('\n');
  [lines[100], lines[101]] = [lines[101]!, lines[100]!];
  lines.splice(150, 0, lines[149]!);
  lines.splice(170, 0, lines[169]!.replace(',-1,', ',-1.5,'));
  lines.splice(200, 0, `2044${lines[199]!.slice(4)}`);
  lines.splice(250, 20);
  const { reading } = read(HEAD + lines.join('\n'));
  const count = Object.fromEntries(reading.reasons.map(({ code, count: n }) => [code, n]));
  expect(count).toEqual({ 'out of order': 1, duplicate: 1, 'same time': 1, 'stamp out of line': 1 });
  expect(reading.gapCount).toBe(1);
  expect(reading.gapHours).toBeCloseTo(20 / 6, 9);
  const { timeMs } = readLogTable(HEAD + lines.join('\n')).table;
  expect(timeMs.every((ms, k) => k === 0 || ms > timeMs[k - 1]!)).toBe(true);
});

test('a repeated export is rejected as covered, and time goes on after it', () => {
  const all = rows(600, plain).split('\n');
  const { reading } = read(HEAD + [...all.slice(0, 400), HEAD.trim(), ...all.slice(100)].join('\n'));
  expect(reading.rows).toMatchObject({ read: 901, kept: 600, rejected: 301 });
  expect(reading.reasons.map(({ code }) => code)).toContain('headings again');
});

test('spikes, codes of a lost sensor and text are cleared; a true leap of current is not', () => {
  const lines = rows(300, plain).split('\n');
  const set = (at: number, cell: number, text: string) => {
    lines[at] = lines[at]!.split(',')
      .map((one, k) => (k === cell ? text : one))
      .join(',');
  };
  set(20, 1, '3.1');
  set(30, 1, '65.535');
  set(40, 2, 'OL');
  set(50, 2, 'NaN');
  set(60, 2, '-95');
  set(70, 3, '-2');
  const { table, reading } = readLogTable(HEAD + lines.join('\n'));
  expect([20, 30].map((k) => table.values.voltage![k])).toEqual([Number.NaN, Number.NaN]);
  expect([40, 50, 60].map((k) => table.values.current![k])).toEqual([Number.NaN, Number.NaN, -95]);
  expect(table.values.solarPower![70]).toBe(0);
  expect(reading.rows).toEqual({ read: 300, kept: 297, corrected: 3, rejected: 0 });
});

test('the direction of the current is worked out from the state of charge, the voltage or the sun, and said', () => {
  const soc = (ms: number) => 50 + ((ms % 864e5) / 864e5) * 20;
  const bySoc = `time (UTC),current (A),SoC (%)\n${rows(300, (ms) => `${iso(ms)},-2,${soc(ms).toFixed(1)}`)}`;
  expect(read(bySoc).reading.currentSign).toMatchObject({ positive: 'discharging', by: 'state of charge' });
  expect(readLogTable(bySoc).table.values.current![5]).toBe(2);
  const swing = (k: number) => 3 * Math.sin(k);
  const byVoltage = `time (UTC),current (A),voltage (V)\n${rows(300, (ms, k) => `${iso(ms)},${swing(k).toFixed(2)},${(13 - 0.02 * swing(k)).toFixed(3)}`)}`;
  expect(read(byVoltage).reading.currentSign).toMatchObject({ positive: 'discharging', by: 'voltage' });
  const bySun = `time (UTC),current (A),solar power (W)\n${rows(300, (ms) => `${iso(ms)},${isDay(ms) ? -3 : 1},${isDay(ms) ? 50 : 0}`)}`;
  expect(read(bySun).reading.currentSign).toMatchObject({ positive: 'discharging', by: 'sun' });
  const untold = `time (UTC),current (A)\n${rows(30, (ms) => `${iso(ms)},1`)}`;
  expect(() => read(untold)).toThrow(/nothing in the rows tells what a positive current means.*positive charging/);
  expect(read(untold, { positive: 'discharging' }).reading.currentSign).toMatchObject({ by: 'option' });
});

test('a zone that makes night of day is told from the harvest, with the offset that would be right', () => {
  const { reading } = read(HEAD.replace(' (UTC)', '') + rows(600, plain), {
    zone: 'UTC+10:00',
    at: { latDeg: 40, lonDeg: 0 },
  });
  expect(reading.warnings).toContainEqual({
    code: 'log_night_harvest',
    args: expect.objectContaining({ zone: 'UTC+10:00', sun: { nightShare: expect.any(Number), clock: 'UTC' } }),
  });
  expect(reading.harvestCentre!.dayBy).toBe('solar time');
  expect(read(HEAD + rows(600, plain), { at: { latDeg: 40, lonDeg: 0 } }).reading.warnings).toEqual([]);
});

test('newest row first gives the same log as oldest first', () => {
  const lines = rows(300, plain).split('\n');
  const turned = readLogTable(HEAD + lines.toReversed().join('\n'));
  const straight = readLogTable(HEAD + lines.join('\n'));
  expect(turned.table).toEqual(straight.table);
  expect(turned.reading.time.newestFirst).toBe(true);
});

test('pushed in pieces of any size, a log reads the same', () => {
  const text = `${HEAD}${rows(300, plain)}\n`.replace('13.4,2', '"13.4",2').replaceAll('\n', '\r\n');
  const whole = readLog(text);
  for (const size of [1, 7, 64, 1000]) {
    const reader = createLogReader();
    for (let at = 0; at < text.length; at += size) reader.push(text.slice(at, at + size));
    expect(reader.end()).toEqual(whole);
  }
});

test('columns are named by option where wording does not find them', () => {
  const text = `when,Batt U,Batt I,x\n${rows(30, (ms) => `${iso(ms)},13.2,-1,5`)}`;
  const columns = { time: 'when', voltage: 'Batt U', current: '3' };
  const { reading } = read(text, { columns, zone: 'UTC', positive: 'charging' });
  expect(reading.columns.voltage).toMatchObject({ heading: 'Batt U', by: 'option' });
  expect(reading.columns.current).toMatchObject({ heading: 'Batt I' });
  expect(reading.unused).toEqual(['x']);
  const bare = rows(30, (ms) => `${iso(ms)},13.2,-1`);
  expect(read(bare, { columns: { time: '1', voltage: '2' } }).reading.rows.kept).toBe(30);
});

test.each([
  ['', /empty/],
  ['\n\n  \n', /empty/],
  ['hello\nworld\n', /not a log/],
  ['x,y\n1,2\n3,4\n', /no row of headings/],
  ['\u0000\u0001\u0002PK\u0003', /binary/],
  ['voltage (V),current (A)\n13,1\n13,2\n', /no column of time.*time=HEADING/],
  ['time,colour,taste\n2026-01-01,red,sour\n', /no column of voltage/],
  [HEAD, /only|no row below/],
  [`${HEAD}${plain(Date.UTC(2026, 0, 1))}\n`, /one row is no log/],
  [HEAD + rows(30, (ms) => `${iso(ms)},,,`), /none can be used.*no value/],
  [HEAD + rows(30, () => 'soon,13,1,0'), /none can be used.*no date/],
  [
    `time,battery voltage (V),house battery voltage (V)\n${rows(9, (ms) => `${iso(ms)},13,13`)}`,
    /2 columns could be the voltage.*voltage=/,
  ],
])('what is no log is refused in words: case %#', (text, says) => {
  expect(() => readLog(text)).toThrow(says);
});

test('an unknown zone or column is refused with what would do', () => {
  expect(() => readLog('', { zone: 'Mars/Olympus' })).toThrow(/not a time zone.*Europe/);
  expect(() => readLog(HEAD + rows(9, plain), { columns: { volts: 'x' } })).toThrow(/"volts".*voltage/);
  expect(() => readLog(HEAD + rows(9, plain), { columns: { voltage: 'x' } })).toThrow(
    /no column is headed "x".*voltage \(V\)/,
  );
});

test('an offset that no clock has is not taken from a heading', () => {
  const { time } = read(`time (UTC+99),voltage (V)\n2026-04-10 00:00,13\n2026-04-10 00:10,13`).reading;
  expect(time).toMatchObject({ zone: 'UTC' });
});

test('a log whose middle falls between two milliseconds is read in a named zone', () => {
  const text = 'time,voltage (V),solar power (W)\n2026-04-10T12:00:00.000Z,13.2,40\n2026-04-10T12:00:01.001Z,13.2,40\n';
  expect(read(text, { zone: 'Europe/Rome' }).reading.harvestCentre).toMatchObject({ dayBy: 'civil time' });
});
