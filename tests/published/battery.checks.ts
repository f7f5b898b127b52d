/**
 * Batteries against the outside.
 * K: Manwell & McGowan, Solar Energy 50(5), 1993, p. 399. Many figures are common practice: the origin says so.
 */
import { cycleLife, rainflow, wear } from '../../packages/core/src/battery/index.js';
import type { Chemistry } from '../../packages/core/src/rig/index.js';
import { charge, charged, discharge, roundTrip } from './battery-cycle.js';
import { wellsRun } from './battery-wells.js';
import { bank, runOn } from './bench.js';
import { type PublishedCheck, rangeChecks } from './check.js';

const LEAD: readonly Chemistry[] = ['flooded', 'AGM', 'gel'];
const ABSORPTION_V = { flooded: 14.4, AGM: 14.4, gel: 14.4, LFP: 14.2 } as const;
/** Voltage at the terminals of a battery that nothing draws from. */
const restedV = (c: Chemistry, soc: number) => runOn(bank(c), { stepH: 1 }, soc).trace.batteryV[0]!;
/** The same, half charged, after a minute of a current. */
const loadedV = (c: Chemistry, amps: number) =>
  runOn(`${bank(c)}\nloads: [{ name: draw, current: ${amps} A }]`, { stepH: 1 / 60 }, 0.5).trace.batteryV[0]!;
/** What a half empty battery takes of 100 A at a temperature. */
const takenA = (c: Chemistry, celsius: number) =>
  runOn(
    `${bank(c, 'maxCharge: 100 A')}\nmains: { current: 100 A, charge: { absorption: 16 V } }`,
    {
      stepH: 1 / 60,
      airC: celsius,
      mains: 1,
    },
    0.2,
  ).trace.batteryA[0]!;
const K = 'Manwell & McGowan, Solar Energy 50(5), 1993, p. 399';
const recomputed = 'recomputed from the published formula' as const;

const twoWells = { qmaxAh: 120, c: 0.3, kPerH: 0.6 } as const;
const stepRows = [
  [100, 0.3, 0.5, 10, 1, 21.49143],
  [100, 0.3, 0.5, 10, 3, 10.12382],
  [100, 0.3, 0.5, -8, 2, 41.87975],
  [80, 0.4, 1, 20, 1, 16.41455],
  [50, 0.25, 0.2, 0, 5, 12.5],
] as const;

const kinetics: PublishedCheck[] = [
  {
    quantity: 'Available charge after a constant current of two wells, in steps of a minute',
    unit: 'Ah',
    source: K,
    origin: recomputed,
    tolerance: 1e-4,
    cases: stepRows.map(([startAh, c, kPerH, dischargeA, hours, expected]) => ({
      at: `${startAh} Ah, c ${c}, k ${kPerH}/h, ${dischargeA} A out, ${hours} h`,
      expected,
      got: () => wellsRun({ qmaxAh: 200, startAh, c, kPerH, currentA: -dischargeA, hours }).availableAh,
    })),
  },
  {
    quantity: 'Capacity of two wells by discharge time (qmax 120 Ah, c 0.3, k 0.6/h): until the loads go off',
    unit: 'Ah',
    source: `${K}, capacity equation`,
    origin: recomputed,
    tolerance: 0.01,
    cases: (
      [
        [0.5, 39.7897],
        [1, 43.5632],
        [2, 50.8736],
        [5, 69.003],
        [10, 86.46],
        [20, 100.4652],
        [50, 111.3402],
        [100, 115.508],
      ] as const
    ).map(([h, expected]) => ({
      at: `${h} h`,
      expected,
      got: () => (expected / h) * wellsRun({ ...twoWells, startAh: 120, currentA: -expected / h, hours: 1.1 * h }).onH,
    })),
  },
  {
    quantity: 'Hours until the loads go off at the largest current over one hour from 60 of 120 Ah (c 0.3, k 0.6/h)',
    unit: 'h',
    source: K,
    origin: recomputed,
    tolerance: 1e-4,
    cases: [
      {
        at: '21.7816 A',
        expected: 1,
        got: () => wellsRun({ ...twoWells, startAh: 60, currentA: -21.7816, hours: 2 }).onH,
      },
    ],
  },
];

