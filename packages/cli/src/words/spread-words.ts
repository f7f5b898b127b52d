import type { SizeChoice } from '@stayput/core';
import type { RunSpread, SizeSpread } from '@stayput/core/model';
import { counted, fixed, percent } from '../show/number.js';

/** "31 % to 52 %", or one of them where both read alike. */
function span(low: string, high: string): string {
  return low === high ? low : `${low} to ${high}`;
}

/** A run in the vehicles of an ensemble: what 8 in 10 come to. */
export function runSpreadText(spread: RunSpread, floor: number): string {
  const { vehicles, lowestSoc, nightsWithout, keepsFloor, neverOff } = spread;
  const lowest = span(percent(lowestSoc.p10), percent(lowestSoc.p90));
  const nights = span(fixed(nightsWithout.p10, 0), fixed(nightsWithout.p90, 0));
  return `shown is the one in the middle; of ${counted(vehicles, 'vehicle')} that this may be, 8 in 10 go down to ${lowest}${nights === '0' ? '' : ` and lack power on ${nights} nights`}; ${percent(keepsFloor)} never go below ${percent(floor)}, and in ${percent(neverOff)} no load goes without`;
}

/** A choice in the vehicles of an ensemble. */
export function sizeSpreadText({ marks, spread }: SizeChoice & { readonly spread: SizeSpread }): string {
  const { vehicles, nightsWithout, lowestSoc, meets } = spread;
  const nights = span(fixed(nightsWithout.p10, 0), fixed(nightsWithout.p90, 0));
  const lowest = span(percent(lowestSoc.p10), percent(lowestSoc.p90));
  return `the ${marks.join(' and ')} in ${counted(vehicles, 'vehicle')} that this may be, each in two weather years: 8 in 10 lack power on ${nights === '0' ? 'no night' : `${nights} nights`} a year and go down to ${lowest}; the target is kept in ${percent(meets)}`;
}
