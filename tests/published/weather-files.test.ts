import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  type Grid,
  planeColumns,
  type SunColumns,
  sunColumns,
  type WeatherColumns,
} from '../../packages/core/src/sky/index.js';
import { climateWeather, readWeatherFile, weatherOnGrid } from '../../packages/core/src/weather/index.js';

// Held against open weather files, which are not part of the project: each test is skipped where they are absent.
const DATA = new URL('../../../shared/data/', import.meta.url);
const absent = !existsSync(new URL('hourly', DATA));
const read = (name: string) => readFileSync(new URL(name, DATA), 'utf8');
const HOUR_MS = 3.6e6;

interface Site {
  file: string;
  latDeg: number;
  lonDeg: number;
  utcOffsetH: number;
  elevationM: number;
  /** yearly sums that the data's own description gives [kWh/m²] */
  sums: readonly [ghi: number, dni: number, dhi: number];
}
const site = (file: string, lat: number, lon: number, zone: number, elevation: number, sums: Site['sums']): Site => ({
  file, latDeg: lat, lonDeg: lon, utcOffsetH: zone, elevationM: elevation, sums,
}); // biome-ignore format: short

/** Typical years: TMY3 (Wilcox & Marion 2008, public domain) and SWERA (UNEP, about 2005). */
const TYPICAL: readonly Site[] = [
  site('USA_NV_Las.Vegas-McCarran.Intl.AP.723860_TMY3.epw', 36.08, -115.15, -8, 648, [2032, 2592, 520]),
  site('PRI_San.Juan.Intl.AP.785260_TMY3.epw', 18.42, -66.0, -4, 19, [1954, 1680, 802]),
  site('USA_AK_Fairbanks.Intl.AP.702610_TMY3.epw', 64.82, -147.85, -9, 133, [946, 1142, 467]),
  site('BRA_Salvador.832290_SWERA.epw', -13.02, -38.52, -3, 51, [1926, 1680, 752]),
  site('seattle-tacoma-tmy3.csv', 47.47, -122.32, -8, 122, [1240, 1158, 584]),
  site('international-falls-tmy3.csv', 48.57, -93.4, -6, 359, [1261, 1318, 581]),
  site('addis-ababa-swera-tmy.csv', 8.98, 38.8, 3, 2355, [2034, 1662, 885]),
];

function wholeYear(at: Site, stepH: number): { grid: Grid; sun: SunColumns } {
  const grid = { startMs: Date.UTC(2025, 0, 1) - at.utcOffsetH * HOUR_MS, stepH, steps: Math.round(8760 / stepH) };
  return { grid, sun: sunColumns(at.latDeg, at.lonDeg, grid) };
}
const kwh = (column: Float64Array, grid: Grid) => (column.reduce((a, b) => a + b, 0) * grid.stepH) / 1000;
const monthOf = (day: number) => new Date(Date.UTC(2025, 0, 1 + day)).getUTCMonth();

/** One value a day from hourly columns. */
function daily(column: Float64Array, of: (day: Float64Array) => number): number[] {
  return Array.from({ length: 365 }, (_, d) => of(column.subarray(d * 24, d * 24 + 24)));
}
const total = (day: Float64Array) => day.reduce((a, b) => a + b, 0);
const byMonth = (days: readonly number[]) =>
  Array.from({ length: 12 }, (_, m) => {
    const own = days.filter((_, d) => monthOf(d) === m);
    return own.reduce((a, b) => a + b, 0) / own.length;
  });

/** Times that three or more days in a row stay under half of their month's mean. */
function dullRuns(light: readonly number[], means: readonly number[]): number {
  let runs = 0;
  let length = 0;
  light.forEach((value, d) => {
    length = value < means[monthOf(d)]! / 2 ? length + 1 : 0;
    if (length === 3) runs++;
  });
  return runs;
}

const dullDays = (light: readonly number[], means: readonly number[]) =>
  light.filter((value, d) => value < means[monthOf(d)]! / 2).length;

/** Light on a plane tilted by the latitude toward the equator. */
function tilted(at: Pick<Site, 'latDeg'>, grid: Grid, sun: SunColumns, weather: WeatherColumns): number {
  const plane = { tiltDeg: Math.abs(at.latDeg), azimuthDeg: at.latDeg >= 0 ? 180 : 0, albedo: 0.2 };
  return kwh(planeColumns(sun, weather, plane).poaWm2, grid);
}

