import { describe, expect, test } from 'vitest';
import { airMassOf } from '../../../packages/core/src/sky/air-mass.js';
import { cleanAirBeamWm2, erbsDiffuseFraction } from '../../../packages/core/src/sky/decomposition.js';
import type { Grid, SunColumns } from '../../../packages/core/src/sky/types.js';
import { weatherOnGrid } from '../../../packages/core/src/weather/grid/weather-grid.js';
import { splitByTheHour } from '../../../packages/core/src/weather/made/hour-split.js';
import type { WeatherSeries } from '../../../packages/core/src/weather/read/weather-series.js';
import { issuesOf } from './weather-made-up.js';

// The sun of these tests is made up, a height for each step, so that each figure can be had by hand.
const HOUR_MS = 3.6e6;
const START = Date.UTC(2026, 6, 5);
const OUTSIDE = 1300;
const SITE = { latDeg: 40, lonDeg: 0, elevationM: 100, utcOffsetH: 0 };

function skyOf(cosZenith: readonly number[]): SunColumns {
  const steps = cosZenith.length;
  return {
    cosZenith: Float64Array.from(cosZenith),
    azimuthDeg: new Float64Array(steps),
    extraNormalWm2: new Float64Array(steps).fill(OUTSIDE),
  };
}

interface Made {
  stepMin?: number;
  startMs?: number;
  ghi?: number[];
  dni?: number[];
  dhi?: number[];
  air?: number[];
  wind?: number[];
  more?: Partial<WeatherSeries>;
}

/** A dated file from midnight, on UTC unless said otherwise. */
function file({ stepMin = 60, startMs = START, air, more, ...columns }: Made): WeatherSeries {
  const { ghi, dni, dhi, wind } = columns;
  const intervals = (ghi ?? dni ?? dhi ?? air)!.length;
  const column = (values: number[] | undefined, name: string) => values && { [name]: Float64Array.from(values) };
  return {
    file: 'w.csv',
    kind: 'dated',
    stepMs: stepMin * 60_000,
    startMs,
    phaseMs: startMs % (stepMin * 60_000),
    intervals,
    utcOffsetH: 0,
    air: Float64Array.from(air ?? Array(intervals).fill(10)),
    ...column(ghi, 'ghi'),
    ...column(dni, 'dni'),
    ...column(dhi, 'dhi'),
    ...column(wind, 'wind'),
    notes: [],
    ...more,
  };
}

function bring(series: WeatherSeries, stepMin: number, cosZenith: readonly number[], startMs = START, site = SITE) {
  const grid: Grid = { startMs, stepH: stepMin / 60, steps: cosZenith.length };
  const { columns, notes } = weatherOnGrid(series, site, grid, skyOf(cosZenith));
  const { ghiWm2, dniWm2, dhiWm2, ambientC, windMs } = columns;
  return {
    ghi: Array.from(ghiWm2),
    dni: Array.from(dniWm2),
    dhi: Array.from(dhiWm2),
    air: Array.from(ambientC),
    wind: Array.from(windMs),
    notes,
  };
}
const close = (found: readonly number[], wanted: readonly number[]) => {
  expect(found.length).toBe(wanted.length);
  wanted.forEach((value, i) => {
    expect(found[i], `of step ${i}`).toBeCloseTo(value, 9);
  });
};
const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

