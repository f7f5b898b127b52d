/** What batteries give in the cold, by the rate that they are drawn at: a slow discharge gets nearly everything. */
import type { Chemistry } from '../../packages/core/src/rig/index.js';
import { discharge } from './battery-cycle.js';
import { bank, runOn } from './bench.js';
import { missed, type PublishedCheck, rangeChecks } from './check.js';

const recomputed = 'recomputed from the published formula' as const;
const PLETT =
  'test data published with Plett, Battery Management Systems I, 2015: one 26650 power cell of 2.06 Ah, charged at 25 °C';

/** Ampere hours of a full battery of 100 Ah at a constant current and a temperature. */
const givenAh = (chemistry: Chemistry, amps: number, airC: number) =>
  discharge(chemistry, amps, 1, -1, {
    airC,
    stepH: amps < 8 ? 1 / 12 : 1 / 60,
    days: Math.ceil((1.3 * 100) / amps / 24),
  }).chargeAh;
const share = (chemistry: Chemistry, amps: number, airC: number) =>
  givenAh(chemistry, amps, airC) / givenAh(chemistry, amps, 25);

/** 100 Ah by Peukert's law: current that is borne for so many hours. */
const lawA = (exponent: number, hours: number) => (100 * (hours / 20) ** ((exponent - 1) / exponent)) / hours;
const EXPONENT = { flooded: 1.25, AGM: 1.1, gel: 1.175 } as const;
const VRLA = "C = C25·(1 + k·(T − 25 °C)) of a maker's VRLA manual, the coefficients of IEC 60896-21";
const sealed = (hours: number, perK: number, celsius: readonly number[]): PublishedCheck => ({
  quantity: `Capacity of AGM and gel at the ${hours}-hour current over that at 25 °C, k = ${perK} per K`,
  unit: '-',
  source: VRLA,
  origin: 'published',
  tolerance: 0.05,
  cases: (['AGM', 'gel'] as const).flatMap((chemistry) =>
    celsius.map((airC) => ({
      at: `${chemistry}, ${airC} °C`,
      expected: 1 + perK * (airC - 25),
      got: () => share(chemistry, lawA(EXPONENT[chemistry], hours), airC),
    })),
  ),
});

const lead: PublishedCheck[] = [
  sealed(20, 0.006, [10, 0, -10]),
  sealed(3, 0.01, [10, 0, -10, -20]),
  sealed(1, 0.01, [10, 0, -10]),
  ...missed('in deep frost the run gives a few percent less than the straight line, between it and common practice', [
    sealed(20, 0.006, [-20]),
  ]),
  {
    quantity: 'Capacity of flooded lead-acid at the 5-hour current over that at 25 °C',
    unit: '-',
    source: 'IEEE 485 table 1, discharges of one to eight hours, by a published cubic: 1/y',
    origin: recomputed,
    tolerance: 0.05,
    cases: [10, 0, -10, -20].map((airC) => {
      const x = airC / 100;
      return {
        at: `${airC} °C`,
        expected: 1 / (-2.8117 * x ** 3 + 4.1916 * x ** 2 - 2.4941 * x + 1.405),
        got: () => share('flooded', lawA(1.25, 5), airC),
      };
    }),
  },
  {
    quantity: 'Capacity of flooded lead-acid at the 8-hour current over that at 25 °C',
    unit: '-',
    source: 'widely reprinted sizing worksheet: multipliers at 50, 40, 30 and 20 °F, moderate rates',
    origin: 'published',
    tolerance: 0.05,
    cases: (
      [
        [10, 1.19],
        [4.4, 1.3],
        [-1.1, 1.4],
        [-6.7, 1.59],
      ] as const
    ).map(([airC, multiplier]) => ({
      at: `${airC} °C`,
      expected: 1 / multiplier,
      got: () => share('flooded', lawA(1.25, 8), airC),
    })),
  },
  ...(
    [
      ['flooded', [0.75, 0.85], [0.62, 0.75], [0.5, 0.65]],
      ['AGM', [0.78, 0.88], [0.66, 0.79], [0.55, 0.7]],
    ] as const
  ).flatMap(([chemistry, ...ranges]) =>
    rangeChecks(
      'Capacity at the 20-hour current over that at 25 °C',
      '-',
      'starter and leisure batteries',
      'common practice, no source',
      ([0, -10, -18] as const).map(
        (airC, i) => [`${chemistry}, ${airC} °C`, ...ranges[i]!, () => share(chemistry, 5, airC)] as const,
      ),
    ),
  ),
  ...rangeChecks(
    'Charge given in 140 h by lead-acid of 100 Ah (20 h)',
    'Ah',
    "makers' curves: a tenth more in 100 h than in 20 h, more for flooded",
    'common practice, no source',
    (['flooded', 'AGM', 'gel'] as const).flatMap((chemistry) => [
      [`${chemistry}, 25 °C`, 104, 120, () => givenAh(chemistry, 100 / 140, 25)] as const,
      [`${chemistry}, 15 °C`, 100, 118, () => givenAh(chemistry, 100 / 140, 15)] as const,
    ]),
  ),
];