describe.skipIf(absent)('typical years (skipped without ../shared)', () => {
  test.each(TYPICAL)('$file: yearly sums at ten minutes are those of its description', (at) => {
    const { grid, sun } = wholeYear(at, 1 / 6);
    const series = readWeatherFile(read(`hourly/${at.file}`), { file: at.file });
    const { columns, notes } = weatherOnGrid(series, at, grid, sun);
    expect(series.kind).toBe('typical');
    expect(Math.abs(kwh(columns.ghiWm2, grid) - at.sums[0])).toBeLessThan(1);
    // light just below the horizon and beams beyond clean air become diffuse: up to 1 % here
    expect(Math.abs(kwh(columns.dhiWm2, grid) / at.sums[2] - 1)).toBeLessThan(0.012);
    // the file's own beam and its global and diffuse do not close better than this
    const misplaced = at.file.includes('Fairbanks');
    expect(Math.abs(kwh(columns.dniWm2, grid) / at.sums[1] - 1)).toBeLessThan(misplaced ? 0.06 : 0.02);
    const shift = notes.find((n) => n.code === 'weather_light_shift');
    // its radiation months of 1990 and before are one hour early, April and November are not
    if (misplaced)
      expect(shift!.text).toMatch(/early against the sun in Jan 1\.0 h, Feb 1\.0 h, Mar 1\.0 h, May 1\.\d h, Jun/);
    else expect(shift).toBeUndefined();
  });

  test('weather made from their monthly means gives their light within 1 % and their tilted yield within 5 %; dull runs are near', () => {
    const runs = { file: 0, made: 0 };
    for (const at of TYPICAL) {
      const { grid, sun } = wholeYear(at, 1);
      const file = weatherOnGrid(readWeatherFile(read(`hourly/${at.file}`)), at, grid, sun).columns;
      const made = madeYears(at, file, grid, sun, 10);
      expect(Math.abs(made.flat / kwh(file.ghiWm2, grid) - 1), at.file).toBeLessThan(0.01);
      expect(Math.abs(made.plane / tilted(at, grid, sun, file) - 1), at.file).toBeLessThan(0.05);
      runs.file += made.runsOfFile / TYPICAL.length;
      runs.made += made.runs / TYPICAL.length;
    }
    // Typical years leave out extremes and their light is modelled from cloud records: 0.6 a year, the model has 1.7. Real years
    // (below) are on the model's side.
    expect(Math.abs(runs.made - runs.file)).toBeLessThan(1.5);
  });
});

/** Weather years made from a file's own monthly means, and what the file itself has. */
function madeYears(
  at: Pick<Site, 'file' | 'latDeg' | 'lonDeg' | 'elevationM'>,
  file: WeatherColumns,
  grid: Grid,
  sun: SunColumns,
  years: number,
) {
  const light = daily(file.ghiWm2, total);
  const means = byMonth(light);
  const climate = {
    ghiKwhM2Day: means.map((wh) => wh / 1000),
    tMaxC: byMonth(daily(file.ambientC, (day) => Math.max(...day))),
    tMinC: byMonth(daily(file.ambientC, (day) => Math.min(...day))),
  };
  const place = { ...at, name: at.file, zone: 'UTC' };
  const result = {
    flat: 0,
    plane: 0,
    runs: 0,
    dullDays: 0,
    runsOfFile: dullRuns(light, means),
    dullDaysOfFile: dullDays(light, means),
  };
  for (let year = 0; year < years; year++) {
    const made = climateWeather(place, climate, grid, sun, { seed: 4, year });
    const days = daily(made.ghiWm2, total);
    result.flat += kwh(made.ghiWm2, grid) / years;
    result.plane += tilted(at, grid, sun, made) / years;
    result.runs += dullRuns(days, means) / years;
    result.dullDays += dullDays(days, means) / years;
  }
  return result;
}

