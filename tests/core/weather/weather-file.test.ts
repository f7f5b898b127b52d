import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ConfigError } from '../../../packages/core/src/rig/index.js';
import { readWeatherFile, type WeatherFileOptions } from '../../../packages/core/src/weather/index.js';
import { iso, madeUpAir, madeUpCsv, madeUpEpw, madeUpLight } from './weather-made-up.js';

const fixture = (name: string) => readFileSync(new URL(`../../fixtures/weather/${name}`, import.meta.url), 'utf8');
const codes = (text: string, options?: WeatherFileOptions) => readWeatherFile(text, options).notes.map((n) => n.code);
const JULY_5 = Date.UTC(2026, 6, 5);

function issueOf(text: string, options?: WeatherFileOptions) {
  try {
    readWeatherFile(text, options);
  } catch (error) {
    expect(error).toBeInstanceOf(ConfigError);
    return (error as ConfigError).issues[0]!;
  }
  throw new Error('was read without complaint');
}

describe('EPW', () => {
  test('hours 1 to 24 end at their stamp; the header gives place and clock; 29 February repeats the 28th', () => {
    const series = readWeatherFile(madeUpEpw(), { file: 'year.epw' });
    expect(series).toMatchObject({ kind: 'typical', stepMs: 3.6e6, utcOffsetH: -4, intervals: 366 * 24, phaseMs: 0 });
    expect(series.site).toEqual({ latDeg: 40, lonDeg: -60, elevationM: 100 });
    expect(series.ghi![12]).toBe(Math.round(madeUpLight(12)));
    expect(series.air[0]).toBeCloseTo(madeUpAir(0), 1);
    expect(Array.from(series.ghi!.subarray(59 * 24, 60 * 24))).toEqual(
      Array.from(series.ghi!.subarray(58 * 24, 59 * 24)),
    );
    expect(series.notes.map((n) => n.text)).toEqual([
      'year.epw: a typical year, used for every year; 29 February repeats the 28th',
    ]);
  });

  test('CRLF, a lower-case header, a byte-order mark and a shorter header change nothing', () => {
    const plain = readWeatherFile(madeUpEpw());
    const other = readWeatherFile(
      `\ufeff${madeUpEpw((f) => f, { lineEnd: '\r\n', header: ['location, Nowhere,-,XXX,x,0, 40.00, -60.00, -4.0, 100.0', 'Data Periods,1,1'] })}\r\n\r\n`,
    );
    expect(other.ghi).toEqual(plain.ghi);
    expect(other.site).toEqual(plain.site);
  });

  test('a file with 29 February of its own keeps it', () => {
    const text = madeUpEpw((f, month, day) => (month === 2 && day === 29 ? f.with(13, '111') : f), { leap: true });
    const series = readWeatherFile(text);
    expect(series.ghi![59 * 24 + 12]).toBe(111);
    expect(series.notes[0]!.text).toContain('has its own 29 February');
  });

  test('missing codes of each field are filled, at most 3 h by interpolation and longer gaps from neighbouring days', () => {
    const text = madeUpEpw((f, month, day, hour) => {
      if (month === 3 && day === 10 && hour === 13) return f.with(13, '9999').with(21, '999');
      if (month === 5 && day === 10) return f.with(6, '99.9');
      return month === 6 && day === 4 && hour <= 12 ? undefined : f;
    });
    const series = readWeatherFile(text);
    const march = (31 + 29 + 9) * 24 + 12;
    expect(series.ghi![march]).toBeCloseTo((series.ghi![march - 1]! + series.ghi![march + 1]!) / 2, 9);
    expect(series.wind![march]).toBe(2.5);
    const may = (31 + 29 + 31 + 30 + 9) * 24;
    expect(series.air[may + 15]).toBeCloseTo(series.air[may - 9]!, 9);
    const note = series.notes.find((n) => n.code === 'weather_gaps')!.text;
    expect(note).toContain('1 h interpolated');
    expect(note).toContain('air temperature 36 h from the same hours of the neighbouring days');
  });

  test('four records an hour: the minute places them and energy of 15 minutes becomes mean power', () => {
    const series = readWeatherFile(fixture('invented-quarter-hours.epw'));
    expect(series).toMatchObject({ kind: 'dated', stepMs: 900_000, startMs: Date.UTC(2026, 2, 1), intervals: 288 });
    expect(series.ghi![48]).toBeCloseTo(4 * 200 * Math.sin((Math.PI * (12.125 - 6)) / 12), 0);
    expect(series.notes.some((n) => n.code === 'weather_gaps')).toBe(true);
  });

  test('a broken record is named with its line', () => {
    const lines = madeUpEpw().split('\n');
    lines[20] = '1990,1,1,13,0';
    expect(issueOf(lines.join('\n'), { file: 'x.epw' })).toMatchObject({
      file: 'x.epw',
      line: 21,
      code: 'weather_record',
    });
    lines[20] = lines[19]!.replace(/^1991,1,/, '1991,13,');
    expect(issueOf(lines.join('\n'))).toMatchObject({ line: 21, code: 'weather_stamp' });
    expect(issueOf('LOCATION,Nowhere,-,X,x,0,95,0,0,0\n1990,1,1,1,0').code).toBe('weather_header');
    expect(issueOf('LOCATION,Nowhere,-,X,x,0,40,0,0,0\n').code).toBe('weather_empty');
  });

  test('more than a tenth missing is refused', () => {
    const text = madeUpEpw((f, month) => (month <= 2 ? f.with(13, '9999') : f));
    expect(issueOf(text)).toMatchObject({ code: 'weather_gaps' });
    expect(issueOf(text).message).toMatch(/16 % of its global irradiance is missing/);
  });
});

