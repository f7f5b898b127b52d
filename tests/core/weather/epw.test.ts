import { describe, expect, test } from 'vitest';
import { isEpw } from '../../../packages/core/src/weather/read/epw.js';
import { readWeatherFile } from '../../../packages/core/src/weather/read/weather-file.js';
import { issuesOf } from './weather-made-up.js';

// Fields, codes and the end of the hour as its stamp: EnergyPlus documentation, Auxiliary Programs, EPW data dictionary.
const AIR = 6;
const [GHI, DNI, DHI, WIND] = [13, 14, 15, 21];
const START = Date.UTC(2026, 2, 1);
const LOCATION = 'LOCATION,Nowhere,-,XXX,invented,000000,40.5,-60.25,-4.5,100';
const ALL = { [AIR]: 10, [GHI]: 100, [DNI]: 50, [DHI]: 60, [WIND]: 3 };

interface Made {
  header?: string[];
  perHour?: number;
  hours?: number;
  /** fields of the record that begins so many records after the first */
  change?: (fields: (string | number)[], record: number) => (string | number)[];
  minute?: (record: number) => number | string;
}

/** Two days from 1 March 2026, the same weather all the time, unless changed. */
function epw({ perHour = 1, header, hours = 48, change = (f) => f, minute }: Made = {}): string {
  const lines = header ?? [LOCATION, 'COMMENTS 1,invented', `DATA PERIODS,1,${perHour},Data,Sunday, 3/ 1, 3/ 2`];
  const records = Array.from({ length: hours * perHour }, (_, i) => {
    const at = new Date(START + Math.floor(i / perHour) * 3.6e6);
    const fields: (string | number)[] = Array(32).fill(0);
    const end = ((i % perHour) + 1) * (60 / perHour);
    fields.splice(0, 5, 2026, at.getUTCMonth() + 1, at.getUTCDate(), at.getUTCHours() + 1, minute?.(i) ?? end);
    for (const [column, value] of Object.entries(ALL)) fields[Number(column)] = value;
    return change(fields, i).join(',');
  });
  return [...lines, ...records].join('\n');
}

/** One record's field changed. */
const one = (record: number, column: number, value: string | number) => (f: (string | number)[], i: number) =>
  i === record ? f.with(column, value) : f;

const issueOf = (text: string) => issuesOf(() => readWeatherFile(text, { file: 'x.epw' }))[0]!;

test.each([
  ['LOCATION,Nowhere', true],
  ['location ,Nowhere', true],
  ['\r\n  "Location",Nowhere', true],
  ['LOCATION\nNowhere,', false],
  ['LOCATIONS,Nowhere', false],
  ['the LOCATION,Nowhere', false],
  ['time,GHI,temp', false],
  ['', false],
])('%j is an EPW: %s', (text, is) => {
  expect(isEpw(text)).toBe(is);
});

