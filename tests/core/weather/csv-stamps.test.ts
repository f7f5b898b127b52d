import { describe, expect, test } from 'vitest';
import { readWeatherFile, type WeatherFileOptions } from '../../../packages/core/src/weather/read/weather-file.js';
import { iso, issuesOf, madeUpLight, pad, madeUpTable as table } from './weather-made-up.js';

const HOUR_MS = 3.6e6;
const JULY_5 = Date.UTC(2026, 6, 5);
const refusal = (text: string, options?: WeatherFileOptions) => issuesOf(() => readWeatherFile(text, options));

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
    ['years of two digits', 'year,month,day,hour', (ms) => [parts(ms)[0] % 100, ...parts(ms).slice(1)], 0, /0 to 23/],
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

  test('a date goes before parts of one', () => {
    const text = table('date,month,day,hour (beginning),GHI W/m2,temp C', (ms, h) => [
      iso(ms).slice(0, 10),
      1,
      1,
      h,
      5,
      10,
    ]);
    expect(readWeatherFile(text)).toMatchObject({ kind: 'dated', startMs: JULY_5, intervals: 48 });
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
      ['retry.csv', 'an atypical year\n', 'dated'],
      ['w.csv', 'a TMY of nowhere\n', 'typical'],
      ['w.csv', 'TMY3\n', 'typical'],
      ['w.csv', 'a Typical year\n', 'typical'],
      ['try.csv', '', 'typical'],
    ] as const)
      expect([file, preface, readWeatherFile(preface + withYear, { file }).kind]).toEqual([file, preface, kind]);
  });
});
