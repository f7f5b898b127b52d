import {
  erbsDailyDiffuseFraction,
  erbsDiffuseFraction,
  erbsMonthlyDiffuseFraction,
  groundIncidenceDeg,
  groundView,
  incidenceModifier,
  PEREZ_1990,
  perezBin,
  perezClearness,
  perezF1,
  perezF2,
  planeColumns,
  type SkyModel,
  skyIncidenceDeg,
  skyView,
} from '../../packages/core/src/sky/index.js';
import type { PublishedCheck } from './check.js';

const RAD = Math.PI / 180;
const cosDeg = (angleDeg: number) => Math.cos(angleDeg * RAD);
const DUFFIE = 'Duffie & Beckman, Solar Engineering of Thermal Processes, 4th ed. 2013';
const ERBS = 'Erbs, Klein & Duffie, Solar Energy 28(4), 1982, p. 293';
const PEREZ = 'Perez et al., Solar Energy 44(5), 1990, p. 271';
const RECOMPUTED = 'recomputed from the published formula';

/** One line of a table of x and y. */
type Pair = readonly [number, number];

// biome-ignore format: tables
const HOURLY: readonly Pair[] = [
  [0.1, 0.991], [0.2, 0.982], [0.22, 0.9802], [0.3, 0.9486], [0.4, 0.84], [0.445, 0.7662], [0.5, 0.6591], [0.6, 0.4395],
  [0.7, 0.244], [0.8, 0.1653], [0.85, 0.165],
];
// biome-ignore format: a table
const DAILY_WINTER: readonly Pair[] = [[0.2, 0.9628], [0.4, 0.7583], [0.6, 0.3534], [0.7, 0.1641], [0.75, 0.143]];
// biome-ignore format: a table
const DAILY_SUMMER: readonly Pair[] = [[0.2, 0.9612], [0.4, 0.7584], [0.6, 0.4323], [0.7, 0.2357], [0.75, 0.175]];
// biome-ignore format: a table
const MONTHLY_WINTER: readonly Pair[] = [[0.3, 0.6423], [0.4, 0.5005], [0.5, 0.3911], [0.6, 0.3014], [0.7, 0.2186]];
// biome-ignore format: a table
const MONTHLY_SUMMER: readonly Pair[] = [[0.3, 0.6637], [0.4, 0.534], [0.5, 0.4291], [0.6, 0.3382], [0.7, 0.2502]];
// biome-ignore format: a table
const SKY_VIEW: readonly Pair[] = [[0, 1], [15, 0.983], [30, 0.933], [45, 0.8536], [60, 0.75], [90, 0.5]];
// biome-ignore format: a table
const GROUND_VIEW: readonly Pair[] = [[0, 0], [15, 0.017], [30, 0.067], [45, 0.1464], [60, 0.25], [90, 0.5]];
// biome-ignore format: a table
const GLASS: readonly Pair[] = [
  [0, 1], [20, 0.9995], [40, 0.993], [50, 0.9798], [60, 0.946], [70, 0.8597], [75, 0.7741], [80, 0.6341], [85, 0.4009],
];
// biome-ignore format: a table
const SKY_ANGLE: readonly Pair[] = [[0, 59.7], [30, 56.88], [45, 56.49], [60, 56.76], [90, 59.33]];
// biome-ignore format: a table
const GROUND_ANGLE: readonly Pair[] = [[0, 90], [30, 75.06], [45, 69.41], [60, 64.97], [90, 59.72]];

const PEREZ_TABLE = [
  [-0.008, 0.588, -0.062, -0.06, 0.072, -0.022],
  [0.13, 0.683, -0.151, -0.019, 0.066, -0.029],
  [0.33, 0.487, -0.221, 0.055, -0.064, -0.026],
  [0.568, 0.187, -0.295, 0.109, -0.152, -0.014],
  [0.873, -0.392, -0.362, 0.226, -0.462, 0.001],
  [1.132, -1.237, -0.412, 0.288, -0.823, 0.056],
  [1.06, -1.6, -0.359, 0.264, -1.127, 0.131],
  [0.678, -0.327, -0.25, 0.156, -1.377, 0.251],
];

/**
 * Eleven skies that fall into all eight bins, extraterrestrial 1367 W/m2: zenith, incidence, slope, dni, dhi, ghi, air mass,
 * clearness, bin, F1, F2, sky diffuse of isotropic, Hay & Davies, Reindl and Perez, beam, ground (albedo 0.2).
 */