describe('the header', () => {
  test('LOCATION gives latitude, longitude, hours from UTC and elevation', () => {
    const series = readWeatherFile(epw());
    expect(series.site).toEqual({ latDeg: 40.5, lonDeg: -60.25, elevationM: 100 });
    expect(series.utcOffsetH).toBe(-4.5);
  });

  test.each([
    ['LOCATION,a,b,c,d,e,-90,-180,-14,-400', { latDeg: -90, lonDeg: -180, elevationM: -400 }, -14],
    ['LOCATION,a,b,c,d,e,90,180,14,0', { latDeg: 90, lonDeg: 180, elevationM: 0 }, 14],
    ['location, a, b, c, d, e, 1 , 2 , 3 , 4 ', { latDeg: 1, lonDeg: 2, elevationM: 4 }, 3],
    ['"LOCATION","a","b","c","d","e","1","2","0","4"', { latDeg: 1, lonDeg: 2, elevationM: 4 }, 0],
    ['LOCATION , "a", b, c, d, e, "1", "2" , "0"', { latDeg: 1, lonDeg: 2 }, 0],
    ['LOCATION,a,b,c,d,e,1,2,3', { latDeg: 1, lonDeg: 2 }, 3],
    ['LOCATION,a,b,c,d,e,1,2,3,', { latDeg: 1, lonDeg: 2 }, 3],
    ['LOCATION,a,b,c,d,e,1,2,3,high', { latDeg: 1, lonDeg: 2 }, 3],
  ])('%s', (location, site, zone) => {
    const series = readWeatherFile(epw({ header: [location] }));
    expect(series.site).toEqual(site);
    expect(series.utcOffsetH).toBe(zone);
  });

  test.each([
    ['LOCATION,a,b,c,d,e,91,2,3,4', /latitude and longitude.*7th and 8th/],
    ['LOCATION,a,b,c,d,e,-91,2,3,4', /latitude/],
    ['LOCATION,a,b,c,d,e,1,181,3,4', /longitude/],
    ['LOCATION,a,b,c,d,e,1,-181,3,4', /longitude/],
    ['LOCATION,a,b,c,d,e,,2,3,4', /latitude/],
    ['LOCATION,a,b,c,d,e,1,,3,4', /longitude/],
    ['LOCATION,a,b,c,d,e,north,2,3,4', /latitude/],
    ['LOCATION,a,b,c,d,e,1,2,14.5,4', /hours from UTC.*9th.*"14.5"/],
    ['LOCATION,a,b,c,d,e,1,2,-15,4', /hours from UTC.*"-15"/],
    ['LOCATION,a,b,c,d,e,1,2,,4', /hours from UTC.*""/],
    ['LOCATION,a,b,c,d,e,1,2', /hours from UTC.*""/],
  ])('%s is refused', (location, message) => {
    const issue = issueOf(epw({ header: [location, 'COMMENTS 1,x'] }));
    expect(issue).toMatchObject({ code: 'weather_header', line: 1, file: 'x.epw' });
    expect(issue.message).toMatch(message);
  });

  test('is of any length; a remark of figures is no record yet', () => {
    const header = [
      LOCATION,
      'COMMENTS 1,3,4,5',
      '12026,3,1,1,0,too many digits for a year',
      '3,1,2026',
      '',
      'x 1,2,3,4,5',
    ];
    expect(readWeatherFile(epw({ header }))).toMatchObject({ startMs: START, intervals: 48 });
    expect(readWeatherFile(epw({ header: [LOCATION] }))).toMatchObject({ startMs: START, intervals: 48 });
  });

  test('without a record after it is refused at its last line', () => {
    expect(issueOf(`${LOCATION}\nCOMMENTS 1,x\nCOMMENTS 2,x`)).toMatchObject({ code: 'weather_empty', line: 3 });
    expect(issueOf(`${LOCATION}\nCOMMENTS 1,x`).message).toMatch(/header without any data/);
  });
});

describe('when a record is', () => {
  test('hourly, its stamp is the hour’s end, whatever its minute', () => {
    for (const minute of [0, 30, 60, '', 99])
      expect(readWeatherFile(epw({ minute: () => minute }))).toMatchObject({
        kind: 'dated',
        startMs: START,
        stepMs: 3.6e6,
        intervals: 48,
      });
  });

  test.each([2, 3, 4, 6, 12, 60])(
    '%d an hour end at their minutes, or begin at them where the first is 0',
    (perHour) => {
      const step = 60 / perHour;
      const begin = { kind: 'dated', startMs: START, stepMs: step * 60_000, intervals: 48 * perHour };
      expect(readWeatherFile(epw({ perHour }))).toMatchObject(begin);
      expect(readWeatherFile(epw({ perHour, minute: (i) => (i % perHour) * step }))).toMatchObject(begin);
    },
  );

  test.each(['7', '0', '0.5', '61', '120', '', 'many'])('"%s" records an hour are none: hourly', (text) => {
    const header = [LOCATION, `DATA PERIODS,1,${text},Data,Sunday, 3/ 1, 3/ 2`];
    expect(readWeatherFile(epw({ header }))).toMatchObject({ stepMs: 3.6e6, intervals: 48, startMs: START });
  });

  test('blanks around figures and between lines, and line ends, do not matter', () => {
    const plain = readWeatherFile(epw());
    const spaced = epw({ change: (f) => f.map((x) => ` ${x} `) }).replaceAll('\n', '\r\n\r\n');
    expect(readWeatherFile(`${spaced}\r\n  \r\n`)).toEqual(plain);
  });

  test.each([
    [0, 0],
    [1, 0],
    [1, 13],
    [2, 0],
    [2, 32],
    [3, 25],
    [3, 'x'],
    [0, ''],
  ])('field %d may not be %j', (column, value) => {
    const issue = issueOf(epw({ change: one(5, column, value) }));
    expect(issue).toMatchObject({ code: 'weather_stamp', line: 9, file: 'x.epw' });
    expect(issue.message).toMatch(/year, month, day and hour 1 to 24/);
    const broken = [2026, 3, 1, 6].with(column, value as number).join(',');
    expect(issue.message).toContain(broken);
  });

  test('a short record is shown as it stands, without its line end', () => {
    const issue = issueOf(`\n${LOCATION}\r\n2026,13,1,1,0\r\n`);
    expect(issue).toMatchObject({ code: 'weather_stamp', line: 3 });
    expect(issue.message).toContain('"2026,13,1,1,0"');
  });

  test('the last hour of the last day of a year is one', () => {
    const last = [2026, 12, 31, 24, 60];
    const header = [LOCATION];
    const text = epw({
      header,
      hours: 2,
      change: (f, i) => [...(i === 0 ? [2026, 12, 31, 23, 60] : last), ...f.slice(5)],
    });
    expect(readWeatherFile(text)).toMatchObject({ startMs: Date.UTC(2026, 11, 31, 22), intervals: 2 });
  });

  test.each([61, -1, ''])('with two an hour the minute may not be "%s"', (minute) => {
    const issue = issueOf(epw({ perHour: 2, change: one(7, 4, minute) }));
    expect(issue).toMatchObject({ code: 'weather_stamp', line: 11 });
    expect(issue.message).toMatch(/minute is 0 to 60/);
    if (minute !== '') expect(issue.message).toContain(String(minute));
  });

  test.each([5, 7, 14, 21])('a record of %d fields is refused, one of 22 is whole', (fields) => {
    const issue = issueOf(epw({ change: (f, i) => (i === 3 ? f.slice(0, fields) : f) }));
    expect(issue).toMatchObject({ code: 'weather_record', line: 7, file: 'x.epw' });
    expect(issue.message).toMatch(new RegExp(`22 fields.* ${fields}$`));
    expect(readWeatherFile(epw({ change: (f) => f.slice(0, 22) })).wind![3]).toBe(3);
  });
});

