import type { Rig } from '@stayput/core';
import { type OverloadArgs, overloads } from '@stayput/core/model';
import { fixed } from '../show/number.js';
import { oneLine } from '../show/style.js';
import { amps, wholePercent } from './figures.js';
import { sentence, type Words } from './worded.js';

/** "hob", "hob and kettle", "hob, kettle and laptop" */
export function namesText(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

const watts = (powerW: number) => `${fixed(powerW, 0)} W`;
const asks = (names: readonly string[]) => (names.length > 1 ? 'at the same time ask' : 'asks');
const cure = (names: readonly string[]) => (names.length > 1 ? 'run them one after the other' : undefined);

export const OVERLOAD_WORDS: Words<OverloadArgs> = {
  inverter_overload: ({ names, askedW, ratingW }) =>
    `${namesText(names)} ${asks(names)} for ${watts(askedW)}, more than the inverter's ${watts(ratingW)}: it switches off; ${cure(names) ?? `use an inverter of ${watts(askedW)} or more`}`,
  inverter_surge: ({ names, startW, surgeW }) =>
    `${namesText(names)} ${names.length > 1 ? 'at the same time take' : 'takes'} ${watts(startW)} ${names.length > 1 ? 'as one of them starts' : 'as it starts'}, more than the ${watts(surgeW)} that the inverter gives for a moment: it switches off; ${cure(names) ?? 'use an inverter with more surge'}`,
  battery_overload: ({ names, askedW, currentA, maxDischargeA, voltageV, disconnectV, fromSoc }) => {
    const when = fromSoc >= 1 ? '' : ` at ${wholePercent(fromSoc)} charge and below`;
    const isCurrent = maxDischargeA !== undefined && currentA > maxDischargeA;
    const limit = isCurrent
      ? `${amps(currentA)}, more than the ${amps(maxDischargeA)} that it may give`
      : disconnectV === undefined
        ? 'more than it can give at any current'
        : `its voltage falls to ${voltageV.toFixed(1)} V, below the disconnect of ${disconnectV} V`;
    return `${namesText(names)} ${asks(names)} for ${watts(askedW)} of the battery, ${limit}${when}: it cuts everything off; ${cure(names) ?? 'use a smaller load or a larger battery'}`;
  },
};

/** Loads that alone are too strong for inverter or battery, whenever they run. */
export function certainOverloads(rig: Rig): string[] {
  return overloads(rig)
    .filter(({ args: { names } }) => names.length === 1)
    .map((overload) => oneLine(sentence(OVERLOAD_WORDS, overload)));
}