describe('an hour handed to half-hours', () => {
  // the second of three hours; means of cos z: 0.55, 0.6, 0.65
  const cos = [0.5, 0.6, 0.5, 0.7, 0.6, 0.7];
  const hours = [0.55, 0.6, 0.65];

  test('global and diffuse: one beam through the hour, diffuse light with the height of the sun', () => {
    const { ghi, dni, dhi } = bring(file({ ghi: [300, 330, 360], dhi: [100, 120, 140] }), 30, cos);
    close(
      dni,
      [200, 200, 210, 210, 220, 220].map((wh, i) => wh / hours[i >> 1]!),
    );
    close(
      dhi,
      cos.map((z, i) => ([100, 120, 140][i >> 1]! * z) / hours[i >> 1]!),
    );
    close(
      ghi,
      cos.map((z, i) => ([300, 330, 360][i >> 1]! * z) / hours[i >> 1]!),
    );
  });

  test('global and beam: diffuse is what the beam leaves, and never less than nothing', () => {
    const { ghi, dhi, dni } = bring(file({ ghi: [300, 330, 360], dni: [200, 550, 600] }), 30, cos);
    close(
      dhi,
      cos.map((z, i) => ([300 - 110, 0, 0][i >> 1]! * z) / hours[i >> 1]!),
    );
    close(dni, [200, 200, 550, 550, 360 / 0.65, 360 / 0.65]);
    expect(sum(ghi) / 2).toBeCloseTo(990, 9);
  });

  test('beam and diffuse: global is their sum', () => {
    const { ghi, dhi, dni } = bring(file({ dni: [200, 300, 0], dhi: [100, 120, 140] }), 30, cos);
    close(dni, [200, 200, 300, 300, 0, 0]);
    close(
      dhi,
      cos.map((z, i) => ([100, 120, 140][i >> 1]! * z) / hours[i >> 1]!),
    );
    close(
      ghi,
      cos.map((z, i) => dni[i]! * z + dhi[i]!),
    );
  });

  test('global, beam and diffuse that do not agree: global and diffuse hold', () => {
    const both = { ghi: [300, 330, 360], dhi: [100, 120, 140] };
    expect(bring(file({ ...both, dni: [999, 0, 1] }), 30, cos)).toEqual(bring(file(both), 30, cos));
  });

  test('diffuse above global is all of it', () => {
    const { ghi, dhi, dni } = bring(file({ ghi: [300, 330, 360], dhi: [301, 999, 359] }), 30, cos);
    close(dni, [0, 0, 0, 0, 1 / 0.65, 1 / 0.65]);
    expect(sum(ghi) / 2).toBeCloseTo(990, 9);
    expect(sum(dhi) / 2).toBeCloseTo(989, 9);
  });

  test('a beam stronger than outside the atmosphere is not believed', () => {
    const { ghi } = bring(file({ dni: [OUTSIDE + 500, 0, 0], dhi: [0, 0, 0] }), 30, cos);
    expect(sum(ghi) / 2).toBeCloseTo(OUTSIDE * 0.55, 9);
  });

  test('a beam that no clean air lets through is diffuse light above what it does', () => {
    // Kasten 1996 clean dry air, tested by itself; weak beams pass whatever the air mass
    const low = [0.05, 0.05, 0.02, 0.02, 0.6, 0.7];
    const { ghi, dni, dhi } = bring(file({ ghi: [60, 24, 900], dhi: [10, 20, 20] }), 30, low);
    const clean = (z: number) => cleanAirBeamWm2(airMassOf(z), OUTSIDE);
    expect(clean(0.05)).toBeLessThan(1000);
    close(dni.slice(0, 4), [clean(0.05), clean(0.05), 200, 200]);
    close(dhi.slice(0, 2), Array(2).fill(10 + (1000 - clean(0.05)) * 0.05));
    close(ghi.slice(0, 4), [60, 60, 24, 24]);
    expect(sum(ghi) / 2).toBeCloseTo(60 + 24 + 900, 9);
    expect(clean(0.6)).toBeLessThan(880 / 0.65);
    expect(dni[4]).toBeCloseTo(clean(0.6), 9);
    expect(dni[5]).toBeCloseTo(clean(0.7), 9);
  });

  test('where the sun rises within the hour, its light comes when it is up', () => {
    const { ghi, dni, dhi } = bring(file({ ghi: [50, 0, 0], dhi: [20, 0, 0] }), 30, [-0.1, 0.2, 0.3, 0.3, 0.3, 0.3]);
    close(dni, [0, 300, 0, 0, 0, 0]);
    close(dhi, [0, 40, 0, 0, 0, 0]);
    close(ghi, [0, 100, 0, 0, 0, 0]);
    const level = bring(file({ ghi: [50, 0, 0], dhi: [20, 0, 0] }), 30, [0, 0.2, 0.3, 0.3, 0.3, 0.3]);
    close(level.ghi, [0, 100, 0, 0, 0, 0]);
  });

  test('light while the sun is down is spread evenly, as diffuse', () => {
    const { ghi, dni, dhi } = bring(file({ ghi: [50, 7, 0], dhi: [0, 0, 0] }), 30, [-0.1, -0.2, 0, 0, -0.3, -0.4]);
    close(dni, Array(6).fill(0));
    close(dhi, [50, 50, 7, 7, 0, 0]);
    close(ghi, dhi);
    const dark = bring(file({ dni: [500, 500, 500], dhi: [5, 6, 7] }), 30, Array(6).fill(-0.1));
    close(dark.dhi, [5, 5, 6, 6, 7, 7]);
    close(dark.dni, Array(6).fill(0));
  });
});

