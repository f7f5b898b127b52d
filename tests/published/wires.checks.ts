import { awgSectionMm2 } from '../../packages/core/src/quantity/index.js';
import type { Cable } from '../../packages/core/src/rig/index.js';
import {
  adviseSection,
  ambientFactor,
  ampacityA,
  bundleFactor,
  type CircuitDemand,
  CRITICAL_DROP,
  cableFit,
  cableLoopOhm,
  circuitLoopOhm,
  circuits,
  copperFactor,
  fuseFor,
  ORDINARY_DROP,
  solidOhmPerKm,
} from '../../packages/core/src/wire/index.js';
import { bank, copperOhm, rigOf, runOn } from './bench.js';
import { type PublishedCheck, rangeChecks } from './check.js';

const cable = (sectionMm2: number, lengthM: number): Cable => ({
  sectionMm2,
  lengthM,
  bundled: 1,
  insulationC: 70,
});
const gauge = (gaugeAwg: string, lengthM: number): Cable => ({
  ...cable(awgSectionMm2(gaugeAwg)!, lengthM),
  gaugeAwg,
});
/** Feet of a thousand, one way and back together: the loop of 500 ft is 1000 ft of conductor. */
const HALF_KFT_M = 152.4;

const class5 = [
  [0.5, 39.0],
  [0.75, 26.0],
  [1, 19.5],
  [1.5, 13.3],
  [2.5, 7.98],
  [4, 4.95],
  [6, 3.3],
  [10, 1.91],
  [16, 1.21],
  [25, 0.78],
  [35, 0.554],
  [50, 0.386],
  [70, 0.272],
  [95, 0.206],
  [120, 0.161],
  [150, 0.129],
  [185, 0.106],
  [240, 0.0801],
  [300, 0.0641],
] as const;

const awg = [
  ['4/0', 107.219, 0.1608],
  ['3/0', 85.029, 0.2028],
  ['2/0', 67.431, 0.2557],
  ['1/0', 53.475, 0.3224],
  ['1', 42.408, 0.4066],
  ['2', 33.631, 0.5127],
  ['4', 21.151, 0.8152],
  ['6', 13.302, 1.296],
  ['8', 8.366, 2.061],
  ['10', 5.261, 3.277],
  ['12', 3.309, 5.211],
  ['14', 2.081, 8.285],
  ['16', 1.309, 13.17],
  ['18', 0.823, 20.95],
  ['20', 0.518, 33.31],
  ['22', 0.326, 52.96],
] as const;

const necStranded = [
  ['14', 3.14],
  ['12', 1.98],
  ['10', 1.24],
  ['8', 0.778],
  ['6', 0.491],
  ['4', 0.308],
  ['3', 0.245],
  ['2', 0.194],
  ['1', 0.154],
  ['1/0', 0.122],
  ['2/0', 0.0967],
  ['3/0', 0.0766],
  ['4/0', 0.0608],
] as const;

const necSolid = [
  ['14', 3.07],
  ['12', 1.93],
  ['10', 1.21],
  ['8', 0.764],
] as const;

const metricDrops = [
  [10, 5, 2.5, 20, 0.6896],
  [10, 5, 2.5, 50, 0.7709],
  [20, 3, 6, 20, 0.3448],
  [8, 7, 4, 20, 0.4827],
  [100, 1.5, 35, 20, 0.1478],
  [30, 4, 10, 70, 0.4951],
] as const;

const marineDrops = [
  [10, 30, 3, 8958],
  [10, 30, 10, 2688],
  [50, 20, 3, 29861],
  [5, 40, 3, 5972],
  [100, 10, 3, 29861],
] as const;
const MM2_PER_CMIL = (Math.PI / 4) * 0.0254 ** 2;

const vde = [
  [0.75, 15],
  [1, 19],
  [1.5, 24],
  [2.5, 32],
  [4, 42],
  [6, 54],
  [10, 73],
  [16, 98],
  [25, 129],
  [35, 158],
  [50, 198],
  [70, 245],
  [95, 292],
  [120, 344],
] as const;

const ambient = [
  // biome-ignore lint/suspicious/noApproximativeNumericConstant: the digits of the source
  [70, [1.118, 1.0, 0.866, 0.707, 0.5]],
  // biome-ignore lint/suspicious/noApproximativeNumericConstant: the digits of the source
  [90, [1.08, 1.0, 0.913, 0.816, 0.707]],
  [105, [1.065, 1.0, 0.931, 0.856, 0.775]],
] as const;

