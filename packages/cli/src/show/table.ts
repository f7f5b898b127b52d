/** Columns a character takes: wide East Asian signs take two, marks that combine none. */
export function textWidth(text: string): number {
  let width = 0;
  for (const sign of text) width += /\p{Mark}|\u200d/u.test(sign) ? 0 : WIDE.test(sign) ? 2 : 1;
  return width;
}
const WIDE =
  /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6\u{1f300}-\u{1faff}]/u;

export interface Column<Row> {
  readonly head: string;
  readonly cell: (row: Row) => string;
  readonly align?: 'left' | 'right';
  /** the columns with the highest number go first when the terminal is narrow; 0 stays */
  readonly drop?: number;
  /** last column only: breaks its text over lines in the room that is left */
  readonly wrap?: boolean;
  /** draws bars of text, which a page does not need */
  readonly isBar?: boolean;
  /** applied to the padded cell */
  readonly mark?: (row: Row, text: string) => string;
}

/** What a table shows, wherever it is shown: rows and columns to be spread into `table` or a page's table. */
export type Tabled<Row> = readonly [rows: readonly Row[], columns: readonly Column<Row>[]];

const GAP = 2;

const MIN_WRAP = 16;
/** Below this a table that does not fit is told row by row [letters]; the first column keeps so many at least. */
const NARROW = 40;
const MIN_FIRST = 8;

interface Fitted<Row> {
  readonly column: Column<Row>;
  readonly cells: readonly string[];
  width: number;
}

/** A table of plain columns, fitted to the width: the last is broken or columns are dropped, then the first is cut. */
export function table<Row>(
  rows: readonly Row[],
  columns: readonly Column<Row>[],
  width: number,
  headMark = (text: string) => text,
): string[] {
  const fitted = fit(rows, columns, width);
  if (width < NARROW && !fits(fitted, width)) return stacked(rows, columns, width, headMark);
  const line = (texts: readonly string[], mark: (k: number, text: string) => string) =>
    texts
      .map((text, k) => mark(k, padded(text, fitted[k]!.width, fitted[k]!.column.align ?? 'left')))
      .join(' '.repeat(GAP))
      .trimEnd();
  const head = line(
    fitted.map(({ column }) => column.head),
    (_, text) => text,
  );
  const body = rows.flatMap((row, i) => {
    const texts = fitted.map(({ cells }) => cells[i]!);
    const last = fitted.at(-1)!;
    const broken = last.column.wrap ? wrapped(texts.at(-1)!, last.width) : [texts.at(-1)!];
    return broken.map((part, k) =>
      line([...texts.slice(0, -1).map((text) => (k === 0 ? text : '')), part], (at, text) =>
        k === 0 ? (fitted[at]!.column.mark?.(row, text) ?? text) : text,
      ),
    );
  });
  return [headMark(head), ...body];
}

/** Whether all columns have room, the first enough to be told by. */
function fits<Row>(fitted: readonly Fitted<Row>[], width: number): boolean {
  const all = fitted.reduce((sum, one) => sum + one.width + GAP, -GAP);
  const [first] = fitted;
  return all <= width && (first === undefined || first.width >= Math.min(MIN_FIRST, ...first.cells.map(textWidth)));
}

/** A table for a screen that is too narrow for one: a few lines a row, each with its heading. */
function stacked<Row>(
  rows: readonly Row[],
  [first, ...others]: readonly Column<Row>[],
  width: number,
  headMark: (text: string) => string,
): string[] {
  if (first === undefined) return [];
  return rows.flatMap((row) => [
    ...wrapped(first.cell(row), width).map(headMark),
    ...others
      .filter((column) => !column.isBar && column.cell(row).trim() !== '')
      .flatMap((column) =>
        wrapped(`${column.head} ${column.cell(row).trim()}`.trim(), width, '    ', '  ').map(
          (text) => column.mark?.(row, text) ?? text,
        ),
      ),
  ]);
}

function fit<Row>(rows: readonly Row[], columns: readonly Column<Row>[], width: number): Fitted<Row>[] {
  let kept: Fitted<Row>[] = columns.map((column) => {
    const cells = rows.map(column.cell);
    return { column, cells, width: Math.max(textWidth(column.head), ...cells.map(textWidth)) };
  });
  const over = () => kept.reduce((sum, one) => sum + one.width + GAP, -GAP) - width;
  while (over() > 0) {
    const last = kept.at(-1)!;
    if (last.column.wrap && last.width - over() >= MIN_WRAP) {
      last.width -= over();
      break;
    }
    const first = kept.reduce((a, b) => ((b.column.drop ?? 0) > (a.column.drop ?? 0) ? b : a));
    if ((first.column.drop ?? 0) === 0) break;
    kept = kept.filter((one) => one !== first);
  }
  if (over() > 0 && kept[0]) kept[0].width = Math.max(4, kept[0].width - over());
  return kept;
}

export function padded(text: string, width: number, align: 'left' | 'right'): string {
  const fitted = textWidth(text) > width ? `${[...text].slice(0, width - 1).join('')}.` : text;
  const space = ' '.repeat(Math.max(0, width - textWidth(fitted)));
  return align === 'left' ? fitted + space : space + fitted;
}

/** A space that no line is broken at: between a number and its unit. */
const UNIT_SPACE = /(\d) (?=(?:%|°C|[kM]?Wh?|Ah?|V|kg|km|mm²|m²?|h|min|days?|years?|nights?)(?![\w/]))/g;

/** The same text, but no number is parted from its unit where a line is broken. */
export const unitsKept = (text: string): string => text.replace(UNIT_SPACE, '$1\u00a0');

/** Breaks text into lines at spaces, but not within "52 h"; `indent` begins every line but the first, which `first` begins. */
export function wrapped(text: string, width: number, indent = '', first = ''): string[] {
  const lines: string[] = [];
  let line = first;
  let isEmpty = true;
  for (const part of unitsKept(text).split(' ')) {
    const word = part.replaceAll('\u00a0', ' ');
    if (!isEmpty && textWidth(line) + 1 + textWidth(word) > width) {
      lines.push(line);
      line = indent + word;
    } else line += isEmpty ? word : ` ${word}`;
    isEmpty = false;
  }
  return [...lines, line];
}