describe('columns by their wording', () => {
  // heading, cells of the hour that begins at ms, offset the heading names, what the stamp is
  const layouts: [string, (ms: number, h: number) => (string | number)[], number | undefined, string][] = [
    [
      'year,month,day,hour_ending,ghi_wh_m2,dni_wh_m2,dhi_wh_m2,t_air_c,wind_m_s,rh_pct',
      (ms, h) => [2026, 7, new Date(ms).getUTCDate(), h + 1, madeUpLight(h), 0, madeUpLight(h), madeUpAir(h), 3, 50],
      undefined,
      'ending',
    ],
    [
      'utc hour end, global horizontal W/m2, diffuse horizontal W/m2, air temperature C, wind m/s',
      (ms, h) => [iso(ms + 3.6e6), madeUpLight(h), madeUpLight(h) / 2, madeUpAir(h), 3],
      0,
      'ending',
    ],
    [
      'year,month,day,hour_lst,ghi_w_m2,ghi_clear_sky_w_m2,t_air_c',
      (ms, h) => [2026, 7, new Date(ms).getUTCDate(), h, madeUpLight(h), 999, madeUpAir(h)],
      undefined,
      'beginning by 0 to 23',
    ],
    [
      'time_utc,solar_zenith_deg,ghi_w_m2,dni_w_m2,dhi_w_m2,upwelling_solar_w_m2,t_air_c,wind_m_s',
      (ms, h) => [`${iso(ms + 3.6e6)}Z`, 45, madeUpLight(h), 1, 2, 3, madeUpAir(h), 4],
      0,
      'ending, assumed',
    ],
    [
      'time_est,ghi_sat_w_m2,t_air_c,t_module_c,poa_w_m2',
      (ms, h) => [iso(ms + 3.6e6), madeUpLight(h), madeUpAir(h), 60, 900],
      -5,
      'ending, assumed',
    ],
    [
      'Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),GHI (W/m^2),GHI source,GHI uncert (%),Dry-bulb (C),Wspd (m/s),Wdir (degrees)',
      (ms, h) => [
        `07/${String(new Date(ms).getUTCDate()).padStart(2, '0')}/2026`,
        `${String(h + 1).padStart(2, '0')}:00`,
        1300,
        madeUpLight(h),
        1,
        8,
        madeUpAir(h),
        3,
        180,
      ],
      undefined,
      'ending by 24:00',
    ],
    [
      'Timestamp (UTC+5:30),Solar Radiation (kJ/m2),Outdoor Temperature (°F),Dew Point (°F),Wind Speed (knots),Wind Gust (knots)',
      (ms, h) => [iso(ms + 3.6e6), madeUpLight(h) * 3.6, madeUpAir(h) * 1.8 + 32, 40, 3, 9],
      5.5,
      'ending, assumed',
    ],
    [
      'Year,Month,Day,Hour,Minute,GHI,DNI,DHI,Temperature,Wind Speed',
      (ms, h) => [2026, 7, new Date(ms).getUTCDate(), h, 30, madeUpLight(h), 0, madeUpLight(h), madeUpAir(h), 3],
      undefined,
      'centred by half past',
    ],
    [
      'local time stamp (beginning),global irradiance MJ/m2,temperature K',
      (ms, h) => [iso(ms).replace('T', ' '), madeUpLight(h) * 0.0036, madeUpAir(h) + 273.15],
      undefined,
      'beginning',
    ],
  ];

  test.each(layouts)('%s', (heading, cells, offset, stamp) => {
    const series = readWeatherFile(madeUpCsv(heading, cells));
    expect(series).toMatchObject({ kind: 'dated', stepMs: 3.6e6, startMs: JULY_5, intervals: 72 });
    expect(series.utcOffsetH).toBe(offset);
    for (let h = 0; h < 24; h++) {
      expect(series.ghi![h + 24]).toBeCloseTo(madeUpLight(h), 6);
      expect(series.air[h + 24]).toBeCloseTo(madeUpAir(h), 6);
    }
    const assumed = series.notes.some((n) => n.code === 'weather_stamp_position');
    expect(assumed).toBe(/assumed|by/.test(stamp));
  });

  test('km/h, mph and knots become m/s, kWh/m2 and W/m2 agree', () => {
    const wind = (heading: string, value: number) =>
      readWeatherFile(
        madeUpCsv(`time utc end,GHI W/m2,temp C,${heading}`, (ms, h) => [iso(ms + 3.6e6), madeUpLight(h), 10, value]),
      ).wind![30]!;
    expect(wind('wind speed km/h', 36)).toBeCloseTo(10, 9);
    expect(wind('wind (mph)', 10)).toBeCloseTo(4.4704, 9); // international mile, exact
    expect(wind('wind knots', 10)).toBeCloseTo(5.14444, 4); // international nautical mile, exact
    const kwh = readWeatherFile(
      madeUpCsv('time utc end,GHI kWh/m2,temp C', (ms, h) => [iso(ms + 3.6e6), madeUpLight(h) / 1000, 10]),
    );
    expect(kwh.ghi![36]).toBeCloseTo(madeUpLight(12), 9);
  });

  test('semicolons, decimal commas, quotes, a byte-order mark and remarks above the headings', () => {
    const series = readWeatherFile(fixture('invented-station.csv'));
    expect(series).toMatchObject({ kind: 'dated', startMs: Date.UTC(2026, 6, 1), intervals: 72 });
    expect(series.ghi![11]).toBeCloseTo(800 * Math.sin((Math.PI * 5.5) / 12), 1);
    expect(series.wind![36]).toBeLessThan(4);
  });

  test('tabs, and a row of units under the headings', () => {
    const lines = madeUpCsv('time (hour ending)\tGlobal\tTair', (ms, h) => [
      [iso(ms + 3.6e6), madeUpLight(h), 283.15].join('\t'),
    ]).split('\n');
    lines.splice(1, 0, '\tW/m2\tK');
    const series = readWeatherFile(lines.join('\n').replace('Tair', 'air temperature'));
    expect(series.air[0]).toBeCloseTo(10, 9);
    expect(series.ghi![12]).toBeCloseTo(madeUpLight(12), 9);
  });

  test('stamps that carry their own offset, through a change of the clocks', () => {
    const text = madeUpCsv('time,GHI W/m2,temp C', (ms, h) => {
      const offset = ms < JULY_5 + 30 * 3.6e6 ? 2 : 1;
      return [`${iso(ms + offset * 3.6e6)}+0${offset}:00`, madeUpLight(h), 10];
    });
    const series = readWeatherFile(text, { columns: { stamp: 'beginning' } });
    expect(series).toMatchObject({ utcOffsetH: 0, startMs: JULY_5, intervals: 72 });
    expect(series.ghi![36]).toBeCloseTo(madeUpLight(12), 9);
  });

  test('two air temperatures are a question, answered by option', () => {
    const text = madeUpCsv('time_utc,ghi_w_m2,t_air_sat_c,t_air_c', (ms, h) => [iso(ms + 3.6e6), madeUpLight(h), 1, 2]);
    expect(issueOf(text)).toMatchObject({ code: 'weather_ambiguous', line: 1 });
    expect(issueOf(text).message).toContain('t_air_sat_c, t_air_c');
    expect(readWeatherFile(text, { columns: { air: 't_air_c' } }).air[5]).toBe(2);
    expect(readWeatherFile(text, { columns: { air: '3' } }).air[5]).toBe(1);
    expect(issueOf(text, { columns: { air: 'tair' } }).message).toContain('no column is headed "tair"');
    expect(issueOf(text, { columns: { humidity: 'x' } }).message).toContain(
      '"humidity" is not a column that can be named',
    );
    const centred = readWeatherFile(text, { columns: { air: 't_air_c', stamp: 'centred' } });
    expect(centred.startMs).toBe(JULY_5 + 1.8e6);
  });
});

