import { readParts, readRig, sizeStudy, stayStudy, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { findPlace } from '../../../packages/core/src/place/index.js';
import { conditionsFor } from '../../../packages/core/src/simulate/inputs/conditions.js';
import { dailyExtraterrestrialKwhM2, sunColumns } from '../../../packages/core/src/sky/index.js';
import { readWeatherFile, weatherOnGrid } from '../../../packages/core/src/weather/index.js';

const DAY_MS = 86_400_000;
const porto = findPlace('Porto');

/** Invented days of a year: clearness 0.2 and 0.6 in turn of three days, 8 to 18 °C; light in MJ/m². */
function daysOf(year: number, change: (line: string, day: number) => string | undefined = (line) => line): string {
  const count = (Date.UTC(year + 1, 0, 1) - Date.UTC(year, 0, 1)) / DAY_MS;
  const lines = Array.from({ length: count }, (_, d) => {
    const date = new Date(Date.UTC(year, 0, 1 + d)).toISOString().slice(0, 10);
    return change(`${date},${(lightOf(d) * 3.6).toFixed(3)},18,8`, d);
  });
  return `date,SRAD MJ/m2,TMAX C,TMIN C\n${lines.filter((line) => line !== undefined).join('\n')}\n`;
}
const lightOf = (d: number) => (d % 6 < 3 ? 0.2 : 0.6) * dailyExtraterrestrialKwhM2(porto.latDeg, d + 1);

function onGrid(text: string, from = '2011-05-01', days = 10, file = 'days.csv') {
  const series = readWeatherFile(text, { file });
  const grid = { startMs: Date.parse(from) - (porto.lonDeg / 15) * 3.6e6, stepH: 1, steps: 24 * days };
  const site = { ...porto, utcOffsetH: 0 };
  const made = weatherOnGrid(series, site, grid, sunColumns(porto.latDeg, porto.lonDeg, grid));
  return { ...made, texts: made.notes.map(({ text }) => text).join('\n') };
}
const sum = (values: Float64Array) => values.reduce((a, b) => a + b, 0);

describe('a table of days', () => {
  test('becomes hours: each day keeps its light, and its lowest and highest temperature', () => {
    const { columns } = onGrid(daysOf(2011));
    for (let d = 0; d < 10; d++) {
      const day = (column: Float64Array) => column.subarray(24 * d, 24 * d + 24);
      // the sun of the grid and that of the day's formula differ by some tenths of a per cent
      expect(Math.abs(sum(day(columns.ghiWm2)) / 1000 / lightOf(120 + d) - 1)).toBeLessThan(0.01);
      expect(Math.max(...day(columns.ambientC))).toBeGreaterThan(17.5);
      expect(Math.max(...columns.ambientC)).toBeLessThanOrEqual(18);
      expect(Math.min(...columns.ambientC)).toBeGreaterThanOrEqual(8);
    }
    expect(columns.dniWm2.some((dni) => dni > 100)).toBe(true);
  });

  test.each([
    ['kWh/m2', 1],
    ['Wh/m2', 1000],
    ['MJ/m2', 3.6],
    ['W/m2', 1000 / 24],
  ])('in %s is the same', (unit, scale) => {
    const text = daysOf(2011).replace('SRAD MJ/m2', `global ${unit}`);
    const rescaled = text.replace(
      /^(\d{4}-[^,]*),([\d.]+)/gm,
      (_, date, mj) => `${date},${(Number(mj) / 3.6) * scale}`,
    );
    expect(sum(onGrid(rescaled).columns.ghiWm2)).toBeCloseTo(sum(onGrid(daysOf(2011)).columns.ghiWm2), 0);
  });

  test('in Fahrenheit, with year and day of year, or with columns named by hand is the same', () => {
    const plain = sum(onGrid(daysOf(2011)).columns.ambientC);
    const warm = daysOf(2011)
      .replace('TMAX C,TMIN C', 'max temp F,min temp F')
      .replaceAll(',18,8', `,${18 * 1.8 + 32},${8 * 1.8 + 32}`);
    expect(sum(onGrid(warm).columns.ambientC)).toBeCloseTo(plain, 6);
    const numbered = daysOf(2011)
      .replace('date,', 'year,doy,')
      .replace(
        /^2011-(\d\d)-(\d\d)/gm,
        (_, m, d) => `2011,${(Date.UTC(2011, Number(m) - 1, Number(d)) - Date.UTC(2011, 0, 0)) / DAY_MS}`,
      );
    expect(sum(onGrid(numbered).columns.ambientC)).toBeCloseTo(plain, 6);
    const named = readWeatherFile(daysOf(2011).replace('TMAX C,TMIN C', 'a,b'), {
      columns: { airMax: 'a', airMin: 'b' },
    });
    expect(named.intervals).toBe(365);
  });

  test('tells lines that make no day, counts the days left out, and takes the nearest for them', () => {
    const { texts, columns } = onGrid(
      daysOf(2011, (line, d) => {
        if (d === 121) return undefined; // a gap
        if (d === 122) return line.replace(',18,8', ',8,18');
        if (d === 123) return line.replace(/,[\d.]+,/, ',n/a,');
        return line;
      }),
    );
    expect(texts).toMatch(
      /3 of 365 days left out, 1 of them not in the table \(2011-05-02\), 2 of them for what stands on lines 123, 124;/,
    );
    expect(columns.ghiWm2.every(Number.isFinite)).toBe(true);
  });

  test('tells light that no sky has by its line: above 1.05 of a cloudless day in clean air', () => {
    const bright = daysOf(2011, (line, d) => (d === 124 ? line.replace(/,[\d.]+,/, ',38,') : line));
    const { texts, columns } = onGrid(bright);
    expect(texts).toMatch(/1 day left out for more light than a cloudless day has there, on line 126;/);
    expect(sum(columns.ghiWm2.subarray(96, 120))).toBeLessThan(9000);
    expect(onGrid(daysOf(2011)).texts).not.toMatch(/cloudless/);
  });

  test.each([
    ['light without a unit', daysOf(2011).replace('SRAD MJ/m2', 'SRAD'), /no unit in its heading/],
    [
      'a fifth of the days missing',
      daysOf(2011, (line, d) => (d % 5 === 0 ? undefined : line)),
      /at most 10 % can be filled/,
    ],
    [
      'no year',
      daysOf(2011)
        .replace('date,', 'month,day,')
        .replace(/^2011-(\d\d)-(\d\d)/gm, '$1,$2'),
      /needs the year/,
    ],
  ])('is refused with %s', (_, text, message) => {
    expect(() => readWeatherFile(text, { file: 'days.csv' })).toThrow(message);
  });
});

describe('years in files of their own', () => {
  const { rig } = readRig(`
battery: { chemistry: LFP, capacity: 60 Ah }
solar: [{ power: 120 W }]
loads: [{ name: fan, current: 1.5 A }]
`);
  const weatherFile = {
    name: 'a.csv',
    text: daysOf(2011),
    more: [2012, 2013].map((year) => ({ name: `${year}.csv`, text: daysOf(year) })),
  };
  const weather = { kind: 'file', path: 'years' } as const;

  test('are the weather years of stay, in the order of the files', () => {
    const study = stayStudy(rig, { place: 'Porto' }, { weather, weatherFile, months: [6], stepH: 1 });
    expect(study.weatherYears).toBe(3);
    expect(study.months[0]!.stays).toBe(30);
    expect(study.notes.filter(({ code }) => code === 'weather_daily')).toHaveLength(3);
  });

  test('give a run the year that it is in', () => {
    const from = (date: string) => ({ ...withoutTrip({ place: 'Porto', from: date, days: 3 }), weather });
    const { notes } = conditionsFor(rig, from('2012-06-01'), { weatherFile, stepH: 1 });
    expect(notes.some(({ text }) => text.startsWith('2012.csv'))).toBe(true);
    expect(() => conditionsFor(rig, from('2015-06-01'), { weatherFile })).toThrow(/the file holds/);
  });

  test('let size run its days through each', () => {
    const { parts } = readParts(
      'batteries: [{ name: small, chemistry: LFP, capacity: 50 Ah, mass: 5 kg, price: 200 }]\npanels: [{ name: flat, power: 90 W, mass: 2 kg, price: 100 }]\nlimits: { batteries: 2, panels: 2 }',
    );
    // the trip's own year is none of the files': its days and months are taken in each
    const trip = { ...withoutTrip({ place: 'Porto', from: '2026-06-01', days: 6 }), weather };
    const study = sizeStudy(rig, parts, [trip], { weatherFile, stepH: 1 });
    expect(study.weatherYears).toBe(3);
    expect(sizeStudy(rig, parts, [trip], { weatherFile, stepH: 1, years: 2 }).weatherYears).toBe(2);
  });
});
