const WIDTH = 760;
const HEIGHT = 430;
const PLOT = { left: 62, right: 20, top: 112, bottom: 52 };
const SLOT = (WIDTH - PLOT.left - PLOT.right) / 12;
const BAR_SHARE = 0.56;
const MOST_TITLE = 70;

/** Where a picture of twelve months draws: from this height down to the floor. */
export const MONTHS_PLOT = { left: PLOT.left, top: PLOT.top, floorY: HEIGHT - PLOT.bottom } as const;
export const HALF_BAR = (SLOT * BAR_SHARE) / 2;

/** Own palette; the second set serves a dark page. Contrast with the ground is above 3:1 for marks and 7:1 for text. */
const STYLE = `
  .ground { fill: #fbfaf6 } .ink { fill: #26302f } .soft { fill: #55605e } .rule { stroke: #d9d8d0 }
  .bar { fill: #c27a16 } .spread { stroke: #26302f } .tilt { stroke: #0f6f73 } .aimed { fill: #8a3f73 }
  text { font: 13px system-ui, sans-serif } .title { font-size: 18px; font-weight: 600 } .small { font-size: 12px }
  @media (prefers-color-scheme: dark) {
    .ground { fill: #171b1c } .ink { fill: #eceae3 } .soft { fill: #b3b8b4 } .rule { stroke: #343b3c }
    .bar { fill: #a8691f } .spread { stroke: #eceae3 } .tilt { stroke: #5cc3c0 } .aimed { fill: #d79bc4 }
  }`;

/** Words of the legend, and the mark at their left. */
export type PictureKey = readonly [string, (at: number) => string];

export interface MonthsPicture {
  /** begins the ids of the title and the description */
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly subtitle: string;
  readonly unit: string;
  readonly keys: readonly PictureKey[];
  readonly marks: readonly string[];
  readonly foot: string;
}

/** Twelve months as plain SVG, text as text, light or dark with the page that shows it. */
export function monthsPicture({ id, title, description, subtitle, unit, keys, marks, foot }: MonthsPicture): string {
  const shown = fitted(title);
  let at = PLOT.left;
  const legend = keys.map(([words, mark]) => {
    const key = `${mark(at)}<text class="ink" x="${at + 22}" y="84">${escaped(words)}</text>`;
    at += 22 + 7.2 * words.length + 20;
    return key;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-labelledby="${id}-title ${id}-desc">
<title id="${id}-title">${escaped(shown)}</title>
<desc id="${id}-desc">${escaped(description)}</desc>
<style>${STYLE}
</style>
<rect class="ground" width="${WIDTH}" height="${HEIGHT}"/>
<text class="ink title" x="${PLOT.left}" y="32">${escaped(shown)}</text>
<text class="soft" x="${PLOT.left}" y="54">${escaped(subtitle)}</text>
${legend.join('\n')}
<text class="soft small" x="${PLOT.left - 8}" y="${PLOT.top - 10}" text-anchor="end">${escaped(unit)}</text>
${marks.join('\n')}
<text class="soft small" x="${PLOT.left}" y="${HEIGHT - 10}">${escaped(foot)}</text>
</svg>
`;
}

/** Middle of a month, from 0. */
export const monthX = (month: number) => PLOT.left + (month + 0.5) * SLOT;

export function monthLabel(month: number, name: string): string {
  return `<text class="ink" x="${rounded(monthX(month))}" y="${MONTHS_PLOT.floorY + 20}" text-anchor="middle">${name}</text>`;
}

export function gridLine(y: number, label: string): string[] {
  return [
    `<line class="rule" x1="${PLOT.left}" x2="${WIDTH - PLOT.right}" y1="${y}" y2="${y}"/>`,
    `<text class="soft" x="${PLOT.left - 8}" y="${y + 4}" text-anchor="end">${label}</text>`,
  ];
}

export function whisker(x: number, low: number, high: number): string {
  const [a, left, right] = [rounded(x), rounded(x - 4), rounded(x + 4)];
  return `<path class="spread" fill="none" stroke-width="1.5" d="M${left} ${low}H${right}M${a} ${low}V${high}M${left} ${high}H${right}"/>`;
}

export function level(x: number, y: number, half: number): string {
  return `<line class="tilt" stroke-width="3" x1="${rounded(x - half)}" x2="${rounded(x + half)}" y1="${y}" y2="${y}"/>`;
}

export function dot(x: number, y: number): string {
  return `<circle class="aimed" cx="${rounded(x)}" cy="${y}" r="4"/>`;
}

/** A long name is cut, so that the title stays on the picture. */
function fitted(title: string): string {
  const signs = [...title];
  return signs.length <= MOST_TITLE ? title : `${signs.slice(0, MOST_TITLE - 1).join('')}…`;
}

export const rounded = (value: number) => Math.round(value * 10) / 10;

export function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (sign) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[sign]!);
}
