import { textWidthPx } from './text-width.js';

/** A long text is cut, so that it stays within so many pixels. */
export function fittedPx(text: string, widthPx: number, sizePx: number): string {
  if (textWidthPx(text, sizePx) <= widthPx) return text;
  const signs = [...text];
  while (signs.length > 1 && textWidthPx(`${signs.join('')}…`, sizePx) > widthPx) signs.pop();
  return `${signs.join('').trimEnd()}…`;
}

/** A long text is cut to so many letters. */
export function fitted(text: string, most: number): string {
  const signs = [...text];
  return signs.length <= most ? text : `${signs.slice(0, Math.max(1, most - 1)).join('')}…`;
}