describe('global light alone is divided by Erbs’ hourly curve', () => {
  // the curve itself has its own checks; here: of which clearness, of which hour
  const diffuseWh = (made: Made, stepMin: number, cos: number[], startMs = START) => {
    const { dhi, ghi } = bring(file(made), stepMin, cos, startMs);
    expect(sum(ghi) > 0).toBe(true);
    return dhi;
  };

  test('by the light outside in the same hour', () => {
    const dhi = diffuseWh({ ghi: [300, 390, 60] }, 30, [0.5, 0.6, 0.5, 0.7, 0.6, 0.7]);
    const kt = [300 / (0.55 * OUTSIDE), 390 / (0.6 * OUTSIDE), 60 / (0.65 * OUTSIDE)];
    const hours = [0, 2, 4].map((i) => (dhi[i]! + dhi[i + 1]!) / 2);
    close(hours, [
      300 * erbsDiffuseFraction(kt[0]!),
      390 * erbsDiffuseFraction(kt[1]!),
      60 * erbsDiffuseFraction(kt[2]!),
    ]);
  });

  test('a low sun counts as 3.7° high', () => {
    const dhi = diffuseWh({ ghi: [20, 20, 20] }, 30, [0.03, 0.05, 0.06, 0.06, 0.08, 0.08]);
    const share = (cos: number) => 20 * erbsDiffuseFraction(20 / (cos * OUTSIDE));
    close(
      [0, 2, 4].map((i) => (dhi[i]! + dhi[i + 1]!) / 2),
      [share(0.065), share(0.065), share(0.08)],
    );
    // and only while it is up
    const rising = diffuseWh({ ghi: [20, 0, 0] }, 30, [-0.1, 0.04, 0.1, 0.1, 0.1, 0.1]);
    expect((rising[0]! + rising[1]!) / 2).toBeCloseTo(20 * erbsDiffuseFraction(20 / (0.065 * 0.5 * OUTSIDE)), 9);
  });

  test('in the dark it is all diffuse', () => {
    expect(sum(diffuseWh({ ghi: [20, 0, 0] }, 30, Array(6).fill(-0.1)))).toBeCloseTo(40, 9);
  });

  test('quarters of an hour share the clearness of their clock hour', () => {
    const bright = [500, 500, 500, 500];
    const broken = [100, 600, 100, 600];
    const cos = Array(12).fill(0.6);
    const dhi = diffuseWh({ stepMin: 15, ghi: [...bright, ...broken, ...bright] }, 15, cos);
    const share = (mean: number) => erbsDiffuseFraction(mean / (0.6 * OUTSIDE));
    close(dhi, [
      ...bright.map((x) => x * share(500)),
      ...broken.map((x) => x * share(350)),
      ...bright.map((x) => x * share(500)),
    ]);
  });

  test('also where run and file begin amid an hour, before 1970 too', () => {
    for (const day of [START, Date.UTC(1961, 6, 5)]) {
      const ghi = [600, 200, 100, 400, 100, 400, 500, 100];
      const half = { stepMin: 15, ghi, startMs: day + 30 * 60_000 };
      const dhi = diffuseWh(half, 15, Array(8).fill(0.6), half.startMs);
      const share = (mean: number) => erbsDiffuseFraction(mean / (0.6 * OUTSIDE));
      const means = [400, 250, 300]; // 00:30 to 01:00, 01:00 to 02:00, 02:00 to 02:30
      close(
        dhi,
        ghi.map((x, i) => x * share(means[Math.floor((i + 2) / 4)]!)),
      );
    }
  });
});

