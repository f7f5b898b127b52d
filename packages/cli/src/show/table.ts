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
  /** applied to the padded cell */
  readonly mark?: (row: Row, text: string) => string;
}

const GAP = 2;

/** A table of plain columns, fitted to the width: columns are dropped, then the first one is cut, never wrapped. */
export function table<Row>(
  rows: readonly Row[],
  columns: readonly Column<Row>[],
  width: number,
  headMark = (text: string) => text,
): string[] {
  let kept = columns.map((column) => {
    const cells = rows.map(column.cell);
    return { column, cells, width: Math.max(textWidth(column.head), ...cells.map(textWidth)) };
  });
  const total = () => kept.reduce((sum, { width: w }) => sum + w + GAP, -GAP);
  while (total() > width) {
    const worst = kept.reduce((a, b) => ((b.column.drop ?? 0) > (a.column.drop ?? 0) ? b : a));
    if ((worst.column.drop ?? 0) === 0) break;
    kept = kept.filter((one) => one !== worst);
  }
  const over = total() - width;
  if (over > 0 && kept[0]) kept[0].width = Math.max(4, kept[0].width - over);

  const line = (texts: readonly string[], mark: (k: number, text: string) => string) =>
    texts
      .map((text, k) => mark(k, padded(text, kept[k]!.width, kept[k]!.column.align ?? 'left')))
      .join(' '.repeat(GAP))
      .trimEnd();
  return [
    headMark(
      line(
        kept.map(({ column }) => column.head),
        (_, text) => text,
      ),
    ),
    ...rows.map((row, i) =>
      line(
        kept.map(({ cells }) => cells[i]!),
        (k, text) => kept[k]!.column.mark?.(row, text) ?? text,
      ),
    ),
  ];
}

export function padded(text: string, width: number, align: 'left' | 'right'): string {
  const fitted = textWidth(text) > width ? `${[...text].slice(0, width - 1).join('')}.` : text;
  const space = ' '.repeat(Math.max(0, width - textWidth(fitted)));
  return align === 'left' ? fitted + space : space + fitted;
}

/** Breaks text into lines at spaces; the lines after the first are indented. */
export function wrapped(text: string, width: number, indent = ''): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && textWidth(line) + 1 + textWidth(word) > width) {
      lines.push(line);
      line = indent + word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line];
}