describe.skipIf(absent)('real years (skipped without ../shared)', () => {
  test('Sydney by satellite: hours that begin at their stamp, the clear-sky column left alone, the lightless end cut', () => {
    const text = read('hourly/sydney-satellite-2021-2022.csv');
    const series = readWeatherFile(text, { file: 'sydney.csv', utcOffsetH: 10 });
    expect(series).toMatchObject({ kind: 'dated', startMs: Date.UTC(2021, 0, 1, 10) });
    expect(series.ghi![0]).toBe(268.07);
    const grid = { startMs: Date.UTC(2021, 1, 1) - 10 * HOUR_MS, stepH: 1 / 6, steps: 200 * 144 };
    const at = { latDeg: -33.87, lonDeg: 151.21, elevationM: 20, utcOffsetH: 10 };
    const { notes, columns } = weatherOnGrid(series, at, grid, sunColumns(at.latDeg, at.lonDeg, grid));
    expect(notes.map((n) => n.code)).toEqual(['weather_stamp_position', 'weather_trimmed', 'weather_no_wind']);
    let given = 0;
    for (let i = 0; i < 200 * 24; i++) given += series.ghi![31 * 24 - 10 + i]! / 1000;
    expect(kwh(columns.ghiWm2, grid)).toBeCloseTo(given, 6);
  });

  test('Golden measured: one global sum, and the beam from global alone', () => {
    const series = readWeatherFile(read('measured/golden-measured-hourly-2012.csv'), { utcOffsetH: -7 });
    expect(series.kind).toBe('dated');
    const at = { latDeg: 39.74, lonDeg: -105.18, elevationM: 1829, utcOffsetH: -7 };
    const grid = { startMs: Date.UTC(2012, 0, 1, 7), stepH: 1 / 6, steps: 366 * 144 };
    const sun = sunColumns(at.latDeg, at.lonDeg, grid);
    const whole = weatherOnGrid(series, at, grid, sun);
    expect(kwh(whole.columns.ghiWm2, grid)).toBeCloseTo(1755, -1);
    expect(Math.abs(kwh(whole.columns.dniWm2, grid) / 2059 - 1)).toBeLessThan(0.05);
    expect(whole.notes.map((n) => n.code)).not.toContain('weather_light_shift');
    const { dni, dhi, ...global } = series;
    const split = weatherOnGrid(global, at, grid, sun).columns;
    // hourly splits of the age of Erbs err by up to 10 % in the mean beam (Gueymard & Ruiz-Arias 2016, from memory)
    expect(Math.abs(kwh(split.dniWm2, grid) / 2059 - 1)).toBeLessThan(0.1);
  });

  test.each([
    ['boulder-1min-2017-01-05.csv', Date.UTC(2017, 0, 5), 40.125, -105.237, 1],
    ['penn-state-1min-2017-01-01.csv', Date.UTC(2017, 0, 1), 40.72, -77.93, 1],
    ['bondville-3min-1995-05-10.csv', Date.UTC(1995, 4, 10), 40.05, -88.37, 3],
  ] as const)('%s: minutes are averaged to ten', (file, startMs, latDeg, lonDeg, minutes) => {
    const series = readWeatherFile(read(`measured/${file}`), { file, columns: { stamp: 'beginning' } });
    expect(series).toMatchObject({ kind: 'dated', utcOffsetH: 0, stepMs: minutes * 60_000, startMs });
    const grid = { startMs, stepH: 0.5, steps: 48 };
    const sun = sunColumns(latDeg, lonDeg, grid);
    const { columns } = weatherOnGrid(series, { latDeg, lonDeg, elevationM: 0, utcOffsetH: 0 }, grid, sun);
    const given = (series.ghi!.reduce((a, b) => a + b, 0) * minutes) / 60_000;
    expect(kwh(columns.ghiWm2, grid)).toBeCloseTo(given, 6);
  });

  test('Cocoa: two air temperatures are asked about; gaps of 2019 are filled and counted', () => {
    const text = read('pv/cocoa-florida-2019-hourly.csv');
    expect(() => readWeatherFile(text)).toThrow(/2 columns could be the air temperature: t_air_sat_c, t_air_c/);
    const series = readWeatherFile(text, { columns: { air: 't_air_c', stamp: 'centred' } });
    expect(series).toMatchObject({ kind: 'dated', utcOffsetH: -5, startMs: Date.UTC(2018, 11, 31, 23, 30) });
    expect(series.notes.find((n) => n.code === 'weather_gaps')!.text).toMatch(
      /global irradiance \d+ h interpolated and \d+ h from/,
    );
  });

  test('weather made from the monthly means of real years has their dull days and dull runs', () => {
    const real = [
      {
        file: 'measured/golden-measured-hourly-2012.csv',
        latDeg: 39.74,
        lonDeg: -105.18,
        elevationM: 1829,
        utcOffsetH: -7,
        year: 2012,
      },
      {
        file: 'pv/cocoa-florida-2019-hourly.csv',
        latDeg: 28.405,
        lonDeg: -80.7709,
        elevationM: 12,
        utcOffsetH: -5,
        year: 2019,
      },
    ];
    const days = { file: 0, made: 0 };
    const runs = { file: 0, made: 0 };
    for (const at of real) {
      const columns = at.file.startsWith('pv') ? { air: 't_air_c', stamp: 'centred' } : {};
      const series = readWeatherFile(read(at.file), { utcOffsetH: at.utcOffsetH, everyYear: true, columns });
      const { grid, sun } = wholeYear({ ...at, sums: [0, 0, 0] }, 1);
      const made = madeYears(at, weatherOnGrid(series, at, grid, sun).columns, grid, sun, 20);
      days.file += made.dullDaysOfFile / 2;
      days.made += made.dullDays / 2;
      runs.file += made.runsOfFile / 2;
      runs.made += made.runs / 2;
    }
    expect(Math.abs(days.made / days.file - 1)).toBeLessThan(0.25);
    expect(Math.abs(runs.made - runs.file)).toBeLessThan(1);
  });
});
