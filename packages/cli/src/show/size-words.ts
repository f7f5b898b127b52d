import type { Bill, SizeChoice, SizeResult } from '@stayput/core';
import { counted, fixed, percent } from './number.js';
import { oneLine } from './style.js';

/** "2 x LFP 50, 1 x framed 175" */
export function partsWords({ parts }: Pick<Bill, 'parts'>): string {
  return parts.length === 0
    ? 'what the rig has'
    : parts.map(({ name, count }) => `${count} x ${oneLine(name)}`).join(', ');
}

/** The answer in one sentence. */
export function sizeVerdict(study: SizeResult, currency: string): string {
  const { choices, smaller, nearest, weatherYears } = study;
  if (study.tooStrongLoad !== undefined)
    return `Nothing in the list meets the target: no battery of it feeds ${oneLine(study.tooStrongLoad)} at its full power.`;
  const within = `in ${counted(weatherYears, 'year')}`;
  const lightest = choices.find(({ marks }) => marks.includes('lightest'));
  if (lightest) {
    const panels = partsWords({ parts: lightest.parts.filter(({ kind }) => kind !== 'battery') });
    const beside = lightest.parts.some(({ kind }) => kind !== 'battery') ? ` with ${panels}` : '';
    if (!smaller)
      return `${partsWords(lightest)} ${isNever(lightest) ? 'never lacks power' : `would leave you without power ${nights(lightest)} ${within}`}, for ${mass(lightest)} kg and ${money(lightest.price, currency)}.`;
    const more = `for ${fixed(lightest.massKg - smaller.massKg, 1)} kg and ${money(lightest.price - smaller.price, currency)} more`;
    const large = isNever(lightest) ? 'never' : `${nights(lightest)}`;
    if (isNever(smaller)) return `${ah(smaller)}${beside} never leaves you without power ${within}.`;
    return `${ah(smaller)}${beside} would leave you without power ${nights(smaller)} ${within}; ${ah(lightest)} ${large}, ${more}.`;
  }
  if (!nearest) return 'No combination of the list is within its limits.';
  const { choice, loadFactor } = nearest;
  return `Nothing in the list meets the target: ${partsWords(choice)} comes nearest, without power ${nights(choice)} ${within}, and would do with ${percent(loadFactor)} of the load.`;
}

const isNever = ({ nightsWithout }: SizeChoice) => nightsWithout === 0;
const nights = ({ nightsWithout }: SizeChoice) => counted(nightsWithout, 'night');
const ah = ({ batteryAh }: Bill) => `${fixed(batteryAh, 0)} Ah`;
const mass = ({ massKg }: Bill) => fixed(massKg, 1);

export function money(price: number, currency: string): string {
  return `${fixed(price, Number.isInteger(price) ? 0 : 2)}${currency ? ` ${oneLine(currency)}` : ''}`;
}

export function targetWords({ target }: SizeResult): string {
  const hours = target.unservedHours === 0 ? 'no hour' : `at most ${fixed(target.unservedHours, 1)} h`;
  return `${hours} without power in ${percent(target.years)} of the weather years`;
}

const LIMITS = {
  batteries: ['number of batteries', ''],
  panels: ['number of panels', ''],
  massKg: ['mass', ' kg'],
  price: ['price', ''],
  areaM2: ['area', ' m²'],
} as const;

export function bindingWords({ limit, allowed, given, needed, choice }: SizeResult['binding'][number]): string {
  const [what, unit] = LIMITS[limit];
  const by = given ? '' : ', which was set for want of one in the list';
  return `the limit on the ${what}, ${fixed(allowed, 1)}${unit}${by}, stands in the way: ${partsWords(choice)} would do with ${fixed(needed, 1)}${unit}`;
}
