/** Eighths of a cell, filled from the left. */
const EIGHTHS = ['', '▏', '▎', '▍', '▌', '▋', '▊', '▉'] as const;

/** A bar whose full length, `cells`, stands for `most`. Empty for nothing, and never empty for something. */
export function bar(value: number, most: number, cells: number, unicode: boolean): string {
  if (!(value > 0 && most > 0)) return '';
  const length = Math.min(1, value / most) * cells;
  if (!unicode) return '#'.repeat(Math.max(1, Math.round(length)));
  const eighths = Math.max(1, Math.round(length * 8));
  return '█'.repeat(Math.floor(eighths / 8)) + EIGHTHS[eighths % 8];
}