/** Peukert's law in its rated form: runtime t = 20 h·(C/(20 h·I))^n, so that the charge given in t hours is C·(t/20)^((n − 1)/n). */
const PEUKERT = { flooded: 1.25, gel: 1.175, AGM: 1.1 } as const;
const lawAh = (n: number, h: number) => 100 * (h / 20) ** ((n - 1) / n);
/** Charge that a full battery of 100 Ah gives at the current that the law says it bears for so many hours. */
const givenAh = (c: 'flooded' | 'gel' | 'AGM', h: number, n: number = PEUKERT[c]) =>
  discharge(c, lawAh(n, h) / h).chargeAh;
const exponent = (c: 'flooded' | 'gel' | 'AGM') => {
  const [slow, fast] = [discharge(c, 5).hours, discharge(c, 16).hours];
  return Math.log(slow / fast) / Math.log(16 / 5);
};

const peukert: PublishedCheck[] = [
  ...(['flooded', 'gel', 'AGM'] as const).map(
    (c): PublishedCheck => ({
      quantity: `Charge given by ${c} of 100 Ah in 1 to 20 h, Peukert exponent ${PEUKERT[c]}`,
      unit: 'Ah',
      source: 'Peukert 1897, rated-capacity form; Linden & Reddy, Handbook of Batteries',
      origin: recomputed,
      relative: true,
      tolerance: 0.03, // the two wells are no power law: the fit of c and k leaves up to 2.1 %
      cases: [1, 2, 3, 5, 10, 20].map((h) => ({
        at: `${h} h`,
        expected: lawAh(PEUKERT[c], h),
        got: () => givenAh(c, h),
      })),
    }),
  ),
  {
    quantity: 'Charge given in the runtime of a worked row of the law',
    unit: 'Ah',
    source: 'Peukert 1897, rated-capacity form',
    origin: recomputed,
    relative: true,
    tolerance: 0.03,
    cases: [
      { at: 'n 1.10, 100 Ah, 20 A: 4.3528 h', expected: 87.055, got: () => givenAh('AGM', 4.3528) },
      { at: 'n 1.25, 200 Ah, 40 A: 3.5355 h', expected: 141.421, got: () => 2 * givenAh('flooded', 3.5355) },
    ],
  },
  ...rangeChecks(
    'Peukert exponent between 16 and 5 A',
    '-',
    'handbook ranges, Linden & Reddy; Doerffel & Sharkh, J. Power Sources 155, 2006',
    'from memory',
    [
      ['flooded', 1.2, 1.4, () => exponent('flooded')],
      ['gel', 1.1, 1.25, () => exponent('gel')],
      ['AGM', 1.05, 1.15, () => exponent('AGM')],
    ],
  ),
  {
    quantity: 'Runtime at the 20-hour current of lead-acid of 100 Ah, run down to empty',
    unit: 'h',
    source: 'definition of the 20-hour rating',
    origin: recomputed,
    tolerance: 0.02, // two steps of 30 s
    cases: LEAD.map((c) => ({ at: c, expected: 20, got: () => discharge(c, 5).hours })),
  },
  {
    quantity: 'Terminal voltage at the end of the 20-hour discharge',
    unit: 'V',
    source: 'IEC 61056 and IEC 60254: 1.75 V a cell',
    origin: 'from memory',
    tolerance: 0.02,
    cases: LEAD.map((c) => ({ at: c, expected: 10.5, got: () => discharge(c, 5).endV })),
  },
];

const gravity = [1.277, 1.258, 1.238, 1.217, 1.195, 1.172, 1.148, 1.124, 1.098, 1.073];
const flooded12V = [12.73, 12.62, 12.5, 12.37, 12.24, 12.1, 11.96, 11.81, 11.66, 11.51];
const ocvCases = (c: Chemistry, soc: readonly number[], volts: readonly number[]) =>
  soc.map((s, i) => ({ at: `${c} ${s} %`, expected: volts[i]!, got: () => restedV(c, s / 100) }));

