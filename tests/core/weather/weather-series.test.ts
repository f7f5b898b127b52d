import { describe, expect, test } from 'vitest';
import { fillGaps, gapText } from '../../../packages/core/src/weather/read/fill-gaps.js';
import {
  commonStepMs,
  isoMinute,
  leapCalendarDay,
  seriesFromRows,
  type WeatherColumnName,
  type WeatherRows,
} from '../../../packages/core/src/weather/read/weather-series.js';
import { issuesOf } from './weather-made-up.js';

const MIN_MS = 60_000;
const HOUR_MS = 3.6e6;
const START = Date.UTC(2026, 6, 5);

test.each([
  [[], 0],
  [[5], 0],
  [[0, 60, 120], 60],
  [[0, 10, 20, 80, 90], 10],
  [[0, 0, 0, 0, 30], 30], // repeats are no step
  [[0, 30, 0, 30, 0, 30], 30], // nor are steps back
  [[0, 10, 40, 50, 80], 10], // two of each: the finer
  [[0, 30, 40, 70, 80], 10],
  [[0, 30, 60, 70], 30],
  [[0, 0.4, 0.8, 5.8, 10.9], 5],
])('stamps at %j min are %d min apart', (minutes, step) => {
  expect(commonStepMs(Float64Array.from(minutes, (m) => m * MIN_MS))).toBe(step * MIN_MS);
});

test('days are counted as a leap year’s, so that each date has one number in every year', () => {
  let number = 0;
  for (let day = 0; day < 366; day++) {
    const ms = Date.UTC(2024, 0, 1 + day);
    expect(leapCalendarDay(ms + 23 * HOUR_MS)).toBe(number++);
    const date = new Date(ms);
    if (date.getUTCMonth() !== 1 || date.getUTCDate() !== 29)
      expect(leapCalendarDay(Date.UTC(2023, date.getUTCMonth(), date.getUTCDate()))).toBe(day);
  }
});

test('an instant is shown to the minute', () => {
  expect(isoMinute(START + 90 * MIN_MS)).toBe('2026-07-05 01:30');
});

