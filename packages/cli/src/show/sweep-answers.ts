import type { Rig, Sweep, Trip } from '@stayput/core';
import type { Vary } from '@stayput/core/model';
import type { ShownFinding } from '../words/finding-words.js';
import { pathWords } from '../words/path-words.js';
import { energy, fixed, percent, significant } from './number.js';
import { oneLine } from './style.js';

/** What a picture or a page of a sweep shows. */
export interface SweepDrawn {
  readonly rig: Rig;
  readonly trip: Trip;
  readonly sweep: Sweep;
  /** by key: one value a variant; NaN where there is none */
  readonly answers: ReadonlyMap<string, Float64Array>;
  /** the answer that is drawn */
  readonly key: string;
  readonly findings: readonly ShownFinding[];
}

const MAX_DRAWN = 2;
/** Less is rounding [h]. */
const NOTHING_H = 1e-6;

/** Whether a picture can show it: one or two quantities, each with all of its values. */
export const isDrawn = ({ varied, variants }: Pick<Sweep['plan'], 'varied' | 'variants'>): boolean =>
  varied.length <= MAX_DRAWN && varied.reduce((product, { count }) => product * count, 1) === variants;

/** What a page tells of each variant. */
export const shownKeys = (years: number): readonly string[] =>
  years > 1
    ? ['unservedHoursP50', 'unservedHoursP90', 'yearsServed', 'lowestSocP50', 'pvHarvestWhP50']
    : ['unservedHours', 'lowestSoc', 'hoursBelowFloor', 'pvHarvestWh'];

/** What people ask first: how long something is without power; and where nothing is, how low the battery gets. */
export function tellingKey({ years }: Sweep, answers: ReadonlyMap<string, Float64Array>): string {
  const [without, lowest] = years > 1 ? ['unservedHoursP50', 'lowestSocP50'] : ['unservedHours', 'lowestSoc'];
  return answers.get(without!)!.some((hours) => hours > NOTHING_H) ? without! : lowest!;
}

/** "battery: capacity [Ah]" */
export function varyText({ path, unit }: Vary, rig: Rig): string {
  const words = oneLine(pathWords(path, rig));
  return unit ? `${words} [${unit}]` : words;
}

/** How an answer is written, and the ends of the scale on which it means something. */
export interface Answer {
  readonly name: string;
  readonly words: (value: number) => string;
  /** what all values lie within by nature; absent = from 0 to the highest */
  readonly top?: number;
  /** the less the better */
  readonly isLess?: true;
}

const NAMES: Readonly<Record<string, string>> = {
  lowestSoc: 'lowest state of charge',
  hoursBelowFloor: 'hours below the floor',
  hoursOff: 'hours cut off',
  unservedHours: 'hours without power',
  unservedWh: 'energy lacking',
  loadWh: 'energy of the loads',
  pvAvailableWh: 'sun on offer',
  pvHarvestWh: 'sun taken',
  alternatorWh: 'from the alternator',
  mainsWh: 'from the mains',
  equivalentCycles: 'full cycles',
  fullDays: 'days that reach full',
  yearsServed: 'years with power all along',
  overloads: 'parts that the loads overload at their full power',
};

export function answerOf(key: string): Answer {
  const [, figure = key, share] = /^(.*?)(?:P(\d+))?$/.exec(key)!;
  const name = `${NAMES[figure] ?? figure}${share === undefined ? '' : share === '50' ? ', median year' : `, ${share}th percentile`}`;
  if (/Soc$|^yearsServed$/.test(figure)) return { name, words: (value) => percent(value), top: 1 };
  if (/Wh$/.test(figure)) return { name, words: energy, ...(figure === 'unservedWh' && { isLess: true }) };
  if (/^hours|Hours/.test(figure))
    return {
      name,
      words: (h) => (h < NOTHING_H ? '0 h' : `${h < 9.95 ? significant(h, 2) : fixed(h, 0)} h`),
      isLess: true,
    };
  return { name, words: (value) => significant(value), ...(figure === 'overloads' && { isLess: true }) };
}