// biome-ignore format: a table
const SKIES = [
  [70, 60, 30, 0, 60, 60.0, 2.9031, 1.0, 1, 0, -0.0777, 55.98, 55.98, 55.98, 53.65, 0.0, 0.8],
  [60, 45, 30, 30, 180, 195.0, 1.9943, 1.0759, 2, 0.1512, -0.032, 167.94, 169.84, 170.63, 178.16, 21.21, 2.61],
  [55, 40, 30, 200, 150, 264.72, 1.7399, 1.6941, 4, 0.3205, 0.0665, 139.95, 148.79, 150.15, 164.3, 153.21, 3.55],
  [65, 50, 30, 100, 150, 192.26, 2.356, 1.2645, 3, 0.2052, 0.009, 139.95, 146.4, 147.46, 158.72, 64.28, 2.58],
  [50, 35, 30, 300, 150, 342.84, 1.5534, 2.1821, 5, 0.4903, 0.1481, 139.95, 151.19, 152.61, 176.17, 245.75, 4.59],
  [45, 20, 45, 500, 120, 473.55, 1.4126, 3.7697, 6, 0.655, 0.2299, 102.43, 123.29, 126.44, 159.3, 469.85, 13.87],
  [40, 25, 30, 700, 100, 636.23, 1.3042, 6.169, 7, 0.6567, 0.2479, 93.3, 106.11, 106.83, 122.12, 634.42, 8.52],
  [35, 15, 35, 850, 80, 776.28, 1.2199, 9.5872, 8, 0.5019, 0.211, 72.77, 86.18, 86.89, 93.28, 821.04, 14.04],
  [60, 40, 60, 900, 60, 510.0, 1.9943, 7.832, 8, 0.3876, 0.2983, 45.0, 75.89, 77.7, 78.69, 689.44, 25.5],
  [78, 30, 90, 900, 50, 237.12, 4.7093, 5.9633, 7, 0.2957, 0.2482, 25.0, 145.66, 148.34, 91.6, 779.42, 23.71],
  [60, 110, 90, 400, 120, 320.0, 1.9943, 2.5182, 5, 0.4253, 0.1462, 60.0, 42.44, 54.31, 52.02, 0, 32.0],
].map(([zenith, incidence, slope, dni, dhi, ghi, airMass, clearness, bin, f1, f2, isotropic, hayDavies, reindl, perez, beam, ground]) => ({
  zenith: zenith!, incidence: incidence!, slope: slope!, dni: dni!, dhi: dhi!, ghi: ghi!, airMass: airMass!,
  clearness: clearness!, bin: bin!, f1: f1!, f2: f2!,
  sky: { isotropic: isotropic!, 'hay-davies': hayDavies!, reindl: reindl!, perez: perez! }, beam: beam!, ground: ground!,
}));
type Sky = (typeof SKIES)[number];
const nameOf = (s: Sky) => `zenith ${s.zenith}, incidence ${s.incidence}, slope ${s.slope}, dni ${s.dni}, dhi ${s.dhi}`;
/** A sky through the columns: the plane is turned until the incidence is the table's. */
const columnsOf = (
  model: SkyModel,
  s: Pick<Sky, 'zenith' | 'incidence' | 'slope' | 'dni' | 'dhi'>,
  extra = 1367,
  albedo = 0.2,
) => {
  const cosTurn =
    (cosDeg(s.incidence) - cosDeg(s.zenith) * cosDeg(s.slope)) / (Math.sin(s.zenith * RAD) * Math.sin(s.slope * RAD));
  const sun = {
    cosZenith: Float64Array.of(cosDeg(s.zenith)),
    azimuthDeg: Float64Array.of(180),
    extraNormalWm2: Float64Array.of(extra),
  };
  const sky = {
    ghiWm2: Float64Array.of(s.dni * cosDeg(s.zenith) + s.dhi),
    dniWm2: Float64Array.of(s.dni),
    dhiWm2: Float64Array.of(s.dhi),
  };
  return planeColumns(sun, sky, {
    tiltDeg: s.slope,
    azimuthDeg: 180 + Math.acos(Math.max(-1, Math.min(1, cosTurn))) / RAD,
    albedo,
    model,
  });
};

/** 20 February, 9 to 10, 40 N, slope 60 to the equator, 1.04 MJ/m2 of which 0.796 diffuse, albedo 0.6. */
const hourMoment = (() => {
  const dec = 23.45 * Math.sin((2 * Math.PI * (284 + 51)) / 365);
  const at = (lat: number) => Math.sin(lat * RAD) * Math.sin(dec * RAD) + cosDeg(lat) * cosDeg(dec) * cosDeg(-37.5);
  const cosZenith = at(40);
  const cosIncidence = at(40 - 60);
  const extra = 1367 * (1 + 0.033 * Math.cos((2 * Math.PI * 51) / 365));
  const wattsPerMj = 1e6 / 3600;
  const kt = 1.04 / ((extra * cosZenith) / wattsPerMj);
  const diffuse = 1.04 * erbsDiffuseFraction(kt);
  const beam = 1.04 - diffuse;
  const sky = {
    zenith: Math.acos(cosZenith) / RAD,
    incidence: Math.acos(cosIncidence) / RAD,
    slope: 60,
    dni: (beam * wattsPerMj) / cosZenith,
    dhi: diffuse * wattsPerMj,
  };
  const total = (model: SkyModel) => columnsOf(model, sky, extra, 0.6).poaWm2[0]! / wattsPerMj;
  return { kt, diffuse, beam, ratio: cosIncidence / cosZenith, total };
})();

