import { existsSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { yieldStudy } from '../../../packages/core/src/study/index.js';
import { readWeatherFile, type WeatherSeries } from '../../../packages/core/src/weather/index.js';
import { someRig } from './rig-fixture.js';

const folder = new URL('../../../../shared/data/hourly/', import.meta.url);

/** Typical years of the US Department of Energy (TMY3, public domain) and of SWERA (UNEP / NREL). */
const FILES = [
  { file: 'USA_NV_Las.Vegas-McCarran.Intl.AP.723860_TMY3.epw', latDeg: 36.08, lonDeg: -115.15, elevationM: 648 },
  { file: 'PRI_San.Juan.Intl.AP.785260_TMY3.epw', latDeg: 18.42, lonDeg: -66.0, elevationM: 19 },
  { file: 'USA_AK_Fairbanks.Intl.AP.702610_TMY3.epw', latDeg: 64.82, lonDeg: -147.85, elevationM: 133 },
  { file: 'BRA_Salvador.832290_SWERA.epw', latDeg: -13.02, lonDeg: -38.52, elevationM: 51 },
  { file: 'seattle-tacoma-tmy3.csv', latDeg: 47.47, lonDeg: -122.32, elevationM: 122 },
  { file: 'international-falls-tmy3.csv', latDeg: 48.57, lonDeg: -93.4, elevationM: 359 },
  { file: 'addis-ababa-swera-tmy.csv', latDeg: 8.98, lonDeg: 38.8, elevationM: 2355 },
];

const MONTH_DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Monthly means of a typical year: irradiation a day, and the mean of each day's warmest and coldest hour. */
function monthsOf({ ghi, air, stepMs }: WeatherSeries) {
  const perDay = 86_400_000 / stepMs;
  const [ghiKwhM2Day, tMaxC, tMinC] = [[0], [0], [0]].map(() => new Array<number>(12).fill(0)) as [
    number[],
    number[],
    number[],
  ];
  let day = 0;
  MONTH_DAYS.forEach((days, month) => {
    for (let d = 0; d < days; d++, day++) {
      const span = (column: Float64Array) => column.subarray(day * perDay, (day + 1) * perDay);
      ghiKwhM2Day[month]! += ((span(ghi!).reduce((sum, w) => sum + w, 0) / perDay / 1000) * 24) / days;
      tMaxC[month]! += Math.max(...span(air)) / days;
      tMinC[month]! += Math.min(...span(air)) / days;
    }
  });
  return { ghiKwhM2Day, tMaxC, tMinC };
}

// Measured: -0.1, -1.5, 2.6, 0.7, -0.1, 2.1 and -1.9 %, in the order of FILES; best tilts within 2°.
test.skipIf(!existsSync(folder)).each(FILES)(
  'generated years from the means of $file give its annual tilted yield within 5 % (needs ../shared/data; skipped without)',
  ({ file, latDeg, lonDeg, elevationM }) => {
    const text = readFileSync(new URL(file, folder), 'utf8');
    const months = monthsOf(readWeatherFile(text, { file }));
    const rig = someRig({ tiltDeg: Math.round(Math.abs(latDeg)), azimuthDeg: latDeg > 0 ? 180 : 0, mount: 'rack' });
    const stop = { at: { latDeg, lonDeg }, elevationM, months };
    const real = yieldStudy(rig, stop, {
      weather: { kind: 'file', path: file },
      weatherFile: { name: file, text },
      stepH: 1,
    });
    const made = yieldStudy(rig, stop, { years: 20, stepH: 1 });
    const error = made.annualKwh / real.annualKwh - 1;
    expect(Math.abs(error)).toBeLessThan(0.05);
    expect(Math.abs(made.bestTiltDeg - real.bestTiltDeg)).toBeLessThanOrEqual(3);
  },
);
