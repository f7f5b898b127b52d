import type { Remedies, Remedy, Rig } from '@stayput/core';
import { MAX_REMEDY_DAYS, type RemedyArgs } from '@stayput/core/model';
import { fixed, hours, percent, significant } from '../show/number.js';
import { oneLine } from '../show/style.js';
import { mm2 } from './figures.js';
import { namesText } from './overload-words.js';
import { sentence, type Words } from './worded.js';

/** What would cure a run, a sentence for each family of troubles; `undefined` remedies: too long a run to try any. */
export function remedyTexts(rig: Rig, remedies: readonly Remedies[] | undefined): string[] {
  if (remedies === undefined)
    return [`Remedies are tried for up to ${MAX_REMEDY_DAYS} days: follow the hardest weeks by themselves.`];
  return remedies.map((family) => oneLine(familyText(rig, family)));
}

function familyText(rig: Rig, { against, tried, cure, closest, hours: without }: Remedies): string {
  const words = remedyWords(rig);
  const of = OF[against[0]!] ?? 'it';
  if (cure) {
    const others = tried.filter((one) => one.cures && one !== cure).slice(0, MAX_OTHERS);
    const also = others.length > 0 ? ` So would ${others.map((one) => sentence(words, one)).join(', or ')}.` : '';
    return `${capital(sentence(words, cure))} would cure ${of}.${also}`;
  }
  if (closest)
    return `None of ${tried.length} remedies tried cures ${of} by itself; ${sentence(words, closest)} comes closest: ${hours(closest.hoursLeft!)} instead of ${hours(without)}.`;
  return tried.length === 0
    ? `No remedy is known for ${of}.`
    : `None of ${tried.length} remedies tried helps against ${of}: ${listTried(words, tried)}.`;
}

const MAX_OTHERS = 2;
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
const listTried = (words: Words<RemedyArgs>, tried: readonly Remedy[]) =>
  tried.map((one) => sentence(words, one)).join(', ');

const OF: Readonly<Record<string, string>> = {
  inverter_overload: 'the overload',
  inverter_surge: 'the overload',
  inverter_off: "the inverter's cut-outs",
  load_off: 'the thin cable',
  ran_flat: 'that',
  fridge_off: "the fridge's cut-outs",
  too_hot: 'the heat',
  below_floor: 'that',
};

function remedyWords(rig: Rig): Words<RemedyArgs> {
  const costs = ({ massKg, price }: { readonly massKg?: number; readonly price?: number }) => {
    const words = [
      ...(massKg === undefined ? [] : [`${significant(massKg)} kg`]),
      ...(price === undefined ? [] : [`${fixed(price, 0)}${rig.currency ? ` ${oneLine(rig.currency)}` : ''}`]),
    ];
    return words.length > 0 ? ` (${words.join(', ')})` : '';
  };
  return {
    warmer_fridge: ({ name, fromC, toC, isSafe }) =>
      `${name} at ${toC} °C instead of ${fromC} °C${isSafe ? '' : ', too warm for food that spoils'}`,
    less_use: ({ name, share, fromH, toH }) =>
      share === 0
        ? `leaving ${name} off`
        : fromH === undefined || toH === undefined
          ? `${percent(share)} of ${name}`
          : `${name} for ${hours(toH)} a day instead of ${hours(fromH)}`,
    morning_drive: ({ minutes }) =>
      Number.isFinite(minutes)
        ? `driving ${hours(minutes / 60)} more every morning`
        : 'up to 4 h more of driving every morning',
    one_more_panel: ({ what, ...more }) => `one more ${what}${costs(more)}`,
    one_more_battery: ({ what, ...more }) => `one more ${what}${costs(more)}`,
    batteries_at_once: ({ count }) => `${count} such batteries in parallel`,
    larger_inverter: ({ ratingW }) => `an inverter of ${fixed(ratingW, 0)} W`,
    one_after_other: ({ names }) => `running ${namesText(names)} one after the other`,
    thicker_cable: ({ name, sectionMm2 }) => `a cable of ${mm2(sectionMm2)} to ${name}`,
    battery_inside: () => 'the battery in the cabin',
    battery_heater: ({ powerW, belowC }) => `a heater of ${powerW} W for the battery, on below ${belowC} °C`,
  };
}