const lfp: PublishedCheck[] = [
  {
    quantity: 'Charge given by LFP at C/30 over that at 25 °C',
    unit: '-',
    source: `${PLETT}, raw records`,
    origin: recomputed,
    tolerance: 0.015,
    cases: (
      [
        [-25, 0.982],
        [-15, 0.989],
        [-5, 0.987],
        [5, 0.991],
        [15, 0.998],
        [45, 1.003],
      ] as const
    ).map(([airC, expected]) => ({ at: `${airC} °C`, expected, got: () => share('LFP', 100 / 30, airC) })),
  },
  ...rangeChecks(
    'Charge given by LFP at 0.5 C over that at 25 °C',
    '-',
    'blocks of 50 to 300 Ah at 0.2 to 0.5 C',
    'common practice, no source',
    (
      [
        [10, 0.95, 1],
        [0, 0.85, 0.95],
        [-10, 0.7, 0.88],
        [-20, 0.5, 0.78],
      ] as const
    ).map(([airC, low, high]) => [`${airC} °C`, low, high, () => share('LFP', 50, airC)] as const),
  ),
  {
    quantity: 'Voltage of a cell of LFP at half charge and −20 °C',
    unit: 'V',
    source:
      'rate times resistance: 0.083 Ω·Ah of an energy cell (ARTS-Lab, University of South Carolina, 2023) times 8.8 of a power cell in frost',
    origin: recomputed,
    tolerance: 0.1,
    cases: (
      [
        [0.05, 3.233],
        [0.2, 3.124],
      ] as const
    ).map(([rate, expected]) => ({
      at: `${rate} C`,
      expected,
      got: () => loadedV(100 * rate, -20, 0.5) / 4,
    })),
  },
  {
    quantity: 'Voltage of four cells of LFP at C/30 down from full, 25 °C',
    unit: 'V',
    source: `${PLETT}, raw records`,
    origin: recomputed,
    tolerance: 0.13, // a new cell; the faded one of battery-cell-data lies as much below
    cases: (
      [
        [0.1, 3.1625],
        [0.2, 3.2217],
        [0.3, 3.2507],
        [0.4, 3.283],
        [0.5, 3.2914],
        [0.6, 3.2975],
        [0.7, 3.3105],
        [0.8, 3.3317],
        [0.9, 3.34],
      ] as const
    ).map(([soc, cellV]) => ({ at: `${100 * soc} %`, expected: 4 * cellV, got: () => loadedV(100 / 30, 25, soc) })),
  },
];

function loadedV(amps: number, airC: number, soc: number): number {
  const rig = `${bank('LFP')}\nloads: [{ name: draw, current: ${amps} A }]`;
  return runOn(rig, { stepH: 1 / 60, airC }, soc).trace.batteryV[0]!;
}

export const batteryColdChecks: readonly PublishedCheck[] = [...lead, ...lfp];
