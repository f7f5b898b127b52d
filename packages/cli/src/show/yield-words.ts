import type { Rig, Trip, YieldStudy } from '@stayput/core';
import type { Waterfall, YieldRange, YieldSetup } from '@stayput/core/model';
import { counted, energy, fixed, monthName, percent } from './number.js';
import { oneLine } from './style.js';

/** Yield below this is nothing worth a word [Wh/day]. */
const NOTHING_WH = 0.5;

/** The answer in one sentence. */
export function yieldVerdict(rig: Rig, study: YieldStudy): string {
  const { months, annualKwh, powerW, place } = study;
  const most = months.reduce((a, b) => (b.yieldWhDay > a.yieldWhDay ? b : a));
  const least = months.reduce((a, b) => (b.yieldWhDay < a.yieldWhDay ? b : a));
  const what = `${oneLine(rig.name)}'s ${fixed(powerW, 0)} W at ${oneLine(place.name)}`;
  if (!(most.yieldWhDay >= NOTHING_WH)) return `${what} give nothing all year.`;
  const dark = months.filter(({ yieldWhDay }) => yieldWhDay < NOTHING_WH).map(({ month }) => monthName(month));
  const low = dark.length
    ? `nothing in ${dark.join(', ')}`
    : `${energy(least.yieldWhDay)} in ${monthName(least.month)}`;
  return `${what} can give ${energy((annualKwh * 1000) / 365)} a day over the year: ${low}, ${energy(most.yieldWhDay)} in ${monthName(most.month)}.`;
}

export function weatherWords(weather: Trip['weather'], years: number): string {
  if (weather.kind === 'file')
    return `weather of ${oneLine(weather.path)}${years > 1 ? `, ${counted(years, 'year')}` : ''}`;
  return weather.kind === 'climate' ? `climate weather, ${counted(years, 'year')}` : `${weather.kind} weather`;
}

/** Toward the equator, as a compass word. */
export function equatorward(latDeg: number): string {
  return latDeg >= 0 ? 'south' : 'north';
}

export function setupWords({ setup, tiltDeg, timesPerDay }: YieldSetup, latDeg: number): string {
  if (setup === 'best tilt') return `fixed at ${tiltDeg}° to the ${equatorward(latDeg)}`;
  if (setup === 're-aimed') return `turned to the sun ${timesPerDay === 2 ? 'twice' : `${timesPerDay} times`} a day`;
  return setup;
}

const LOSS_WORDS: Readonly<Record<Waterfall['losses'][number]['where'], string>> = {
  reflection: 'reflection at the glass',
  shade: 'shade',
  heat: 'heat of the cells',
  lowLight: 'low light',
  soiling: 'dirt',
  mismatch: 'mismatch',
  ageing: 'ageing',
  other: 'other, as measured',
  snow: 'snow on the panels',
  cable: 'cable to the controller',
  controller: 'controller',
};

const LOSS_HELPS: Partial<Readonly<Record<Waterfall['losses'][number]['where'], string>>> = {
  reflection: 'tilt toward the sun',
  shade: 'park or mount out of it',
  soiling: 'wipe them more often',
  snow: 'sweep it off',
  cable: 'a shorter or thicker cable',
};

/** What can be done about a loss; empty where nothing can. */
export function lossHelp(where: keyof typeof LOSS_WORDS, { solar }: Pick<Rig, 'solar'>): string {
  if (where === 'heat') return solar.some(({ mount }) => mount === 'bonded') ? 'air under the panels' : '';
  if (where === 'reflection' && !solar.some(({ tiltDeg, reaimedPerDay }) => tiltDeg === 0 && reaimedPerDay === 0))
    return '';
  return LOSS_HELPS[where] ?? '';
}

export const lossWords = (where: keyof typeof LOSS_WORDS) => LOSS_WORDS[where];

export function rangeWords({ what, assumed, annualKwh }: YieldRange): string {
  const follows = `${energy(annualKwh.low * 1000)} to ${energy(annualKwh.high * 1000)} a year`;
  if (what === 'soiling')
    return `dirt may take ${percent(assumed.low)} to ${percent(assumed.high)} of the light: ${follows}`;
  if (what === 'turbidity')
    return `haze may be ${fixed(assumed.low, 1)} to ${fixed(assumed.high, 1)} times the usual: ${follows}`;
  return `the climate's light may be ${percent(1 - assumed.low)} off either way: ${follows}`;
}
