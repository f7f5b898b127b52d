import { describe, expect, test } from 'vitest';
import { delimiterOf, findHeader, isUnitsRow, layoutOf } from '../../../packages/core/src/place/csv-layout.js';
import { readWeatherFile, type WeatherFileOptions } from '../../../packages/core/src/place/index.js';
import { ConfigError, type ConfigIssue } from '../../../packages/core/src/rig/index.js';
import { iso, madeUpLight, pad } from './weather-made-up.js';

const HOUR_MS = 3.6e6;
const JULY_5 = Date.UTC(2026, 6, 5);

function issuesOf(act: () => unknown): readonly ConfigIssue[] {
  try {
    act();
  } catch (error) {
    expect(error).toBeInstanceOf(ConfigError);
    return (error as ConfigError).issues;
  }
  throw new Error('was done without complaint');
}
const refusal = (text: string, options?: WeatherFileOptions) => issuesOf(() => readWeatherFile(text, options));

/** A table of two days from 5 July 2026; `cells` gets the beginning of each row as if UTC, and its hour of the day. */
function table(heading: string, cells: (ms: number, hour: number) => (string | number)[], stepMin = 60, days = 2) {
  const rows = Array.from({ length: (days * 1440) / stepMin }, (_, i) => {
    const at = (i * stepMin) / 60;
    return cells(JULY_5 + at * HOUR_MS, at % 24).join(',');
  });
  return [heading, ...rows].join('\n');
}

describe('the delimiter', () => {
  test.each([
    ['a,b\n1,2\n', ','],
    ['a;b\n1;2\n', ';'],
    ['a\tb\n1\t2\n', '\t'],
    ['a|b\n1|2\n', '|'],
    ['a;b\n1,5;2,5\n3,5;4,5', ';'],
    ['remarks, by hand\n,\na;b\n1,5;2,5\n3,5;4,5', ';'],
    ['a station; by hand\na,b\n1,2\n3,4\n', ','],
    ['plain', ','],
    [`${'x,y\n'.repeat(60)}${'x;y\n'.repeat(90)}`, ','],
    [`${'x,y\n'.repeat(29)}${'x;y\n'.repeat(31)}`, ';'],
  ])('of %j is %j', (text, delimiter) => {
    expect(delimiterOf(text)).toBe(delimiter);
  });
});

describe('the row of headings', () => {
  const at = (rows: string[][], columns = {}) => findHeader(rows, columns);
  test('is the first with a time, a light and a third cell, among the first 60', () => {
    const heading = ['time', 'GHI', 'temp'];
    for (const light of ['GHI', 'DNI', 'DHI']) expect(at([['remark'], ['time', light, '']])).toBe(1);
    expect(at([['time', 'GHI'], heading])).toBe(1);
    expect(at([['time', 'x', 'temp']])).toBe(-1);
    expect(at([['x', 'GHI', 'temp']])).toBe(-1);
    const below = (n: number) => [...Array.from({ length: n }, () => ['remark', '', '']), heading];
    expect(at(below(59))).toBe(59);
    expect(at(below(60))).toBe(-1);
    expect(at([])).toBe(-1);
  });

  test('may name its light by a word of the user’s', () => {
    const rows = [
      ['time', '', 'temp'],
      ['time', 'lamp 1', 'temp'],
    ];
    expect(at(rows)).toBe(-1);
    expect(at(rows, { ghi: 'Lamp_1' })).toBe(1);
    expect(at(rows, { ghi: '°' })).toBe(-1); // nothing is left of it in plain words, nor of an empty cell
  });
});

describe('a row of units under the headings', () => {
  const headings = ['time', 'GHI', 'temp'];
  test.each([
    ['', 'W/m2', ''],
    ['', '(W/m²)', '%'],
    ['', '[ Wh/m2 ]', ''],
    ['', 'kWh m-2', ''],
    ['', 'kW/m2', ''],
    ['', 'Wm-2', ''],
    ['', 'J/m2', ''],
    ['', 'kJ/m2', ''],
    ['', 'MJ/m2', ''],
    ['', 'J/cm²', ''],
    ['yyyy-mm-dd', '', ' °C '],
    ['', '', 'degC'],
    ['', '', 'deg C'],
    ['', '', 'K'],
    ['', '', 'c'],
    ['', '', 'F'],
    ['', '', 'm/s'],
    ['', '', 'km/h'],
  ])('%j %j %j is one', (...row) => {
    expect(isUnitsRow(headings, row)).toBe(true);
  });

  test.each([
    ['', '', ''],
    ['2026-07-05', 'low', 'cool'],
    ['2026-07-05', '12', 'C'],
    ['2026-07-05', ' 0 ', 'K'],
    ['05.07.2026', '12,5', 'F'],
    ['', 'in W/m2', ''],
    ['a', 'b'],
  ])('%j %j %j is none', (...row) => {
    expect(isUnitsRow(headings, row)).toBe(false);
  });

  test('is read together with the headings, and the weather begins below it', () => {
    const lines = table('time (hour ending),global,air temp', (ms) => [iso(ms + HOUR_MS), 0.5, 283.15]).split('\n');
    lines.splice(1, 0, ',kW/m2,K');
    const series = readWeatherFile(lines.join('\n'));
    expect(series).toMatchObject({ intervals: 48, startMs: JULY_5 });
    expect(series.ghi![30]).toBeCloseTo(500, 9);
    expect(series.air[30]).toBeCloseTo(10, 9);
    expect(series.notes.map((n) => n.code)).not.toContain('weather_units');
  });
});