describe('clocks and steps that do not meet', () => {
  test('a grid half an hour off takes half of each interval, and no light is lost', () => {
    const series = file({ ghi: [100, 200, 300, 400], dhi: [40, 80, 120, 160] });
    const { ghi, dhi, dni } = bring(series, 60, [0.5, 0.5, 0.5], START + 30 * 60_000);
    close(ghi, [150, 250, 350]);
    close(dhi, [60, 100, 140]);
    close(dni, [180, 300, 420]);
    const beam = file({ dni: [120, 240, 360, 480], dhi: [40, 80, 120, 160] });
    close(bring(beam, 60, [0.5, 0.5, 0.5], START + 30 * 60_000).ghi, [150, 250, 350]);
  });

  test('quarters of an hour keep their own light', () => {
    const series = file({ stepMin: 15, ghi: [100, 200, 300, 400], dhi: [40, 80, 120, 160], dni: [9, 9, 9, 9] });
    for (const stepMin of [5, 15]) {
      const per = 15 / stepMin;
      const { ghi, dhi } = bring(series, stepMin, Array(4 * per).fill(0.5));
      close(
        ghi,
        Array.from({ length: 4 * per }, (_, i) => 100 * (1 + Math.floor(i / per))),
      );
      close(
        dhi,
        Array.from({ length: 4 * per }, (_, i) => 40 * (1 + Math.floor(i / per))),
      );
    }
  });

  test('a file on a clock ahead of UTC begins so much earlier', () => {
    const ghi = [0, 0, 0, 0, 0, 0, 100, 200];
    for (const [utcOffsetH, expected] of [
      [5, [0, 100, 200]],
      [5.5, [50, 150]],
      [-1, [0]],
    ] as const) {
      const grid = expected.map(() => 0.5);
      const series = file({ ghi, dhi: ghi, more: { utcOffsetH } });
      close(bring(series, 60, grid, utcOffsetH < 0 ? START + HOUR_MS : START).ghi, expected);
    }
  });

  test('a finer file is averaged, light, air and wind', () => {
    const made = { stepMin: 20, ghi: [100, 200, 300, 400, 500, 600], dhi: [100, 200, 300, 400, 500, 600] };
    const air = [1, 2, 6, 7, 8, 12];
    const { ghi, air: warm, wind } = bring(file({ ...made, air, wind: air }), 60, [0.5, 0.5]);
    close(ghi, [200, 500]);
    close(warm, [3, 9]);
    close(wind, [3, 9]);
    // 40 min are two intervals; 30 min one and a half
    close(bring(file({ ...made, air }), 30, [0.5, 0.5, 0.5, 0.5]).air, [
      (1 * 20 + 2 * 10) / 30,
      (2 * 10 + 6 * 20) / 30,
      (7 * 20 + 8 * 10) / 30,
      (8 * 10 + 12 * 20) / 30,
    ]);
    close(bring(file({ ...made, air, wind: air }), 60, [0.5], START + 30 * 60_000).wind, [
      (2 * 10 + 6 * 20 + 7 * 20 + 8 * 10) / 60,
    ]);
  });

  test('air and wind of a coarser file run straight between the middles of its intervals', () => {
    const air = [10, 14, 12, 20];
    const series = file({ ghi: [0, 0, 0, 0], dhi: [0, 0, 0, 0], air, wind: air.map((x) => x / 2) });
    const { air: warm, wind } = bring(series, 30, Array(4).fill(0.5), START + HOUR_MS);
    // middles at 0:30, 1:30, 2:30, 3:30; steps at 1:15, 1:45, 2:15, 2:45
    close(warm, [13, 13.5, 12.5, 14]);
    close(wind, [6.5, 6.75, 6.25, 7]);
    close(bring(series, 60, Array(2).fill(0.5), START + HOUR_MS).air, [14, 12]);
  });

  test('without wind in the file it is calm: 2 m/s', () => {
    close(bring(file({ ghi: [0, 0], dhi: [0, 0] }), 30, Array(4).fill(-1)).wind, [2, 2, 2, 2]);
  });
});

