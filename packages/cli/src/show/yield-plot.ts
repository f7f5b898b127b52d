import type { Trip, YieldStudy } from '@stayput/core';
import { energy, fixed, monthName } from './number.js';
import { oneLine } from './style.js';
import {
  dot,
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
import { setupWords, weatherWords } from './yield-words.js';

/**
 * The months as a picture: bars for the arrays as fitted, a whisker from P10 to P90 over weather years, a line for the best
 * fixed tilt and a dot for re-aiming.
 */
export function yieldPlot(rigName: string, weather: Trip['weather'], study: YieldStudy): string {
  const { months, setups, place, annualKwh, weatherYears, powerW } = study;
  const tilt = setups.find(({ setup }) => setup === 'best tilt');
  const aimed = setups.find(({ setup }) => setup === 're-aimed');
  const most = Math.max(
    ...months.map(({ yieldWhDay, yieldWhDayP90 }) => Math.max(yieldWhDay, yieldWhDayP90 ?? 0)),
    ...(tilt?.yieldWhDay ?? []),
    ...(aimed?.yieldWhDay ?? []),
  );
  const step = niceStep(most);
  const top = Math.max(step, Math.ceil(most / step) * step);
  const { floorY } = MONTHS_PLOT;
  const y = (wh: number) => rounded(floorY - (wh / top) * (floorY - MONTHS_PLOT.top));

  const grid = Array.from({ length: Math.round(top / step) + 1 }, (_, k) => k * step).flatMap((wh) =>
    gridLine(y(wh), fixed(wh, step < 1 ? 1 : 0)),
  );
  const marks = months.flatMap(({ month, yieldWhDay, yieldWhDayP10: p10, yieldWhDayP90: p90 }, k) => [
    `<rect class="bar" x="${rounded(monthX(k) - HALF_BAR)}" y="${y(yieldWhDay)}" width="${rounded(2 * HALF_BAR)}" height="${rounded(floorY - y(yieldWhDay))}"><title>${monthName(month)}: ${energy(yieldWhDay)} a day${p10 === undefined ? '' : `, ${energy(p10)} to ${energy(p90!)} in 8 of 10 years`}</title></rect>`,
    ...(p10 === undefined ? [] : [whisker(monthX(k), y(p10), y(p90!))]),
    ...(tilt ? [level(monthX(k), y(tilt.yieldWhDay[k]!), HALF_BAR + 5)] : []),
    ...(aimed ? [dot(monthX(k), y(aimed.yieldWhDay[k]!))] : []),
    monthLabel(k, monthName(month)),
  ]);
  const values = months.map(({ month, yieldWhDay }) => `${monthName(month)} ${energy(yieldWhDay)}`).join(', ');
  const keys: PictureKey[] = [
    ['as fitted', (at) => `<rect class="bar" x="${at}" y="72" width="14" height="14"/>`],
    ...(weatherYears > 1 ? [['8 of 10 years', (at: number) => whisker(at + 7, 86, 72)] as const] : []),
    ...(tilt ? [[setupWords(tilt, place.latDeg), (at: number) => level(at + 7, 79, 9)] as const] : []),
    ...(aimed ? [[setupWords(aimed, place.latDeg), (at: number) => dot(at + 7, 79)] as const] : []),
  ];
  return monthsPicture({
    id: 'yield',
    title: `${oneLine(rigName)}, ${fixed(powerW, 0)} W at ${oneLine(place.name)}: what the panels can give`,
    description: `Wh a day at the controllers' output, by month, as fitted: ${values}. In a year ${energy(annualKwh * 1000)}.`,
    subtitle: `${weatherWords(weather, weatherYears)}; ${energy(annualKwh * 1000)} a year, into a battery that is never full`,
    unit: 'Wh/day',
    keys,
    marks: [...grid, ...marks],
    foot: 'An estimate by stayput; a battery that is often full takes less.',
  });
}

/** A step of 1, 2 or 5 times a power of ten that gives four to nine lines. */
function niceStep(most: number): number {
  if (!(most > 0)) return 1;
  const raw = most / 6;
  const ten = 10 ** Math.floor(Math.log10(raw));
  return ([1, 2, 5].find((times) => times * ten >= raw) ?? 10) * ten;
}
