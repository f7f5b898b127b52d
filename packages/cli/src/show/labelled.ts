import type { Style } from './style.js';
import { wrapped } from './table.js';

const LABEL = 8;

/** Lines that begin with what they are about, their text in one column. */
export function labelled(entries: readonly (readonly [string, string])[], width: number, style: Style): string[] {
  return entries.flatMap(([name, said]) => {
    const [first, ...rest] = wrapped(`${name.padEnd(LABEL, '\u00a0')} ${said}`, width, ' '.repeat(LABEL + 1));
    return [style.bold(first!.slice(0, LABEL).replaceAll('\u00a0', ' ')) + first!.slice(LABEL), ...rest];
  });
}
