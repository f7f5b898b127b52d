import { HOUR_MS } from '../../math/index.js';
import { createCellReader } from '../cells/cell-number.js';
import type { LineCells } from '../cells/line-cells.js';
import type { LogColumn, LogLayout } from './log-layout.js';
import { changeHoldMs, isSparse, rhythmOf, usualHoldMs } from './rhythm.js';

/** Values of the first rows of a log, in time order: what the meaning of its columns is worked out from. */
export interface Survey {
  readonly rows: number;
  readonly timeMs: Float64Array;
  /** a column in the units that it is taken to have; cells that are empty as another device wrote the row are filled; NaN = nothing */
  of(column: LogColumn): Float64Array;
  /** the cells as they stand */
  cells(index: number): Float64Array;
}

/** No value holds longer in the survey, whatever the rhythm. */
const HELD_MS = HOUR_MS;

export function createSurvey(
  layout: LogLayout,
  lines: readonly string[],
  cells: LineCells,
  stampOf: () => number,
): Survey {
  const reader = createCellReader(layout.decimalMark);
  const wanted = [
    ...new Set([...layout.columns.flatMap(({ parts }) => parts), ...layout.counters].map(({ index }) => index)),
  ];
  const dated: { ms: number; values: Float64Array }[] = [];
  for (const line of lines) {
    cells.cut(line);
    const ms = stampOf();
    if (Number.isNaN(ms)) continue;
    const values = new Float64Array(wanted.length);
    for (let k = 0; k < wanted.length; k++) {
      const plain = cells.plainNumber(wanted[k]!);
      values[k] = Number.isNaN(plain) ? reader.read(cells.text(wanted[k]!)) : plain;
    }
    dated.push({ ms, values });
  }
  dated.sort((a, b) => a.ms - b.ms);
  const rows = dated.length;
  const timeMs = Float64Array.from(dated, ({ ms }) => ms);
  const raw = new Map(wanted.map((index, k) => [index, Float64Array.from(dated, ({ values }) => values[k]!)]));
  const held = new Map<number, Float64Array>();
  const cellsOf = (index: number) => raw.get(index) ?? new Float64Array(rows).fill(Number.NaN);
  const heldOf = (index: number) => {
    let column = held.get(index);
    if (column !== undefined) return column;
    column = Float64Array.from(cellsOf(index));
    if (isSparse(column)) {
      let last = -1;
      for (let i = 0; i < rows; i++)
        if (!Number.isNaN(column[i]!)) last = i;
        else if (last >= 0 && timeMs[i]! - timeMs[last]! <= HELD_MS) column[i] = column[last]!;
    }
    held.set(index, column);
    return column;
  };
  return {
    rows,
    timeMs,
    cells: cellsOf,
    of: (column) => combined(column, heldOf, rows),
  };
}

/** The value of a role in each row from the columns that it is made of. */
function combined(
  { parts, isSplit }: LogColumn,
  columnOf: (index: number) => Float64Array,
  rows: number,
): Float64Array {
  const sum = new Float64Array(rows);
  const columns = parts.map(({ index }) => columnOf(index));
  for (let i = 0; i < rows; i++) {
    let [value, filled] = [0, 0];
    for (let p = 0; p < parts.length; p++) {
      const cell = columns[p]![i]!;
      if (Number.isNaN(cell)) continue;
      const { unit, factor } = parts[p]!;
      value += factor * ((cell * unit.times) / unit.per + unit.plus);
      filled++;
    }
    sum[i] = filled === parts.length || (isSplit && filled > 0) ? value : Number.NaN;
  }
  return sum;
}

export interface Holds {
  /** how long an empty cell of each column holds what was last in it [ms]; 0 = not at all, as the column is in every row */
  readonly holdMs: Float64Array;
  /** devices write their columns evenly, each in rows of its own: the time between the rows of one of them [ms] */
  readonly deviceMs: number | undefined;
}

/** Devices fill the same columns each time, and no two of them the same: what so many rows fill counts as a way to fill a row … */
const FREQUENT = 0.08;
/** … and nearly all rows are filled in one of these ways. */
const NEARLY_ALL = 0.9;

export function holdsOf(columns: readonly { readonly index: number }[], survey: Survey): Holds {
  const cells = columns.map(({ index }) => survey.cells(index));
  const isApart = cells.map(isSparse);
  const steps = cells.map((column): number[] => {
    const own: number[] = [];
    let last = Number.NaN;
    for (let i = 0; i < survey.rows; i++) {
      if (Number.isNaN(column[i]!)) continue;
      if (survey.timeMs[i]! > last) own.push(survey.timeMs[i]! - last);
      last = survey.timeMs[i]!;
    }
    return own;
  });
  const usualMs = steps.map((own) => rhythmOf([...own]).usualMs);
  const isDevices =
    isApart.filter((one) => one).length > 1 &&
    areApart(
      cells.filter((_, k) => isApart[k]),
      survey.rows,
    );
  // where one column is written on change, so are the others: one that changes often is empty in few rows, and holds as rows usually do
  const isOnChange = !isDevices && isApart.includes(true);
  return {
    holdMs: Float64Array.from(columns, (_, k) =>
      isDevices
        ? isApart[k]
          ? 3 * usualMs[k]!
          : 0
        : isApart[k]
          ? changeHoldMs(steps[k]!)
          : isOnChange
            ? usualHoldMs(steps[k]!)
            : 0,
    ),
    deviceMs: isDevices ? Math.max(...usualMs.filter((_, k) => isApart[k])) : undefined,
  };
}

function areApart(cells: readonly Float64Array[], rows: number): boolean {
  const ways = new Map<string, { count: number; filled: readonly boolean[] }>();
  for (let i = 0; i < rows; i++) {
    const filled = cells.map((column) => !Number.isNaN(column[i]!));
    const way = filled.join();
    const known = ways.get(way);
    if (known === undefined) ways.set(way, { count: 1, filled });
    else known.count++;
  }
  const frequent = [...ways.values()].filter(({ count }) => count >= FREQUENT * rows);
  const overlap = cells.some((_, k) => frequent.filter(({ filled }) => filled[k]).length > 1);
  return !overlap && frequent.reduce((sum, { count }) => sum + count, 0) >= NEARLY_ALL * rows;
}
