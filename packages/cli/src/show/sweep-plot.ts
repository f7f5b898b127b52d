import type { Sweep, Vary } from '@stayput/core';
import { counted, fixed, significant } from './number.js';
import { oneLine } from './style.js';
import { escaped, fittedTitle, niceStep, rounded, SVG_STYLE } from './sweep-svg.js';

const WIDTH = 760;
const HEIGHT = 430;
const PLOT = { left: 92, right: 34, top: 84, bottom: 70 };
const INNER_W = WIDTH - PLOT.left - PLOT.right;
const INNER_H = HEIGHT - PLOT.top - PLOT.bottom;
const FLOOR_Y = HEIGHT - PLOT.bottom;
/** Beside a map, the scale of its colours. */
const SCALE = { width: 14, gap: 16, room: 78 };
const MOST_LABELS_X = 12;
const MOST_LABELS_Y = 16;
/** A cell this large has its number written in it. */
const READABLE = { width: 44, height: 18 };

/** From low to high: own ramp, rising in lightness, told apart with any sight of colour. */
const RAMP = [
  [38, 32, 66],
  [60, 72, 122],
  [52, 118, 138],
  [86, 160, 128],
  [176, 194, 104],
  [244, 222, 142],
] as const;

/**
 * One answer over one varied quantity as a line, or over two as a map of colours.
 * @param answer  its place in the sweep's columns
 * @param answers one a variant; NaN where there is none
 */
export function sweepPlot(rigName: string, sweep: Sweep, answer: number, answers: Float64Array): string {
  const { key } = sweep.columns[answer]!;
  const [first, second] = sweep.plan.varied;
  const title = fittedTitle(
    `${oneLine(rigName)}: ${wordsOf(key)} by ${axisText(first!)}${second ? ` and ${axisText(second)}` : ''}`,
  );
  const drawn = second ? map(first!, second, answers) : line(first!, answers);
  const known = answers.filter((value) => !Number.isNaN(value));
  const span = known.length > 0 ? `${significant(least(known))} to ${significant(most(known))}` : 'no value';
  const subtitle = `${span} over ${counted(answers.length, 'variant')}${sweep.years > 1 ? `, ${sweep.years} weather years each` : ''}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-labelledby="sweep-title sweep-desc">
<title id="sweep-title">${escaped(title)}</title>
<desc id="sweep-desc">${escaped(`${wordsOf(key)}: ${subtitle}`)}</desc>
<style>${SVG_STYLE}
</style>
<rect class="ground" width="${WIDTH}" height="${HEIGHT}"/>
<text class="ink title" x="20" y="32">${escaped(title)}</text>
<text class="soft" x="20" y="54">${escaped(subtitle)}</text>
${drawn.join('\n')}
<text class="soft small" x="20" y="${HEIGHT - 10}">An estimate by stayput.</text>
</svg>
`;
}

function line(vary: Vary, answers: Float64Array): string[] {
  const cells = Array.from({ length: vary.count }, (_, i) => vary.cellAt(i));
  const numbers = cells.every((cell) => typeof cell === 'number') ? (cells as number[]) : undefined;
  const at = numbers ?? cells.map((_, i) => i);
  const [x0, x1] = [least(at), most(at)];
  const x = (value: number) => rounded(PLOT.left + (x1 > x0 ? (value - x0) / (x1 - x0) : 0.5) * INNER_W);
  const known = answers.filter((value) => !Number.isNaN(value));
  const step = niceStep(Math.max(1e-12, most(known) - Math.min(0, least(known))));
  const low = Math.floor(Math.min(0, least(known)) / step) * step;
  const high = Math.max(low + step, Math.ceil(most(known) / step - 1e-9) * step);
  const y = (value: number) => rounded(FLOOR_Y - ((value - low) / (high - low)) * INNER_H);
  const rules = Array.from({ length: Math.round((high - low) / step) + 1 }, (_, k) => low + k * step).flatMap(
    (value) => [
      `<line class="rule" x1="${PLOT.left}" x2="${WIDTH - PLOT.right}" y1="${y(value)}" y2="${y(value)}"/>`,
      `<text class="soft" x="${PLOT.left - 8}" y="${y(value) + 4}" text-anchor="end">${tickText(value, step)}</text>`,
    ],
  );
  const order = at.map((_, i) => i).sort((a, b) => at[a]! - at[b]!);
  const points = order.filter((i) => !Number.isNaN(answers[i]!));
  const path = points.map((i, k) => `${k === 0 ? 'M' : 'L'}${x(at[i]!)} ${y(answers[i]!)}`).join('');
  const labels = someOf(order, MOST_LABELS_X).map(
    (i) =>
      `<text class="ink" x="${x(at[i]!)}" y="${FLOOR_Y + 20}" text-anchor="middle">${escaped(cellText(cells[i]!))}</text>`,
  );
  const dots = points.map(
    (i) =>
      `<circle class="dot" cx="${x(at[i]!)}" cy="${y(answers[i]!)}" r="${points.length > 80 ? 1.5 : 3.5}"><title>${escaped(`${cellText(cells[i]!)}: ${significant(answers[i]!)}`)}</title></circle>`,
  );
  return [
    ...rules,
    ...(numbers && path ? [`<path class="line" stroke-width="2" d="${path}"/>`] : []),
    ...dots,
    ...labels,
    axisLabelX(vary),
  ];
}

