import { ASCII_DOTS, BRAILLE, DotCanvas } from './dot-canvas.js';
import { dayText, monthText } from './number.js';
import type { Style } from './style.js';

export interface SocSeries {
  /** state of charge at the end of each step, 0..1 */
  readonly soc: ArrayLike<number>;
  /** civil days, each with the step at which it begins */
  readonly days: readonly { readonly date: string; readonly firstStep: number }[];
  readonly floor: number;
  /** the step of the lowest point and what to write at it */
  readonly lowest: { readonly step: number; readonly text: string };
}

interface Cell {
  sign: string;
  mark: (text: string) => string;
}

/** Rows stand so many to the whole apart that 100, 75, 50, 25 and 0 % are each the middle of a row. */
const INTERVALS = { short: 8, tall: 12 } as const;
/** How many lines it takes: `short` beside other things on a screen, `tall` by itself. */
export type ChartSize = keyof typeof INTERVALS;
const LEFT = 5; // "100 |"
const plain = (text: string) => text;

/**
 * State of charge over a run. Every column of dots is a stroke from the lowest to the highest state within it, joined to
 * its neighbour: a line over days, and over months the band between each day's low and high.
 */
export function socChart(
  series: SocSeries,
  width: number,
  unicode: boolean,
  style: Style,
  size: ChartSize = 'tall',
): string[] {
  const rows = INTERVALS[size] + 1;
  const canvas = new DotCanvas(width - LEFT, rows, unicode ? BRAILLE : ASCII_DOTS);
  drawLine(canvas, series.soc);
  const perColumn = series.soc.length / canvas.columns;
  const columnOf = (step: number) => Math.min(canvas.columns - 1, Math.floor(step / perColumn));
  const ticks = series.days.map(({ date, firstStep }) => ({ date, column: columnOf(firstStep) }));
  const showsDays = canvas.columns / series.days.length >= 6;

  const floorRow = rowOf(canvas, series.floor);
  const cells = Array.from({ length: rows }, (_, row) =>
    Array.from({ length: canvas.columns }, (_, column): Cell => {
      const drawn = canvas.at(column, row);
      if (drawn !== undefined) return { sign: drawn, mark: row > floorRow ? style.red : plain };
      if (row === floorRow) return { sign: unicode ? '┄' : '-', mark: style.yellow };
      return { sign: ' ', mark: plain };
    }),
  );
  if (showsDays)
    for (const { column } of ticks.slice(1))
      for (const row of cells)
        if (row[column]!.sign === ' ') row[column] = { sign: unicode ? '┊' : '|', mark: style.dim };

  const below = markLowest(cells, series, columnOf(series.lowest.step), canvas, unicode, style);
  return [
    ...cells.map(
      (row, k) =>
        axisLabel(k, rows - 1, unicode) +
        row
          .map(({ sign, mark }) => mark(sign))
          .join('')
          .trimEnd(),
    ),
    style.dim(axis(ticks, canvas.columns, unicode)),
    ...(below === undefined ? [] : [below]),
    (' '.repeat(LEFT) + tickLabels(ticks, canvas.columns)).trimEnd(),
  ];
}

function drawLine(canvas: DotCanvas, soc: ArrayLike<number>): void {
  const level = (value: number) => levelOf(canvas, value);
  let before = level(soc[0]!);
  for (let x = 0; x < canvas.dotsAcross; x++) {
    const first = Math.floor((x * soc.length) / canvas.dotsAcross);
    const end = Math.max(first + 1, Math.floor(((x + 1) * soc.length) / canvas.dotsAcross));
    let low = level(soc[first]!);
    let high = low;
    for (let i = first + 1; i < end; i++) {
      const y = level(soc[i]!);
      if (y < low) low = y;
      if (y > high) high = y;
    }
    canvas.stroke(x, Math.min(low, before), Math.max(high, before));
    before = level(soc[end - 1]!);
  }
}

/** The dot, from the bottom, at which a ratio 0..1 stands. */
function levelOf({ grain, dotsDown }: DotCanvas, value: number): number {
  const intervals = dotsDown / grain.down - 1;
  return Math.round(Math.min(1, Math.max(0, value)) * intervals * grain.down + (grain.down - 1) / 2);
}

function rowOf(canvas: DotCanvas, value: number): number {
  return Math.floor((canvas.dotsDown - 1 - levelOf(canvas, value)) / canvas.grain.down);
}

/** Nothing is drawn below the lowest point, so its words have room there; at the bottom they go under the axis. */
function markLowest(
  cells: Cell[][],
  series: SocSeries,
  column: number,
  canvas: DotCanvas,
  unicode: boolean,
  style: Style,
): string | undefined {
  const value = series.soc[series.lowest.step]!;
  const mark = value < series.floor ? style.red : style.bold;
  const arrow = unicode ? '▲' : '^';
  const fitsRight = column + 2 + series.lowest.text.length <= canvas.columns;
  const text = fitsRight ? `${arrow} ${series.lowest.text}` : `${series.lowest.text} ${arrow}`;
  const from = fitsRight ? column : Math.max(0, column - text.length + 1);
  const row = cells[rowOf(canvas, value) + 1];
  if (row === undefined) return `${' '.repeat(LEFT + from)}${mark(text)}`;
  [...text].forEach((sign, k) => {
    if (from + k < canvas.columns) row[from + k] = { sign, mark };
  });
  return undefined;
}

/** 100, 75, 50, 25 and 0 beside their rows. */
function axisLabel(row: number, intervals: number, unicode: boolean): string {
  const label = (row * 4) % intervals === 0 ? String(100 - (row * 100) / intervals) : '';
  return `${label.padStart(3)} ${label ? (unicode ? '┤' : '+') : unicode ? '│' : '|'}`;
}

function axis(ticks: readonly { column: number; date: string }[], columns: number, unicode: boolean): string {
  const line = Array.from<string>({ length: columns }).fill(unicode ? '─' : '-');
  const everyDay = columns / ticks.length >= 2;
  for (const { column, date } of ticks.slice(1))
    if (everyDay || date.endsWith('-01')) line[column] = unicode ? '┴' : '+';
  return `    ${unicode ? '└' : '+'}${line.join('')}`;
}

/** Dates under their midnights, as many as have room; over months, the names of the months. */
function tickLabels(ticks: readonly { date: string; column: number }[], columns: number): string {
  const everyMonth = ticks.length > 62;
  const wanted = everyMonth ? ticks.filter(({ date }, k) => k === 0 || date.endsWith('-01')) : ticks;
  for (const every of everyMonth ? [1, 2, 3, 6, 12] : [1, 2, 3, 5, 7, 10, 14]) {
    const shown = wanted.filter((_, k) => k % every === 0);
    const chosen = shown.map(({ date, column }, k) => {
      const isNewYear = date.slice(0, 4) !== shown[k - 1]?.date.slice(0, 4);
      return {
        column,
        text: everyMonth ? `${monthText(date)}${isNewYear ? ` ${date.slice(0, 4)}` : ''}` : dayText(date),
      };
    });
    let line = '';
    const fits = chosen.every(({ column, text }, k) => {
      if (k === chosen.length - 1 && column + text.length > columns) return k > 0; // no room for the last one: leave it out
      if (k > 0 && line.length + 1 > column) return false;
      line = line.padEnd(column) + text;
      return true;
    });
    if (fits) return line;
  }
  return wanted[0] ? dayText(wanted[0].date) : '';
}
