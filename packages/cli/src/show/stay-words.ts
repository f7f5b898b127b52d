import type { Rig, StayMonth, StayStudy, StayUnknown } from '@stayput/core';
import { type EndCause, snowOnPanel } from '@stayput/core/model';
import { fixed, monthName, monthNames, percent } from './number.js';
import { oneLine } from './style.js';

/** What a winter's answer hangs on, where the rig does not say whether its cabin is heated. */
export function heatingRemark({ cabin, loads }: Rig): string[] {
  const isFridgeInside = loads.some((load) => load.kind === 'fridge' && load.stands === 'cabin');
  return cabin.heatedC === undefined && isFridgeInside
    ? [
        'the cabin is taken as not heated: where people live in it in winter the fridge draws more, so say cabin: { heated: 18 degC }',
      ]
    : [];
}

/** Snow that the rig names, by its months: what lies on the ground lights a tilted panel, what lies on the panel darkens it. */
export function snowRemark(rig: Rig): string[] {
  if (!rig.snow) return [];
  const { groundShare } = rig.snow;
  const months = groundShare.flatMap((share, k) => (share > 0 ? [k + 1] : []));
  const kept = rig.solar.flatMap((array) => {
    const most = Math.max(0, ...(snowOnPanel(array, rig) ?? []));
    return most > 0 ? [`up to ${percent(most)} of a month's light to ${oneLine(array.name)}`] : [];
  });
  if (months.length === 0 && kept.length === 0) return [];
  return [
    `snow counts as you give it: on the ground in ${months.length > 0 ? monthSpans(months) : 'no month'}, where it brightens what a tilted panel sees${kept.length > 0 ? `; on the panels it costs ${kept.join(', ')}; sweep it off, and it costs nothing` : '; on the panels it costs nothing'}`,
  ];
}

/** "2.7", "12", "60+": as much as is known of a stay [days]. */
export function daysCell(days: number, horizonDays: number): string {
  if (days >= horizonDays) return `${horizonDays}+`;
  return fixed(days, days < 9.95 ? 1 : 0);
}

export function daysText(days: number, horizonDays: number): string {
  if (days >= horizonDays) return `${horizonDays} days or more`;
  const cell = daysCell(days, horizonDays);
  return `${cell} day${cell === '1.0' ? '' : 's'}`;
}

/** The answer in one sentence. */
export function stayVerdict(rig: Rig, name: string, study: StayStudy): string {
  const { months, horizonDays, darkDays, darkMonth } = study;
  const sun = rig.solar.length > 0 ? "with the season's sun" : 'without a panel';
  const dark = rig.solar.length > 0 ? `, and ${daysText(darkDays, horizonDays)} with no charging at all` : '';
  const [only] = months;
  if (months.length === 1 && only) {
    const lasting = only.indefinite
      ? `as long as you like ${sun}`
      : `${daysText(only.parkedDaysP50, horizonDays)} ${sun} (nine stays in ten last ${daysText(only.parkedDaysP10, horizonDays)})`;
    return `At ${name} in ${monthNames[only.month - 1]} ${oneLine(rig.name)} can stay ${lasting}${dark}.`;
  }
  return `At ${name} ${oneLine(rig.name)} can stay ${overMonths(study, sun)}${dark && `${dark} (${monthName(darkMonth)})`}.`;
}

function overMonths({ months, horizonDays, hardestMonth }: StayStudy, sun: string): string {
  const endless = months.filter(({ indefinite }) => indefinite).map(({ month }) => month);
  if (endless.length === months.length) return `as long as you like ${sun}`;
  const words = (row: StayMonth) => `${daysText(row.parkedDaysP10, horizonDays)} (${monthName(row.month)})`;
  const hardestRow = months.find(({ month }) => month === hardestMonth)!;
  const hardest = words(hardestRow);
  if (endless.length > 0)
    return `as long as you like in ${monthSpans(endless)} but, nine times in ten, no less than ${hardest} in the hardest month`;
  const easiestRow = months.reduce((a, b) => (b.parkedDaysP10 > a.parkedDaysP10 ? b : a));
  const [least, most] = [hardestRow, easiestRow].map((row) => daysText(row.parkedDaysP10, horizonDays));
  return `${least === most ? `${least} in each month` : `${hardest} to ${words(easiestRow)}`} ${sun}, nine times in ten`;
}

/** "Mar to Aug, Oct"; a span over the turn of the year is one. */
export function monthSpans(months: readonly number[]): string {
  const has = (month: number) => months.includes(((month + 11) % 12) + 1);
  if (months.length === 12) return 'every month';
  const firsts = months.filter((month) => !has(month - 1));
  return firsts
    .map((first) => {
      let last = first;
      while (has(last + 1)) last++;
      const end = monthName(((last - 1) % 12) + 1);
      return last === first ? end : `${monthName(first)} to ${end}`;
    })
    .join(', ');
}

const END_WORDS: Readonly<Record<EndCause, string>> = {
  floor: 'the floor',
  disconnect: 'the cut-off',
  'fridge cut-out': "a fridge's cut-out",
  inverter: "the inverter's cut-out",
  'thin cable': 'a thin cable',
  overload: 'too much power asked',
};

export const endWords = (cause: EndCause) => END_WORDS[cause];

/** What ends most of the stays of a month; of dark ones where none in the sun does. */
export function mostlyEndedBy({ endedBy, darkEndedBy }: StayMonth): string {
  const [most] = Object.entries(endedBy).sort(([, a], [, b]) => b - a);
  if (!most) return darkEndedBy ? `(dark: ${endWords(darkEndedBy)})` : '-';
  const [cause, share] = most as [EndCause, number];
  return share > 0.995 ? endWords(cause) : `${endWords(cause)} (${percent(share)})`;
}

export function unknownWords({ what, assumed }: StayUnknown): string {
  if (what === 'soiling') return `dirt may take ${percent(assumed.low)} to ${percent(assumed.high)} of the light`;
  if (what === 'heat leak')
    return `a fridge's heat leak may be ${percent(assumed.low)} to ${percent(assumed.high)} of what is taken`;
  return `the climate's light may be ${percent(1 - assumed.low)} off either way`;
}

/** "45 min", "2 h", "over 4 h", "none" */
export function engineWords(minutes: number): string {
  if (minutes === 0) return 'none';
  if (minutes === Infinity) return 'over 4 h';
  return minutes < 120 ? `${minutes} min` : `${fixed(minutes / 60, 0)} h`;
}