describe('which column holds what', () => {
  const headings = ['time_utc', 'ghi', 'ghi_w_m2', 't_air_c', 't_2', '7'];
  const layout = (columns: Record<string, string>, of = headings) => layoutOf(of, columns, 3, 'w.csv');

  test('goes by the wording, and the one with a unit goes before others', () => {
    expect(layout({})).toEqual({ clock: 0, ghi: 2, air: 3 });
    expect(layout({}, ['Date', 'Time', 'GHI', 'DNI', 'DHI', 'temp', 'wind'])).toEqual({
      date: 0,
      clock: 1,
      ghi: 2,
      dni: 3,
      dhi: 4,
      air: 5,
      wind: 6,
    });
    expect(layout({}, ['year', 'month', 'day', 'hour', 'minute', 'doy', 'ghi'])).toEqual({
      year: 0,
      month: 1,
      day: 2,
      clock: 3,
      minute: 4,
      dayOfYear: 5,
      ghi: 6,
    });
    expect(layout({}, ['time_utc', 'local time', 'ghi', 'temp'])).toMatchObject({ clock: 0 });
    expect(layout({}, ['date utc', 'local date', 'ghi', 'temp'])).toMatchObject({ date: 0 });
  });

  test('is what the user says: by heading, its plain words, or its number from 1', () => {
    expect(layout({ air: 't_2' })).toMatchObject({ air: 4 });
    expect(layout({ air: ' t_2 ' })).toMatchObject({ air: 4 });
    expect(layout({ air: 'T 2' })).toMatchObject({ air: 4 });
    expect(layout({ air: '1' })).toMatchObject({ air: 0 });
    expect(layout({ air: '6' })).toMatchObject({ air: 5 });
    expect(layout({ air: '7' })).toMatchObject({ air: 5 }); // a heading of that name goes before a number
    expect(layout({ ghi: 'ghi' })).toMatchObject({ ghi: 1 });
    expect(layout({ stamp: 'ending' })).toEqual(layout({}));
  });

  test.each(['0', '9', '1x', 'x1', 'nowhere'])('a column "%s" is asked back with the headings at hand', (heading) => {
    expect(issuesOf(() => layout({ air: heading }))).toEqual([
      {
        code: 'weather_column',
        path: '',
        file: 'w.csv',
        line: 3,
        message: expect.stringContaining(`"${heading}"`),
        hint: expect.stringContaining('time_utc, ghi, ghi_w_m2, t_air_c, t_2, 7'),
      },
    ]);
  });

  test('only columns that a run needs can be named, and the names are told', () => {
    const [issue] = issuesOf(() => layout({ snow: 'ghi' }));
    expect(issue).toMatchObject({ code: 'weather_column', line: 3, message: expect.stringContaining('"snow"') });
    expect(issue!.hint).toMatch(/ghi, dni, dhi, air, wind, clock, date, year, month, day, dayOfYear, minute, stamp/);
  });

  test.each([
    ['ghi', 'global', 'ghi 1 (W/m2)', 'ghi 2 (W/m2)'],
    ['dni', 'direct normal', 'dni 1', 'dni 2'],
    ['dhi', 'diffuse', 'dhi 1', 'dhi 2'],
    ['air', 'air temperature', 'air temp 1 C', 'air temp 2 C'],
    ['wind', 'wind', 'wind speed 1', 'wind speed 2'],
  ])('two of %s are a question that says how to answer it', (role, word, one, other) => {
    const [issue, ...more] = issuesOf(() => layout({}, ['time', one, other]));
    expect(more).toEqual([]);
    expect(issue).toMatchObject({ code: 'weather_ambiguous', line: 3, file: 'w.csv' });
    expect(issue!.message).toContain('2 columns');
    expect(issue!.message).toContain(word);
    expect(issue!.message).toContain(`${one}, ${other}`);
    expect(issue!.hint).toContain(`${role}=${one}`);
    expect(layout({ [role]: other }, ['time', one, other])).toMatchObject({ [role]: 2 });
  });

  test('all that is wrong is said at once', () => {
    const codes = issuesOf(() => layout({ air: 'x', snow: 'y' }, ['time', 'dhi 1', 'dhi 2'])).map((i) => i.code);
    expect(codes).toEqual(['weather_column', 'weather_column', 'weather_ambiguous']);
  });
});