describe('gaps', () => {
  /** Hourly days with a daily course, some of it NaN; what is filled in. */
  const filled = (values: number[], missing: number[], { perDay = 24, ring = false, stepMs = HOUR_MS } = {}) => {
    const column = Float64Array.from(values, (v, i) => (missing.includes(i) ? Number.NaN : v));
    const told = fillGaps(column, perDay, stepMs, ring);
    return { column, told };
  };
  const range = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => from + i);
  /** Hour h of day d has 100·d + h. */
  const days = (n: number) => range(0, n * 24).map((i) => 100 * Math.floor(i / 24) + (i % 24));

  test('of none nothing is told', () => {
    const { column, told } = filled(days(2), []);
    expect(Array.from(column)).toEqual(days(2));
    expect(told).toEqual({ missing: 0, interpolated: 0, borrowed: 0, left: 0 });
  });

  test.each([1, 2, 3])('%d h inside are a straight line', (length) => {
    const course = days(3).map((v, i) => (i === 29 ? v + 40 : v)); // what is bridged is not itself straight
    const { column, told } = filled(course, range(30, 30 + length));
    const [from, to] = [course[29]!, course[30 + length]!];
    range(0, length).forEach((k) => {
      expect(column[30 + k]).toBeCloseTo(from + ((k + 1) / (length + 1)) * (to - from), 9);
    });
    expect(told).toEqual({ missing: length, interpolated: length, borrowed: 0, left: 0 });
  });

  test('3 h are the most for a line, also of finer rows', () => {
    const flat = range(0, 3 * 96);
    expect(filled(flat, range(100, 112), { perDay: 96, stepMs: 15 * MIN_MS }).told).toMatchObject({ interpolated: 12 });
    expect(filled(flat, range(100, 113), { perDay: 96, stepMs: 15 * MIN_MS }).told).toMatchObject({ borrowed: 13 });
    expect(filled(days(3), range(30, 34)).told).toEqual({ missing: 4, interpolated: 0, borrowed: 4, left: 0 });
  });

  test('longer ones are the mean of the same hours of the days before and after', () => {
    const { column } = filled(days(3), range(30, 36));
    for (const i of range(30, 36)) expect(column[i]).toBe(100 + (i - 24)); // (0 + 200) / 2
    const uneven = days(3).map((v, i) => (i === 32 + 24 ? 999 : v));
    expect(filled(uneven, range(30, 36)).column[32]).toBe((8 + 999) / 2);
  });

  test('at an end there is one neighbour, and no line either', () => {
    const first = filled(days(3), [0]);
    expect(first.column[0]).toBe(100);
    expect(first.told).toEqual({ missing: 1, interpolated: 0, borrowed: 1, left: 0 });
    const last = filled(days(3), [71]);
    expect(last.column[71]).toBe(123);
    expect(last.told).toEqual({ missing: 1, interpolated: 0, borrowed: 1, left: 0 });
  });

  test('days that were filled lend nothing; the nearest with the hour does, within 20 days', () => {
    const { column } = filled(days(6), range(24, 96)); // days 1 to 3
    expect(column[24 + 5]).toBe(5); // day 0 is the nearest
    expect(column[48 + 5]).toBe((5 + 405) / 2); // days 0 and 4, two away
    expect(column[72 + 5]).toBe(405); // day 4
    const gap = (n: number) => filled(days(n + 1), range(24, (n + 1) * 24)); // only day 0 is known
    expect(gap(20).told).toEqual({ missing: 480, interpolated: 0, borrowed: 480, left: 0 });
    expect(gap(20).column[20 * 24 + 7]).toBe(7);
    expect(gap(21).told).toEqual({ missing: 504, interpolated: 0, borrowed: 480, left: 24 });
    expect(gap(21).column[21 * 24 + 7]).toBeNaN();
  });

  test('a typical year is a ring: its last day neighbours its first', () => {
    const { column, told } = filled(days(5), range(0, 6), { ring: true });
    for (const h of range(0, 6)) expect(column[h]).toBe((100 + h + 400 + h) / 2);
    expect(told).toEqual({ missing: 6, interpolated: 0, borrowed: 6, left: 0 });
    expect(filled(days(5), range(114, 120), { ring: true }).column[117]).toBe((21 + 321) / 2);
  });

  test('each gap is filled by itself', () => {
    const { told } = filled(days(4), [30, 31, 40, ...range(50, 56), 95]);
    expect(told).toEqual({ missing: 10, interpolated: 3, borrowed: 7, left: 0 });
  });

  test.each([
    [{ interpolated: 6, borrowed: 0 }, 'air temperature 1.5 h interpolated'],
    [{ interpolated: 0, borrowed: 144 }, 'air temperature 36 h from the same hours of the neighbouring days'],
    [
      { interpolated: 1, borrowed: 20 },
      'air temperature 0.3 h interpolated and 5 h from the same hours of the neighbouring days',
    ],
  ])('%j quarter-hours: %s', (some, text) => {
    expect(gapText('air', { missing: 0, left: 0, ...some }, 15 * MIN_MS)).toBe(text);
  });
});

interface Made {
  n?: number;
  stepMin?: number;
  /** begin of row i [min after START], if not i·stepMin */
  at?: (i: number) => number;
  columns?: Partial<Record<WeatherColumnName, (i: number) => number>>;
  year?: WeatherRows['year'];
  startMs?: number;
  more?: Partial<WeatherRows>;
}

/** Rows that begin on 5 July 2026: light, air and wind are counted, so that each row can be told. */
function rows({ n = 240, stepMin = 60, at, columns, year = 'by stamps', startMs = START, more }: Made): WeatherRows {
  const all = columns ?? { ghi: (i) => i, air: (i) => -i, wind: () => 3 };
  return {
    file: 'w.csv',
    beginMs: Float64Array.from({ length: n }, (_, i) => startMs + (at?.(i) ?? i * stepMin) * MIN_MS),
    stepMs: stepMin * MIN_MS,
    columns: Object.fromEntries(
      Object.entries(all).map(([name, of]) => [name, Float64Array.from({ length: n }, (_, i) => of(i))]),
    ),
    year,
    notes: [],
    ...more,
  };
}
const read = (made: Made) => seriesFromRows(rows(made));
const codesOf = (made: Made) => read(made).notes.map((note) => note.code);
const noteOf = (made: Made, code: string) => read(made).notes.find((note) => note.code === code)?.text;

