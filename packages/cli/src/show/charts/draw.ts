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
import { type Chart, type ChartSize, KEY_MARKS } from './chart.js';
import { finished } from './finish.js';
import { fitted } from './fitted.js';
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
const MAX_TITLE = 74;
const MAX_SUBTITLE = 112;
/** About what the labels of an upright axis take. */
const AXIS_ROOM = 50;

/** A picture as a file of its own: with title and foot, light or dark with the page that shows it. */
export const drawSvg = (chart: Chart): string => `${drawn(chart, 'wide', true)}\n`;

/** A picture as part of a page, which says its title. */
export const drawInPage = (chart: Chart, size: ChartSize): string => drawn(chart, size, false);

function drawn(chart: Chart, size: ChartSize, isAlone: boolean): string {
  const width = WIDTH[size];
  const side = isAlone ? SIDE : 2;
  const legendRows = rowsOf(chart, width - 2 * side);
  const top = (isAlone ? HEAD : 4) + legendRows * ROW;
  const height = top + chart.height + (isAlone ? FOOT : 4);
  const instance = init(null, null, { renderer: 'svg', ssr: true, width, height });
  try {
    instance.setOption({
      animation: false,
      backgroundColor: isAlone ? INK.ground : 'transparent',
      textStyle: { fontFamily: 'system-ui, sans-serif', color: INK.ink },
      grid: {
        left: side,
        right: side + 8,
        top: top + (legendRows > 0 ? 8 : 14),
        bottom: isAlone ? FOOT + 6 : 6,
        outerBoundsMode: 'same',
        outerBoundsContain: 'all',
      },
      legend: {
        show: legendRows > 0,
        silent: true,
        selectedMode: false,
        left: side,
        top: (isAlone ? HEAD : 4) - 2,
        width: width - 2 * side,
        padding: 0,
        itemGap: KEY_GAP,
        itemWidth: 14,
        itemHeight: 14,
        textStyle: { color: INK.ink, fontSize: KEY_PX },
        data: chart.keys.map(({ words, mark, colour }) => ({
          name: words,
          icon: KEY_MARKS[mark],
          itemStyle: { color: colour, borderWidth: 0, opacity: 1 },
        })),
      },
      ...(isAlone && { title: titles(chart, height) }),
      ...chart.option(size, width - 2 * side - AXIS_ROOM),
    });
    return finished(instance.renderToSVGString({ useViewBox: true }), chart, isAlone ? '' : size);
  } finally {
    instance.dispose();
  }
}

function titles({ title, subtitle, foot }: Chart, height: number): object[] {
  const left = SIDE;
  return [
    {
      text: fitted(title, MAX_TITLE),
      subtext: fitted(subtitle, MAX_SUBTITLE),
      left,
      top: 14,
      padding: 0,
      itemGap: 8,
      textStyle: { color: INK.ink, fontSize: 18, fontWeight: 600 },
      subtextStyle: { color: INK.soft, fontSize: 13 },
    },
    {
      text: fitted(foot, MAX_SUBTITLE),
      left,
      top: height - 21,
      padding: 0,
      textStyle: { color: INK.soft, fontSize: 12, fontWeight: 400 },
    },
  ];
}

/** Rows that the legend's keys will need, by the usual width of letters. */
function rowsOf({ keys }: Chart, width: number): number {
  let rows = 0;
  let left = 0;
  for (const { words } of keys) {
    const need = 14 + 6 + textWidthPx(words, KEY_PX) + KEY_GAP;
    if (rows === 0 || left < need) {
      rows++;
      left = width;
    }
    left -= need;
  }
  return rows;
}
