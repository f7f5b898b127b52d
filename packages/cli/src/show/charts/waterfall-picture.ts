import type { EChartsOption } from 'echarts';
import { namesAxis, numbersAxis } from './axes.js';
import type { Chart } from './chart.js';
import { fitted } from './fitted.js';
import { INK } from './palette.js';
import { textWidthPx } from './text-width.js';

/** One bar: a total that stands on the axis, or a step down (a loss) or up from where the one before it ended. */
export interface WaterfallBar {
  readonly name: string;
  /** of a step: what is taken away; negative is a gain */
  readonly amount: number;
  readonly isTotal: boolean;
  /** beside the bar */
  readonly words: string;
}

const ROW_PX = 22;
/** On a phone the words stand above their bar [px]. */
const NARROW_ROW_PX = 40;
const NARROW_BAR_PX = 12;
const MAX_NAME = 32;
const WORDS_PX = 12;
/** Between a bar and its words, and beside the names [px]. */
const GAP_PX = 12;

/** From what there was down to what is left, from top to bottom, all on one scale from zero. */
export function waterfallPicture(
  about: Pick<Chart, 'id' | 'title' | 'subtitle' | 'foot'> & { readonly bars: readonly WaterfallBar[] },
): Chart {
  const { bars, ...rest } = about;
  let left = 0;
  const drawn = bars.map((bar) => {
    const from = bar.isTotal ? 0 : Math.min(left, left - bar.amount);
    left = bar.isTotal ? bar.amount : left - bar.amount;
    return { ...bar, from: Math.max(0, from), length: Math.abs(bar.amount) };
  });
  const most = Math.max(...drawn.map(({ from, length }) => from + length), 1e-9);
  const names = bars.map(({ name }) => fitted(name, MAX_NAME));
  /** Where the axis ends, so that the words of each bar have room beside it. */
  const axisEnd = (width: number) => {
    const plotPx = width - Math.max(...names.map((name) => textWidthPx(name, WORDS_PX))) - GAP_PX;
    const ends = drawn.map(({ from, length, words }) => {
      const free = Math.max(0.2, 1 - (textWidthPx(words, WORDS_PX) + GAP_PX) / plotPx);
      return (from + length) / free;
    });
    return Math.max(...ends, 1e-9);
  };
  const unseen = { silent: true, itemStyle: { color: 'transparent' } };
  const label = (text: string, more: object) => ({
    show: true,
    position: 'right',
    formatter: text,
    color: INK.ink,
    fontSize: WORDS_PX,
    ...more,
  });
  const steps = (isNarrow: boolean) => ({
    type: 'bar',
    stack: 'bars',
    barWidth: isNarrow ? NARROW_BAR_PX : '68%',
    data: drawn.map(({ length, isTotal, words, amount }) => ({
      value: length,
      itemStyle: { color: isTotal ? INK.battery : amount < 0 ? INK.sun : INK.trouble },
      ...(!isNarrow && { label: label(words, {}) }),
    })),
  });
  const before = { type: 'bar', stack: 'bars', ...unseen, data: drawn.map(({ from }) => from) };
  return {
    ...rest,
    description: bars.map(({ name, words }) => `${name}: ${words}`).join('; '),
    keys: [],
    height: ROW_PX * bars.length + 6,
    narrowHeight: NARROW_ROW_PX * bars.length + 6,
    option: (size, plotWidth): EChartsOption =>
      ({
        yAxis: namesAxis(names, {
          inverse: true,
          axisLine: { show: false },
          axisLabel: { show: size === 'wide', interval: 0, hideOverlap: false },
        }),
        xAxis: numbersAxis(String, {
          min: 0,
          max: size === 'wide' ? axisEnd(plotWidth) : most,
          show: false,
          splitLine: { show: false },
        }),
        series: [
          before,
          steps(size === 'narrow'),
          ...(size === 'narrow'
            ? [
                {
                  type: 'scatter',
                  symbolSize: 1,
                  ...unseen,
                  data: drawn.map(({ words }, k) => ({
                    value: [0, k],
                    label: label(`${names[k]}: ${words}`, { offset: [-4, -NARROW_BAR_PX - 2] }),
                  })),
                },
              ]
            : []),
        ],
      }) as EChartsOption,
    markWords: (series, item) => (series === 1 && bars[item] ? `${bars[item].name}: ${bars[item].words}` : undefined),
  };
}
