import { textWidth } from './table.js';

/** Wider screens take lines as they are laid out. */
const NARROW = 40;
// biome-ignore lint/suspicious/noControlCharactersInRegex: the marks of ECMA-48 take no room
const MARKS = /(\u001b\[[0-9;]*m)/;

/** On a very narrow screen, lines that are longer still are broken: at a space where there is one, else within the word. */
export function narrowed(lines: readonly string[], width: number): string[] {
  return width >= NARROW ? [...lines] : lines.flatMap((line) => folded(line, width));
}

function folded(line: string, width: number): string[] {
  const pieces = line.split(MARKS).flatMap((piece) => (MARKS.test(piece) ? [piece] : piece.split(/(?<=\s)/)));
  const rows: string[] = [];
  let [row, used] = ['', 0];
  const turn = () => {
    rows.push(row.trimEnd());
    [row, used] = ['', 0];
  };
  for (const piece of pieces) {
    if (MARKS.test(piece)) {
      row += piece;
      continue;
    }
    if (used > 0 && used + textWidth(piece.trimEnd()) > width) turn();
    for (const sign of piece) {
      const size = textWidth(sign);
      if (used + size > width && sign !== ' ') turn();
      if (used + size > width) continue;
      row += sign;
      used += size;
    }
  }
  return [...rows, row.trimEnd()];
}