describe('what a file must cover', () => {
  const DAYS = 3;
  const hourly = file({
    ghi: Array.from({ length: DAYS * 24 }, (_, i) => i + 1),
    dhi: Array.from({ length: DAYS * 24 }, (_, i) => i + 1),
  });
  const run = (fromH: number, hours: number, series = hourly) =>
    bring(series, 60, Array(hours).fill(0.5), START + fromH * HOUR_MS);
  const edge = (fromH: number, hours: number) => run(fromH, hours).notes.find((n) => n.code === 'weather_edge')?.text;

  test('a run inside a dated file needs nothing else', () => {
    close(
      run(0, 72).ghi,
      Array.from({ length: 72 }, (_, i) => i + 1),
    );
    close(run(30, 5).ghi, [31, 32, 33, 34, 35]);
    expect(edge(0, 72)).toBeUndefined();
    expect(run(30, 5).notes).toEqual([]);
  });

  test('up to 3 h beyond it repeat the nearest day, and the minutes are said', () => {
    close(run(-3, 5).ghi, [22, 23, 24, 1, 2]);
    close(run(70, 5).ghi, [71, 72, 49, 50, 51]);
    expect(edge(-3, 5)).toMatch(/^w\.csv: 180 min/);
    expect(edge(70, 5)).toMatch(/^w\.csv: 180 min/);
    expect(edge(-1, 75)).toMatch(/^w\.csv: 180 min/);
    expect(edge(-1, 5)).toMatch(/^w\.csv: 60 min/);
    expect(edge(69, 4)).toMatch(/^w\.csv: 60 min/);
  });

  test.each([
    [-4, 10, '2026-07-04 20:00 to 2026-07-05 06:00'],
    [70, 6, '2026-07-07 22:00 to 2026-07-08 04:00'],
    [100, 6, '2026-07-09 04:00 to 2026-07-09 10:00'],
  ])('a run from hour %d for %d h is refused, with both spans', (from, hours, needs) => {
    const [issue] = issuesOf(() => run(from, hours));
    expect(issue).toMatchObject({ code: 'weather_span', file: 'w.csv' });
    expect(issue!.message).toContain('2026-07-05 00:00 to 2026-07-08 00:00');
    expect(issue!.message).toContain(needs);
    expect(issue!.hint).toMatch(/typical year/);
  });

  test('spans are told on the file’s clock', () => {
    const ahead = { ...hourly, utcOffsetH: 2 };
    expect(() => run(100, 6, ahead)).toThrow(/2026-07-09 06:00 to 2026-07-09 12:00/);
  });

  test('a file of less than a day repeats its first hour where no day is there', () => {
    const short = file({ ghi: [10, 20, 30], dhi: [10, 20, 30] });
    close(run(0, 5, short).ghi, [10, 20, 30, 10, 10]);
  });

  describe('a typical year', () => {
    const perDay = 24;
    const year = file({
      ghi: Array.from({ length: 366 * perDay }, (_, i) => Math.floor(i / perDay)),
      dhi: Array.from({ length: 366 * perDay }, (_, i) => Math.floor(i / perDay)),
      air: Array.from({ length: 366 * perDay }, (_, i) => i % perDay),
      more: { kind: 'typical', startMs: 0, phaseMs: 0 },
    });
    const days = (of: WeatherSeries, startMs: number, hours: number) =>
      bring(of, 60, Array(hours).fill(0.5), startMs).ghi;

    test.each([
      [1961, 0, 1, 0],
      [1968, 11, 31, 365],
      [2023, 1, 28, 58],
      [2023, 2, 1, 60],
      [2024, 1, 29, 59],
      [2026, 6, 5, 186],
    ])('day %d-%d(from 0)-%d is the year’s day %d', (y, m, d, number) => {
      const found = bring(year, 60, Array(24).fill(0.5), Date.UTC(y, m, d));
      close(found.ghi, Array(24).fill(number));
      close(
        found.air.slice(1, 23),
        Array.from({ length: 22 }, (_, i) => i + 1),
      );
    });

    test('goes round at new year', () => {
      close(days(year, Date.UTC(2026, 11, 31, 22), 4), [365, 365, 0, 0]);
    });

    test('has its days by the file’s clock, and may begin off the hour', () => {
      close(days({ ...year, utcOffsetH: 2 }, Date.UTC(2026, 0, 1, 20), 4), [0, 0, 1, 1]);
      close(days({ ...year, utcOffsetH: -2 }, Date.UTC(2026, 0, 2, 0), 4), [0, 0, 1, 1]);
      close(days({ ...year, phaseMs: HOUR_MS / 2 }, Date.UTC(2026, 0, 1, 23), 3), [0, 0.5, 1]);
    });
  });
});

