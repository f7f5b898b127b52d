import { splitLine } from './split-line.js';

const SPACE = 32;
const QUOTE = 34;
/** Never in the text of a log: stands for the delimiter once quotes are taken off. */
const UNQUOTED = '\u0001';
const UNQUOTED_CODE = 1;

/** The cells of one line as stretches of it: a number is read in place, and only cells that are asked for become strings. */
export interface LineCells {
  line: string;
  count: number;
  cut(line: string): void;
  /** trimmed; '' beyond the last */
  text(cell: number): string;
  /** the cell as a plain decimal number, exactly as `Number` reads it; NaN when it is anything else */
  plainNumber(cell: number): number;
  isBlank(): boolean;
}

/** @param mark decimal mark of the numbers */
export function createLineCells(delimiter: string, mark: '.' | ','): LineCells {
  let starts = new Int32Array(64);
  let ends = new Int32Array(64);
  const markCode = mark.charCodeAt(0);
  const delimiterCode = delimiter.charCodeAt(0);
  /** @returns false on a quote, of which this knows nothing */
  const divide = (between: number): boolean => {
    const { line } = cells;
    const { length } = line;
    let count = 0;
    let from = 0;
    for (let at = 0; at <= length; at++) {
      const code = at < length ? line.charCodeAt(at) : between;
      if (code === QUOTE && between !== UNQUOTED_CODE) return false;
      if (code !== between) continue;
      if (count === starts.length) {
        starts = widened(starts);
        ends = widened(ends);
      }
      let end = at;
      while (from < end && line.charCodeAt(from) === SPACE) from++;
      while (end > from && line.charCodeAt(end - 1) === SPACE) end--;
      starts[count] = from;
      ends[count] = end;
      count++;
      from = at + 1;
    }
    cells.count = count;
    return true;
  };
  const cells: LineCells = {
    line: '',
    count: 0,
    cut(text) {
      cells.line = text;
      if (divide(delimiterCode)) return;
      cells.line = splitLine(text, delimiter).join(UNQUOTED);
      divide(UNQUOTED_CODE);
    },
    text: (cell) => (cell < cells.count ? cells.line.slice(starts[cell]!, ends[cell]!) : ''),
    plainNumber: (cell) =>
      cell < cells.count ? decimal(cells.line, starts[cell]!, ends[cell]!, markCode) : Number.NaN,
    isBlank() {
      for (let cell = 0; cell < cells.count; cell++) if (ends[cell]! > starts[cell]!) return false;
      return true;
    },
  };
  return cells;
}

function widened(column: Int32Array): Int32Array<ArrayBuffer> {
  const wider = new Int32Array(2 * column.length);
  wider.set(column);
  return wider;
}

/** Powers of ten that a double holds exactly, so that one division rounds once, as reading the text would. */
const TENS = Float64Array.from({ length: 16 }, (_, k) => 10 ** k);
const MAX_DIGITS = 15;

function decimal(line: string, from: number, to: number, mark: number): number {
  let at = from;
  const first = line.charCodeAt(at);
  if (first === 45 || first === 43) at++;
  let mantissa = 0;
  let digits = 0;
  let point = -1;
  for (; at < to; at++) {
    const code = line.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      mantissa = mantissa * 10 + (code - 48);
      digits++;
    } else if (code === mark && point < 0) point = digits;
    else return Number.NaN;
  }
  if (digits === 0 || digits > MAX_DIGITS) return Number.NaN;
  const value = point < 0 ? mantissa : mantissa / TENS[digits - point]!;
  return first === 45 ? -value : value;
}