describe('stamps', () => {
  const parts = (ms: number) => {
    const at = new Date(ms);
    return [at.getUTCFullYear(), at.getUTCMonth() + 1, at.getUTCDate(), at.getUTCHours()] as const;
  };
  const noteOf = (text: string, options?: WeatherFileOptions) =>
    readWeatherFile(text, options).notes.find((n) => n.code === 'weather_stamp_position')?.text;

  // the first row stands for the hour from 00:00, so its stamp says what the reader took it for
  test.each<[string, string, (ms: number, h: number) => (string | number)[], number, RegExp | undefined]>([
    ['hours 0 to 23 begin', 'year,month,day,hour', (ms) => [...parts(ms)], 0, /0 to 23.*beginning/],
    ['hours 1 to 24 end', 'year,month,day,hour', (ms, h) => [...parts(ms).slice(0, 3), h + 1], 0, /1 to 24.*end/],
    ['date, hours 0 to 23', 'date,hour', (ms, h) => [iso(ms).slice(0, 10), h], 0, /0 to 23.*beginning/],
    ['date, hours 1 to 24', 'date,hour', (ms, h) => [iso(ms).slice(0, 10), h + 1], 0, /1 to 24.*end/],
    ['instants alone end', 'time', (ms) => [iso(ms + HOUR_MS)], 0, /do not say.*end/],
    ['instants in a column "date"', 'date', (ms) => [iso(ms + HOUR_MS)], 0, /do not say.*end/],
    ['half past is the middle', 'time', (ms) => [iso(ms + HOUR_MS / 2)], 0, /half past.*middle/],
    ['half past by minutes', 'year,month,day,hour,minute', (ms) => [...parts(ms), 30], 0, /half past.*middle/],
    ['half past by date and time', 'date,time', (ms, h) => [iso(ms).slice(0, 10), `${h}:30`], 0, /half past.*middle/],
    ['full hours by minutes end', 'year,month,day,hour,minute', (ms) => [...parts(ms + HOUR_MS), 0], 0, /say.*end/],
    ['said to end', 'hour ending time', (ms) => [iso(ms + HOUR_MS)], 0, undefined],
    ['said to begin', 'time (beginning)', (ms) => [iso(ms)], 0, undefined],
    ['said to be centred', 'time centred', (ms) => [iso(ms + HOUR_MS / 2)], 0, undefined],
    ['said by one heading of two', 'date,hour (end)', (ms, h) => [iso(ms).slice(0, 10), h + 1], 0, undefined],
    [
      'day of the year',
      'year,doy,hour',
      (ms, h) => [2026, (ms - Date.UTC(2025, 11, 31) - h * HOUR_MS) / 8.64e7, h],
      0,
      /0 to 23/,
    ],
    [
      'by day alone of a file at noon',
      'year,month,day,time',
      (ms, h) => [...parts(ms).slice(0, 3), `${pad(h)}:00`],
      0,
      /0 to 23/,
    ],
  ])('%s', (_, heading, stamp, firstMs, why) => {
    const text = table(`${heading},GHI W/m2,temp C`, (ms, h) => [...stamp(ms, h), madeUpLight(h), 10]);
    const series = readWeatherFile(text, { file: 'w.csv' });
    expect(series).toMatchObject({ kind: 'dated', startMs: JULY_5 + firstMs, intervals: 48, stepMs: HOUR_MS });
    expect(series.ghi![36]).toBeCloseTo(madeUpLight(12), 9);
    const note = noteOf(text, { file: 'w.csv' });
    if (why === undefined) expect(note).toBeUndefined();
    else expect(note).toMatch(new RegExp(`^w\\.csv: .*${why.source}.*stamp=`));
  });

  test('quarter-hours at half past are no middle, nor are hours counted when rows are finer', () => {
    const quarters = table(
      'date,time,GHI W/m2,temp C',
      (ms, h) => [iso(ms).slice(0, 10), iso(ms).slice(11), madeUpLight(h), 10],
      15,
    );
    expect(noteOf(quarters)).toMatch(/do not say.*end/);
    expect(readWeatherFile(quarters)).toMatchObject({ stepMs: 900_000, startMs: JULY_5 - 900_000, intervals: 192 });
  });

  test('an hour column without the midnight hours does not tell', () => {
    const day = table('date,hour,GHI W/m2,temp C', (ms, h) => [iso(ms).slice(0, 10), h, 5, 10]);
    const lines = day.split('\n').filter((line) => !/,(0|23),/.test(line));
    expect(noteOf(lines.join('\n'))).toMatch(/do not say.*end/);
  });

  test.each([
    ['beginning', 0],
    ['start', 0],
    ['centred', -0.5],
    ['middle', -0.5],
    ['ending', -1],
    ['end', -1],
  ])('the user says %s: the interval begins %d h from the stamp, and nothing is noted', (stamp, hours) => {
    const text = table('time (beginning),GHI W/m2,temp C', (ms) => [iso(ms), 5, 10]);
    const series = readWeatherFile(text, { columns: { stamp } });
    expect(series.startMs).toBe(JULY_5 + hours * HOUR_MS);
    expect(noteOf(text, { columns: { stamp } })).toBeUndefined();
    expect(noteOf(text.replace('(beginning)', ''), { columns: { stamp } })).toBeUndefined();
  });

  test('a place of the stamp that is none is refused', () => {
    const text = table('time,GHI W/m2,temp C', (ms) => [iso(ms), 5, 10]);
    const [issue] = refusal(text, { file: 'w.csv', columns: { stamp: 'soon' } });
    expect(issue).toMatchObject({ code: 'weather_column', file: 'w.csv' });
    expect(issue!.message).toMatch(/beginning, centred or ending.*"soon"/);
  });

  test.each([
    ['Date (MM/DD/YYYY)', '07/05/2026'],
    ['Date (DD/MM/YYYY)', '05/07/2026'],
    ['date', '2026/07/05'],
    ['date', '05.07.2026'],
  ])('the order of a date is said by the heading "%s" or by the date %s', (heading, first) => {
    const text = table(`${heading},hour,GHI W/m2,temp C`, (ms, h) => {
      const second = first.replace(/\b0?5\b/, '06');
      return [ms < JULY_5 + 24 * HOUR_MS ? first : second, h, 5, 10];
    });
    expect(readWeatherFile(text)).toMatchObject({ startMs: JULY_5, intervals: 48 });
  });

  test('the order of all dates is the one that all can have', () => {
    const text = table(
      'date,hour,GHI W/m2,temp C',
      (ms, h) => {
        const at = new Date(ms);
        return [`${pad(at.getUTCMonth() + 1)}/${pad(at.getUTCDate())}/2026`, h, 5, 10];
      },
      60,
      10,
    );
    expect(readWeatherFile(text)).toMatchObject({ startMs: JULY_5, intervals: 240 });
  });

  test.each([
    ['year,month,day,hour', [2026, 13, 5, 1]],
    ['year,month,day,hour', [2026, 0, 5, 1]],
    ['year,month,day,hour', [2026, 7, 0, 1]],
    ['year,month,day,hour', [2026, 7, 367, 1]],
    ['year,month,day,hour', [0, 7, 5, 1]],
    ['year,month,day,hour', ['', 7, 5, 1]],
    ['year,month,day,hour', [2026, 7, 5, '']],
    ['year,month,day,hour', [2026, 7, 5, 25]],
    ['year,doy,hour', [2026, 367, 1]],
    ['year,doy,hour', [2026, 0, 1]],
    ['year,month,day,hour,minute', [2026, 7, 5, 1, 61]],
    ['year,month,day,hour,minute', [2026, 7, 5, 1, -1]],
    ['year,month,day,hour,minute', [2026, 7, 5, 1, '']],
    ['date,hour', ['2026-07-05', 'noon']],
    ['date,hour', ['2026-07-32', 1]],
    ['time', ['2026-07-05 25:00']],
  ])('under %s the cells %j are no time, and the line is named', (heading, cells) => {
    const width = heading.split(',').length;
    const good = table(`${heading},GHI W/m2,temp C`, (ms, h) => {
      const [y, m, d] = parts(ms);
      const whole: Record<number, (string | number)[]> = {
        1: [iso(ms)],
        2: [iso(ms).slice(0, 10), h],
        3: [y, d + 185, h],
        4: [y, m, d, h],
        5: [y, m, d, h, 0],
      };
      return [...whole[width]!, 5, 10];
    });
    const lines = good.split('\n');
    expect(readWeatherFile(good).intervals).toBe(48);
    lines[9] = [...cells, 5, 10].join(',');
    const [issue, ...more] = refusal(lines.join('\n'), { file: 'w.csv' });
    expect(more).toEqual([]);
    expect(issue).toMatchObject({ code: 'weather_stamp', line: 10, file: 'w.csv' });
    if (width < 3) expect(issue!.message).toContain(cells.join(' '));
    else expect(issue!.message).toMatch(/year, month, day and hour/);
  });

  test('the most that parts of a time may be', () => {
    const ends = (heading: string, rows: (string | number)[][]) => {
      const text = [`${heading},GHI W/m2,temp C`, ...rows.map((row) => [...row, 5, 10].join(','))].join('\n');
      const series = readWeatherFile(text, { columns: { stamp: 'beginning' } });
      return [series.startMs, series.intervals];
    };
    const december = Date.UTC(2024, 11, 31, 22);
    expect(
      ends('year,month,day,hour', [
        [2024, 12, 31, 22],
        [2024, 12, 31, 23],
        [2024, 12, 31, 24],
      ]),
    ).toEqual([december, 3]);
    expect(
      ends('year,doy,hour', [
        [2024, 366, 22],
        [2024, 366, 23],
      ]),
    ).toEqual([december, 2]);
    expect(
      ends('year,month,day,hour,minute', [
        [2024, 12, 31, 21, 60],
        [2024, 12, 31, 23, 0],
      ]),
    ).toEqual([december, 2]);
    expect(
      ends('year,month,day,hour', [
        [2024, 1, 1, 0],
        [2024, 1, 1, 1],
      ]),
    ).toEqual([Date.UTC(2024, 0, 1), 2]);
    expect(
      ends('year,doy,hour', [
        [2024, 1, 0],
        [2024, 1, 1],
      ]),
    ).toEqual([Date.UTC(2024, 0, 1), 2]);
    expect(
      ends('month,day,hour', [
        [1, 1, 0],
        [1, 1, 1],
      ]),
    ).toEqual([Date.UTC(2001, 0, 1), 2]);
  });

  test('a stamp’s own offset goes before the heading’s, that before the preface’s', () => {
    const text = (heading: string, zone = '', preface = '') =>
      preface + table(`${heading},GHI W/m2,temp C`, (ms) => [`${iso(ms)}${zone}`, 5, 10]);
    const clock = (of: string) => {
      const { utcOffsetH, startMs } = readWeatherFile(of, { columns: { stamp: 'beginning' } });
      return [utcOffsetH, (startMs - JULY_5) / HOUR_MS];
    };
    expect(clock(text('time'))).toEqual([undefined, 0]);
    expect(clock(text('time', '', 'Time zone: UTC+3\n'))).toEqual([3, 0]);
    expect(clock(text('time (UTC+4)', '', 'Time zone: UTC+3\n'))).toEqual([4, 0]);
    expect(clock(text('time (UTC+4)', '-05:30', 'Time zone: UTC+3\n'))).toEqual([0, 5.5]);
    expect(clock(text('time', 'Z'))).toEqual([0, 0]);
    expect(readWeatherFile(text('time', 'Z'), { utcOffsetH: -2 }).utcOffsetH).toBe(-2);
  });

  test.each([
    ['Time zone: UTC+3', 3],
    ['Timezone,-5', -5],
    ['Time zone: UTC-5', -5],
    ['Time zone: UTC−3:30', -3.5],
    ['Time zone: UTC+5:45', 5.75],
    ['Time zone: UTC +0530', 5.5],
    ['Time zone: UTC - 5 hours', -5],
    ['time zone (h),-9.5', -9.5],
    ['time_zone: 2', undefined],
    ['TimeZone GMT+00:00', 0],
    ['time zone: 14', 14],
    ['time zone: 15', undefined],
    ['time zone: 14.5', undefined],
    ['time zone: -15', undefined],
    ['zone: 3', undefined],
    ['time zone of the station and of its keeper: 3', undefined],
    ['000000,"NOWHERE",XX,-7.0,40.000,-60.000,100', -7],
    ['000000,NOWHERE,XX, 5.5 ,-90,-180,100', 5.5],
    ['000000,NOWHERE,XX,-14,90,180,100', -14],
    ['000000,NOWHERE,XX,-15,40,-60,100', undefined],
    ['000000,NOWHERE,XX,-7,91,-60,100', undefined],
    ['000000,NOWHERE,XX,-7,40,-181,100', undefined],
    ['000000,NOWHERE,XX,x,40,-60,100', undefined],
    ['000000,NOWHERE,XX,-7h,40,-60,100', undefined],
    ['000000,NOWHERE,XX,GMT-7,40,-60,100', undefined],
    ['000000,NOWHERE,XX,-7,40,-60', undefined],
    ['000000,NOWHERE,XX,-7,40,-60,100,0', undefined],
    ['000000,NOWHERE,XX,-7,40,-60,100\n remark', undefined], // a station’s line stands right above the headings
    ['remark\n000000,NOWHERE,XX,-7,40,-60,100', -7],
    ['Time zone: UTC+3\nremark', 3],
  ])('the preface %j puts the clock %s h ahead', (preface, hours) => {
    const text = `${preface}\n${table('time,GHI W/m2,temp C', (ms) => [iso(ms), 5, 10])}`;
    expect(readWeatherFile(text).utcOffsetH).toBe(hours);
  });

  test('a table without a year, or called typical, stands for any year', () => {
    const of = (heading: string, stamp: (ms: number) => (string | number)[]) =>
      table(`${heading},GHI W/m2,temp C`, (ms) => [...stamp(ms + 180 * 8.64e7), 5, 10], 60, 365); // of 2027
    const withYear = of('year,month,day,hour', (ms) => [...parts(ms)]);
    const without = of('month,day,hour', (ms) => parts(ms).slice(1));
    expect(readWeatherFile(without).kind).toBe('typical');
    for (const [file, preface, kind] of [
      ['w.csv', '', 'dated'],
      ['retry.csv', 'an atypical year\n', 'dated'],
      ['w.csv', 'a TMY of nowhere\n', 'typical'],
      ['w.csv', 'TMY3\n', 'typical'],
      ['w.csv', 'a Typical year\n', 'typical'],
      ['my-tmy2.csv', '', 'typical'],
      ['try.csv', '', 'typical'],
    ] as const)
      expect([file, preface, readWeatherFile(preface + withYear, { file }).kind]).toEqual([file, preface, kind]);
  });
});

