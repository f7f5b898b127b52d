import type { Trip, YieldStudy } from '@stayput/core';
import { energy, fixed, monthName } from './number.js';
import { oneLine } from './style.js';
import { setupWords, weatherWords } from './yield-words.js';

const WIDTH = 760;
const HEIGHT = 430;
const PLOT = { left: 62, right: 20, top: 112, bottom: 52 };
const SLOT = (WIDTH - PLOT.left - PLOT.right) / 12;
const FLOOR_Y = HEIGHT - PLOT.bottom;
const BAR_SHARE = 0.56;
const MOST_TITLE = 70;

/** Own palette; the second set serves a dark page. Contrast with the ground is above 3:1 for marks and 7:1 for text. */
const STYLE = `
  .ground { fill: #fbfaf6 } .ink { fill: #26302f } .soft { fill: #55605e } .rule { stroke: #d9d8d0 }
  .bar { fill: #c27a16 } .spread { stroke: #26302f } .tilt { stroke: #0f6f73 } .aimed { fill: #8a3f73 }
  text { font: 13px system-ui, sans-serif } .title { font-size: 18px; font-weight: 600 } .small { font-size: 12px }
  @media (prefers-color-scheme: dark) {
    .ground { fill: #171b1c } .ink { fill: #eceae3 } .soft { fill: #b3b8b4 } .rule { stroke: #343b3c }
    .bar { fill: #a8691f } .spread { stroke: #eceae3 } .tilt { stroke: #5cc3c0 } .aimed { fill: #d79bc4 }
  }`;

/**
 * The months as a picture: bars for the arrays as fitted, a whisker from P10 to P90 over weather years, a line for the best
 * fixed tilt and a dot for re-aiming. Plain SVG, text as text, light or dark with the page that shows it.
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
  const y = (wh: number) => round(FLOOR_Y - (wh / top) * (FLOOR_Y - PLOT.top));
  const x = (month: number) => PLOT.left + (month + 0.5) * SLOT;
  const half = (SLOT * BAR_SHARE) / 2;

  const grid = Array.from({ length: Math.round(top / step) + 1 }, (_, k) => k * step).flatMap((wh) => [
    `<line class="rule" x1="${PLOT.left}" x2="${WIDTH - PLOT.right}" y1="${y(wh)}" y2="${y(wh)}"/>`,
    `<text class="soft" x="${PLOT.left - 8}" y="${y(wh) + 4}" text-anchor="end">${fixed(wh, step < 1 ? 1 : 0)}</text>`,
  ]);
  const marks = months.flatMap(({ month, yieldWhDay, yieldWhDayP10: p10, yieldWhDayP90: p90 }, k) => [
    `<rect class="bar" x="${round(x(k) - half)}" y="${y(yieldWhDay)}" width="${round(2 * half)}" height="${round(FLOOR_Y - y(yieldWhDay))}"><title>${monthName(month)}: ${energy(yieldWhDay)} a day${p10 === undefined ? '' : `, ${energy(p10)} to ${energy(p90!)} in 8 of 10 years`}</title></rect>`,
    ...(p10 === undefined ? [] : [whisker(x(k), y(p10), y(p90!))]),
    ...(tilt ? [level(x(k), y(tilt.yieldWhDay[k]!), half + 5)] : []),
    ...(aimed ? [`<circle class="aimed" cx="${round(x(k))}" cy="${y(aimed.yieldWhDay[k]!)}" r="4"/>`] : []),
    `<text class="ink" x="${round(x(k))}" y="${FLOOR_Y + 20}" text-anchor="middle">${monthName(month)}</text>`,
  ]);
  const title = fitted(
    `${oneLine(rigName)}, ${fixed(powerW, 0)} W at ${oneLine(place.name)}: what the panels can give`,
  );
  const values = months.map(({ month, yieldWhDay }) => `${monthName(month)} ${energy(yieldWhDay)}`).join(', ');
  const legend = [
    ['as fitted', (at: number) => `<rect class="bar" x="${at}" y="72" width="14" height="14"/>`],
    ...(weatherYears > 1 ? [['8 of 10 years', (at: number) => whisker(at + 7, 86, 72)]] : []),
    ...(tilt ? [[setupWords(tilt, place.latDeg), (at: number) => level(at + 7, 79, 9)]] : []),
    ...(aimed
      ? [[setupWords(aimed, place.latDeg), (at: number) => `<circle class="aimed" cx="${at + 7}" cy="79" r="4"/>`]]
      : []),
  ] as [string, (at: number) => string][];
  let at = PLOT.left;
  const keys = legend.map(([words, mark]) => {
    const key = `${mark(at)}<text class="ink" x="${at + 22}" y="84">${escaped(words)}</text>`;
    at += 22 + 7.2 * words.length + 20;
    return key;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-labelledby="yield-title yield-desc">
<title id="yield-title">${escaped(title)}</title>
<desc id="yield-desc">Wh a day at the controllers' output, by month, as fitted: ${escaped(values)}. In a year ${energy(annualKwh * 1000)}.</desc>
<style>${STYLE}
</style>
<rect class="ground" width="${WIDTH}" height="${HEIGHT}"/>
<text class="ink title" x="${PLOT.left}" y="32">${escaped(title)}</text>
<text class="soft" x="${PLOT.left}" y="54">${escaped(`${weatherWords(weather, weatherYears)}; ${energy(annualKwh * 1000)} a year, into a battery that is never full`)}</text>
${keys.join('\n')}
<text class="soft small" x="${PLOT.left - 8}" y="${PLOT.top - 10}" text-anchor="end">Wh/day</text>
${[...grid, ...marks].join('\n')}
<text class="soft small" x="${PLOT.left}" y="${HEIGHT - 10}">An estimate by stayput; a battery that is often full takes less.</text>
</svg>
`;
}

/** A step of 1, 2 or 5 times a power of ten that gives four to nine lines. */
function niceStep(most: number): number {
  if (!(most > 0)) return 1;
  const raw = most / 6;
  const ten = 10 ** Math.floor(Math.log10(raw));
  return ([1, 2, 5].find((times) => times * ten >= raw) ?? 10) * ten;
}

function whisker(x: number, low: number, high: number): string {
  const [a, left, right] = [round(x), round(x - 4), round(x + 4)];
  return `<path class="spread" fill="none" stroke-width="1.5" d="M${left} ${low}H${right}M${a} ${low}V${high}M${left} ${high}H${right}"/>`;
}

function level(x: number, y: number, half: number): string {
  return `<line class="tilt" stroke-width="3" x1="${round(x - half)}" x2="${round(x + half)}" y1="${y}" y2="${y}"/>`;
}

/** A long name is cut, so that the title stays on the picture. */
function fitted(title: string): string {
  const signs = [...title];
  return signs.length <= MOST_TITLE ? title : `${signs.slice(0, MOST_TITLE - 1).join('')}…`;
}

const round = (value: number) => Math.round(value * 10) / 10;

function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (sign) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[sign]!);
}
