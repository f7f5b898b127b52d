/** Light of a run against the outside: the columns of sun, clear sky, shade, made and measured weather, where they are worked out. */
import {
  clearSkyColumns,
  extraterrestrialNormalWm2,
  linkeTurbidity,
  planeColumns,
  skyShare,
  sunColumns,
} from '../../packages/core/src/sky/index.js';
import { dullClearness, readWeatherFile, weatherOnGrid } from '../../packages/core/src/weather/index.js';
import { ambientColumn } from '../../packages/core/src/weather/made/ambient-course.js';
import { splitByTheHour } from '../../packages/core/src/weather/made/hour-split.js';
import { type PublishedCheck, rangeChecks } from './check.js';
import { SUN_2025 } from './sun.checks.js';

const RAD = Math.PI / 180;
const cosDeg = (angleDeg: number) => Math.cos(angleDeg * RAD);
const recomputed = 'recomputed from the published formula' as const;
const one = (value: number) => Float64Array.of(value);
const HOUR_MS = 3_600_000;

/** Angle between two directions in the sky, each an elevation and an azimuth [deg]. */
function apartDeg(a: readonly [number, number], b: readonly [number, number]): number {
  const cosine = Math.sin(a[0] * RAD) * Math.sin(b[0] * RAD) + cosDeg(a[0]) * cosDeg(b[0]) * cosDeg(a[1] - b[1]);
  return Math.acos(Math.min(1, cosine)) / RAD;
}
/** The sun by columns that began so many days before the instant. */
function sunSeen(utc: string, latDeg: number, lonDeg: number, days: number): readonly [number, number] {
  const stepH = 1 / 6;
  const steps = days * 144 + 1;
  const startMs = Date.parse(utc) - (steps - 0.5) * stepH * HOUR_MS;
  const { cosZenith, azimuthDeg } = sunColumns(latDeg, lonDeg, { startMs, stepH, steps });
  return [Math.asin(cosZenith[steps - 1]!) / RAD, azimuthDeg[steps - 1]!];
}

const sun: PublishedCheck[] = [
  {
    quantity: 'direction of the sun by columns that began 0 and 40 days before',
    unit: 'deg',
    source: 'an astronomy library that reproduces NREL/TP-560-34302 to 1.2e-4°',
    origin: recomputed,
    tolerance: 0.02, // the series of Meeus ch. 25 claims 0.01°; the columns run straight from day to day
    cases: SUN_2025.flatMap(([place, lat, lon, utc, elevation, azimuth]) =>
      [0, 40].map((days) => ({
        at: `${place}, ${utc}, begun ${days} days before`,
        expected: 0,
        got: () => apartDeg(sunSeen(utc, lat, lon, days), [elevation, azimuth]),
      })),
    ),
  },
  {
    quantity: 'extraterrestrial normal irradiance at an instant',
    unit: 'W/m2',
    source: 'Duffie & Beckman, Solar Engineering of Thermal Processes, 4th ed. 2013, eq. 1.4.1a',
    origin: recomputed,
    tolerance: 0.003,
    relative: true,
    cases: (
      [
        [3, 1412.1],
        [94, 1364.9],
        [185, 1321.9],
        [277, 1369.5],
      ] as const
    ).map(([day, expected]) => ({
      at: `day ${day}`,
      expected,
      got: () => extraterrestrialNormalWm2(Date.UTC(2026, 0, day, 12)),
    })),
  },
];

/** Zenith, Linke turbidity, elevation, global, beam of the first form. */
// biome-ignore format: a table
const INEICHEN = [
  [30, 3, 0, 898.7, 918.5],
  [60, 3, 0, 470.7, 789.5],
  [30, 5, 0, 821.9, 746.2],
  [30, 3, 2000, 1012.1, 1013.4],
  [60, 4, 500, 442.0, 689.2],
] as const;
const clear = ([zenith, linke, elevationM]: readonly number[]) =>
  clearSkyColumns(
    { cosZenith: one(cosDeg(zenith!)), azimuthDeg: one(180), extraNormalWm2: one(1367) },
    elevationM!,
    linke!,
  );

