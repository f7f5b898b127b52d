import { percentile } from '../../math/index.js';
import type { Outcome } from '../run/outcome.js';

/** What a variant comes to: the outcome's figures, as keys of JSON and headings of CSV. */
export const SWEEP_FIGURES = [
  ['lowestSoc', 'lowest_soc'],
  ['endSoc', 'end_soc'],
  ['hoursBelowFloor', 'hours_below_floor'],
  ['hoursOff', 'hours_off'],
  ['unservedHours', 'unserved_hours'],
  ['unservedWh', 'unserved_wh'],
  ['loadWh', 'load_wh'],
  ['pvAvailableWh', 'pv_available_wh'],
  ['pvHarvestWh', 'pv_harvest_wh'],
  ['alternatorWh', 'alternator_wh'],
  ['mainsWh', 'mains_wh'],
  ['equivalentCycles', 'equivalent_cycles'],
  ['fullDays', 'full_days'],
] as const satisfies readonly (readonly [keyof Outcome, string])[];
/** What a row of a sweep can tell. */
export type SweepFigure = (typeof SWEEP_FIGURES)[number][0];

const SHARES = [
  ['P10', 'p10', 0.1],
  ['P50', 'p50', 0.5],
  ['P90', 'p90', 0.9],
] as const;

/** Hours below this are rounding. */
const NOTHING_H = 1e-6;

/** One column of a sweep's answers. */
export interface SweepColumn {
  /** key in JSON: lowestSoc, or lowestSocP10 over several weather years */
  readonly key: string;
  /** heading in CSV */
  readonly heading: string;
}

/** How many parts the loads overload at their full power: see `overloads`. It is the same in every weather. */
const OVERLOADS: SweepColumn = { key: 'overloads', heading: 'overloads' };

/** Over several weather years each figure has its percentiles, and there is the share of years in which no load went without. */
export function answerColumns(years: number): SweepColumn[] {
  const figures = SWEEP_FIGURES.map(([key, heading]) => ({ key, heading }));
  if (years === 1) return [...figures, OVERLOADS];
  return [
    { key: 'yearsServed', heading: 'years_served' },
    ...figures.flatMap(({ key, heading }) =>
      SHARES.map(([suffix, word]) => ({ key: key + suffix, heading: `${heading}_${word}` })),
    ),
    OVERLOADS,
  ];
}

/** In the order of `answerColumns`. @param outcomes of one variant, one a weather year; @param overloadCount of its rig */
export function answersOf(outcomes: readonly Outcome[], overloadCount: number): number[] {
  const [only] = outcomes;
  if (outcomes.length === 1) return [...SWEEP_FIGURES.map(([key]) => only![key]), overloadCount];
  const served = outcomes.filter(({ unservedHours }) => unservedHours <= NOTHING_H).length;
  return [
    served / outcomes.length,
    ...SWEEP_FIGURES.flatMap(([key]) => {
      const values = outcomes.map((outcome) => outcome[key]);
      return SHARES.map(([, , share]) => percentile(values, share));
    }),
    overloadCount,
  ];
}
