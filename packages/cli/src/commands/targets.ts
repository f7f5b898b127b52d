import type { Run } from '@stayput/core';
import { counted, energy, percent } from '../show/number.js';
import { oneLine } from '../show/style.js';
import { troubleText } from '../words/verdict-words.js';

/** A target the user asked for, and whether the run meets it. */
export interface TargetResult {
  readonly target: 'never-below' | 'never-off';
  readonly met: boolean;
  readonly text: string;
}

/** Less than this is rounding [Wh]. */
const NOTHING_WH = 0.01;

export function targetResults(
  run: Run,
  asked: { readonly neverBelow?: number; readonly neverOff?: boolean },
): TargetResult[] {
  const { summary, loads } = run;
  const results: TargetResult[] = [];
  if (asked.neverBelow !== undefined) {
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
    const overloads = run.troubles.filter(({ code }) => code.endsWith('_overload')).map(troubleText);
    const met = without.length === 0 && summary.hoursOff === 0 && overloads.length === 0;
    const what = [
      ...overloads,
      ...without.map(({ name, unservedWh }) => `${oneLine(name)} lacks ${energy(unservedWh)}`),
    ].join(', ');
    results.push({
      target: 'never-off',
      met,
      text: met
        ? 'never off: every load always finds power'
        : `never off: ${what || `power is cut for ${counted(Math.ceil(summary.hoursOff), 'hour')}`}`,
    });
  }
  return results;
}