function refusal(made: Made) {
  const [issue, ...more] = issuesOf(() => read(made));
  expect(more).toEqual([]);
  expect(issue!.file).toBe('w.csv');
  return issue!;
}

describe('a dated file', () => {
  test('is its rows, in order', () => {
    const series = read({
      more: { utcOffsetH: 5.5, site: { latDeg: 1, lonDeg: 2 }, notes: [{ code: 'x', text: 'y' }] },
    });
    expect(series).toMatchObject({
      file: 'w.csv',
      kind: 'dated',
      stepMs: HOUR_MS,
      startMs: START,
      phaseMs: 0,
      intervals: 240,
      utcOffsetH: 5.5,
      site: { latDeg: 1, lonDeg: 2 },
      notes: [{ code: 'x', text: 'y' }],
    });
    expect(Array.from(series.ghi!)).toEqual(Array.from({ length: 240 }, (_, i) => i));
    expect(Array.from(series.air)).toEqual(Array.from({ length: 240 }, (_, i) => 0 - i));
    for (const absent of ['dni', 'dhi', 'leap']) expect(series).not.toHaveProperty(absent);
    const bare = read({ columns: { dni: () => 1, dhi: () => 2, air: () => 3 } });
    for (const absent of ['ghi', 'wind', 'utcOffsetH', 'site']) expect(bare).not.toHaveProperty(absent);
    expect([bare.dni![5], bare.dhi![5], bare.air[5]]).toEqual([1, 2, 3]);
  });

  test.each([1, 2, 3, 4, 5, 6, 10, 12, 15, 20, 30, 60])('may have rows every %d min', (stepMin) => {
    const n = 10 * (1440 / stepMin);
    expect(read({ stepMin, n })).toMatchObject({ stepMs: stepMin * MIN_MS, intervals: n, kind: 'dated' });
  });

  test.each([0, 0.5, 7, 45, 61, 90, 120])('may not have rows every %d min, and the message says so', (stepMin) => {
    const issue = refusal({ stepMin });
    expect(issue.code).toBe('weather_step');
    expect(issue.message).toContain(`${stepMin} minutes apart`);
    expect(issue.message).toMatch(/hourly/);
  });

  test('without a row is refused', () => {
    expect(refusal({ n: 0 })).toMatchObject({ code: 'weather_empty', message: expect.stringContaining('no rows') });
  });

  test('may begin off the hour, also before 1970', () => {
    for (const year of [1961, 2026])
      expect(read({ startMs: Date.UTC(year, 0, 1, 0, 20) })).toMatchObject({
        phaseMs: 20 * MIN_MS,
        startMs: Date.UTC(year, 0, 1, 0, 20),
        intervals: 240,
      });
  });

  test('stamps that jitter by less than half a step keep their interval', () => {
    const series = read({ at: (i) => i * 60 + (i % 3) * 9 });
    expect(series.intervals).toBe(240);
    expect(Array.from(series.ghi!)).toEqual(Array.from({ length: 240 }, (_, i) => i));
    expect(series.notes).toEqual([]);
  });

  test('rows out of order are sorted, and in how many places is said', () => {
    const swapped = new Map([
      [10, 30],
      [30, 10],
      [99, 98],
      [98, 99],
    ]);
    const order = (i: number) => swapped.get(i) ?? i;
    const made = { at: (i: number) => order(i) * 60, columns: { ghi: order, air: order, wind: () => 3 } };
    expect(Array.from(read(made).ghi!)).toEqual(Array.from({ length: 240 }, (_, i) => i));
    expect(codesOf(made)).toEqual(['weather_order']);
    expect(noteOf(made, 'weather_order')).toMatch(/^w\.csv: .*out of order in 3 places/);
  });

  test('rows that repeat an interval are averaged, and how many is said', () => {
    const made = { n: 243, at: (i: number) => Math.min(i, 239) * 60 };
    const series = read(made);
    expect(series.intervals).toBe(240);
    expect(series.ghi![239]).toBe((239 + 240 + 241 + 242) / 4);
    expect(series.ghi![238]).toBe(238);
    expect(codesOf(made)).toEqual(['weather_duplicates']);
    expect(noteOf(made, 'weather_duplicates')).toMatch(/^w\.csv: 3 rows repeat/);
  });

  test('of repeats only what was measured counts', () => {
    const made = { n: 241, at: (i: number) => Math.min(i, 239) * 60 };
    const ghi = (i: number) => (i === 239 ? Number.NaN : i);
    expect(read({ ...made, columns: { ghi, air: () => 1, wind: () => 3 } }).ghi![239]).toBe(240);
  });

  test('rows that are not there are gaps', () => {
    const series = read({ n: 238, at: (i) => (i < 100 ? i : i + 2) * 60, columns: { ghi: (i) => i, air: (i) => i } });
    expect(series.intervals).toBe(240);
    expect([series.ghi![99], series.ghi![102]]).toEqual([99, 100]);
    expect(series.ghi![100]).toBeCloseTo(99 + 1 / 3, 9);
    expect(series.notes.find((note) => note.code === 'weather_gaps')!.text).toBe(
      'w.csv: missing values filled: global irradiance 2 h interpolated; air temperature 2 h interpolated',
    );
  });

  test('stamps more than 40 years apart are refused, with both', () => {
    const issue = refusal({ at: (i) => (i < 239 ? i * 60 : 41 * 366 * 1440) });
    expect(issue.code).toBe('weather_stamp');
    expect(issue.message).toMatch(/2026-07-05 00:00 to 2067-\d\d-\d\d 00:00.*40 years/);
  });

  describe('begins and ends with its light', () => {
    const lit = (from: number, to: number, name: WeatherColumnName = 'ghi'): Made => ({
      columns: {
        ...(name === 'dhi' && { dni: () => Number.NaN }),
        [name]: (i: number) => (i >= from && i < to ? i : Number.NaN),
        ...(name === 'dni' && { dhi: (i: number) => (i >= from && i < to ? 1 : Number.NaN) }),
        air: (i) => i,
        wind: () => 3,
      },
    });
    test('where more than 3 h at either end have none', () => {
      for (const [from, to] of [
        [4, 240],
        [0, 236],
        [50, 200],
      ] as const) {
        const series = read(lit(from, to));
        expect(series).toMatchObject({ startMs: START + from * HOUR_MS, intervals: to - from });
        expect([series.ghi![0], series.air[0], series.air[to - from - 1]]).toEqual([from, from, to - 1]);
        expect(series.notes.map((note) => note.code)).toEqual(['weather_trimmed']);
        expect(series.notes[0]!.text).toContain(
          `from ${isoMinute(START + from * HOUR_MS)} to ${isoMinute(START + to * HOUR_MS)}`,
        );
      }
      expect(read(lit(50, 200, 'dni'))).toMatchObject({ startMs: START + 50 * HOUR_MS, intervals: 150 });
    });

    test('but up to 3 h are a gap like others', () => {
      for (const [from, to] of [
        [3, 240],
        [0, 237],
        [3, 237],
      ] as const) {
        expect(read(lit(from, to))).toMatchObject({ startMs: START, intervals: 240 });
        expect(codesOf(lit(from, to))).toEqual(['weather_gaps']);
      }
    });

    test('in whichever column it has', () => {
      const columns = {
        ghi: (i: number) => (i >= 46 && i < 204 ? 1 : Number.NaN),
        dhi: (i: number) => (i >= 40 && i < 210 ? 1 : Number.NaN),
        air: () => 5,
      };
      expect(read({ columns })).toMatchObject({ startMs: START + 40 * HOUR_MS, intervals: 170 });
    });

    test('and what was left out repeats nothing', () => {
      const made = lit(50, 200);
      const repeated = { ...made, n: 260, at: (i: number) => (i < 240 ? i : i - 240) * 60 };
      expect(codesOf(repeated)).toEqual(['weather_trimmed', 'weather_order']);
    });
  });
});

