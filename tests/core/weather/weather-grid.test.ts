import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ConfigError } from '../../../packages/core/src/rig/index.js';
import { type Grid, sunColumns } from '../../../packages/core/src/sky/index.js';
import { readWeatherFile, type WeatherSeries, weatherOnGrid } from '../../../packages/core/src/weather/index.js';
import { iso, madeUpCsv, madeUpEpw, madeUpLight } from './weather-made-up.js';

const HOUR_MS = 3.6e6;
const year = readWeatherFile(madeUpEpw(), { file: 'year.epw' });
const site = { latDeg: 40, lonDeg: -60, elevationM: 100, utcOffsetH: -4 };

function onGrid(series: WeatherSeries, grid: Grid, at = site) {
  const sun = sunColumns(at.latDeg, at.lonDeg, grid);
  return { sun, ...weatherOnGrid(series, at, grid, sun) };
}

/** Energy of a column over the hour that begins at `ms` [Wh/m²]. */
function hourWh(column: Float64Array, grid: Grid, ms: number): number {
  const from = Math.round((ms - grid.startMs) / (grid.stepH * HOUR_MS));
  const per = Math.round(1 / grid.stepH);
  let sum = 0;
  for (let i = from; i < from + per; i++) sum += column[i]! * grid.stepH;
  return sum;
}

/** Without the light of some columns. */
function only(series: WeatherSeries, ...kept: ('ghi' | 'dni' | 'dhi')[]): WeatherSeries {
  const { ghi, dni, dhi, ...rest } = series;
  const light = { ghi, dni, dhi };
  return { ...rest, ...Object.fromEntries(kept.map((name) => [name, light[name]])) };
}

describe('light from a file', () => {
  test('each hour keeps its energy, global = beam · cos z + diffuse, and the beam is steady within the hour', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(1 / 60, 1 / 12, 1 / 6, 0.25, 0.5, 1),
        fc.integer({ min: 0, max: 364 }),
        (stepH, day) => {
          const grid = { startMs: Date.UTC(2026, 0, 1 + day, 4), stepH, steps: Math.round(24 / stepH) };
          const { columns, sun } = onGrid(year, grid);
          for (let h = 0; h < 24; h++) {
            const ms = grid.startMs + h * HOUR_MS;
            expect(hourWh(columns.ghiWm2, grid, ms)).toBeCloseTo(Math.round(madeUpLight(h)), 8);
          }
          for (let i = 0; i < grid.steps; i++) {
            const parts = columns.dniWm2[i]! * Math.max(0, sun.cosZenith[i]!) + columns.dhiWm2[i]!;
            expect(parts).toBeCloseTo(columns.ghiWm2[i]!, 9);
            expect(columns.dniWm2[i]!).toBeLessThanOrEqual(sun.extraNormalWm2[i]!);
            expect(columns.dhiWm2[i]!).toBeGreaterThanOrEqual(0);
          }
        },
      ),
      { numRuns: 30 },
    );
  });

  test('light while the sun is down stays, as diffuse', () => {
    const night = { ...year, ghi: year.ghi!.map(() => 50), dhi: year.dhi!.map(() => 0) };
    const grid = { startMs: Date.UTC(2026, 0, 10, 4), stepH: 1 / 6, steps: 144 };
    const { columns } = onGrid(night, grid);
    expect(hourWh(columns.dhiWm2, grid, grid.startMs + HOUR_MS)).toBeCloseTo(50, 9);
    expect(columns.dniWm2[3]).toBe(0);
  });

  test('what is missing follows from what is there', () => {
    const grid = { startMs: Date.UTC(2026, 5, 10, 4), stepH: 1 / 6, steps: 144 };
    const noon = grid.startMs + 12 * HOUR_MS;
    const whole = onGrid(year, grid).columns;
    const beamAndDiffuse = onGrid(only(year, 'dni', 'dhi'), grid).columns;
    expect(hourWh(beamAndDiffuse.dhiWm2, grid, noon)).toBeCloseTo(hourWh(whole.dhiWm2, grid, noon), 9);
    expect(beamAndDiffuse.dniWm2[75]).toBeCloseTo(Math.round(madeUpLight(12) * 0.9), 6);
    const globalAndBeam = onGrid(only(year, 'ghi', 'dni'), grid).columns;
    expect(hourWh(globalAndBeam.ghiWm2, grid, noon)).toBeCloseTo(hourWh(whole.ghiWm2, grid, noon), 9);
    const global = onGrid(only(year, 'ghi'), grid).columns;
    expect(hourWh(global.ghiWm2, grid, noon)).toBeCloseTo(hourWh(whole.ghiWm2, grid, noon), 9);
    const share = hourWh(global.dhiWm2, grid, noon) / hourWh(global.ghiWm2, grid, noon);
    expect(share).toBeGreaterThan(0.15); // Erbs at a clearness of about 0.65
    expect(share).toBeLessThan(0.4);
  });

  test('a file finer than the grid is averaged', () => {
    const rows = ['time utc end,ghi W/m2,dhi W/m2,air temperature C'];
    for (let i = 1; i <= 1440; i++) rows.push(`${iso(Date.UTC(2026, 6, 5) + i * 60_000)},${i % 10},0,${i % 10}`);
    const grid = { startMs: Date.UTC(2026, 6, 5), stepH: 1 / 6, steps: 144 };
    const { columns } = onGrid(readWeatherFile(rows.join('\n')), grid);
    for (const i of [0, 70, 143]) {
      expect(columns.ghiWm2[i]).toBeCloseTo(4.5, 9);
      expect(columns.ambientC[i]).toBeCloseTo(4.5, 9);
    }
  });

  test('a clock half an hour off the grid shares hours between steps and loses nothing', () => {
    const text = madeUpCsv('time (UTC+5:30) end,ghi W/m2,dhi W/m2,air temperature C', (ms, h) => [
      iso(ms + HOUR_MS),
      madeUpLight(h),
      madeUpLight(h) / 2,
      20,
    ]);
    const grid = { startMs: Date.UTC(2026, 6, 5, 12), stepH: 1, steps: 24 };
    const { columns } = onGrid(readWeatherFile(text), grid, { latDeg: 19, lonDeg: 78, elevationM: 0, utcOffsetH: 0 });
    const given = Array.from({ length: 24 }, (_, h) => madeUpLight(h)).reduce((a, b) => a + b);
    expect(columns.ghiWm2.reduce((a, b) => a + b)).toBeCloseTo(given, 6);
  });
});

