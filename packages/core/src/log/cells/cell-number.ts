/** A cell that says that nothing was measured; of no other length, as the pattern is slow on a long one. */
const LONGEST_MISSING = 40;
const MISSING =
  /^[\s"']*(|-+|\.|na|n\/a|nan|nd|null|none|nil|missing|#n\/a|#?error|\?|[+-]?inf(inity)?|undefined)[\s"']*$/i;
const WITH_UNIT = /^([+-]?[\d.,' \u00a0]*\d-?)\s*(mv|ma|mw|kw|v|a|w|%|°?\s?c|°?\s?f|w\/m[²2])$/i;

/** What a cell was: a number, nothing measured, or text where a number should be. */
export const CELL_NUMBER = 0;
export const CELL_EMPTY = 1;
export const CELL_TEXT = 2;

/** Reads number cells of one file. `kind` tells what the last cell was, `suffix` the unit written in it. */
export interface CellReader {
  kind: number;
  suffix: string;
  read(cell: string): number;
}

/** @param decimalMark as the file uses it; the other mark then sets thousands apart */
export function createCellReader(decimalMark: '.' | ','): CellReader {
  const decode = (text: string): number => {
    const compact = text
      .trim()
      .replace(/[ \u00a0']/g, '')
      .replace(/^\u2212/, '-');
    if (decimalMark === ',') {
      if (/^[+-]?(\d{1,3}(\.\d{3})+|\d+)?(,\d+)?(e[+-]?\d+)?$/i.test(compact) && /\d/.test(compact))
        return Number(compact.replaceAll('.', '').replace(',', '.'));
      // a plain point in a decimal-comma file, where it cannot be a thousands mark
      return /^[+-]?\d*\.\d+(e[+-]?\d+)?$/i.test(compact) ? Number(compact) : Number.NaN;
    }
    if (/^[+-]?\d{1,3}(,\d{3})+(\.\d+)?$/.test(compact)) return Number(compact.replaceAll(',', ''));
    if (/^[+-]?\d*,\d+$/.test(compact)) return Number(compact.replace(',', '.'));
    return compact === '' ? Number.NaN : Number(compact);
  };
  return {
    kind: CELL_NUMBER,
    suffix: '',
    read(cell) {
      this.kind = CELL_NUMBER;
      this.suffix = '';
      if (cell === '') {
        this.kind = CELL_EMPTY;
        return Number.NaN;
      }
      // 0x10 and the like are text, not numbers; "1.234" is a thousand and more where the comma is the decimal mark
      if (decimalMark === '.' || !cell.includes('.')) {
        const plain = Number(cell);
        const second = cell.charCodeAt(1) | 32;
        const isCode = second === 120 || second === 98 || second === 111; // 0x10, 0b1, 0o7
        if (Number.isFinite(plain) && !isCode && cell.trim() !== '') return plain;
      }
      if (cell.length <= LONGEST_MISSING && MISSING.test(cell)) {
        this.kind = CELL_EMPTY;
        return Number.NaN;
      }
      const { text, isBelow } = unsigned(cell);
      const united = WITH_UNIT.exec(text);
      const inner = united === null ? { text, isBelow: false } : unsigned(united[1]!);
      const size = decode(inner.text);
      const value = isBelow || inner.isBelow ? -size : size;
      if (Number.isFinite(value)) {
        this.suffix = united?.[2]?.toLowerCase().replace(/°|\s/g, '') ?? '';
        return value;
      }
      this.kind = CELL_TEXT;
      return Number.NaN;
    },
  };
}

/** Bookkeepers' ways to write a number below nought: in parentheses, or with the minus behind it. */
function unsigned(cell: string): { text: string; isBelow: boolean } {
  const text = cell.trim().replace(/^[\u2212\u2013]/, '-');
  if (text.length > LONGEST_MISSING) return { text, isBelow: false };
  const inside = /^\(([^()]*)\)(.*)$/.exec(text);
  if (inside !== null) return { text: `${inside[1]}${inside[2]}`.trim(), isBelow: true };
  return /^[\d.,'\s]*\d\s*[-\u2212]$/.test(text)
    ? { text: text.slice(0, -1).trim(), isBelow: true }
    : { text, isBelow: false };
}

/** The decimal mark of a sample of number cells: a comma only where it cannot be anything else. */
export function decimalMarkOf(cells: readonly string[]): '.' | ',' {
  let comma = 0;
  let point = 0;
  for (const cell of cells) {
    if (/^\s*[(+\u2212-]?\d*\.\d+\s*\D{0,5}$/.test(cell)) point++;
    else if (/^\s*[(+\u2212-]?\d*,\d+\s*\D{0,5}$/.test(cell) || /^\s*[+-]?\d{1,3}(\.\d{3})+,\d+/.test(cell)) comma++;
  }
  return comma > point ? ',' : '.';
}