describe('what is missing', () => {
  const missing = (name: WeatherColumnName, count: number, from = 100): Made => ({
    columns: Object.fromEntries(
      (['ghi', 'dni', 'dhi', 'air', 'wind'] as const).map((each) => [
        each,
        (i: number) => (each === name && i >= from && i < from + count ? Number.NaN : 5),
      ]),
    ),
  });

  test.each(['ghi', 'dni', 'dhi', 'air', 'wind'] as const)('up to a tenth of %s is filled', (name) => {
    const series = read(missing(name, 24));
    expect(series[name]!.every((value) => value === 5)).toBe(true);
    expect(series.notes.map((note) => note.code)).toEqual(['weather_gaps']);
    expect(series.notes[0]!.text).toMatch(/^w\.csv: .*24 h from the same hours/);
  });

  test.each([
    ['ghi', 'global irradiance'],
    ['air', 'air temperature'],
  ] as const)('more of %s is refused with the share and the span', (name, words) => {
    const issue = refusal(missing(name, 25));
    expect(issue.code).toBe('weather_gaps');
    expect(issue.message).toMatch(new RegExp(`^10 % of its ${words} is missing.*10 %`));
    expect(refusal(missing(name, 60)).message).toContain('25 %');
    expect(issue.hint).toBe('between 2026-07-05 00:00 and 2026-07-15 00:00');
  });

  test.each([
    ['dni', 'direct irradiance'],
    ['dhi', 'diffuse irradiance'],
    ['wind', 'wind speed'],
  ] as const)('more of %s leaves the column out, and says so', (name, words) => {
    const series = read(missing(name, 60));
    expect(series[name]).toBeUndefined();
    expect(series.notes.find((note) => note.code === 'weather_dropped')!.text).toMatch(
      new RegExp(`^w\\.csv: 25 % of its ${words} is missing`),
    );
    expect(series.notes.some((note) => note.code === 'weather_no_wind')).toBe(name === 'wind');
    expect(series.notes.map((note) => note.code)).not.toContain('weather_gaps');
  });

  test('an hour that no day has cannot be filled', () => {
    const columns = { ghi: () => 5, air: (i: number) => (i === 0 ? Number.NaN : 5), wind: () => 3 };
    expect(refusal({ n: 24, columns })).toMatchObject({
      code: 'weather_gaps',
      message: expect.stringContaining('4 %'),
    });
    expect(codesOf({ n: 48, columns })).toEqual(['weather_gaps']);
  });

  test('no light, or no air, is refused; no wind is said', () => {
    const [ghi, air] = [() => 5, () => 6];
    expect(refusal({ columns: { air } })).toMatchObject({
      code: 'weather_no_light',
      message: expect.stringMatching(/global horizontal.*direct normal with diffuse/),
    });
    for (const columns of [
      { dni: ghi, air },
      { dhi: ghi, air },
    ])
      expect(refusal({ columns }).code).toBe('weather_no_light');
    expect(refusal({ columns: { ghi } })).toMatchObject({
      code: 'weather_no_air',
      message: expect.stringContaining('air temperature'),
    });
    expect(noteOf({ columns: { ghi, air } }, 'weather_no_wind')).toMatch(/^w\.csv: no wind.*2 m\/s/);
  });
});

