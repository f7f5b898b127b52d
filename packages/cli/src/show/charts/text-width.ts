/** Widths of letters as shares of the font's size, of a wide common font, so that no text is cut in a narrower one. */
const NARROW = /[ ijlI.,:;'|!()[\]]/;
const BROAD = /[mwMW%@—…⌀]/;
const CAPITAL = /[\p{Lu}\p{Nd}]/u;
const DOUBLE = /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\u{1f300}-\u{1faff}]/u;

/** About how wide a line of text is [px]: there is no screen to measure it on. */
export function textWidthPx(text: string, sizePx: number): number {
  let ems = 0;
  for (const sign of text)
    ems += NARROW.test(sign) ? 0.36 : BROAD.test(sign) ? 0.92 : DOUBLE.test(sign) ? 1 : CAPITAL.test(sign) ? 0.66 : 0.6;
  return ems * sizePx;
}

/** The same for a style sheet's font, such as "600 18px sans-serif". */
export function textWidthIn(text: string, font: string | undefined): number {
  const sizePx = Number(/(\d+(?:\.\d+)?)px/.exec(font ?? '')?.[1] ?? 12);
  return textWidthPx(text, sizePx) * (/\b(bold|[6-9]00)\b/.test(font ?? '') ? 1.1 : 1);
}