const recomputed = 'recomputed from the published formula' as const;
const demand = (own: Partial<CircuitDemand>): CircuitDemand => ({
  sourceV: 12,
  currentA: 10,
  dropLimit: 0.03,
  ambientC: 30,
  ...own,
});

export const wireChecks: PublishedCheck[] = [
  {
    quantity: 'resistance of a flexible metric conductor at 20 °C',
    unit: 'Ω/km',
    source: 'IEC 60228:2004, class 5, table 3; 1 to 25 mm² re-read in reprints, the rest from memory',
    origin: 'published',
    tolerance: 1e-9,
    relative: true,
    cases: class5.map(([mm2, expected]) => ({
      at: `${mm2} mm²`,
      expected,
      got: () => cableLoopOhm(cable(mm2, 500), 20),
    })),
  },
  {
    quantity: 'area of a wire gauge',
    unit: 'mm²',
    source: 'ASTM B258: d = 0.127 mm · 92^((36 − n) / 39)',
    origin: 'recomputed from the published formula',
    tolerance: 5e-4,
    cases: awg.map(([size, expected]) => ({ at: `${size} AWG`, expected, got: () => awgSectionMm2(size)! })),
  },
  {
    quantity: 'resistance of a solid wire gauge at 20 °C',
    unit: 'Ω/km',
    source: 'ASTM B258 area with IEC 60028 copper',
    origin: 'recomputed from the published formula',
    tolerance: 1e-3,
    relative: true,
    cases: awg.map(([size, , expected]) => ({
      at: `${size} AWG`,
      expected,
      got: () => solidOhmPerKm(awgSectionMm2(size)!),
    })),
  },
  {
    quantity: 'resistance of a stranded wire gauge at 75 °C',
    unit: 'Ω per 1000 ft',
    source: 'NFPA 70 (NEC), chapter 9, table 8, uncoated copper, stranded',
    origin: 'published',
    tolerance: 0.01,
    relative: true,
    cases: necStranded.map(([size, expected]) => ({
      at: `${size} AWG`,
      expected,
      got: () => cableLoopOhm(gauge(size, HALF_KFT_M), 75),
    })),
  },
  {
    quantity: 'resistance of a solid wire gauge at 75 °C',
    unit: 'Ω per 1000 ft',
    source: 'NFPA 70 (NEC), chapter 9, table 8, uncoated copper, solid',
    origin: 'published',
    tolerance: 5e-3,
    relative: true,
    cases: necSolid.map(([size, expected]) => ({
      at: `${size} AWG`,
      expected,
      got: () => solidOhmPerKm(awgSectionMm2(size)!) * copperFactor(75) * 0.3048,
    })),
  },
  {
    quantity: 'resistance of copper against 20 °C',
    unit: '-',
    source: 'IEC 60028 / IEC 60228 annex',
    origin: 'recomputed from the published formula',
    tolerance: 4e-4, // 1/254.5 is 0.003929, the source's column has 0.00393
    cases: (
      [
        [-20, 0.8428],
        [0, 0.9214],
        [20, 1],
        [30, 1.0393],
        [50, 1.1179],
        [70, 1.1965],
        [90, 1.2751],
        [105, 1.334],
      ] as const
    ).map(([c, expected]) => ({ at: `${c} °C`, expected, got: () => copperFactor(c) })),
  },
  {
    quantity: 'voltage drop by area and resistivity',
    unit: 'V',
    source: 'V = I · 2 L · ρ / A',
    origin: 'recomputed from the published formula',
    tolerance: 2e-4,
    cases: metricDrops.map(([currentA, lengthM, mm2, c, expected]) => ({
      at: `${currentA} A, ${lengthM} m, ${mm2} mm², ${c} °C`,
      expected,
      got: () => (currentA * 2 * lengthM * solidOhmPerKm(mm2) * copperFactor(c)) / 1000,
    })),
  },
  {
    quantity: 'voltage drop of a flexible metric cable at 20 °C',
    unit: 'V',
    source: 'IEC 60228:2004, class 5, table 3',
    origin: 'recomputed from the published formula',
    tolerance: 1e-4,
    cases: (
      [
        [10, 5, 2.5, 0.798],
        [20, 3, 6, 0.396],
        [100, 1.5, 35, 0.1662],
      ] as const
    ).map(([currentA, lengthM, mm2, expected]) => ({
      at: `${currentA} A, ${lengthM} m, ${mm2} mm²`,
      expected,
      got: () => currentA * cableLoopOhm(cable(mm2, lengthM), 20),
    })),
  },
  {
    quantity: 'drop of the conductor that the small-craft formula asks for',
    unit: '% of 12 V',
    source: 'ABYC E-11: CM = 10.75 · I · L / E, copper at about 29 °C; K from memory',
    origin: 'recomputed from the published formula',
    tolerance: 2e-3,
    relative: true,
    cases: marineDrops.map(([currentA, feet, expected, circularMils]) => ({
      at: `${currentA} A, ${feet} ft round trip, ${circularMils} cmil`,
      expected,
      got: () => {
        const ohm = (solidOhmPerKm(circularMils * MM2_PER_CMIL) * copperFactor(29.3) * feet * 0.3048) / 1000;
        return (100 * currentA * ohm) / 12;
      },
    })),
  },
  {
    quantity: 'ampacity of a flexible single core, 70 °C, free air at 30 °C',
    unit: 'A',
    source: 'DIN VDE 0298-4, table 11',
    origin: 'from memory',
    tolerance: 1e-9,
    relative: true,
    cases: vde.map(([mm2, expected]) => ({ at: `${mm2} mm²`, expected, got: () => ampacityA(cable(mm2, 1), 30) })),
  },
  {
    quantity: 'share of the ampacity left in other air',
    unit: '-',
    source: 'IEC 60364-5-52 annex: sqrt((Tmax − Ta) / (Tmax − 30))',
    origin: 'recomputed from the published formula',
    tolerance: 1e-3,
    cases: ambient.flatMap(([insulationC, factors]) =>
      factors.map((expected, i) => ({
        at: `${insulationC} °C insulation, ${20 + 10 * i} °C air`,
        expected,
        got: () => ambientFactor(insulationC, 20 + 10 * i),
      })),
    ),
  },
  {
    quantity: 'share of the ampacity left in a bundle',
    unit: '-',
    source: 'IEC 60364-5-52, table B.52.17, bunched in air',
    origin: 'from memory',
    tolerance: 0.03, // above ten the table steps, the model follows its course
    relative: true,
    cases: (
      [
        [1, 1],
        [2, 0.8],
        [3, 0.7],
        [4, 0.65],
        [5, 0.6],
        [6, 0.57],
        [7, 0.54],
        [8, 0.52],
        [9, 0.5],
        [12, 0.45],
        [16, 0.41],
        [20, 0.38],
      ] as const
    ).map(([bundled, expected]) => ({ at: `${bundled} circuits`, expected, got: () => bundleFactor(bundled) })),
  },
  {
    quantity: 'fuse for a lasting load: the next standard rating above 1.25 times',
    unit: 'A',
    source: 'IEC 60364-4-43 clause 433.1, ISO 8820-3 and -5 ratings',
    origin: 'from memory',
    tolerance: 1e-9,
    cases: (
      [
        [1, 2],
        [4, 5],
        [6, 7.5],
        [8, 10],
        [28, 35],
        [40, 50],
        [120, 150],
      ] as const
    ).map(([loadA, expected]) => ({
      at: `${loadA} A on a cable of 400 A`,
      expected,
      got: () => fuseFor({ loadA, ampacityA: 400 }).fuseA ?? 0,
    })),
  },
  {
    quantity: 'ampacity in hot air and in a bundle, 2.5 mm²',
    unit: 'A',
    source: 'DIN VDE 0298-4, table 11, 32 A; IEC 60364-5-52: 0.707 at 50 °C, 0.65 for four circuits',
    origin: 'from memory',
    tolerance: 2e-3,
    relative: true,
    cases: [
      { at: 'alone at 50 °C', expected: 32 * Math.SQRT1_2, got: () => ampacityA(cable(2.5, 1), 50) },
      { at: 'four at 30 °C', expected: 32 * 0.65, got: () => ampacityA({ ...cable(2.5, 1), bundled: 4 }, 30) },
    ],
  },
  {
    quantity: 'fuse that a cable can bear: none where the smallest that carries the load is more than its ampacity',
    unit: 'A, 0 = none',
    source: 'IEC 60364-4-43 clause 433.1: load ≤ fuse ≤ ampacity',
    origin: 'from memory',
    tolerance: 0,
    cases: [
      { at: '30 A on a cable of 32 A', expected: 0, got: () => fuseFor({ loadA: 30, ampacityA: 32 }).fuseA ?? 0 },
      { at: '20 A on a cable of 32 A', expected: 25, got: () => fuseFor({ loadA: 20, ampacityA: 32 }).fuseA ?? 0 },
    ],
  },
  {
    quantity: 'share of the voltage that a circuit may lose',
    unit: '-',
    source: 'ABYC E-11: 3 % where it must not fail, 10 % elsewhere',
    origin: 'from memory',
    tolerance: 0,
    cases: [
      { at: 'must not fail', expected: 0.03, got: () => CRITICAL_DROP },
      { at: 'any other', expected: 0.1, got: () => ORDINARY_DROP },
    ],
  },
  {
    quantity: 'gauge that is advised for a run, the next at or above the circular mils of the formula',
    unit: 'mm²',
    source: 'ABYC E-11: CM = 10.75 · I · L / E; ASTM B258',
    origin: recomputed,
    tolerance: 1e-3,
    cases: (
      [
        [10, 30, 0.03, '10', 5.261],
        [10, 30, 0.1, '14', 2.081],
        [50, 20, 0.03, '4', 21.151],
        [5, 40, 0.03, '12', 3.309],
      ] as const
    ).map(([currentA, feet, dropLimit, size, expected]) => ({
      at: `${currentA} A, ${feet} ft there and back, ${100 * dropLimit} %: ${size} AWG`,
      expected,
      got: () => adviseSection(gauge('18', (feet / 2) * 0.3048), demand({ currentA, dropLimit }))?.sectionMm2 ?? 0,
    })),
  },
  {
    quantity: 'power that arrives at a load of constant power behind a thin cable',
    unit: 'W',
    source: 'balance: I·(V − I·R) = P',
    origin: recomputed,
    tolerance: 1e-6,
    cases: [40, 100].map((powerW) => ({
      at: `${powerW} W, 5 m of 1.5 mm²`,
      expected: powerW,
      got: () => {
        const fit = cableFit(cable(1.5, 5), demand({ currentA: powerW / 12, powerW }));
        return fit.currentA * (12 - fit.currentA * fit.loopOhm);
      },
    })),
  },
  {
    quantity:
      'resistance of a cable at its ampacity, over that at 20 °C: its conductor is as hot as its insulation bears',
    unit: '-',
    source: 'IEC 60364-5-52: definition of the ampacity, 70 °C; IEC 60228: (234.5 + 70)/254.5',
    origin: recomputed,
    tolerance: 1e-4,
    cases: [
      {
        at: '4 mm², 42 A',
        expected: 1.19646,
        got: () => cableFit(cable(4, 5), demand({ currentA: 42 })).loopOhm / cableLoopOhm(cable(4, 5), 20),
      },
    ],
  },
  ...rangeChecks(
    'fuse, holder and lugs of a circuit without a cable',
    'Ω',
    'a bolted fuse about 0.3 mΩ, each joint 0.1 to 0.2 mΩ, four to six of them',
    'common practice, no source',
    [['any', 0.0007, 0.0015, () => circuitLoopOhm(undefined, 20)]],
  ),
  ...rangeChecks(
    'resistance of a cable in a run over that at 20 °C',
    '-',
    'IEC 60228 class 5, 3.3 Ω/km; conductors between a mild day and 50 °C',
    'common practice, no source',
    [
      [
        '20 A through 8 m of 6 mm²',
        1,
        1.118,
        () => {
          const rig = `${bank('LFP')}
loads: [{ name: load, current: 20 A, cable: { length: 8 m, section: 6 mm2 } }]`;
          const { summary, loads } = runOn(rig, { stepH: 0.25 }, 1);
          const lossOhm = summary.lossWh.loadCables! / (24 * loads[0]!.dutyCycle * 20 ** 2);
          return lossOhm / copperOhm(8, 3.3) / (254.5 / 264.5);
        },
      ],
    ],
  ),
  {
    quantity: 'current that the cable of a panel is judged by, on a PWM controller',
    unit: 'A',
    source: 'NEC 690.8 without its factor: the short-circuit current of the strings',
    origin: 'from memory',
    tolerance: 1e-9,
    cases: [
      {
        at: 'two strings of 8.21 A',
        expected: 16.42,
        got: () => {
          const rig = rigOf(`${bank('LFP')}
solar: [{ name: roof, power: 200 W, count: 2, datasheet: { voc: 32.9 V, isc: 8.21 A, vmp: 26.3 V, imp: 7.61 A }, controller: { kind: PWM, current: 30 A }, cable: { length: 4 m, section: 6 mm2 } }]`);
          return circuits(rig).find(({ name }) => name === 'roof panel')!.currentA;
        },
      },
    ],
  },
];
