import { BarChart, CustomChart, LineChart, ScatterChart } from 'echarts/charts';
import {
  GridComponent,
  LegendComponent,
  MarkAreaComponent,
  MarkLineComponent,
  TitleComponent,
  VisualMapContinuousComponent,
} from 'echarts/components';
import { init, setPlatformAPI, use } from 'echarts/core';
import { SVGRenderer } from 'echarts/renderers';
import { BAND_OPACITY, type Chart, type ChartKey, type ChartSize, KEY_MARKS } from './chart.js';
import { finished } from './finish.js';
import { fittedPx } from './fitted.js';
import { INK } from './palette.js';
import { textWidthIn, textWidthPx } from './text-width.js';

use([
  BarChart,
  CustomChart,
  LineChart,
  ScatterChart,
  GridComponent,
  LegendComponent,
  MarkAreaComponent,
  MarkLineComponent,
  TitleComponent,
  VisualMapContinuousComponent,
  SVGRenderer,
]);

setPlatformAPI({ measureText: (text, font) => ({ width: textWidthIn(text, font) }) });

const WIDTH = { wide: 760, narrow: 340 } as const;
/** In a page its own margin does. */
const SIDE = 20;
const HEAD = 66;
const FOOT = 26;
const ROW = 22;
const KEY_GAP = 18;
const KEY_PX = 13;
/** Letters of a picture that stands alone; its title is bold, which is a tenth wider. */
const TITLE_PX = 18;
const SUBTITLE_PX = 13;
const FOOT_PX = 12;
/** About what the labels of an upright axis take. */
const AXIS_ROOM = 50;

/** A picture as a file of its own: with title and foot, light or dark with the page that shows it. */
export const drawSvg = (chart: Chart): string => `${drawn(chart, 'wide', true)}\n`;

/** A picture as part of a page, which says its title. */
export const drawInPage = (chart: Chart, size: ChartSize): string => drawn(chart, size, false);

function drawn(chart: Chart, size: ChartSize, isAlone: boolean): string {
  const width = WIDTH[size];
  const side = isAlone ? SIDE : 2;
  const rows = keyRows(chart, width - 2 * side);
  const top = (isAlone ? HEAD : 4) + rows.length * ROW + (chart.roomAbove ?? 0);
  const plotHeight = (size === 'narrow' && chart.narrowHeight) || chart.height;
  const height = top + plotHeight + (isAlone ? FOOT : 4);
  const frame: Frame = {
    left: side,
    right: side + 8 + (chart.roomRight ?? 0),
    top: top + (rows.length > 0 ? 8 : 14),
    bottom: isAlone ? FOOT + 6 : 6,
  };
  const instance = init(null, null, { renderer: 'svg', ssr: true, width, height });
  try {
    instance.setOption({
      animation: false,
      backgroundColor: isAlone ? INK.ground : 'transparent',
      textStyle: { fontFamily: 'system-ui, sans-serif', color: INK.ink },
      grid: chart.isTwin ? twins(frame, size, width, height) : { ...frame, ...BOUNDS },
      legend: rows.map((keys, row) => ({
        silent: true,
        selectedMode: false,
        left: side,
        top: (isAlone ? HEAD : 4) - 2 + row * ROW,
        width: 2 * width,
        padding: 0,
        itemGap: KEY_GAP,
        itemWidth: 14,
        itemHeight: 14,
        textStyle: { color: INK.ink, fontSize: KEY_PX },
        data: keys.map(({ words, mark, colour }) => ({
          name: words,
          icon: KEY_MARKS[mark],
          itemStyle: { color: colour, borderWidth: 0, opacity: mark === 'band' ? BAND_OPACITY : 1 },
        })),
      })),
      ...(isAlone && { title: titles(chart, height) }),
      ...chart.option(size, width - 2 * side - AXIS_ROOM),
    });
    return finished(instance.renderToSVGString({ useViewBox: true }), chart, isAlone ? '' : size);
  } finally {
    instance.dispose();
  }
}

/** What lies around the plot [px]. */
interface Frame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const BOUNDS = { outerBoundsMode: 'same', outerBoundsContain: 'all' } as const;
/** Between two pictures in one [px]. */
const TWIN_GAP = 24;

/** The frame cut in two: side by side, or on a phone one above the other. */
function twins(frame: Frame, size: ChartSize, width: number, height: number): object[] {
  if (size === 'narrow') {
    const half = (height - frame.top - frame.bottom - TWIN_GAP) / 2;
    return [
      { ...frame, bottom: frame.bottom + half + TWIN_GAP, ...BOUNDS },
      { ...frame, top: frame.top + half + TWIN_GAP, ...BOUNDS },
    ];
  }
  const half = (width - frame.left - frame.right - TWIN_GAP) / 2;
  return [
    { ...frame, right: frame.right + half + TWIN_GAP, ...BOUNDS },
    { ...frame, left: frame.left + half + TWIN_GAP, ...BOUNDS },
  ];
}

function titles({ title, subtitle, foot }: Chart, height: number): object[] {
  const left = SIDE;
  return [
    {
      text: fittedPx(title, WIDTH.wide - 2 * SIDE, 1.1 * TITLE_PX),
      subtext: fittedPx(subtitle, WIDTH.wide - 2 * SIDE, SUBTITLE_PX),
      left,
      top: 14,
      padding: 0,
      itemGap: 8,
      textStyle: { color: INK.ink, fontSize: TITLE_PX, fontWeight: 600 },
      subtextStyle: { color: INK.soft, fontSize: SUBTITLE_PX },
    },
    {
      text: fittedPx(foot, WIDTH.wide - 2 * SIDE, FOOT_PX),
      left,
      top: height - 21,
      padding: 0,
      textStyle: { color: INK.soft, fontSize: FOOT_PX, fontWeight: 400 },
    },
  ];
}

/** The legend's keys in rows that fit, by the usual width of letters. */
function keyRows({ keys }: Chart, width: number): ChartKey[][] {
  const rows: ChartKey[][] = [];
  let left = 0;
  for (const key of keys) {
    const need = 14 + 6 + textWidthPx(key.words, KEY_PX) + KEY_GAP;
    if (rows.length === 0 || left < need - KEY_GAP) {
      rows.push([]);
      left = width;
    }
    rows.at(-1)!.push(key);
    left -= need;
  }
  return rows;
}
