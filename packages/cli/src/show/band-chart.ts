import { dayText, weekdayText } from './number.js';
import type { Style } from './style.js';

/** A quantity of which only a band is known, step by step; ratios 0..1. */
export interface Band {
  readonly p10: readonly number[];
  readonly p50: readonly number[];
  readonly p90: readonly number[];
  readonly floor: number;
  readonly midnights: readonly { readonly step: number; readonly date: string }[];
}

/** Rows of a tenth each: every tenth is the middle of one. */
const INTERVALS = 10;
const LEFT = 5; // "100 |"

/** State of charge as a band (8 ways in 10 lie in it) about its middle; the floor is drawn across. */
export function bandChart(
  { p10, p50, p90, floor, midnights }: Band,
  width: number,
  unicode: boolean,
  style: Style,
): string[] {
  const columns = Math.max(8, width - LEFT);
  const steps = p50.length - 1;
  const stepAt = (column: number) => Math.round((column * steps) / (columns - 1));
  const rowOf = (value: number) => Math.round((1 - Math.min(1, Math.max(0, value))) * INTERVALS);
  const columnOf = (step: number) => Math.round((step * (columns - 1)) / Math.max(1, steps));
  const floorRow = rowOf(floor);
  const nights = midnights.map(({ step, date }) => ({ column: columnOf(step), date }));
  const [middle, band, low, night, tick] = unicode ? ['●', '░', '┄', '┊', '┤'] : ['*', ':', '-', '|', '+'];
  const lines = Array.from({ length: INTERVALS + 1 }, (_, row) => {
    const percent = 100 - (100 * row) / INTERVALS;
    const label = row % 2 === 0 ? String(percent) : '';
    const cells = Array.from({ length: columns }, (_, column) => {
      const step = stepAt(column);
      const isBelow = row > floorRow;
      if (rowOf(p50[step]!) === row) return (isBelow ? style.red : style.bold)(middle!);
      if (row >= rowOf(p90[step]!) && row <= rowOf(p10[step]!)) return (isBelow ? style.red : style.dim)(band!);
      if (row === floorRow) return style.yellow(low!);
      return nights.some((one) => one.column === column) ? style.dim(night!) : ' ';
    });
    return `${label.padStart(3)} ${label ? tick : unicode ? '│' : '|'}${cells.join('').trimEnd()}`;
  });
  let dates = ' '.repeat(LEFT);
  for (const { column, date } of nights) {
    const text = `${weekdayText(date)} ${dayText(date)}`;
    if (LEFT + column + text.length <= width && dates.length <= LEFT + column)
      dates = dates.padEnd(LEFT + column) + text;
  }
  return [...lines, dates.trimEnd()];
}