const openCircuit: PublishedCheck[] = [
  {
    quantity: 'Rested voltage of a flooded cell is specific gravity + 0.845',
    unit: 'V',
    source: 'battery handbooks; common-practice table of specific gravity',
    origin: 'from memory',
    tolerance: 1e-3,
    cases: gravity.map((sg, i) => ({
      at: `specific gravity ${sg}`,
      expected: sg + 0.845,
      got: () => restedV('flooded', 1 - i / 10) / 6,
    })),
  },
  {
    quantity: 'Rested voltage, flooded 12 V',
    unit: 'V',
    source: 'common-practice table, deep-cycle, 27 °C',
    origin: 'from memory',
    tolerance: 0.01,
    cases: ocvCases('flooded', [100, 90, 80, 70, 60, 50, 40, 30, 20, 10], flooded12V),
  },
  {
    quantity: 'Rested voltage of AGM, gel and LFP, 12 V',
    unit: 'V',
    source:
      'common-practice tables, 25 °C, LFP rested after discharge; makers of lead-acid and cells of LFP differ by 0.15 V',
    origin: 'from memory',
    tolerance: 0.01, // that the run has the tables' figures
    cases: [
      ...ocvCases('AGM', [100, 75, 50, 25, 0], [12.85, 12.55, 12.25, 12, 11.7]),
      ...ocvCases('gel', [100, 75, 50, 25, 0], [12.85, 12.65, 12.35, 12, 11.8]),
      ...ocvCases(
        'LFP',
        [100, 90, 80, 70, 60, 50, 40, 30, 20, 10, 5, 0],
        [13.5, 13.3, 13.25, 13.15, 13.12, 13.1, 13.05, 12.95, 12.85, 12.7, 12.3, 10],
      ),
    ],
  },
  {
    quantity: 'Rested voltage of LFP, four cells, against the mean of slow charge and discharge',
    unit: 'V',
    source: 'Sunil, Pattipati & Balasingam, IEEE Trans. Instrum. Meas. 2025, data of a 1.2 Ah cell (MIT licence)',
    origin: recomputed,
    tolerance: 0.2, // as the model states for any one maker's battery
    cases: (
      [
        [0.2, 3.2413],
        [0.3, 3.2778],
        [0.4, 3.2948],
        [0.5, 3.2991],
        [0.6, 3.3032],
        [0.7, 3.3163],
        [0.8, 3.3371],
        [0.9, 3.3411],
      ] as const
    ).map(([soc, cellV]) => ({ at: `${100 * soc} %`, expected: 4 * cellV, got: () => restedV('LFP', soc) })),
  },
  {
    quantity: 'Charge limit of a cold LFP battery of 100 Ah',
    unit: 'A',
    source: 'Petzl & Danzer, J. Power Sources 254, 2014; common data-sheet limits',
    origin: 'from memory',
    tolerance: 1e-6,
    cases: [
      { at: '−0.1 °C: none', expected: 0, got: () => takenA('LFP', -0.1) },
      { at: '0 to 5 °C: 0.1 C', expected: 10, got: () => takenA('LFP', 2.5) },
    ],
  },
  ...rangeChecks('Charge limit of a cold LFP battery of 100 Ah', 'A', 'common data-sheet limits', 'from memory', [
    ['5 to 10 °C', 20, 30, () => takenA('LFP', 7.5)],
  ]),
  ...rangeChecks('Largest charge current of 100 Ah', 'A', 'common practice', 'common practice, no source', [
    ['flooded', 10, 25, () => takenA('flooded', 25)],
    ['gel', 10, 25, () => takenA('gel', 25)],
    ['AGM', 20, 40, () => takenA('AGM', 25)],
  ]),
  ...rangeChecks(
    'Internal resistance of 100 Ah at 12 V, half charged',
    'Ω',
    'common practice',
    'common practice, no source',
    [['LFP with its management system', 0.002, 0.01, () => (restedV('LFP', 0.5) - loadedV('LFP', 20)) / 20]],
  ),
];

