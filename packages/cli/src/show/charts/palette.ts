/** Own colours, for a light ground and for a dark one. Marks stand out from it by 3:1 or more, text by 7:1. */
export const PALETTE = {
  ground: ['#fbfaf6', '#171b1c'],
  ink: ['#26302f', '#eceae3'],
  soft: ['#4a5553', '#b3b8b4'],
  rule: ['#d9d8d0', '#343b3c'],
  sun: ['#c27a16', '#d0892b'],
  battery: ['#0f6f73', '#5cc3c0'],
  engine: ['#4a5b94', '#93a5dd'],
  mains: ['#8a3f73', '#d79bc4'],
  trouble: ['#a8521f', '#dd9460'],
} as const;

export type Hue = keyof typeof PALETTE;

/** What pictures are drawn with: the light set, so that programs which know no style sheets show it well. */
export const INK = Object.fromEntries(Object.entries(PALETTE).map(([hue, [light]]) => [hue, light])) as Readonly<
  Record<Hue, string>
>;

/** Turns the light colours of drawings into the dark ones where the reader's screen is dark; paper stays light. */
export const DARK_PICTURES = `@media screen and (prefers-color-scheme: dark) {${Object.values(PALETTE)
  .map(([light, dark]) => `[fill="${light}"]{fill:${dark}}[stroke="${light}"]{stroke:${dark}}`)
  .join('')}}`;

/** The same colours as properties of a page, such as var(--ink). */
export const PAGE_COLOURS = `:root{${properties(0)}}@media screen and (prefers-color-scheme: dark){:root{${properties(1)}}}`;

function properties(set: 0 | 1): string {
  return Object.entries(PALETTE)
    .map(([hue, colours]) => `--${hue}:${colours[set]}`)
    .join(';');
}