describe('what must be said', () => {
  const series = file({ ghi: Array(24).fill(0), dhi: Array(24).fill(0) });
  const notes = (of: WeatherSeries, site = SITE, startMs = START) =>
    bring(of, 60, Array(6).fill(-1), startMs, site).notes;

  test('the notes of the file go first; one that names clock and place needs no more', () => {
    expect(notes({ ...series, notes: [{ code: 'x', text: 'y' }] })).toEqual([{ code: 'x', text: 'y' }]);
  });

  test.each([
    [-4, 'UTC−4'],
    [5.5, 'UTC\\+5\\.5'],
    [0, 'UTC\\+0'],
  ])('a file without a clock is taken at the place’s standard time, %d h', (utcOffsetH, text) => {
    const { utcOffsetH: _, ...clockless } = series;
    const [note, ...more] = notes(clockless, { ...SITE, utcOffsetH }, START - utcOffsetH * HOUR_MS);
    expect(more).toEqual([]);
    expect(note!.code).toBe('weather_clock');
    expect(note!.text).toMatch(new RegExp(`^w\\.csv: .*clock.*standard time.*${text}$`));
  });

  test('weather from more than 50 km away is from elsewhere', () => {
    // a degree of latitude is 111.2 km on a sphere of the Earth's mean radius, 6371 km
    const from = (latDeg: number) => notes({ ...series, site: { latDeg, lonDeg: 0 } });
    expect(from(40)).toEqual([]);
    expect(from(40.44)).toEqual([]);
    const [note] = from(40.46);
    expect(note!.code).toBe('weather_elsewhere');
    expect(note!.text).toMatch(/^w\.csv: .*40\.46, 0, 51 km/);
  });
});

describe('made light divided by the hour', () => {
  const split = (stepMin: number, ghi: number[], cos: number[], startMs = START) => {
    const { dniWm2, dhiWm2 } = splitByTheHour(
      { startMs, stepH: stepMin / 60, steps: ghi.length },
      skyOf(cos),
      Float64Array.from(ghi),
    );
    return { dni: Array.from(dniWm2), dhi: Array.from(dhiWm2) };
  };
  const share = (mean: number, cos: number) => erbsDiffuseFraction(mean / (cos * OUTSIDE));

  test('hours by their own clearness', () => {
    const { dni, dhi } = split(60, [300, 400, 0], [0.5, 0.6, 0.6]);
    close(dhi, [300 * share(300, 0.5), 400 * share(400, 0.6), 0]);
    close(dni, [(300 - dhi[0]!) / 0.5, (400 - dhi[1]!) / 0.6, 0]);
  });

  test('steps by that of their clock hour, also where the grid begins amid one or before 1970', () => {
    const ghi = [600, 200, 100, 400, 100, 400, 500, 100];
    for (const day of [START, Date.UTC(1961, 6, 5)]) {
      const { dni, dhi } = split(15, ghi, Array(8).fill(0.7), day + 30 * 60_000);
      const shares = [400, 250, 300].map((mean) => share(mean, 0.7));
      close(
        dhi,
        ghi.map((x, i) => x * shares[Math.floor((i + 2) / 4)]!),
      );
      ghi.forEach((x, i) => {
        expect(dni[i]! * 0.7 + dhi[i]!).toBeCloseTo(x, 9);
      });
    }
  });

  test('a low sun counts as 3.7° high; a sun that is down counts for nothing', () => {
    const { dhi } = split(30, [20, 20, 15, 40], [0.04, 0.04, -0.1, 0.3]);
    close(dhi.slice(0, 2), [20 * share(20, 0.065), 20 * share(20, 0.065)]);
    expect(dhi[2]).toBe(15);
    expect(dhi[3]).toBeCloseTo(40 * share(55, 0.3), 9);
  });

  test('light with the sun down is diffuse; a beam that no clean air lets through is, above what it does', () => {
    const dark = split(30, [20, 10, -1, 0], [-0.1, 0, 0.5, 0.5]);
    close(dark.dhi, [20, 10, 0, 0]);
    close(dark.dni, [0, 0, 0, 0]);
    const clean = cleanAirBeamWm2(airMassOf(0.05), OUTSIDE);
    const { dni, dhi } = split(60, [60, 0], [0.05, 0.5]);
    expect((60 * (1 - share(60, 0.065))) / 0.05).toBeGreaterThan(clean);
    close(dni, [clean, 0]);
    close(dhi, [60 - clean * 0.05, 0]);
  });
});