const clearSky: PublishedCheck[] = [
  {
    quantity: 'clear-sky global by columns (Ineichen & Perez), air mass of the true zenith',
    unit: 'W/m2',
    source: 'Ineichen & Perez, Solar Energy 73(3), 2002, p. 151',
    origin: recomputed,
    tolerance: 1, // of the air mass, which is that of Young 1994 under the pressure of ISO 2533
    cases: INEICHEN.map((row) => ({
      at: `zenith ${row[0]}, Linke ${row[1]}, ${row[2]} m`,
      expected: row[3],
      got: () => clear(row).ghiWm2[0]!,
    })),
  },
  {
    quantity: 'clear-sky beam by columns (Ineichen & Perez, first form)',
    unit: 'W/m2',
    source: 'Ineichen & Perez, Solar Energy 73(3), 2002, p. 151',
    origin: recomputed,
    tolerance: 1,
    cases: INEICHEN.filter(([, linke]) => linke > 3).map((row) => ({
      at: `zenith ${row[0]}, Linke ${row[1]}, ${row[2]} m`,
      expected: row[4],
      got: () => clear(row).dniWm2[0]!,
    })),
  },
  ...rangeChecks(
    'Linke turbidity of a usual clear day',
    '-',
    'textbooks: about 2 very clean cold air, 3 clean warm air, 5 moist warm or stagnant air',
    'common practice, no source',
    [
      ['tropics, sea level', 3.8, 5, () => linkeTurbidity({ latDeg: 5, elevationM: 0, month: 4 }).value],
      ['45 N in July', 3, 4.5, () => linkeTurbidity({ latDeg: 45, elevationM: 0, month: 7 }).value],
      ['70 N in January', 1.5, 2.5, () => linkeTurbidity({ latDeg: 70, elevationM: 0, month: 1 }).value],
    ],
  ),
];

/** Flat under one sky. */
function flat(dni: number, dhi: number, zenith: number, own: Partial<Parameters<typeof planeColumns>[2]>) {
  return planeColumns(
    { cosZenith: one(cosDeg(zenith)), azimuthDeg: one(180), extraNormalWm2: one(1367) },
    { ghiWm2: one(dni * cosDeg(zenith) + dhi), dniWm2: one(dni), dhiWm2: one(dhi) },
    { tiltDeg: 0, azimuthDeg: 180, albedo: 0.2, ...own },
  );
}
const round = (elevationDeg: number) => [{ azimuthDeg: 0, elevationDeg }];

const shade: PublishedCheck[] = [
  {
    quantity: 'light left on a flat plane where the sun itself is hidden: diffuse without the circumsolar',
    unit: 'W/m2',
    source: 'Perez et al., Solar Energy 44(5), 1990, p. 271: dhi·(1 − F1)',
    origin: recomputed,
    tolerance: 0.5,
    cases: (
      [
        [55, 200, 150, 0.3205],
        [50, 300, 150, 0.4903],
        [45, 500, 120, 0.655],
        [40, 700, 100, 0.6567],
        [35, 850, 80, 0.5019],
      ] as const
    ).map(([zenith, dni, dhi, f1]) => ({
      at: `zenith ${zenith}, dni ${dni}, dhi ${dhi}`,
      expected: dhi * (1 - f1),
      got: () => flat(dni, dhi, zenith, { beamKeeps: one(0) }).poaWm2[0]!,
    })),
  },
  {
    quantity: 'share of an even sky above a skyline of one height all round, flat plane',
    unit: '-',
    source: 'integral of cosine over the half sphere: cos² of the height',
    origin: recomputed,
    tolerance: 1e-3,
    cases: [10, 30, 45].map((height) => ({
      at: `${height} deg`,
      expected: cosDeg(height) ** 2,
      got: () => skyShare(round(height), 0, 180),
    })),
  },
  {
    quantity: 'light on a flat plane behind a skyline of 30 deg, even sky',
    unit: 'W/m2',
    source: 'geometry: no beam below the skyline, cos² of its height of the sky',
    origin: recomputed,
    tolerance: 0.2,
    cases: [
      {
        at: 'sun at 20 deg',
        expected: 150 * cosDeg(30) ** 2,
        got: () => flat(300, 150, 70, { model: 'isotropic', horizon: round(30) }).poaWm2[0]!,
      },
      {
        at: 'sun at 50 deg',
        expected: 300 * cosDeg(40) + 150 * cosDeg(30) ** 2,
        got: () => flat(300, 150, 40, { model: 'isotropic', horizon: round(30) }).poaWm2[0]!,
      },
    ],
  },
];

/** Hourly clearness, then share of diffuse. */
const ERBS = [
  [0.2, 0.982],
  [0.3, 0.9486],
  [0.4, 0.84],
  [0.5, 0.6591],
  [0.6, 0.4395],
] as const;
/** Rayleigh optical depth of Kasten 1996 at an air mass, then the beam through it. */
const cleanBeam = (airMass: number) =>
  1367 *
  Math.exp(
    -airMass / (6.6296 + 1.7513 * airMass - 0.1202 * airMass ** 2 + 0.0065 * airMass ** 3 - 0.00013 * airMass ** 4),
  );
const EQUINOX_MS = Date.UTC(2026, 2, 20);

