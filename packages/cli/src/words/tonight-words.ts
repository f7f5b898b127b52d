import type { TonightStudy } from '@stayput/core';
import type { SkyTaken, TonightFinding, TonightFindingArgs } from '@stayput/core/model';
import { counted, dayText, energy, fixed, momentText, percent, weekdayText } from '../show/number.js';
import { oneLine } from '../show/style.js';
import { wholePercent } from './figures.js';
import { sentence, type Words } from './worded.js';

/** "Sun 11 Oct 10:20" */
export const whenText = (iso: string) => `${weekdayText(iso)} ${momentText(iso)}`;
/** "Sun 11 Oct" */
export const onText = (iso: string) => `${weekdayText(iso)} ${dayText(iso)}`;

/** The day that ends at a midnight. */
export const lastDayText = (iso: string) =>
  onText(new Date(Date.parse(`${iso.slice(0, 10)}T00:00:00Z`) - 86_400_000).toISOString());

/** "9 times in 10", "95 times in 100" */
export function timesIn(chance: number): string {
  const tenths = chance * 10;
  return Math.abs(tenths - Math.round(tenths)) < 1e-6
    ? `${Math.round(tenths)} times in 10`
    : `${fixed(chance * 100, 0)} times in 100`;
}

/** Watt-hours to spare as nobody should trust further: whole tens from a hundred on, always on the safe side. */
export function spareText(wh: number): string {
  const grain = Math.abs(wh) >= 100 ? 10 : 1;
  return energy(Math.abs(Math.floor(wh / grain) * grain));
}

/** The answer first: to the moment at which the sun has paid the night back, or where it never does, to the end of the days. */
export function spareVerdict({ name }: { readonly name: string }, study: TonightStudy): string {
  const { spareAtChanceWh, spareWh, chance, paidBackAt, paidBackAtChance } = study;
  const rig = oneLine(name);
  if (paidBackAt === null || paidBackAtChance === null)
    return `${paidBackAt === null ? 'On none of these days does the sun make up for a night.' : 'The sun may not make up for a night in these days.'} ${balance(rig, study.spareAtEndAtChanceWh, study.spareAtEndWh.p50, `to the end of ${lastDayText(study.end)}`, chance)}`;
  const until = `until the sun has paid the night back (${whenText(paidBackAt)})`;
  return balance(rig, spareAtChanceWh, spareWh.p50, until, chance);
}

function balance(rig: string, atChanceWh: number, halfWh: number, until: string, chance: number): string {
  const often = timesIn(chance);
  if (atChanceWh >= 0)
    return `${rig} can spare ${spareText(atChanceWh)} ${until}, ${often}; half the time ${spareText(halfWh)}.`;
  if (halfWh >= 0)
    return `Nothing to spare ${until}: half the time ${spareText(halfWh)}, but to be sure ${often} ${rig} lacks ${spareText(atChanceWh)}.`;
  return `${rig} lacks ${spareText(halfWh)} ${until} half the time; to be sure ${often} it takes ${spareText(atChanceWh)} from elsewhere.`;
}

export function endVerdict(study: TonightStudy): string {
  const { spareAtEndAtChanceWh, spareAtEndWh, chance, end, keeps, floor, floorAt, floorAtEarliest, paidBackAtChance } =
    study;
  const said = (wh: number) => (wh >= 0 ? `${spareText(wh)} to spare` : `${spareText(wh)} lacking`);
  const spare =
    paidBackAtChance === null
      ? ''
      : `To the end of ${lastDayText(end)}: ${said(spareAtEndAtChanceWh)} ${timesIn(chance)}, ${said(spareAtEndWh.p50)} half the time. `;
  const holds = `${spare}If nothing changes the floor of ${percent(floor)}`;
  if (keeps >= 1) return `${holds} is not reached.`;
  const early = floorAtEarliest === null ? '' : ` as early as ${whenText(floorAtEarliest)}`;
  if (floorAt !== null) return `${holds} is reached about ${whenText(floorAt)}${early && `, perhaps${early}`}.`;
  return `${holds} holds ${percent(keeps)} of the time${early && `, or is reached${early}`}.`;
}

export function tonightTarget({ floor, chance, keeps, end }: TonightStudy) {
  const met = keeps >= chance - 1e-9;
  const text = `never below ${percent(floor)} to the end of ${lastDayText(end)}: so it stays ${percent(keeps, chance)} of the time, and ${percent(chance)} was asked for`;
  return { target: 'never-below' as const, met, text };
}

/** "Sun 11 Oct dull (0.7 to 1.5 kWh/m2 of 4.3)" */
export function skyText({ date, said, lowKwhM2, highKwhM2, clearKwhM2 }: SkyTaken): string {
  const word =
    said.kind === 'word'
      ? said.word
      : said.kind === 'clear share'
        ? `${percent(said.share)} of clear`
        : `${fixed(said.kwhM2, 1)} kWh/m2`;
  return `${onText(date)} ${word} (${fixed(lowKwhM2, 1)} to ${fixed(highKwhM2, 1)} of ${fixed(clearKwhM2, 1)})`;
}

const TONIGHT_WORDS: Words<TonightFindingArgs> = {
  charge_is_wide: ({ low, high, plateau }) =>
    `the battery may hold anything from ${wholePercent(low)} to ${wholePercent(high)}: ${
      plateau
        ? 'LFP stands at nearly the same voltage over most of its charge, so volts tell little; a counter (--soc) or a reading near full or empty tells more'
        : 'the reading tells no more; let it rest for an hour and read it again'
    }`,
  below_floor_now: ({ soc, floor }) =>
    `the battery is below its floor now: ${wholePercent(soc)}, and ${wholePercent(floor)} is the floor`,
  not_paid_back: ({ share, days }) =>
    `${wholePercent(share)} of the time the sun does not make up for a night within ${counted(days, 'day')}`,
  cut_before_end: ({ share }) => `${wholePercent(share)} of the time some load goes without power by the end`,
  rest_of_today: () => "what is left of today's sun is the climate's: the sky that was given begins tomorrow",
};

export const tonightFindingText = (finding: TonightFinding) => sentence(TONIGHT_WORDS, finding);