describe('a typical year', () => {
  const NEW_YEAR = Date.UTC(2023, 0, 1);
  const year = (more: Made = {}): Made => ({ n: 8760, startMs: NEW_YEAR, year: 'typical', ...more });

  test('has 366 days, of which 29 February repeats the day before', () => {
    const series = read(year());
    expect(series).toMatchObject({ kind: 'typical', intervals: 366 * 24, startMs: 0, phaseMs: 0 });
    const at = (day: number, hour: number) => series.ghi![day * 24 + hour];
    expect([at(0, 5), at(58, 5), at(59, 5), at(60, 5), at(365, 23)]).toEqual([5, 1397, 1397, 1421, 8759]);
    expect(series.notes.map((note) => note.code)).toEqual(['weather_typical']);
    expect(series.notes[0]!.text).toMatch(/^w\.csv: .*every year; 29 February repeats/);
  });

  test('may have its own 29 February', () => {
    const made = year({ n: 8784, startMs: Date.UTC(2024, 0, 1) });
    expect(read(made).ghi![59 * 24 + 5]).toBe(59 * 24 + 5);
    expect(noteOf(made, 'weather_typical')).toContain('its own 29 February');
  });

  test('may begin off the hour or at any day, with stamps a little off', () => {
    const series = read(year({ startMs: NEW_YEAR + 20 * MIN_MS, at: (i) => i * 60 + (i % 2) * 9 }));
    expect(series).toMatchObject({ kind: 'typical', phaseMs: 20 * MIN_MS });
    expect(series.ghi![30]).toBe(30);
    const july = read(year({ startMs: Date.UTC(2022, 6, 1) }));
    expect(july.kind).toBe('typical');
    expect([july.ghi![182 * 24], july.ghi![181 * 24]]).toEqual([0, 364 * 24]);
  });

  test('fills nine tenths of the calendar at least, otherwise it is dated', () => {
    expect(read(year({ n: 0.9 * 8760 })).kind).toBe('typical');
    expect(read(year({ n: 0.9 * 8760 - 1 }))).toMatchObject({ kind: 'dated', intervals: 7883 });
    expect(noteOf(year({ n: 0.9 * 8760 }), 'weather_gaps')).toContain('876 h');
    expect(refusal(year({ n: 8700, columns: { ghi: (i) => (i < 1000 ? Number.NaN : 1), air: () => 5 } })).hint).toBe(
      'of a whole year',
    );
  });

  test('is one year: with more rows than that it is dated', () => {
    const twice = (n: number) => read(year({ n, at: (i) => (i % 8760) * 60 })).kind;
    expect(twice(8959)).toBe('typical');
    expect(twice(8960)).toBe('dated');
    expect(read(year({ n: 17_520 }))).toMatchObject({ kind: 'dated', intervals: 17_520 });
  });

  test('is told by stamps that jump between years, and a year as it was is dated', () => {
    const months = (years: (month: number) => number) =>
      year({
        year: 'by stamps',
        at: (i) => {
          const at = new Date(NEW_YEAR + i * HOUR_MS);
          return (at.setUTCFullYear(years(at.getUTCMonth())) - NEW_YEAR) / MIN_MS;
        },
      });
    expect(read(months(() => 2023)).kind).toBe('dated');
    const forward = months((m) => 2001 + m);
    expect(read(forward).kind).toBe('typical');
    expect(codesOf(forward)).toEqual(['weather_typical']);
    const back = months((m) => (m < 6 ? 2005 : 2003));
    expect(read(back).kind).toBe('typical');
    expect(codesOf(back)).toEqual(['weather_typical']);
    expect(read(back).ghi![200 * 24]).toBe(199 * 24);
    // rows of one year in disorder are no jump between years
    const disorder = year({ year: 'by stamps', at: (i) => (i < 4000 ? i + 4760 : i - 4000) * 60 });
    expect(codesOf(disorder)).toEqual(['weather_order']);
    expect(read(disorder)).toMatchObject({ kind: 'dated', intervals: 8760, startMs: NEW_YEAR });
    const labelled = { ...disorder, year: 'typical' as const };
    expect(codesOf(labelled)).toEqual(['weather_order', 'weather_typical']);
  });

  test('a year as it was, with a month left out, is dated', () => {
    const hole = year({ year: 'by stamps', n: 8000, at: (i) => (i < 4000 ? i : i + 700) * 60 });
    expect(read(hole)).toMatchObject({ kind: 'dated', intervals: 8700 });
    expect(noteOf(hole, 'weather_gaps')).toContain('700 h');
  });

  test('keeps light at its ends as gaps, and nothing is trimmed', () => {
    const dark = year({ columns: { ghi: (i) => (i < 20 ? Number.NaN : 7), air: () => 5, wind: () => 3 } });
    expect(read(dark)).toMatchObject({ kind: 'typical', intervals: 8784 });
    expect(codesOf(dark)).toEqual(['weather_gaps', 'weather_typical']);
  });

  test('its ends are neighbours: the new year’s hours follow the old one’s', () => {
    const series = read(
      year({
        columns: { ghi: () => 1, air: (i) => (i < 4 ? Number.NaN : i < 48 ? 10 : i >= 8736 ? 20 : 15), wind: () => 3 },
      }),
    );
    expect(Array.from(series.air.subarray(0, 5))).toEqual([15, 15, 15, 15, 10]);
  });
});