/** Charge stored per charge put in, between two states of charge, at a charging current of 5 A. */
function chargeEfficiency(c: Chemistry, from: number, to: number): number {
  const { trace } = charged(c, 5, 15, from);
  let inAh = 0;
  let soc = from;
  for (let i = 0; soc < to; i++) {
    inAh += trace.batteryA[i]! * trace.grid.stepH;
    soc = trace.soc[i]!;
  }
  return (100 * (soc - from)) / inAh;
}
const STEVENS = 'Stevens & Corey, 25th IEEE Photovoltaic Specialists Conference, 1996';
const C5 = 20;

const efficiency: PublishedCheck[] = [
  {
    quantity: 'Charge efficiency of flooded lead-acid',
    unit: '-',
    source: `${STEVENS}, results`,
    origin: 'from memory',
    tolerance: 0.05,
    cases: [
      { at: '0 to 84 %', expected: 0.91, got: () => chargeEfficiency('flooded', 0, 0.84) },
      { at: '79 to 84 %', expected: 0.55, got: () => chargeEfficiency('flooded', 0.79, 0.84) },
    ],
  },
  ...rangeChecks('Charge efficiency of flooded lead-acid', '-', `${STEVENS}, results`, 'from memory', [
    ['90 to 98 %', 0, 0.5, () => chargeEfficiency('flooded', 0.9, 0.98)],
  ]),
  ...rangeChecks('Charge efficiency at low state of charge', '-', `${STEVENS}, background`, 'published', [
    ['flooded', 0.95, 1, () => chargeEfficiency('flooded', 0, 0.5)],
    ['AGM', 0.95, 1, () => chargeEfficiency('AGM', 0, 0.5)],
    ['gel', 0.95, 1, () => chargeEfficiency('gel', 0, 0.5)],
  ]),
  ...rangeChecks(
    'Charge efficiency, 100 % down to empty and back',
    '-',
    'Linden & Reddy; common practice',
    'from memory',
    [['LFP at C/5', 0.99, 0.999, () => roundTrip('LFP', C5, 14.2).charge]],
  ),
  ...rangeChecks('Energy efficiency, full and back', '-', 'Linden & Reddy; common practice', 'from memory', [
    ['LFP at C/5', 0.92, 0.98, () => roundTrip('LFP', C5, 14.2).energy],
    ['LFP at C/2', 0.92, 0.98, () => roundTrip('LFP', 50, 14.2).energy],
  ]),
  ...[
    ...rangeChecks(
      'Charge efficiency, 100 % down to empty and back',
      '-',
      'Linden & Reddy; common practice',
      'from memory',
      [
        ['AGM at C/5', 0.85, 0.95, () => roundTrip('AGM', C5, 14.4).charge],
        ['gel at C/5', 0.85, 0.95, () => roundTrip('gel', C5, 14.4).charge],
      ],
    ),
    ...rangeChecks('Energy efficiency, full and back', '-', 'Linden & Reddy; common practice', 'from memory', [
      // Flooded loses more, 0.68 at C/10: the top of charge as Stevens & Corey measured it does not leave the 0.85 that the range asks for a
      // full cycle of charge. The measurement is followed.
      ['AGM at C/5', 0.7, 0.85, () => roundTrip('AGM', C5, 14.4).energy],
      ['gel at C/5', 0.7, 0.85, () => roundTrip('gel', C5, 14.4).energy],
    ]),
  ],
];

