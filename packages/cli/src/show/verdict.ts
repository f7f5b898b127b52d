import { type Rig, type Run, traceRow } from '@stayput/core';
import { hours, momentText, percent } from './number.js';
import { oneLine } from './style.js';

export interface Verdict {
  readonly tone: 'good' | 'low' | 'flat';
  readonly text: string;
}

/** Less than this is rounding, not a load that went without [W]. */
const NOTHING_W = 0.01;

/** The answer in one sentence. */
export function verdict(rig: Rig, run: Run): Verdict {
  const { summary, trace } = run;
  const { floor } = rig.battery;
  const at = `${percent(summary.lowestSoc, floor)} on ${momentText(summary.lowestAt)}`;
  const { firstStep, hours: withoutH } = timeWithout(trace.unservedW, trace.grid.stepH);
  if (firstStep !== undefined) {
    const when = momentText(String(traceRow(run, firstStep)[0]));
    const names = listed(run.loads.filter((load) => load.unservedWh > NOTHING_W).map((load) => oneLine(load.name)));
    if (summary.hoursOff > 0)
      return { tone: 'flat', text: `Runs flat on ${when}: ${names} without power for ${hours(withoutH)}.` };
    return {
      tone: 'flat',
      text: `The battery never runs flat (lowest ${at}), yet from ${when} ${names} without power for ${hours(withoutH)}.`,
    };
  }
  if (summary.hoursOff > 0)
    return {
      tone: 'flat',
      text: `The battery cuts out for ${hours(summary.hoursOff)}, with nothing running: lowest ${at}.`,
    };
  if (summary.hoursBelowFloor > 0)
    return {
      tone: 'low',
      text: `Never runs flat, but spends ${hours(summary.hoursBelowFloor)} below the floor of ${percent(floor)}: lowest ${at}.`,
    };
  return { tone: 'good', text: `Never runs flat: lowest ${at}, above the floor of ${percent(floor)}.` };
}

function timeWithout(unservedW: Float64Array, stepH: number): { firstStep?: number; hours: number } {
  const firstStep = unservedW.findIndex((power) => power > NOTHING_W);
  if (firstStep < 0) return { hours: 0 };
  let steps = 0;
  for (const power of unservedW) if (power > NOTHING_W) steps++;
  return { firstStep, hours: steps * stepH };
}

const MAX_NAMES = 3;

function listed(names: readonly string[]): string {
  const shown =
    names.length > MAX_NAMES ? [...names.slice(0, MAX_NAMES - 1), `${names.length - MAX_NAMES + 1} more loads`] : names;
  if (shown.length < 2) return shown[0] ?? 'loads';
  return `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
}
