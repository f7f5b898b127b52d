import { describe, expect, test } from 'vitest';
import { delimiterOf, findHeader, isUnitsRow, layoutOf } from '../../../packages/core/src/weather/read/csv-layout.js';
import { readWeatherFile, type WeatherFileOptions } from '../../../packages/core/src/weather/read/weather-file.js';
import { iso, issuesOf, madeUpTable as table } from './weather-made-up.js';

const HOUR_MS = 3.6e6;
const JULY_5 = Date.UTC(2026, 6, 5);
const refusal = (text: string, options?: WeatherFileOptions) => issuesOf(() => readWeatherFile(text, options));

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
    const wide = ['time', 'ghi', ...Array.from({ length: 10 }, (_, i) => `x ${i}`)];
    expect(layout({ air: '10' }, wide)).toMatchObject({ air: 9 });
    expect(layout({ air: '12' }, wide)).toMatchObject({ air: 11 });
    expect(layout({ air: '7' })).toMatchObject({ air: 5 }); // a heading of that name goes before a number
    expect(layout({ air: '2' }, ['2', 'ghi', 'time'])).toMatchObject({ air: 0 });
    expect(layout({ ghi: 'ghi' })).toMatchObject({ ghi: 1 });
    expect(layout({ stamp: 'ending' })).toEqual(layout({}));
  });

  test.each(['0', '9', '1x', 'x1', '+1', '1.0', 'nowhere'])(
    'a column "%s" is asked back with the headings at hand',
    (heading) => {
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
    },
  );

  test('only columns that a run needs can be named, and the names are told', () => {
    const [issue] = issuesOf(() => layout({ snow: 'ghi' }));
    expect(issue).toMatchObject({ code: 'weather_column', line: 3, message: expect.stringContaining('"snow"') });
    expect(issue!.hint).toMatch(
      /ghi, dni, dhi, air, wind, airMax, airMin, clock, date, year, month, day, dayOfYear, minute, stamp/,
    );
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

  test('units below the headings are shown with them', () => {
    const lines = of('time,GHI,humidity,wind').split('\n').toSpliced(1, 0, ',W/m2,%');
    expect(refusal(lines.join('\n'))[0]!.message).toContain('time, GHI W/m2, humidity %, wind');
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