const MASS = 'Mass, 2nd Int. Electric Vehicle Symposium, 1971; common practice';
const full5 = (c: Chemistry) => charge(c, C5, ABSORPTION_V[c], 1.5);
const acceptance: PublishedCheck[] = [
  ...rangeChecks('Constant current at C/5 until a state of charge of', '-', MASS, 'from memory', [
    ['AGM', 0.7, 0.85, () => full5('AGM').limitSoc],
  ]),
  ...rangeChecks('Hours to full at C/5 from empty, to a tail of 1.5 % of C20', 'h', MASS, 'from memory', [
    ['AGM', 6, 12, () => full5('AGM').hours],
    ['gel', 6, 12, () => full5('gel').hours],
  ]),
  ...rangeChecks('Hours from 50 % to full at 20 A, 100 Ah, to a tail of 1 %', 'h', 'common practice', 'from memory', [
    ['AGM', 5, 9, () => charge('AGM', 20, 14.4, 1, 0.5).hours],
  ]),
  ...[
    ...rangeChecks('Constant current at C/5 until a state of charge of', '-', MASS, 'from memory', [
      ['flooded', 0.7, 0.85, () => full5('flooded').limitSoc],
      ['gel', 0.7, 0.85, () => full5('gel').limitSoc],
    ]),
    ...rangeChecks('Hours to full at C/5 from empty, to a tail of 1.5 % of C20', 'h', MASS, 'from memory', [
      ['flooded', 6, 12, () => full5('flooded').hours],
    ]),
    ...rangeChecks(
      'State of charge at a tail of 1 to 2 % of C20',
      '-',
      'common practice',
      'common practice, no source',
      LEAD.map((c) => [c, 0.98, 1, () => full5(c).endSoc] as const),
    ),
    ...rangeChecks('Hours from 50 % to full at 20 A, 100 Ah, to a tail of 1 %', 'h', 'common practice', 'from memory', [
      ['flooded', 5, 9, () => charge('flooded', 20, 14.4, 1, 0.5).hours],
      ['gel', 5, 9, () => charge('gel', 20, 14.4, 1, 0.5).hours],
    ]),
  ],
  ...rangeChecks('LFP keeps its full current of C/5 until', '-', 'common practice', 'common practice, no source', [
    ['14.2 V', 0.95, 1, () => charge('LFP', C5, 14.2, 4).limitSoc],
  ]),
  {
    quantity: 'Hours from 50 % to full at 20 A, LFP of 100 Ah',
    unit: 'h',
    source: 'current times time',
    origin: 'from memory',
    tolerance: 0.1,
    cases: [{ at: 'tail 4 %', expected: 2.5, got: () => charge('LFP', 20, 14.2, 4, 0.5).hours }],
  },
];

/** Share of a full battery's charge that is gone after a month of 30.44 days. */
function lostInMonth(chemistry: Chemistry, celsius: number, own = ''): number {
  const rig = `battery: { chemistry: ${chemistry}, capacity: 100 Ah${own && `, ${own}`} }`;
  const { trace } = runOn(rig, { days: 31, stepH: 0.25, airC: celsius }, 1);
  return 1 - trace.soc[Math.round((30.4375 * 24) / 0.25) - 1]!;
}

const temperature: PublishedCheck[] = [
  ...rangeChecks(
    'Self-discharge in a month at 20 °C',
    '-',
    'Linden & Reddy; common practice',
    'from memory',
    (
      [
        ['flooded', 0.02, 0.15],
        ['AGM', 0.01, 0.03],
        ['gel', 0.01, 0.03],
        ['LFP', 0.01, 0.03],
      ] as const
    ).map(([c, low, high]) => [c, low, high, () => lostInMonth(c, 20)] as const),
  ),
  {
    quantity: 'Self-discharge in a month of a battery whose maker says 3 %',
    unit: '-',
    source: 'definition: share of the charge held, a month of 30.44 days',
    origin: recomputed,
    tolerance: 1e-5,
    cases: [{ at: '20 °C', expected: 0.03, got: () => lostInMonth('AGM', 20, 'selfDischarge: 3 %') }],
  },
  {
    quantity: 'Self-discharge in a month at 10 and 20 °C',
    unit: '%',
    source: "a maker's battery handbook: AGM with calcium, gel with calcium",
    origin: 'published',
    tolerance: 1, // AGM there and gel differ by one, and so do makers
    cases: (
      [
        ['AGM', 20, 3],
        ['AGM', 10, 1.5],
        ['gel', 20, 2],
        ['gel', 10, 1],
      ] as const
    ).map(([c, celsius, expected]) => ({
      at: `${c}, ${celsius} °C`,
      expected,
      got: () => 100 * lostInMonth(c, celsius),
    })),
  },
  {
    quantity: 'Self-discharge doubles per 10 K',
    unit: '-',
    source: 'Linden & Reddy; common practice',
    origin: 'from memory',
    tolerance: 0.02, // of what is lost itself, a little less is lost later
    cases: [
      { at: '20 to 30 °C', expected: 2, got: () => lostInMonth('AGM', 30) / lostInMonth('AGM', 20) },
      { at: '10 to 20 °C', expected: 2, got: () => lostInMonth('AGM', 20) / lostInMonth('AGM', 10) },
    ],
  },
];