describe('a table that is not tidy', () => {
  const heading = 'time_utc (hour ending),ghi_w_m2,t_air_c,wind_m_s';
  const tidy = () => madeUpCsv(heading, (ms, h) => [iso(ms + 3.6e6), madeUpLight(h), madeUpAir(h), 3], 20).split('\n');

  test('rows out of order are sorted, repeats are merged, both are said', () => {
    const lines = tidy();
    [lines[10], lines[30]] = [lines[30]!, lines[10]!];
    lines.push(lines[5]!);
    const series = readWeatherFile(lines.join('\n'));
    expect(series.ghi).toEqual(readWeatherFile(tidy().join('\n')).ghi);
    expect(series.notes.map((n) => n.code)).toEqual(expect.arrayContaining(['weather_order', 'weather_duplicates']));
  });

  test('small negative light at night is 0; blanks, words for missing and codes are gaps', () => {
    const lines = tidy();
    lines[2] = lines[2]!.replace(/,0,/, ',-2.3,');
    lines[40] = lines[40]!.replace(/,[^,]*,/, ',,');
    lines[50] = lines[50]!.replace(/,[^,]*,/, ',NaN,');
    lines[60] = lines[60]!.replace(/,[^,]*,/, ',-9999,');
    const series = readWeatherFile(lines.join('\n'));
    expect(series.ghi![1]).toBe(0);
    expect(series.notes.find((n) => n.code === 'weather_gaps')!.text).toContain('global irradiance 3 h interpolated');
    expect(series.notes.some((n) => n.code === 'weather_negative')).toBe(true);
  });

  test('a cell that is no number is named with its line', () => {
    const lines = tidy();
    lines[7] = lines[7]!.replace(/,[^,]*,/, ',sunny,');
    expect(issueOf(lines.join('\n'), { file: 'w.csv' })).toMatchObject({
      file: 'w.csv',
      line: 8,
      code: 'weather_number',
    });
  });

  test('a stamp that is no time is named with its line', () => {
    const lines = tidy();
    lines[7] = lines[7]!.replace('2026-07', '2026-17');
    expect(issueOf(lines.join('\n'))).toMatchObject({ line: 8, code: 'weather_stamp' });
  });

  test('no wind is said; 3-hourly rows are refused', () => {
    expect(
      codes(madeUpCsv('time utc end,GHI W/m2,temp C', (ms, h) => [iso(ms + 3.6e6), madeUpLight(h), 10])),
    ).toContain('weather_no_wind');
    const lines = tidy().filter((_, i) => i === 0 || i % 3 === 0);
    expect(issueOf(lines.join('\n'))).toMatchObject({ code: 'weather_step' });
  });

  test('a table of months from several years is a typical year; a real year is dated unless it is to serve every year', () => {
    const year = (of: (month: number) => number) => {
      const lines = ['year,month,day,hour_ending,ghi_wh_m2,t_air_c'];
      for (let ms = Date.UTC(2023, 0, 1); ms < Date.UTC(2024, 0, 1); ms += 3.6e6) {
        const at = new Date(ms);
        const hour = at.getUTCHours();
        lines.push(
          [of(at.getUTCMonth()), at.getUTCMonth() + 1, at.getUTCDate(), hour + 1, madeUpLight(hour), 10].join(','),
        );
      }
      return lines.join('\n');
    };
    expect(readWeatherFile(year((m) => [1998, 1987, 2001, 1990][m % 4]!)).kind).toBe('typical');
    expect(readWeatherFile(year((m) => (m < 6 ? 2005 : 2004))).kind).toBe('typical');
    expect(readWeatherFile(year(() => 2023)).kind).toBe('dated');
    expect(
      readWeatherFile(
        year(() => 2023),
        { file: 'my-typical-year.csv' },
      ).kind,
    ).toBe('typical');
    expect(
      readWeatherFile(
        year(() => 2023),
        { everyYear: true },
      ).kind,
    ).toBe('typical');
  });
});