describe('years and spans', () => {
  test('a typical year serves any year, 29 February too', () => {
    const leap = { startMs: Date.UTC(2028, 1, 28, 4), stepH: 1, steps: 72 };
    const { columns } = onGrid(year, leap);
    const day = (d: number) => Array.from(columns.ambientC.subarray(d * 24, d * 24 + 24));
    expect(day(1)).toEqual(day(0));
    const newYear = { startMs: Date.UTC(2026, 11, 31, 4), stepH: 1, steps: 48 };
    expect(onGrid(year, newYear).columns.ghiWm2.reduce((a, b) => a + b)).toBeGreaterThan(9000);
  });

  test('a dated file must cover the run, and the message names its span', () => {
    const series = readWeatherFile(
      madeUpCsv('time_utc end,ghi W/m2,air temperature C', (ms, h) => [iso(ms + HOUR_MS), madeUpLight(h), 20]),
      { file: 'july.csv' },
    );
    const run = (day: number, hour: number, hours: number) =>
      onGrid(series, { startMs: Date.UTC(2026, 6, day, hour), stepH: 1, steps: hours });
    expect(run(5, 0, 72).notes.map((n) => n.code)).not.toContain('weather_edge');
    expect(run(4, 22, 72).notes.map((n) => n.code)).toContain('weather_edge');
    for (const [day, hour] of [
      [3, 0],
      [6, 0],
      [20, 0],
    ] as const) {
      expect(() => run(day, hour, 72)).toThrow(ConfigError);
      expect(() => run(day, hour, 72)).toThrow(/july\.csv.*2026-07-05 00:00 to 2026-07-08 00:00.*the run needs/);
    }
  });

  test('a file that does not name its clock takes the standard time of the place, and says so', () => {
    const text = madeUpCsv('local time end,ghi W/m2,air temperature C', (ms, h) => [
      iso(ms + HOUR_MS),
      madeUpLight(h),
      20,
    ]);
    const grid = { startMs: Date.UTC(2026, 6, 5, 4), stepH: 1, steps: 24 };
    const { columns, notes } = onGrid(readWeatherFile(text), grid);
    expect(columns.ghiWm2[12]).toBeCloseTo(madeUpLight(12), 9);
    expect(notes.find((n) => n.code === 'weather_clock')!.text).toContain('UTC−4');
  });

  test('weather from elsewhere is named with its distance', () => {
    const grid = { startMs: Date.UTC(2026, 6, 5, 4), stepH: 1, steps: 24 };
    const { notes } = onGrid(year, grid, { ...site, latDeg: 42 });
    expect(notes.find((n) => n.code === 'weather_elsewhere')!.text).toContain('222 km');
  });
});

describe('light that stands off the sun', () => {
  const grid = { startMs: Date.UTC(2026, 0, 1, 4), stepH: 1, steps: 8760 };
  const shifted = (hours: number): WeatherSeries => {
    const turn = (column: Float64Array) => column.map((_, i) => column[(i - hours + column.length) % column.length]!);
    return { ...year, ghi: turn(year.ghi!), dhi: turn(year.dhi!), dni: turn(year.dni!) };
  };
  const note = (series: WeatherSeries) =>
    onGrid(series, grid).notes.find((n) => n.code === 'weather_light_shift')?.text;

  test('is named, early or late, by how much and in which months, and not moved', () => {
    expect(note(year)).toBeUndefined();
    expect(note(shifted(-1))).toMatch(/early against the sun in Jan .*Dec/);
    expect(note(shifted(2))).toMatch(/late against the sun in Jan .*Jul (1\.[5-9]|2\.[0-3]) h/);
  });

  test('in some months only', () => {
    const july = Date.UTC(2024, 6, 1);
    const from = Math.round((july - Date.UTC(2024, 0, 1)) / HOUR_MS);
    const ghi = year.ghi!.slice();
    ghi.set(shifted(-1).ghi!.subarray(from, from + 31 * 24), from);
    expect(note({ ...year, ghi })).toMatch(/early against the sun in Jul \d\.\d h;/);
  });
});

test('air and wind run between the middles of hours and keep the hour', () => {
  const grid = { startMs: Date.UTC(2026, 6, 5, 4), stepH: 1 / 6, steps: 144 };
  const { columns } = onGrid(year, grid);
  expect(columns.ambientC[75]! - columns.ambientC[74]!).toBeLessThan(0.5);
  for (let h = 1; h < 23; h++)
    expect(hourWh(columns.ambientC, grid, grid.startMs + h * HOUR_MS)).toBeCloseTo(
      year.air[(31 + 29 + 31 + 30 + 31 + 30 + 4) * 24 + h]!,
      0,
    );
});