/** Sum of the counts at one range. */
const counted = (series: readonly number[], range: number) =>
  rainflow(series).reduce((sum, cycle) => sum + (Math.abs(cycle.range - range) < 1e-9 ? cycle.count : 0), 0);
const rainflowCheck = (
  source: string,
  origin: PublishedCheck['origin'],
  series: readonly number[],
  rows: readonly (readonly [number, number])[],
): PublishedCheck => ({
  quantity: 'Rainflow counts',
  unit: 'cycles',
  source,
  origin,
  tolerance: 0,
  cases: [
    ...rows.map(([range, expected]) => ({ at: `range ${range}`, expected, got: () => counted(series, range) })),
    {
      at: 'all ranges',
      expected: rows.reduce((sum, [, count]) => sum + count, 0),
      got: () => rainflow(series).reduce((sum, { count }) => sum + count, 0),
    },
  ],
});

/** Cycles until 20 % of a LiFePO4 cell is lost at 25 °C and C/2, from its law of throughput; a 2.2 Ah cell. */
const wangCycles = (20 / (30_330 * Math.exp(-31_500 / (8.314 * 298.15)))) ** (1 / 0.552) / 2.2;
const cycles = 'data-sheet ranges; common practice';
const wearChecks: PublishedCheck[] = [
  rainflowCheck(
    'ASTM E1049-85 (2011), 5.4.4, figure 6',
    'published',
    [-2, 1, -3, 5, -1, 3, -4, 4, -2],
    [
      [3, 0.5],
      [4, 1.5],
      [6, 0.5],
      [8, 1],
      [9, 0.5],
    ],
  ),
  rainflowCheck(
    'ASTM E1049-85, three-point method',
    recomputed,
    [1, 0.7, 0.95, 0.6, 0.9, 0.5, 1, 0.8, 0.85, 0.4, 1],
    [
      [0.05, 1],
      [0.25, 1],
      [0.3, 1],
      [0.5, 1],
      [0.6, 1],
    ],
  ),
  {
    quantity: 'Equivalent full cycles',
    unit: 'cycles',
    source: 'definition: discharged charge over capacity',
    origin: recomputed,
    tolerance: 1e-9,
    cases: [
      {
        at: '4500 Ah of 100 Ah in 90 half discharges',
        expected: 45,
        got: () =>
          wear(
            Float64Array.from({ length: 181 }, (_, i) => (i % 2 ? 0.5 : 1)),
            4,
            25,
            'LFP',
          ).equivalentFullCycles,
      },
    ],
  },
  ...rangeChecks('Cycles to 80 %', 'cycles', cycles, 'common practice, no source', [
    ['flooded, 50 % deep', 800, 1300, () => cycleLife('flooded', 0.5).mid],
    ['AGM, 50 % deep', 600, 1200, () => cycleLife('AGM', 0.5).mid],
    ['LFP, 80 % deep', 3000, 6000, () => cycleLife('LFP', 0.8).mid],
    ['flooded, constant throughput at 40 % deep', 300 / 0.4, 600 / 0.4, () => cycleLife('flooded', 0.4).mid],
  ]),
  ...rangeChecks(
    'Cycles to 80 % of LFP, no more than the law of a cell cycled at C/2',
    'cycles',
    'Wang et al., J. Power Sources 196, 2011, p. 3942, C/2 constants, 25 °C',
    'from memory',
    [['100 % deep', 0, wangCycles, () => cycleLife('LFP', 1).mid]],
  ),
];

export const batteryChecks: readonly PublishedCheck[] = [
  ...kinetics,
  ...peukert,
  ...openCircuit,
  ...efficiency,
  ...acceptance,
  ...temperature,
  ...wearChecks,
];