describe('cells', () => {
  const heading = 'time utc (end),GHI W/m2,temp C,wind m/s';
  const steady = ['5', '10', '3'];
  const row = (ms: number, cells: readonly (string | number)[] = steady) => [iso(ms + HOUR_MS), ...cells];
  /** Steady weather but for row 9, whose cells are replaced. */
  const changed = (...cells: (string | number)[]) =>
    table(heading, (ms) => row(ms, ms === JULY_5 + 9 * HOUR_MS ? cells : steady));
  const at9 = (text: string) => {
    const { ghi, air, wind, notes } = readWeatherFile(text, { file: 'w.csv' });
    return { values: [ghi![9], air[9], wind![9]], codes: notes.map((n) => n.code), notes };
  };

  test('limits of what can be: beyond them nothing was measured', () => {
    expect(at9(changed(2500, 70, 100))).toMatchObject({ values: [2500, 70, 100], codes: [] });
    expect(at9(changed(0, -90, 0))).toMatchObject({ values: [0, -90, 0], codes: [] });
    const beyond = [
      [2501, 70.1, 100.1],
      [-51, -90.1, -0.1],
      [9999, 99999, 9999],
      [-99, -99, -99],
      [-9999, -999.9, -999],
    ];
    for (const cells of beyond) {
      const { values, codes } = at9(changed(...cells));
      expect([cells, values]).toEqual([cells, [5, 10, 3]]);
      expect(codes).toEqual(['weather_gaps']);
    }
  });

  test('codes for missing are the cell’s figure, whatever its unit', () => {
    const text = table('time utc (end),GHI W/m2,temp F', (ms) => [
      iso(ms + HOUR_MS),
      5,
      ms === JULY_5 + 9 * HOUR_MS ? -99 : 50, // −99 F would be −73 °C
    ]);
    expect(readWeatherFile(text).air[9]).toBeCloseTo(10, 9);
    const kilo = table('time utc (end),GHI kW/m2,temp K', (ms) => [iso(ms + HOUR_MS), 2.4, 283.15]);
    expect(readWeatherFile(kilo).ghi![9]).toBeCloseTo(2400, 9);
  });

  test.each([
    '',
    ' ',
    '-',
    '--',
    '.',
    'NA',
    'n/a',
    'NaN',
    'nd',
    'null',
    'None',
    'missing',
    '#N/A',
    '?',
    'M',
    'inf',
    '-inf',
    ' NaN ',
  ])('"%s" says that nothing was measured', (word) => {
    expect(at9(changed(word, word, word))).toMatchObject({ values: [5, 10, 3], codes: ['weather_gaps'] });
  });

  test('a quoted blank says so too, and quotes hide delimiters', () => {
    expect(at9(changed('""', '"10"', '" "')).values).toEqual([5, 10, 3]);
    const text = table('time utc (end),"GHI, horizontal (W/m2)",temp C', (ms) => [`"${iso(ms + HOUR_MS)}"`, 5, 10]);
    expect(readWeatherFile(`\ufeff"a remark, of two"\n${text}`)).toMatchObject({ startMs: JULY_5, intervals: 48 });
  });

  test.each([
    ['sunny', 'GHI W/m2', 1],
    ['1.2.3', 'temp C', 2],
    ['6,5', 'temp C', 2],
    ['NaNa', 'wind m/s', 3],
    [`-${'-'.repeat(40)}`, 'wind m/s', 3],
  ])('"%s" is no number: column, line and cell are named', (cell, column, at) => {
    const cells = [...steady].with(at - 1, cell.includes(',') ? `"${cell}"` : cell);
    const [issue, ...more] = refusal(changed(...cells), { file: 'w.csv' });
    expect(more).toEqual([]);
    expect(issue).toMatchObject({ code: 'weather_number', file: 'w.csv', line: 11 });
    expect(issue!.message).toContain(`"${cell.slice(0, 40)}" in column ${column}`);
    expect(issue!.message.length).toBeLessThan(100);
  });

  test('of many such cells five are shown and the others counted', () => {
    const bad = (n: number) =>
      refusal(
        table(heading, (ms) => row(ms, ms < JULY_5 + n * HOUR_MS ? ['x', 10, 3] : steady)),
        { file: 'w.csv' },
      );
    expect(bad(5).map((i) => i.line)).toEqual([2, 3, 4, 5, 6]);
    const seven = bad(7);
    expect(seven.map((i) => i.code)).toEqual([...Array(5).fill('weather_number'), 'weather_more']);
    expect(seven[5]).toMatchObject({ file: 'w.csv', message: expect.stringMatching(/\b2 more/) });
  });

  test('with another delimiter than a comma, a comma is a decimal mark', () => {
    const lines = table(heading, (ms) => row(ms))
      .replaceAll(',', ';')
      .split('\n');
    const of = (...cells: string[]) => lines.with(10, [lines[10]!.split(';')[0], ...cells].join(';')).join('\n');
    expect(at9(of('0,5', '-6,25', ' ,5 ')).values).toEqual([0.5, -6.25, 0.5]);
    expect(at9(of('+1,5', '6.5', '2')).values).toEqual([1.5, 6.5, 2]);
    for (const cell of ['1,5,6', 'x1,5', '1,5x', ',', '1.000,5'])
      expect(refusal(of(cell, '10', '3'))[0]).toMatchObject({ code: 'weather_number', line: 11 });
  });

  test('light a little below nothing is nothing, and how often is said; cold is no error', () => {
    const text = table(heading, (ms, h) => row(ms, h < 3 ? [-0.5, -7, 3] : [0, -7, 3]));
    const series = readWeatherFile(text, { file: 'w.csv' });
    expect(series.ghi!.every((x) => x === 0)).toBe(true);
    expect(series.air.every((x) => x === -7)).toBe(true);
    const [note, ...more] = series.notes;
    expect(more).toEqual([]);
    expect(note!.code).toBe('weather_negative');
    expect(note!.text).toMatch(/^w\.csv: 6 .*negative/);
    expect(at9(changed(-50, 10, 3))).toMatchObject({ values: [0, 10, 3], codes: ['weather_negative'] });
  });

  test('energy of a half-hour is twice its figure in power', () => {
    const text = table(
      'time utc (end),GHI Wh/m2,DHI kWh/m2,temp C',
      (ms) => [iso(ms + HOUR_MS / 2), 100, 0.05, 10],
      30,
    );
    const series = readWeatherFile(text);
    expect([series.ghi![30], series.dhi![30]]).toEqual([200, 100]);
    expect(series).toMatchObject({ stepMs: 1.8e6, startMs: JULY_5, intervals: 96 });
  });

  test('a unit that no heading names is assumed and said', () => {
    const note = (h: string) =>
      readWeatherFile(
        table(h, (ms) => [iso(ms + HOUR_MS), 5, 10, 3]),
        { file: 'w.csv' },
      ).notes.find((n) => n.code === 'weather_units')?.text;
    expect(note(heading)).toBeUndefined();
    expect(note('time utc (end),GHI,air temp,wind')).toMatch(
      /^w\.csv: no unit.*GHI in W\/m2, air temp in C, wind in m\/s$/,
    );
    expect(note('time utc (end),GHI W/m2,air temp,wind m/s')).toMatch(/as air temp in C$/);
  });

  test('line ends of any kind, blank lines and rows of blanks are passed over', () => {
    const plain = table(heading, (ms) => row(ms));
    for (const end of ['\r\n', '\r', '\n\n', '\n , , , \n'])
      expect(readWeatherFile(plain.replaceAll('\n', end))).toEqual(readWeatherFile(plain));
    const short = plain
      .split('\n')
      .with(10, `${iso(JULY_5 + 10 * HOUR_MS)},7`)
      .join('\n');
    expect(at9(short).values).toEqual([7, 10, 3]);
  });

  test('two rows of weather are enough, one is not', () => {
    const lines = table(heading, (ms) => row(ms)).split('\n');
    expect(readWeatherFile(lines.slice(0, 3).join('\n')).intervals).toBe(2);
    for (const n of [1, 2]) {
      const [issue] = refusal(lines.slice(0, n).join('\n'), { file: 'w.csv' });
      expect(issue).toMatchObject({
        code: 'weather_empty',
        file: 'w.csv',
        message: expect.stringMatching(/fewer than two rows/),
      });
    }
  });
});

