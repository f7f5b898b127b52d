import type { Run } from '@stayput/core';
import type { RunSpread } from '@stayput/core/model';
import { counted, energy, percent } from '../show/number.js';
import { oneLine } from '../show/style.js';
import { namesText, OVERLOAD_WORDS } from '../words/overload-words.js';

/** A target the user asked for, and whether the run meets it. */
export interface TargetResult {
  readonly target: 'never-below' | 'never-off';
  readonly met: boolean;
  readonly text: string;
}

/** In so many of an ensemble's vehicles a target is to be met. */
const CHANCE = 0.9;
const OVERLOADS: readonly string[] = Object.keys(OVERLOAD_WORDS);
/** Less than this is rounding [Wh]. */
const NOTHING_WH = 0.01;

export function targetResults(
  run: Run,
  asked: { readonly neverBelow?: number; readonly neverOff?: boolean },
  spread?: RunSpread,
): TargetResult[] {
  const { summary, loads } = run;
  const results: TargetResult[] = [];
  const inVehicles = (share: number) => `holds in ${percent(share)} of ${spread?.vehicles} vehicles`;
  if (asked.neverBelow !== undefined && spread) {
    const { neverBelow } = asked;
    const share = spread.lowestEach.filter((lowest) => lowest >= neverBelow).length / spread.vehicles;
    const text = `never below ${percent(neverBelow)}: ${inVehicles(share)}`;
    results.push({ target: 'never-below', met: share >= CHANCE, text });
  } else if (asked.neverBelow !== undefined) {
    const met = summary.lowestSoc >= asked.neverBelow;
    const lowest = percent(summary.lowestSoc, asked.neverBelow);
    results.push({
      target: 'never-below',
      met,
      text: met
        ? `never below ${percent(asked.neverBelow)}: the lowest is ${lowest}`
        : `never below ${percent(asked.neverBelow)}: the battery falls to ${lowest}`,
    });
  }
  if (asked.neverOff) {
    const without = loads.filter(({ unservedWh }) => unservedWh > NOTHING_WH);
    const overloads = run.troubles.filter(({ code }) => OVERLOADS.includes(code));
    const names = [...new Set(overloads.flatMap(({ args }) => ('names' in args ? args.names : [])))];
    const overloadWords = `overload by ${namesText(names)}, as said above`;
    const isServed = spread ? spread.neverOff >= CHANCE : without.length === 0 && summary.hoursOff === 0;
    const met = isServed && overloads.length === 0;
    const what = [
      ...(overloads.length > 0 ? [oneLine(overloadWords)] : []),
      ...without.map(({ name, unservedWh }) => `${oneLine(name)} lacks ${energy(unservedWh)}`),
    ].join(', ');
    results.push({
      target: 'never-off',
      met,
      text: spread
        ? `never off: ${[...(overloads.length > 0 ? [overloadWords] : []), inVehicles(spread.neverOff)].join(', ')}`
        : met
          ? 'never off: every load always finds power'
          : `never off: ${what || `power is cut for ${counted(Math.ceil(summary.hoursOff), 'hour')}`}`,
    });
  }
  return results;
}
