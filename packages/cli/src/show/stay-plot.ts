import type { StayStudy, Trip } from '@stayput/core';
import { monthName } from './number.js';
import { daysCell, daysText } from './stay-words.js';
import { oneLine } from './style.js';
import {
  escaped,
  gridLine,
  HALF_BAR,
  level,
  MONTHS_PLOT,
  monthLabel,
  monthsPicture,
  monthX,
  type PictureKey,
  rounded,
  whisker,
} from './svg.js';
import { weatherWords } from './yield-words.js';

/** Lines of an axis of days on which each doubling is as long as the next. */
const TICKS = [0.5, 1, 2, 3, 5, 7, 10, 14, 21, 30, 60, 90, 180, 365];
const MOST_ROWS = 14;
const FOOT = 'An estimate by stayput; the axis is logarithmic, the top is as long as you like.';

/** The months of one place as a picture, or months by places when there are several. */
export function stayPlot(rigName: string, weather: Trip['weather'], studies: readonly StayStudy[]): string {
  return studies.length > 1 ? gridPlot(rigName, weather, studies) : monthsPlot(rigName, weather, studies[0]!);
}

function monthsPlot(rigName: string, weather: Trip['weather'], study: StayStudy): string {
  const { months, place, horizonDays, weatherYears, darkDays } = study;
  const least = Math.min(darkDays, ...months.map(({ parkedDaysP10 }) => parkedDaysP10));
  const bottom = TICKS.findLast((tick) => tick < least) ?? TICKS[0]! / 2;
  const { top, floorY } = MONTHS_PLOT;
  const scale = (floorY - top - 14) / Math.log(horizonDays / bottom);
  const y = (days: number) => rounded(floorY - scale * Math.log(Math.max(days, bottom) / bottom));
  const ticks = [bottom, ...TICKS.filter((tick) => tick > bottom && tick < horizonDays), horizonDays];
  const grid = ticks.flatMap((days) => gridLine(y(days), days === horizonDays ? `${days}+` : String(days)));
  const marks = months.flatMap((row) => {
    const k = row.month - 1;
    const { parkedDaysP10: p10, parkedDaysP50: p50, parkedDaysP90: p90 } = row;
    const words = row.indefinite
      ? 'as long as you like'
      : `half of the stays last ${daysText(p50, horizonDays)}, nine in ten ${daysText(p10, horizonDays)}`;
    return [
      `<rect class="bar" x="${rounded(monthX(k) - HALF_BAR)}" y="${y(p50)}" width="${rounded(2 * HALF_BAR)}" height="${rounded(floorY - y(p50))}"><title>${monthName(row.month)}: ${words}; ${daysText(row.darkDays, horizonDays)} in the dark</title></rect>`,
      ...(p10 < horizonDays ? [whisker(monthX(k), y(p10), y(p90))] : []),
      level(monthX(k), y(row.darkDays), HALF_BAR + 5),
      `<text class="ink small" x="${rounded(monthX(k))}" y="${y(Math.max(p50, p90)) - 6}" text-anchor="middle">${daysCell(p50, horizonDays)}</text>`,
      monthLabel(k, monthName(row.month)),
    ];
  });
  const keys: PictureKey[] = [
    ["half of the stays, season's sun", (at) => `<rect class="bar" x="${at}" y="72" width="14" height="14"/>`],
    ['8 of 10 stays', (at) => whisker(at + 7, 86, 72)],
    ['no charging at all', (at) => level(at + 7, 79, 9)],
  ];
  const values = months
    .map(
      (row) =>
        `${monthName(row.month)} ${row.indefinite ? 'as long as you like' : daysText(row.parkedDaysP50, horizonDays)}`,
    )
    .join(', ');
  return monthsPicture({
    id: 'stay',
    title: `${oneLine(rigName)} at ${oneLine(place.name)}: how many days one can stay`,
    description: `Days with the sun of the season and the engine off, half of the stays, by month: ${values}. With no charging at all ${daysText(darkDays, horizonDays)}.`,
    subtitle: `${weatherWords(weather, weatherYears)}; ${daysText(darkDays, horizonDays)} with no charging at all in ${monthName(study.darkMonth)}`,
    unit: 'days',
    keys,
    marks: [...grid, ...marks],
    foot: FOOT,
  });
}

/** A row a place, a square a month: the longer nine stays in ten last, the fuller its colour. */
function gridPlot(rigName: string, weather: Trip['weather'], studies: readonly StayStudy[]): string {
  const { top, floorY, left } = MONTHS_PLOT;
  const shown = studies.slice(0, MOST_ROWS);
  const rowHeight = Math.min(88, (floorY - top) / shown.length);
  const { horizonDays, weatherYears } = studies[0]!;
  const rows = shown.flatMap(({ place, months }, r) => {
    const y = rounded(floorY - (shown.length - r) * rowHeight);
    const name = [...oneLine(place.name)];
    return [
      `<text class="ink small" x="${left - 52}" y="${rounded(y + 12)}">${escaped(name.length > 60 ? `${name.slice(0, 59).join('')}…` : name.join(''))}</text>`,
      ...months.map((row) => {
        const days = row.parkedDaysP10;
        const fill = rounded(10 * Math.min(1, Math.log(1 + days) / Math.log(1 + horizonDays))) / 10;
        const x = rounded(monthX(row.month - 1) - HALF_BAR - 9);
        const words = row.indefinite ? 'as long as you like' : `nine stays in ten last ${daysText(days, horizonDays)}`;
        return `<rect class="bar" fill-opacity="${fill}" x="${x}" y="${rounded(y + 15)}" width="${rounded(2 * HALF_BAR + 18)}" height="${rounded(Math.max(4, rowHeight - 17))}"><title>${escaped(name.join(''))}, ${monthName(row.month)}: ${words}</title></rect><text class="ink small" x="${rounded(monthX(row.month - 1))}" y="${rounded(y + 15 + (rowHeight - 17) / 2 + 4)}" text-anchor="middle">${daysCell(days, horizonDays)}</text>`;
      }),
    ];
  });
  const labels = Array.from({ length: 12 }, (_, k) => monthLabel(k, monthName(k + 1)));
  const said = shown.map(
    ({ place, months }) =>
      `${oneLine(place.name)}: ${months.map((row) => `${monthName(row.month)} ${daysCell(row.parkedDaysP10, horizonDays)}`).join(', ')}`,
  );
  const hidden = studies.length - shown.length;
  return monthsPicture({
    id: 'stay',
    title: `${oneLine(rigName)}: how many days one can stay, by place and month`,
    description: `Days that nine stays in ten last with the sun of the season and the engine off. ${said.join('. ')}.`,
    subtitle: `${weatherWords(weather, weatherYears)}; days that nine stays in ten last, ${horizonDays}+ is as long as you like`,
    unit: '',
    keys: [],
    marks: [...rows, ...labels],
    foot: `An estimate by stayput${hidden > 0 ? `; ${hidden} more places are not drawn` : ''}.`,
  });
}