describe('what a record holds', () => {
  // a value that counts stays; one that is missing becomes what stands before and after it, as the weather is steady
  test.each([
    ['air', AIR, [-90, -5, 0, 70], [-90.1, 70.1, 99.9, '', 'x']],
    ['ghi', GHI, [0, 2000], [-51, 2001, 9999, 99999, '', 'x']],
    ['dni', DNI, [0, 2000], [-51, 2001, 9999, '']],
    ['dhi', DHI, [0, 2000], [-51, 2001, 9999, '']],
    ['wind', WIND, [0, 100], [-0.1, 100.1, 999, '']],
  ] as const)('%s: limits and missing codes', (name, column, good, missing) => {
    for (const value of good) {
      const series = readWeatherFile(epw({ change: one(7, column, value) }));
      expect([value, series[name]![7]]).toEqual([value, value]);
      expect(series.notes.map((n) => n.code)).not.toContain('weather_gaps');
    }
    for (const value of missing) {
      const series = readWeatherFile(epw({ change: one(7, column, value) }));
      expect([value, series[name]![7]]).toEqual([value, ALL[column]]);
      expect(series.notes.find((n) => n.code === 'weather_gaps')!.text).toMatch(/1 h interpolated/);
    }
  });

  test('light a little below nothing is nothing', () => {
    for (const [name, column] of [
      ['ghi', GHI],
      ['dni', DNI],
      ['dhi', DHI],
    ] as const)
      for (const value of [-0.5, -50])
        expect(readWeatherFile(epw({ change: one(7, column, value) }))[name]![7]).toBe(0);
  });

  test.each([2, 4])('%d records an hour: energy becomes mean power, air and wind stay', (perHour) => {
    const series = readWeatherFile(epw({ perHour }));
    const at = [series.ghi, series.dni, series.dhi, series.air, series.wind].map((column) => column![9]);
    expect(at).toEqual([100 * perHour, 50 * perHour, 60 * perHour, 10, 3]);
  });

  test('a column that is missing throughout is as if not there', () => {
    const without = (column: number, code: number) => readWeatherFile(epw({ change: (f) => f.with(column, code) }));
    const noWind = without(WIND, 999);
    expect(noWind.wind).toBeUndefined();
    expect(noWind.notes.map((n) => n.code)).toEqual(['weather_no_wind']);
    expect(without(DNI, 9999)).toMatchObject({ ghi: expect.any(Float64Array) });
    expect(without(DNI, 9999).dni).toBeUndefined();
    expect(without(GHI, 9999).ghi).toBeUndefined();
    expect(issueOf(epw({ change: (f) => f.with(AIR, 99.9) }))).toMatchObject({ code: 'weather_no_air' });
  });

  test('a year that fills the calendar is typical', () => {
    expect(readWeatherFile(epw({ hours: 8760 }))).toMatchObject({ kind: 'typical', phaseMs: 0, startMs: 0 });
  });
});