const weather: PublishedCheck[] = [
  {
    quantity: 'diffuse share of made weather, hour by hour',
    unit: '-',
    source: 'Erbs, Klein & Duffie, Solar Energy 28(4), 1982, p. 293',
    origin: recomputed,
    tolerance: 1e-4,
    cases: ERBS.map(([clearness, expected]) => ({
      at: `clearness ${clearness}`,
      expected,
      got: () => {
        const column = (value: number) => new Float64Array(6).fill(value);
        const ghi = clearness * 1367 * cosDeg(40);
        const { dhiWm2 } = splitByTheHour(
          { startMs: EQUINOX_MS, stepH: 1 / 6, steps: 6 },
          { cosZenith: column(cosDeg(40)), azimuthDeg: column(180), extraNormalWm2: column(1367) },
          column(ghi),
        );
        return dhiWm2[3]! / ghi;
      },
    })),
  },
  {
    quantity: 'strongest beam that a weather file is taken to hold: that of clean dry air',
    unit: 'W/m2',
    source: 'Kasten, Solar Energy 56(3), 1996, p. 239, at the air mass of Kasten & Young 1989',
    origin: 'from memory',
    tolerance: 0.015, // distance to the sun
    relative: true,
    cases: [8.5, 9.5].map((hour) => {
      const zenith = 90 - 15 * (hour - 6);
      const airMass = 1 / (cosDeg(zenith) + 0.50572 * (96.07995 - zenith) ** -1.6364);
      return {
        at: `equator, equinox, sun near ${90 - zenith} deg`,
        expected: cleanBeam(airMass),
        got: () => {
          const rows = Array.from({ length: 24 }, (_, h) => `2026-03-20T${String(h).padStart(2, '0')}:00Z,1300,0,20`);
          const text = `time utc beginning,global horizontal W/m2,diffuse horizontal W/m2,air temperature C\n${rows.join('\n')}\n`;
          const grid = { startMs: EQUINOX_MS, stepH: 1, steps: 24 };
          const series = readWeatherFile(text, { file: 'invented.csv', columns: { stamp: 'beginning' } });
          const site = { latDeg: 0, lonDeg: 0, elevationM: 0, utcOffsetH: 0 };
          return weatherOnGrid(series, site, grid, sunColumns(0, 0, grid)).columns.dniWm2[Math.floor(hour)]!;
        },
      };
    }),
  },
  ...rangeChecks(
    'clearness of a dull day',
    '-',
    'an overcast sky lets through a tenth to three tenths',
    'common practice, no source',
    [
      [
        'desert, 7 kWh/m² a day',
        0.1,
        0.3,
        () => dullClearness({ latDeg: 25, lonDeg: 0, elevationM: 0 }, months(7))[5]!,
      ],
      [
        'cloudy coast, 4 kWh/m² a day',
        0.03,
        0.3,
        () => dullClearness({ latDeg: 45, lonDeg: 0, elevationM: 0 }, months(4))[5]!,
      ],
    ],
  ),
];
const months = (kwh: number) => ({
  ghiKwhM2Day: new Array<number>(12).fill(kwh),
  tMaxC: new Array<number>(12).fill(25),
  tMinC: new Array<number>(12).fill(15),
});

/** Days at the equator, 12 h of sun, from 10 to 20 °C, minute by minute. */
const course = () =>
  ambientColumn(
    0,
    0,
    { startMs: EQUINOX_MS, stepH: 1 / 60, steps: 1440 },
    {
      firstDay: EQUINOX_MS / 86_400_000 - 1,
      minC: new Float64Array(4).fill(10),
      maxC: new Float64Array(4).fill(20),
    },
  );
const PARTON = 'Parton & Logan, Agricultural Meteorology 23, 1981, p. 205';
/** At sunset the sine stands here above the minimum, as a share of the range. */
const sunset = Math.sin((Math.PI * 12) / (12 + 2 * 1.86));
const air: PublishedCheck[] = [
  {
    quantity: 'hours after noon at which air is warmest',
    unit: 'h',
    source: `${PARTON}: 1.86 h, air at 1.5 m`,
    origin: 'from memory',
    tolerance: 0.15, // sunrise is not at six to the minute
    cases: [
      {
        at: 'day of 12 h',
        expected: 1.86,
        got: () => {
          const air = course();
          return air.indexOf(Math.max(...air)) / 60 - 12;
        },
      },
    ],
  },
  {
    quantity: 'air at midnight of a day from 10 to 20 °C',
    unit: '°C',
    source: `${PARTON}: exp(−2.2 · 6 h/12 h) of the evening's excess`,
    origin: 'from memory',
    tolerance: 0.8, // here the minimum is reached at sunrise, there an exp(−2.2) of the excess is left
    cases: [{ at: 'night of 12 h', expected: 10 + 10 * sunset * Math.exp(-1.1), got: () => course()[1439]! }],
  },
];

export const lightChecks: readonly PublishedCheck[] = [...sun, ...clearSky, ...shade, ...weather, ...air];