/** The first quantity upwards, the second across. */
function map(up: Vary, across: Vary, answers: Float64Array): string[] {
  const known = answers.filter((value) => !Number.isNaN(value));
  const [low, high] = [least(known), most(known)];
  const right = WIDTH - PLOT.right - SCALE.room;
  const cellW = (right - PLOT.left) / across.count;
  const cellH = INNER_H / up.count;
  const isWritten = cellW >= READABLE.width && cellH >= READABLE.height;
  const shareOf = (value: number) => (high > low ? (value - low) / (high - low) : 0.5);
  const cells = Array.from(answers, (value, i) => {
    const [row, column] = [Math.floor(i / across.count), i % across.count];
    const [x, y] = [PLOT.left + column * cellW, FLOOR_Y - (row + 1) * cellH];
    const isKnown = !Number.isNaN(value);
    const words = `${cellText(up.cellAt(row))}, ${cellText(across.cellAt(column))}: ${isKnown ? significant(value) : 'no answer'}`;
    const box = `<rect x="${rounded(x)}" y="${rounded(y)}" width="${rounded(cellW + 0.3)}" height="${rounded(cellH + 0.3)}" fill="${isKnown ? colourAt(shareOf(value)) : 'none'}"><title>${escaped(words)}</title></rect>`;
    if (!isWritten || !isKnown) return box;
    const ink = shareOf(value) > 0.5 ? '#1a2020' : '#f6f4ec';
    return `${box}<text class="small" fill="${ink}" x="${rounded(x + cellW / 2)}" y="${rounded(y + cellH / 2 + 4)}" text-anchor="middle">${significant(value)}</text>`;
  });
  const places = (count: number) => Array.from({ length: count }, (_, i) => i);
  const labels = [
    ...someOf(places(across.count), MOST_LABELS_X).map(
      (i) =>
        `<text class="ink" x="${rounded(PLOT.left + (i + 0.5) * cellW)}" y="${FLOOR_Y + 20}" text-anchor="middle">${escaped(cellText(across.cellAt(i)))}</text>`,
    ),
    ...someOf(places(up.count), MOST_LABELS_Y).map(
      (i) =>
        `<text class="ink" x="${PLOT.left - 8}" y="${rounded(FLOOR_Y - (i + 0.5) * cellH + 4)}" text-anchor="end">${escaped(cellText(up.cellAt(i)))}</text>`,
    ),
  ];
  const scaleX = right + SCALE.gap;
  const bands = places(40).map(
    (k) =>
      `<rect x="${scaleX}" y="${rounded(FLOOR_Y - ((k + 1) / 40) * INNER_H)}" width="${SCALE.width}" height="${rounded(INNER_H / 40 + 0.3)}" fill="${colourAt(k / 39)}"/>`,
  );
  const ends = high > low ? [low, (low + high) / 2, high] : known.length > 0 ? [low] : [];
  const scale = ends.map(
    (value) =>
      `<text class="soft small" x="${scaleX + SCALE.width + 6}" y="${rounded(FLOOR_Y - shareOf(value) * INNER_H + 4)}">${significant(value)}</text>`,
  );
  return [
    ...cells,
    ...labels,
    ...bands,
    ...scale,
    axisLabelX(across, (PLOT.left + right) / 2),
    `<text class="soft small" x="20" y="${PLOT.top - 10}">${escaped(axisText(up))}</text>`,
  ];
}

function axisLabelX(vary: Vary, middle = PLOT.left + INNER_W / 2): string {
  return `<text class="soft small" x="${rounded(middle)}" y="${FLOOR_Y + 42}" text-anchor="middle">${escaped(axisText(vary))}</text>`;
}

function colourAt(share: number): string {
  const place = Math.min(1, Math.max(0, share)) * (RAMP.length - 1);
  const k = Math.min(RAMP.length - 2, Math.floor(place));
  const mixed = RAMP[k]!.map((low, i) => Math.round(low + (place - k) * (RAMP[k + 1]![i]! - low)));
  return `#${mixed.map((part) => part.toString(16).padStart(2, '0')).join('')}`;
}

/** At most so many of them, evenly, both ends included. */
function someOf(places: readonly number[], mostOf: number): number[] {
  if (places.length <= mostOf) return [...places];
  const stride = Math.ceil((places.length - 1) / (mostOf - 1));
  return places.filter((_, k) => k % stride === 0);
}

/** "lowestSocP10" as "lowest soc P10" */
function wordsOf(key: string): string {
  return key
    .replace(/P(\d+)$/, ' P$1')
    .replace(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`)
    .replace(/\bpv\b/, 'PV')
    .replace(/\bsoc\b/, 'SoC')
    .replace(/\bwh\b/, '[Wh]');
}

const axisText = ({ path, unit }: Vary) => oneLine(unit ? `${path} [${unit}]` : path);
const cellText = (cell: number | string) =>
  fittedTitle(oneLine(typeof cell === 'number' ? String(Number(cell.toPrecision(5))) : cell), 14);
const tickText = (value: number, step: number) => fixed(value, Math.max(0, -Math.floor(Math.log10(step) + 1e-9)));
const least = (values: ArrayLike<number>) =>
  Array.from(values).reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
const most = (values: ArrayLike<number>) =>
  Array.from(values).reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
