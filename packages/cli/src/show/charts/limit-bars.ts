import type { EChartsOption } from 'echarts';
import { oneLine } from '../style.js';
import { namesAxis, numbersAxis } from './axes.js';
import type { Chart, ChartSize } from './chart.js';
import { fitted } from './fitted.js';
import { INK } from './palette.js';

/** One row: a bar from zero, its words above it, and the mark of the most it may be. */
export interface LimitBar {
  readonly name: string;
  readonly words: (size: ChartSize) => string;
  readonly value: number;
  /** absent = nothing limits it */
  readonly limit?: number;
  readonly isOver: boolean;
}

/** A row holds words, and its bar below them, so that the limit's mark crosses no words [px]. */
const ROW_PX = 42;
const BAR_PX = 13;
const BAR_DOWN_PX = 0.65 * BAR_PX;
const MAX_NAME = { wide: 40, narrow: 16 } as const;
/** The axis ends so much beyond the longest bar or limit. */
const BEYOND = 1.04;

/**
 * Bars from zero, each beside its limit.
 * @param keys what the legend calls a bar within its limit, one beyond it, and the limit
 */
export function limitBarsPicture(
  about: Pick<Chart, 'id' | 'title' | 'subtitle' | 'description' | 'foot'> & {
    readonly bars: readonly LimitBar[];
    readonly keys: { readonly within: string; readonly over: string; readonly limit: string };
    readonly axisWords: (value: number) => string;
  },
): Chart {
  const { bars, keys, axisWords, ...rest } = about;
  const most = Math.max(1e-9, ...bars.flatMap(({ value, limit = 0 }) => [value, limit]));
  const axisEnd = BEYOND * most;
  return {
    ...rest,
    keys: [
      { words: keys.within, mark: 'bar', colour: INK.battery },
      ...(bars.some(({ isOver }) => isOver) ? [{ words: keys.over, mark: 'bar', colour: INK.trouble } as const] : []),
      ...(bars.some(({ limit }) => limit !== undefined)
        ? [{ words: keys.limit, mark: 'line', colour: INK.ink } as const]
        : []),
    ],
    height: ROW_PX * bars.length + 24,
    option: (size): EChartsOption => ({
      yAxis: namesAxis(
        bars.map((_, k) => String(k)),
        { inverse: true, axisLabel: { show: false } },
      ),
      xAxis: numbersAxis(axisWords, { min: 0, max: axisEnd, splitNumber: 4, axisLabel: { showMaxLabel: false } }),
      series: [
        {
          type: 'bar',
          barWidth: BAR_PX,
          barGap: '30%',
          silent: true,
          data: bars.map(({ name, words }) => ({
            value: 0,
            label: {
              show: true,
              position: 'right',
              distance: 0,
              formatter: `${fitted(oneLine(name), MAX_NAME[size])}: ${words(size)}`,
              backgroundColor: INK.ground,
              padding: [0, 4, 0, 0],
              color: INK.ink,
              fontSize: 12,
            },
          })),
        },
        // Both names stand in the legend; the colour of a bar is that of its own verdict.
        {
          name: keys.within,
          type: 'bar',
          barWidth: BAR_PX,
          data: bars.map(({ value, isOver }) => ({
            value: Number(value.toPrecision(4)),
            itemStyle: { color: isOver ? INK.trouble : INK.battery },
          })),
        },
        { name: keys.over, type: 'line', data: [] },
        {
          name: keys.limit,
          type: 'scatter',
          symbol: 'rect',
          symbolSize: [3, BAR_PX + 6],
          symbolOffset: [0, BAR_DOWN_PX],
          silent: true,
          itemStyle: { color: INK.ink, opacity: 1 },
          data: bars.flatMap(({ limit }, k) => (limit === undefined ? [] : [[limit, k]])),
        },
      ] as never,
    }),
    markWords: (series, item) => {
      const bar = series === 1 ? bars[item] : undefined;
      return bar && `${oneLine(bar.name)}: ${bar.words('wide')}`;
    },
  };
}
