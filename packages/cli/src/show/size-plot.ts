import type { SizeChoice } from '@stayput/core';
import { counted, fixed } from './number.js';
import type { Sized } from './size-text.js';
import { partsWords, sizeVerdict } from './size-words.js';
import { oneLine } from './style.js';
import { escaped, rounded } from './svg.js';
import { weatherWords } from './yield-words.js';

const WIDTH = 760;
const HEIGHT = 460;
const PLOT = { left: 70, right: 28, top: 112, bottom: 72 };
const FLOOR_Y = HEIGHT - PLOT.bottom;
const MOST_TITLE = 76;

/** Own palette; the second set serves a dark page. What meets the target is a filled disc, what does not an open square. */
const STYLE = `
  .ground { fill: #fbfaf6 } .ink { fill: #26302f } .soft { fill: #55605e } .rule { stroke: #d9d8d0 }
  .does { fill: #0f6f73 } .not { fill: none; stroke: #a8521f; stroke-width: 1.5 }
  text { font: 13px system-ui, sans-serif } .title { font-size: 18px; font-weight: 600 } .small { font-size: 12px }
  @media (prefers-color-scheme: dark) {
    .ground { fill: #171b1c } .ink { fill: #eceae3 } .soft { fill: #b3b8b4 } .rule { stroke: #343b3c }
    .does { fill: #5cc3c0 } .not { stroke: #dd9460 }
  }`;

/** The trade-off as a picture: each choice of the front by mass and price, its nights without power beside it. */
export function sizePlot({ rig, study, span, weather }: Sized): string {
  const front = study.choices.filter(({ onFront }) => onFront);
  const [massTop, massStep] = scale(Math.max(1, ...front.map(({ massKg }) => massKg)));
  const [priceTop, priceStep] = scale(Math.max(1, ...front.map(({ price }) => price)));
  const x = (massKg: number) => rounded(PLOT.left + (massKg / massTop) * (WIDTH - PLOT.left - PLOT.right));
  const y = (price: number) => rounded(FLOOR_Y - (price / priceTop) * (FLOOR_Y - PLOT.top));
  const grid = [
    ...ticks(priceTop, priceStep).flatMap((price) => [
      `<line class="rule" x1="${PLOT.left}" x2="${WIDTH - PLOT.right}" y1="${y(price)}" y2="${y(price)}"/>`,
      `<text class="soft" x="${PLOT.left - 8}" y="${y(price) + 4}" text-anchor="end">${fixed(price, 0)}</text>`,
    ]),
    ...ticks(massTop, massStep).map(
      (massKg) =>
        `<text class="soft" x="${x(massKg)}" y="${FLOOR_Y + 20}" text-anchor="middle">${fixed(massKg, massStep < 1 ? 1 : 0)}</text>`,
    ),
  ];
  const marks = front.map((choice) => mark(choice, x(choice.massKg), y(choice.price)));
  const named = front
    .filter(({ marks: names }) => names.length > 0)
    .map((choice) => {
      const isRight = x(choice.massKg) > WIDTH / 2;
      return `<text class="ink" x="${x(choice.massKg) + (isRight ? -10 : 10)}" y="${y(choice.price) - 9}" text-anchor="${isRight ? 'end' : 'start'}">${escaped(choice.marks.join(', '))}</text>`;
    });
  const title = fitted(`${oneLine(rig.name)}: mass against price`);
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-labelledby="size-title size-desc">
<title id="size-title">${escaped(title)}</title>
<desc id="size-desc">${escaped(sizeVerdict(study, rig.currency ?? ''))}</desc>
<style>${STYLE}
</style>
<rect class="ground" width="${WIDTH}" height="${HEIGHT}"/>
<text class="ink title" x="${PLOT.left}" y="32">${escaped(title)}</text>
<text class="soft" x="${PLOT.left}" y="54">${escaped(fitted(`${study.places.map(oneLine).join(', ')}, ${oneLine(span)}; ${weatherWords(weather, study.weatherYears)}`))}</text>
<circle class="does" cx="${PLOT.left + 7}" cy="79" r="6"/><text class="ink" x="${PLOT.left + 22}" y="84">meets the target</text>
<rect class="not" x="${PLOT.left + 161}" y="73" width="11" height="11"/><text class="ink" x="${PLOT.left + 182}" y="84">does not</text>
<text class="soft small" x="${PLOT.left - 8}" y="${PLOT.top - 10}" text-anchor="end">${escaped(rig.currency ? oneLine(rig.currency) : 'price')}</text>
${[...grid, ...marks, ...named].join('\n')}
<text class="soft small" x="${WIDTH - PLOT.right}" y="${FLOOR_Y + 40}" text-anchor="end">kg</text>
<text class="soft small" x="${PLOT.left}" y="${HEIGHT - 10}">An estimate by stayput: none of these is beaten by one as light, as cheap and as reliable.</text>
</svg>
`;
}

function mark(choice: SizeChoice, x: number, y: number): string {
  const { massKg, price, nightsWithout, meets } = choice;
  const title = `<title>${escaped(`${partsWords(choice)}: ${fixed(massKg, 1)} kg, ${fixed(price, 0)}, ${counted(nightsWithout, 'night')} without power`)}</title>`;
  return meets
    ? `<circle class="does" cx="${x}" cy="${y}" r="${choice.marks.length > 0 ? 7 : 4.5}">${title}</circle>`
    : `<rect class="not" x="${rounded(x - 4)}" y="${rounded(y - 4)}" width="8" height="8">${title}</rect>`;
}

/** Top of an axis and its step of 1, 2 or 5 times a power of ten. */
function scale(most: number): [top: number, step: number] {
  const ten = 10 ** Math.floor(Math.log10(most / 6));
  const step = ([1, 2, 5].find((times) => times * ten >= most / 6) ?? 10) * ten;
  return [Math.ceil((most * 1.02) / step) * step, step];
}

const ticks = (top: number, step: number) => Array.from({ length: Math.round(top / step) + 1 }, (_, k) => k * step);

/** A long name is cut, so that the title stays on the picture. */
function fitted(title: string): string {
  const signs = [...title];
  return signs.length <= MOST_TITLE ? title : `${signs.slice(0, MOST_TITLE - 1).join('')}…`;
}