describe('what is no weather file', () => {
  test.each([
    ['', 'weather_empty'],
    ['  \n\n', 'weather_empty'],
    ['PK\u0003\u0004\u0000\u0000binary', 'weather_not_text'],
    ['t\u0000i\u0000m\u0000e\u0000', 'weather_not_text'],
    ['<html><body>Not found</body></html>', 'weather_no_light'],
    ['name: Heron\nbattery:\n  chemistry: LFP\n', 'weather_no_light'],
    ['time,voltage,current\n2026-01-01,12,3\n', 'weather_no_light'],
    ['time_utc,ghi_w_m2,humidity\n2026-01-01T00:00,0,3\n', 'weather_no_air'],
    ['time_utc,dni_w_m2,t_air_c\n2026-01-01T00:00,0,3\n', 'weather_no_light'],
    ['time_utc,ghi_w_m2,t_air_c\n', 'weather_empty'],
    ['time_utc,ghi_w_m2,t_air_c\n2026-01-01T00:00,0,3\n', 'weather_empty'],
  ])('%j', (text, code) => {
    expect(issueOf(text).code).toBe(code);
  });

  test('whatever the text, the answer is weather or a ConfigError', () => {
    const piece = fc.oneof(
      fc.constantFrom(
        'LOCATION,a,b,c,d,e,1,2,3,4\n',
        'time_utc,ghi_w_m2,t_air_c\n',
        '2026-01-01T00:00,5,1\n',
        '2026-01-01T01:00,6,2\n',
        '"',
        ';',
        ',',
        '\n',
        '1990,1,1,1,0,?,1,2,3\n',
      ),
      fc.string({ maxLength: 30 }),
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 12 }), (pieces) => {
        try {
          const series = readWeatherFile(pieces.join(''));
          expect(series.air.every(Number.isFinite)).toBe(true);
        } catch (error) {
          expect(error).toBeInstanceOf(ConfigError);
        }
      }),
      { numRuns: 400 },
    );
  });
});