describe('a table that is none of weather', () => {
  const of = (heading: string) => table(heading, (ms) => [iso(ms + HOUR_MS), 5, 10, 3]);
  test('without headings of time and light the widest row and the way out are shown', () => {
    const [issue] = refusal(`a,b\n${of('time,voltage,current,13th')}`, { file: 'w.csv' });
    expect(issue).toMatchObject({ code: 'weather_no_light', file: 'w.csv', line: 1 });
    expect(issue!.message).toMatch(/irradiance in W\/m2 or Wh\/m2.*: time, voltage, current, 13th$/);
    expect(issue!.hint).toMatch(/ghi=.*air=.*clock=/);
    const wide = Array.from({ length: 20 }, (_, i) => `c${i}q`);
    expect(refusal(wide.join(','))[0]!.message).toMatch(/c0q, .*, c11q$/);
  });

  test('text that is no table at all is told to be none', () => {
    expect(refusal('name: Heron\nkind: van\n')[0]!.message).toMatch(/not a weather file.*EPW/);
    expect(refusal('a,b\n1,2\n')[0]!.message).toMatch(/not a weather file/);
    expect(refusal('a,b,c\n1,2,3\n')[0]!.message).not.toMatch(/not a weather file/);
  });

  test.each([
    ['time,DNI W/m2,temp C', 'weather_no_light', 'ghi='],
    ['time,DHI W/m2,temp C', 'weather_no_light', 'ghi='],
    ['time,GHI W/m2,humidity', 'weather_no_air', 'air='],
  ])('%s lacks something: its line, headings and the option are named', (heading, code, hint) => {
    const [issue] = refusal(`a remark\n${of(heading)}`, { file: 'w.csv' });
    expect(issue).toMatchObject({ code, line: 2, file: 'w.csv' });
    expect(issue!.message).toContain(heading.split(',').join(', '));
    expect(issue!.hint).toContain(hint);
  });

  test('beam and diffuse do without global light', () => {
    const series = readWeatherFile(of('time,DNI W/m2,DHI W/m2,temp C'));
    expect([series.ghi, series.dni![9], series.dhi![9], series.air[9]]).toEqual([undefined, 5, 10, 3]);
  });

  test('without a date there is no time: the headings are shown', () => {
    const [issue] = refusal(of('year,GHI W/m2,temp C,wind'), { file: 'w.csv' });
    expect(issue).toMatchObject({ code: 'weather_stamp', line: 1 });
    expect(issue!.message).toMatch(/no date.*year, GHI W\/m2, temp C, wind/);
  });

  test('a quote that is never closed is named with its line', () => {
    const lines = of('time,GHI W/m2,temp C').split('\n');
    const [issue] = refusal(lines.with(5, `"${lines[5]}`).join('\n'), { file: 'w.csv' });
    expect(issue).toMatchObject({ code: 'weather_csv', file: 'w.csv', line: expect.any(Number) });
    expect(issue!.message).toMatch(/not a readable table.*[Qq]uote/);
  });
});

