import type { ChargeReport, Warning, WarningArgs } from '@stayput/core';
import { CHARGE_CAUSES, type ChargeCause, FOOD_SAFE_SOURCE } from '@stayput/core/model';
import { dayText } from '../show/number.js';
import { hoursOrDays, times, wholePercent } from './figures.js';
import { OVERLOAD_WORDS } from './overload-words.js';
import { sentence, type Words } from './worded.js';

function byDropText(cutOuts: number, byDrop: number): string {
  if (byDrop === cutOuts) return 'always by the drop in its cable';
  if (byDrop === 0) return 'as the battery itself was low';
  return `${byDrop} of them by the drop in its cable`;
}

function betweenText(lowest: number, highest: number): string {
  const [from, to] = [wholePercent(lowest), wholePercent(highest)];
  return from === to ? `at ${from}` : `never below ${from}, and once at ${to}`;
}

export const WARNING_WORDS: Words<WarningArgs> = {
  ...OVERLOAD_WORDS,
  loads_off: ({ hours, firstAt }) => `the battery was cut off for ${hoursOrDays(hours)}: first on ${firstAt}`,
  fridge_cut_out: ({ name, cutOuts, byDrop, lowestSoc, highestSoc }) =>
    `${name} cut out ${times(cutOuts)}, ${byDropText(cutOuts, byDrop)}; the battery was then ${betweenText(lowestSoc, highestSoc)}`,
  load_cut_out: ({ name, cutOuts, byDrop, lowestSoc, highestSoc }) =>
    `${name} cut out ${times(cutOuts)}, ${byDropText(cutOuts, byDrop)}; the battery was then ${betweenText(lowestSoc, highestSoc)}`,
  food_warm: ({ name, hours, warmestC, warmAboveC }) =>
    `${name} was too warm for food for ${hoursOrDays(hours)}, ${warmestC.toFixed(1)} °C at the warmest (too warm is above ${warmAboveC} °C: ${FOOD_SAFE_SOURCE[warmAboveC < 0 ? 'frozen' : 'chilled']})`,
  food_frozen: ({ name, hours, freezesC }) =>
    `what is in ${name} was below ${freezesC} °C for ${hoursOrDays(hours)}, where food and drink freeze: a fridge cools and does not warm, so heat the cabin or empty it`,
  fridge_cannot_hold: ({ name, hours, setpointC }) =>
    `${name} ran without pause and did not reach ${setpointC} °C for ${hoursOrDays(hours)}: its compressor is too small for that heat`,
  inverter_overloaded: ({ hours }) =>
    `the loads behind the inverter asked for more than its rating for ${hoursOrDays(hours)}`,
  cold_charge: ({ hours }) => `the battery was too cold to take the charge on offer for ${hoursOrDays(hours)}`,
  rarely_full: ({ days }) =>
    `${days} days without a full charge: lead-acid plates sulphate; fill it at least once a week`,
  mains_without_charger: ({ hours }) =>
    `the trip has ${hoursOrDays(hours)} on mains, but the rig has no mains charger, so they charge nothing`,
  drive_without_alternator: ({ hours }) =>
    `the trip has ${hoursOrDays(hours)} of driving, but the rig has no alternator, so they charge nothing`,
  cabin_not_warm: ({ heatedC, hours, coldestC }) =>
    `the cabin was not kept at ${heatedC} °C for ${hoursOrDays(hours)}, ${coldestC.toFixed(0)} °C at the coldest: its heater had no power or no fuel, or is too small`,
  cabin_not_heated: ({ meanC }) =>
    `the cabin is taken as not heated, ${meanC.toFixed(0)} °C on average; where people live in it say cabin: { heated: 18 degC }`,
  weather_shift: ({ text }) => text,
  starter_side: ({ name }) => `${name} is fed by the starter battery and is left out`,
};

/** A warning with its sentence. */
export interface ShownWarning {
  readonly code: string;
  readonly component: string;
  readonly args: object;
  readonly text: string;
}

export const warningText = (warning: Warning) => sentence(WARNING_WORDS, warning);

const CAUSE_WORDS: Readonly<Record<ChargeCause, string>> = {
  sun: 'the sun',
  engine: 'the alternator',
  mains: 'the mains',
  rating: 'the permitted current',
  relay: 'the small voltage across the relay and its cables',
  acceptance: 'the battery’s acceptance',
  cold: 'the cold',
  full: 'a full battery',
};
/** Shorter than this is not worth its words [h]. */
const BRIEF_H = 0.25;

/** "On the worst day, 12 Oct, the sun was the limit (9 h), then the battery’s acceptance (1 h)." */
export function worstDayText(
  { worstDay: { date, hours, idleHours } }: Pick<ChargeReport, 'worstDay'>,
  days: number,
): string {
  const on = days > 1 ? `On the worst day, ${dayText(date)},` : `On ${dayText(date)}`;
  const ranked = CHARGE_CAUSES.filter((cause) => hours[cause] >= BRIEF_H).sort((a, b) => hours[b] - hours[a]);
  const [first, ...others] = ranked.map((cause) => ({ cause: CAUSE_WORDS[cause], time: hoursText(hours[cause]) }));
  if (first === undefined) return `${on} nothing charged the battery.`;
  const then = others.map(({ cause, time }) => `, then ${cause} (${time})`).join('');
  const idle = idleHours >= 1 ? `; in the other ${hoursText(idleHours)} nothing charged` : '';
  return `${on} ${first.cause} was the limit (${first.time})${then}${idle}.`;
}

function hoursText(hours: number): string {
  return hours < 1 ? `${Math.round(60 * hours)} min` : `${Number(hours.toPrecision(2))} h`;
}
