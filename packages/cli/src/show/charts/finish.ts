import { escaped } from '../escape.js';
import type { Chart } from './chart.js';
import { DARK_PICTURES } from './palette.js';

/**
 * The library's SVG, made fit to stand in a page with others and to be read aloud: ids of its own, a title and a description,
 * words at its marks; without the rules for pointing that only its own script would need.
 * @param part tells apart the drawings of one chart in a page; empty for a file of its own, which also gets its colours
 */
export function finished(svg: string, chart: Chart, part: string): string {
  const id = part ? `${chart.id}-${part}` : chart.id;
  const body = svg
    .replace(/^<svg [^>]*viewBox="([^"]*)"[^>]*>/, (_, box: string) => head(chart, id, box, part === ''))
    .replace(/<style ><!\[CDATA\[[\s\S]*?\]\]>\s*<\/style>\s*/, '')
    .replace(/ class="zr\d+-cls-\d+"/g, '')
    .replace(/(\bid="|url\(#)zr\d+-/g, `$1${id}-`);
  return body.replace(MARK, (_, before: string, series: string, item: string, kind: string, after: string) => {
    const words = kind === 'chart' && chart.markWords?.(Number(series), Number(item));
    return `<path${before}${after}>${words ? `<title>${escaped(words)}</title>` : ''}</path>`;
  });
}

/** What the library writes at a mark for its script. */
const MARK =
  /<path([^>]*) ecmeta_series_index="(\d+)" ecmeta_data_index="(\d+)" ecmeta_ssr_type="(chart|legend)"(?: ecmeta_silent="true")?([^>]*)><\/path>/g;

function head({ title, description }: Chart, id: string, box: string, isAlone: boolean): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${box}" role="img" aria-labelledby="${id}-title ${id}-desc">
<title id="${id}-title">${escaped(title)}</title>
<desc id="${id}-desc">${escaped(description)}</desc>${isAlone ? `\n<style>${DARK_PICTURES}</style>` : ''}`;
}