describe('the file itself', () => {
  const text = table('time utc (end),GHI W/m2,temp C,wind m/s', (ms) => [iso(ms + HOUR_MS), 5, 10, 3]);
  test.each([
    ['', 'weather_empty', /empty/],
    [' \r\n\t\n', 'weather_empty', /empty/],
    ['\ufeff', 'weather_empty', /empty/],
    [`${text}\u0000`.slice(-50), 'weather_not_text', /not plain text/],
    ['\u0008', 'weather_not_text', /binary/],
    ['\u000e', 'weather_not_text', /UTF-16/],
    ['\u001f', 'weather_not_text', /UTF-8/],
    ['\ufffd\ufffd\ufffd', 'weather_not_text', /not plain text/],
  ])('%j is refused at its first line', (bad, code, message) => {
    const [issue] = refusal(bad, { file: 'w.csv' });
    expect(issue).toMatchObject({ code, file: 'w.csv', line: 1 });
    expect(issue!.message).toMatch(message);
    expect(refusal(bad)[0]!.file).toBe('weather file');
  });

  test('tabs, a page break and a letter that could not be decoded are text; what lies far behind is not looked at', () => {
    const odd = `remark\t\u000b\u000c \ufffd\ufffd \u007f\n${text}`;
    expect(readWeatherFile(odd).intervals).toBe(48);
    const far = `${text}\n${'\n'.repeat(4096)}\u0001`;
    expect(refusal(far)[0]!.code).not.toBe('weather_not_text');
  });

  test('a clock of the user’s goes before the file’s', () => {
    expect(readWeatherFile(text).utcOffsetH).toBe(0);
    expect(readWeatherFile(text, { utcOffsetH: -9.5 }).utcOffsetH).toBe(-9.5);
    expect(readWeatherFile(text.replace(' utc', ''))).not.toHaveProperty('utcOffsetH');
  });
});