const curve = (name: string, pairs: readonly Pair[], f: (x: number) => number) =>
  pairs.map(([x, expected]) => ({ at: `${name} ${x}`, expected, got: () => f(x) }));

const MODELS = ['isotropic', 'hay-davies', 'reindl', 'perez'] as const;

export const planeChecks: PublishedCheck[] = [
  {
    quantity: 'hourly diffuse fraction',
    unit: '-',
    source: `${ERBS} (${DUFFIE}, eq. 2.10.1)`,
    origin: RECOMPUTED,
    tolerance: 1e-4,
    cases: curve('kt', HOURLY, erbsDiffuseFraction),
  },
  {
    quantity: 'daily diffuse fraction',
    unit: '-',
    source: `${ERBS} (${DUFFIE}, eq. 2.11.1)`,
    origin: RECOMPUTED,
    tolerance: 1e-4,
    cases: [
      ...curve('winter, KT', DAILY_WINTER, (k) => erbsDailyDiffuseFraction(k, 81.4)),
      ...curve('summer, KT', DAILY_SUMMER, (k) => erbsDailyDiffuseFraction(k, 81.5)),
    ],
  },
  {
    quantity: 'monthly diffuse fraction',
    unit: '-',
    source: `${ERBS} (${DUFFIE}, eq. 2.12.1)`,
    origin: RECOMPUTED,
    tolerance: 1e-4,
    cases: [
      ...curve('winter, KT', MONTHLY_WINTER, (k) => erbsMonthlyDiffuseFraction(k, 81.4)),
      ...curve('summer, KT', MONTHLY_SUMMER, (k) => erbsMonthlyDiffuseFraction(k, 81.5)),
    ],
  },
  {
    quantity: 'hour on a slope, isotropic sky: clearness, diffuse, beam, total',
    unit: 'MJ/m2',
    source: `${DUFFIE}, example 2.15.1`,
    origin: 'from memory',
    tolerance: 0.01,
    cases: [
      { at: 'kt', expected: 0.445, got: () => hourMoment.kt },
      { at: 'diffuse', expected: 0.796, got: () => hourMoment.diffuse },
      { at: 'beam', expected: 0.244, got: () => hourMoment.beam },
      { at: 'beam ratio', expected: 1.71, got: () => hourMoment.ratio },
      { at: 'on the slope', expected: 1.17, got: () => hourMoment.total('isotropic') },
    ],
  },
  {
    quantity: 'hour on a slope, Hay & Davies and Reindl (HDKR)',
    unit: 'MJ/m2',
    source: `${DUFFIE}, eq. 2.16.7 with the data of example 2.16.1`,
    origin: RECOMPUTED,
    tolerance: 0.01,
    cases: [
      { at: 'Hay & Davies', expected: 1.251, got: () => hourMoment.total('hay-davies') },
      { at: 'Reindl', expected: 1.28, got: () => hourMoment.total('reindl') },
    ],
  },
  {
    quantity: 'hour on a slope, Perez',
    unit: 'MJ/m2',
    source: `${DUFFIE}, example 2.16.2`,
    origin: RECOMPUTED,
    tolerance: 0.01,
    cases: [{ at: 'on the slope', expected: 1.37, got: () => hourMoment.total('perez') }],
  },
  {
    quantity: 'Perez brightness coefficients',
    unit: '-',
    source: `${PEREZ}, table 6; also ISO 52010-1 and ${DUFFIE}, table 2.16.1`,
    origin: 'published',
    tolerance: 0,
    cases: PEREZ_TABLE.flatMap((row, bin) =>
      row.map((expected, k) => ({
        at: `bin ${bin + 1}, column ${k + 1}`,
        expected,
        got: () => PEREZ_1990[bin * 6 + k]!,
      })),
    ),
  },
  {
    quantity: 'Perez sky clearness',
    unit: '-',
    source: PEREZ,
    origin: RECOMPUTED,
    tolerance: 0.001,
    cases: SKIES.map((s) => ({
      at: nameOf(s),
      expected: s.clearness,
      got: () => perezClearness(s.dni, s.dhi, s.zenith * RAD),
    })),
  },
  {
    quantity: 'Perez clearness bin',
    unit: '-',
    source: PEREZ,
    origin: RECOMPUTED,
    tolerance: 0,
    cases: SKIES.map((s) => ({ at: nameOf(s), expected: s.bin, got: () => perezBin(s.clearness) + 1 })),
  },
  {
    quantity: 'Perez circumsolar and horizon brightening F1, F2',
    unit: '-',
    source: PEREZ,
    origin: RECOMPUTED,
    tolerance: 2e-4,
    cases: SKIES.flatMap((s) => {
      const brightness = (s.dhi * s.airMass) / 1367;
      return [
        { at: `F1 at ${nameOf(s)}`, expected: s.f1, got: () => perezF1(s.bin - 1, brightness, s.zenith * RAD) },
        { at: `F2 at ${nameOf(s)}`, expected: s.f2, got: () => perezF2(s.bin - 1, brightness, s.zenith * RAD) },
      ];
    }),
  },
  ...MODELS.map(
    (model): PublishedCheck => ({
      quantity: `sky diffuse on a slope, ${model}`,
      unit: 'W/m2',
      source: {
        isotropic: 'Liu & Jordan 1963',
        'hay-davies': 'Hay & Davies 1980',
        reindl: 'Reindl, Beckman & Duffie 1990',
        perez: PEREZ,
      }[model],
      origin: RECOMPUTED,
      // the columns' air mass is that of a true zenith, with refraction: 0.7 % less at 78 deg than the table's
      tolerance: model === 'perez' ? 0.5 : 0.1,
      cases: SKIES.map((s) => ({
        at: nameOf(s),
        expected: s.sky[model],
        got: () => columnsOf(model, s).skyDiffuseWm2[0]!,
      })),
    }),
  ),
  ...MODELS.map(
    (model): PublishedCheck => ({
      quantity: `light on a slope by columns, ${model}`,
      unit: 'W/m2',
      source: 'beam, sky and ground of the same eleven skies',
      origin: RECOMPUTED,
      // the columns' air mass is that of a true zenith, with refraction: 0.7 % less at 78 deg than the table's
      tolerance: model === 'perez' ? 0.5 : 0.1,
      cases: SKIES.map((s) => ({
        at: nameOf(s),
        expected: s.beam + s.sky[model] + s.ground,
        got: () => columnsOf(model, s).poaWm2[0]!,
      })),
    }),
  ),
  {
    quantity: 'light on a slope that passes the glass, isotropic sky',
    unit: 'W/m2',
    source: 'De Soto, Klein & Beckman 2006, in sines and tangents, with the angles of Brandemuehl & Beckman 1980',
    origin: RECOMPUTED,
    tolerance: 0.02,
    cases: (
      [
        [60, 60, 751.13],
        [78, 90, 823.98],
        [50, 30, 382.69],
      ] as const
    ).map(([zenith, slope, expected]) => ({
      at: `zenith ${zenith}, slope ${slope}`,
      expected,
      got: () => {
        const sky = SKIES.find((s) => s.zenith === zenith && s.slope === slope && s.dni > 0)!;
        return columnsOf('isotropic', sky).effectiveWm2[0]!;
      },
    })),
  },
  {
    quantity: 'ground-reflected light on a slope',
    unit: 'W/m2',
    source: 'Liu & Jordan 1963',
    origin: RECOMPUTED,
    tolerance: 0.01,
    cases: SKIES.map((s) => ({
      at: nameOf(s),
      expected: s.ground,
      got: () => columnsOf('perez', s).groundWm2[0]!,
    })),
  },
  {
    quantity: 'share of sky and ground that a slope sees',
    unit: '-',
    source: 'Liu & Jordan 1963',
    origin: RECOMPUTED,
    tolerance: 1e-4,
    cases: [...curve('sky, slope', SKY_VIEW, skyView), ...curve('ground, slope', GROUND_VIEW, groundView)],
  },
  {
    quantity: 'incidence-angle modifier of glass',
    unit: '-',
    source: 'De Soto, Klein & Beckman, Solar Energy 80, 2006 (n 1.526, K 4 /m, L 2 mm)',
    origin: RECOMPUTED,
    tolerance: 1e-4,
    cases: curve('incidence', GLASS, (angle) => incidenceModifier(cosDeg(angle))),
  },
  {
    quantity: 'effective incidence angle of sky and ground light',
    unit: 'deg',
    source: `Brandemuehl & Beckman, Solar Energy 24, 1980 (${DUFFIE}, eq. 5.4.1, 5.4.2)`,
    origin: RECOMPUTED,
    tolerance: 0.01,
    cases: [
      ...curve('sky, slope', SKY_ANGLE, skyIncidenceDeg),
      ...curve('ground, slope', GROUND_ANGLE, groundIncidenceDeg),
    ],
  },
];
