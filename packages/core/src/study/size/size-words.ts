import type { PartsList } from '../../rig/index.js';
import { amountOf, brokenLimits, type LimitName, type Limits } from './size-list.js';
import type { Followed, SizeRun } from './size-runs.js';
import type { Bill, ChosenPart } from './size-types.js';

const LIMIT_WORDS: Readonly<Record<LimitName, string>> = {
  batteries: 'number of batteries',
  panels: 'number of panels',
  massKg: 'mass',
  price: 'price',
  areaM2: 'area',
};
const LIMIT_UNITS: Readonly<Record<LimitName, string>> = {
  batteries: '',
  panels: '',
  massKg: ' kg',
  price: '',
  areaM2: ' m²',
};

/** "2 x LFP 50, 1 x roof 100" */
export function partsText(parts: readonly ChosenPart[]): string {
  return parts.length === 0 ? 'nothing bought' : parts.map(({ name, count }) => `${count} x ${name}`).join(', ');
}

export function overLimitText(bill: Bill, limits: Limits, parts: PartsList): string {
  const over = brokenLimits(bill, limits, parts).map(
    (limit) =>
      `${LIMIT_WORDS[limit]} ${round(amountOf(bill, limit, parts))} of at most ${round(limits[limit]!)}${LIMIT_UNITS[limit]}`,
  );
  return `over a limit: ${over.join(', ')}`;
}

export function overloadText(load: string): string {
  return `its battery cannot feed ${load} at its full power`;
}

/** Why one choice loses to another that is at least as light, as cheap and as reliable. */
export function dominatedText(one: Followed, by: Followed, runs: readonly SizeRun[]): string {
  const [a, b] = [one.combination.bill, by.combination.bill];
  const better = [
    ...(b.massKg < a.massKg ? [`${round(a.massKg - b.massKg)} kg lighter`] : []),
    ...(b.price < a.price ? [`${round(a.price - b.price)} cheaper`] : []),
  ];
  const why = better.length > 0 ? `, ${better.join(' and ')},` : '';
  const reliable = by.hours === 0 ? 'never leaves you without power' : 'leaves you without power no longer';
  const worst = worstOf(one, runs);
  const own = worst
    ? `; this one lacks power for ${one.isWhole ? '' : 'at least '}${round(worst.hours)} h in year ${worst.year}`
    : '';
  return `another does as well: ${partsText(b.parts)}${why} ${reliable}${own}`;
}

export function hopelessText(one: Followed, runs: readonly SizeRun[]): string {
  const worst = worstOf(one, runs)!;
  return `lacks power for more than 5 % of the time: ${one.shortages[worst.at]!.isWhole ? '' : 'at least '}${round(worst.hours)} h in year ${worst.year}`;
}

/** The run with the most hours without power, as far as the choice was followed. */
export function worstOf(
  { shortages }: Followed,
  runs: readonly SizeRun[],
): { at: number; year: number; hours: number } | undefined {
  let worst: { at: number; year: number; hours: number } | undefined;
  shortages.forEach((shortage, at) => {
    if (shortage && shortage.hours > (worst?.hours ?? 0))
      worst = { at, year: runs[at]!.yearIndex + 1, hours: shortage.hours };
  });
  return worst;
}

function round(value: number): string {
  return String(Number(value.toFixed(Math.abs(value) < 100 ? 1 : 0)));
}
