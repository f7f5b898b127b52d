import type { Rig, Run, Warning } from '@stayput/core';
import { traceRow } from '@stayput/core';
import { warningText } from '../words/run-words.js';
import { hours, momentText, percent } from './number.js';
import { oneLine } from './style.js';

export interface Verdict {
  readonly tone: 'good' | 'low' | 'flat';
  readonly text: string;
}

/** Less than this is rounding, not a load that went without [W]. */
const NOTHING_W = 0.01;
/** Cut off with more charge than this above floor and disconnect, the battery was not empty: something else did it. */
const NOT_EMPTY = 0.03;

/** Loads that are too strong for inverter or battery: certain to fail where one is by itself. */
export function overloadsOf({ warnings }: Pick<Run, 'warnings'>): { text: string; isCertain: boolean }[] {
  return warnings.flatMap((warning) => {
    const names = namesOf(warning);
    return names ? [{ text: oneLine(warningText(warning)), isCertain: names.length === 1 }] : [];
  });
}

function namesOf(warning: Warning): readonly string[] | undefined {
  return warning.code === 'battery_overload' || warning.code === 'inverter_overload' ? warning.args.names : undefined;
}

/** The answer, by its cause: what overloads, what is empty, what went without for another reason. */
export function verdict(rig: Rig, run: Run): Verdict {
  const overloads = overloadsOf(run);
  const certain = overloads.filter(({ isCertain }) => isCertain);
  const charge = chargeVerdict(rig, run, overloads.length > 0);
  const [first] = certain.length > 0 ? certain : overloads;
  if (!first) return charge;
  const more = overloads.length > 1 ? ` (and ${overloads.length - 1} more, below)` : '';
  const head = first.isCertain ? 'Overload' : 'Overload is possible';
  return {
    tone: first.isCertain ? 'flat' : charge.tone === 'good' ? 'low' : charge.tone,
    text: `${head}: ${first.text}${more}. ${charge.text}`,
  };
}

/** What the battery's charge did. */
function chargeVerdict(rig: Rig, run: Run, isOverloaded: boolean): Verdict {
  const { summary, trace } = run;
  const { floor } = rig.battery;
  const at = `${percent(summary.lowestSoc, floor)} on ${momentText(summary.lowestAt)}`;
  const { firstStep, hours: withoutH } = timeWithout(trace.unservedW, trace.grid.stepH);
  if (firstStep !== undefined) {
    const when = momentText(String(traceRow(run, firstStep)[0]));
    const names = listed(run.loads.filter((load) => load.unservedWh > NOTHING_W).map((load) => oneLine(load.name)));
    const without = `${names} without power for ${hours(withoutH)}`;
    const soc = trace.soc[firstStep]!;
    if (summary.hoursOff > 0 && soc <= emptyBelow(rig))
      return { tone: 'flat', text: `Runs flat on ${when}: ${without}.` };
    if (summary.hoursOff > 0) {
      const why = isOverloaded ? '' : ', as more was asked than battery and cables can give';
      return {
        tone: 'flat',
        text: `Cut off on ${when} with the battery at ${percent(soc)}${why}: ${without}; lowest ${at}.`,
      };
    }
    return {
      tone: 'flat',
      text: `The battery never runs flat (lowest ${at}), yet from ${when} ${without}${causeText(run)}.`,
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

/** A state of charge at which the battery counts as empty: its disconnect, or its floor where that is by voltage. */
function emptyBelow({ battery: { disconnect, floor } }: Rig): number {
  return Math.max(floor, disconnect.kind === 'soc' ? disconnect.soc : 0) + NOT_EMPTY;
}

/** Why loads went without though the battery was on, where one cause is known. */
function causeText({ loads, warnings }: Run): string {
  const cut = loads.filter(({ cutOuts }) => (cutOuts ?? 0) > 0);
  if (cut.length > 0) {
    const byDrop = cut.every(({ cutOuts, cutOutsByDrop }) => cutOutsByDrop === cutOuts);
    return byDrop ? ': the drop in its cable makes it cut itself out' : ': its own cut-out switched it off';
  }
  return warnings.some(({ code }) => code === 'inverter_overloaded') ? ': more than the inverter gives' : '';
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
