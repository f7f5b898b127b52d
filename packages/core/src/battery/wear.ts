import { type Chemistry, isLead } from '../rig/index.js';
import { rainflow } from './rainflow.js';
import { arrhenius } from './temperature.js';

const HOURS_PER_YEAR = 8766;
/** Lead-acid and LFP calendar ageing about doubles per 10 K: 50 kJ/mol; common practice, no source. */
const CALENDAR_J_PER_MOL = 50_000;
/** Colder than this no longer helps: other faults rule then. Assumption; without it a cold store would last 30 years [°C]. */
const COLDEST_GAIN_C = 15;

/** A value with the spread of makes and uses: the ends are the low and high of the source, mid their geometric mean. */
export interface Spread {
  readonly low: number;
  readonly mid: number;
  readonly high: number;
}

interface Life {
  /** depth of discharge of a cycle, ascending */
  readonly depth: readonly number[];
  /** cycles to 80 % of the capacity */
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** to 80 % at rest at 25 °C [years] */
  readonly calendarYears: { readonly low: number; readonly high: number };
}

const LEAD_DEPTH = [0.1, 0.2, 0.3, 0.5, 0.8, 1] as const;
const SEALED: Life = {
  depth: LEAD_DEPTH,
  low: [3500, 1800, 1200, 600, 350, 250],
  high: [7000, 3500, 2100, 1200, 600, 450],
  calendarYears: { low: 4, high: 12 },
};
/**
 * Cycles to 80 % of the capacity by depth: ranges of data sheets of good deep-cycle batteries (a cheap leisure battery
 * reaches a quarter of it), LFP at 25 °C and about 0.5 C; calendar life at 25 °C. Common practice, from memory.
 */
const LIFE: Readonly<Record<Chemistry, Life>> = {
  flooded: {
    depth: LEAD_DEPTH,
    low: [3000, 1900, 1300, 800, 450, 300],
    high: [6000, 3300, 2200, 1300, 750, 500],
    calendarYears: { low: 4, high: 10 },
  },
  AGM: SEALED,
  gel: SEALED,
  LFP: {
    depth: [0.5, 0.8, 1],
    low: [5000, 3000, 2000],
    high: [10_000, 6000, 4000],
    calendarYears: { low: 8, high: 20 },
  },
};

/**
 * Cycles to 80 % of the capacity at one depth of discharge: straight in the logarithms between the depths of the
 * table; below the least one the charge that passes through is the same, N·depth = constant.
 * @param depth 0..1; 0 gives Infinity
 */
export function cycleLife(chemistry: Chemistry, depth: number): Spread {
  const { depth: at, low, high } = LIFE[chemistry];
  return spread(lifeAt(at, low, depth), lifeAt(at, high, depth));
}

/** Calendar life to 80 % at a cell temperature [years]: its value at 25 °C over exp(Ea/R·(1/298.15 K − 1/T)). */
export function calendarYears(chemistry: Chemistry, cellC: number): Spread {
  const { low, high } = LIFE[chemistry].calendarYears;
  const faster = calendarSpeed(cellC);
  return spread(low / faster, high / faster);
}

/** Longer than this without a full charge, and the plates of lead-acid sulphate within months [h]. Common practice, no source. */
const MAX_UNFILLED_H = 14 * 24;

/** Whether data sheets' cycles, each filled again, can tell a life at all: not of lead-acid that stays unfilled for so long [h]. */
export function lifeIsPredictable(chemistry: Chemistry, longestWithoutFullH: number): boolean {
  return !(isLead(chemistry) && longestWithoutFullH > MAX_UNFILLED_H);
}

/** How much of a battery's life a run uses up, and how long it would last at that pace. */
export interface Wear {
  /** charge discharged over the capacity, in this run */
  readonly equivalentFullCycles: number;
  /** share of the life to 80 % used up by cycling in this run (Palmgren-Miner sum); `low` goes with the low life, so it is the largest */
  readonly cycleShare: Spread;
  /** share used up by time and temperature in this run; `low` as above */
  readonly calendarShare: Spread;
  /** if every year were like this run [years] */
  readonly yearsTo80: Spread;
}

/**
 * Wear of a run: rainflow over the state of charge, each cycle a share 1/N(depth) of the life (Palmgren-Miner), plus
 * calendar ageing at the cells' temperature; the two are added.
 * Accuracy: a factor of two either way, as the spread says. Lead-acid left half charged wears faster than this.
 * @param soc       per step, 0..1
 * @param stepH     step, > 0 [h]
 * @param cellC     per step, or one value for all [°C]
 * @throws RangeError if stepH is not positive or soc is empty
 */
export function wear(soc: Float64Array, stepH: number, cellC: Float64Array | number, chemistry: Chemistry): Wear {
  if (!(stepH > 0)) throw new RangeError(`stepH must be above 0, got ${stepH}`);
  if (soc.length === 0) throw new RangeError('soc has no steps');
  let low = 0;
  let mid = 0;
  let high = 0;
  for (const { range, count } of rainflow(soc)) {
    const life = cycleLife(chemistry, range);
    low += count / life.low;
    mid += count / life.mid;
    high += count / life.high;
  }
  const years = (soc.length * stepH) / HOURS_PER_YEAR;
  const rest = LIFE[chemistry].calendarYears;
  const aged = years * (typeof cellC === 'number' ? calendarSpeed(cellC) : meanSpeed(cellC));
  const still = { low: aged / rest.low, mid: aged / Math.sqrt(rest.low * rest.high), high: aged / rest.high };
  return {
    equivalentFullCycles: dischargedShare(soc),
    cycleShare: { low, mid, high },
    calendarShare: still,
    yearsTo80: {
      low: years / (low + still.low),
      mid: years / (mid + still.mid),
      high: years / (high + still.high),
    },
  };
}

function spread(low: number, high: number): Spread {
  return { low, mid: Math.sqrt(low * high), high };
}

function lifeAt(depths: readonly number[], cycles: readonly number[], depth: number): number {
  if (!(depth > 0)) return Infinity;
  if (depth <= depths[0]!) return (cycles[0]! * depths[0]!) / depth;
  let i = 1;
  while (i < depths.length - 1 && depth > depths[i]!) i++;
  const t = Math.log(depth / depths[i - 1]!) / Math.log(depths[i]! / depths[i - 1]!);
  return cycles[i - 1]! * (cycles[i]! / cycles[i - 1]!) ** Math.min(1, t);
}

function calendarSpeed(cellC: number): number {
  return 1 / arrhenius(CALENDAR_J_PER_MOL, Math.max(COLDEST_GAIN_C, cellC), 25);
}

function meanSpeed(cellC: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < cellC.length; i++) sum += calendarSpeed(cellC[i]!);
  return sum / cellC.length;
}

function dischargedShare(soc: Float64Array): number {
  let sum = 0;
  for (let i = 1; i < soc.length; i++) sum += Math.max(0, soc[i - 1]! - soc[i]!);
  return sum;
}
