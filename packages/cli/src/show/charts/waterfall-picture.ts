import type { EChartsOption } from 'echarts';
import { namesAxis, numbersAxis } from './axes.js';
import type { Chart } from './chart.js';
import { fitted } from './fitted.js';
import { INK } from './palette.js';

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
const MAX_NAME = { wide: 32, narrow: 17 } as const;

/** From what there was down to what is left, from top to bottom. */
export function waterfallPicture(
  about: Pick<Chart, 'id' | 'title' | 'subtitle' | 'foot'> & { readonly bars: readonly WaterfallBar[] },
): Chart {
  const { bars, ...rest } = about;
  const most = Math.max(...bars.map(({ amount, isTotal }) => (isTotal ? amount : 0)), 1e-9);
  let left = 0;
  const drawn = bars.map((bar) => {
    const from = bar.isTotal ? 0 : Math.min(left, left - bar.amount);
    left = bar.isTotal ? bar.amount : left - bar.amount;
    return { ...bar, from: Math.max(0, from), length: Math.abs(bar.amount) };
  });
  return {
    ...rest,
    description: bars.map(({ name, words }) => `${name}: ${words}`).join('; '),
    keys: [],
    height: ROW_PX * bars.length + 6,
    option: (size): EChartsOption => ({
      yAxis: namesAxis(
        bars.map(({ name }) => fitted(name, MAX_NAME[size])),
        { inverse: true, axisLine: { show: false }, axisLabel: { interval: 0, hideOverlap: false } },
      ),
      xAxis: numbersAxis(String, {
        min: 0,
        max: most * (size === 'wide' ? 1.16 : 1.7),
        show: false,
        splitLine: { show: false },
      }),
      series: [
        {
          type: 'bar',
          stack: 'bars',
          silent: true,
          itemStyle: { color: 'transparent' },
          data: drawn.map(({ from }) => from),
        },
        {
          type: 'bar',
          stack: 'bars',
          barWidth: '68%',
          data: drawn.map(({ from, length, isTotal, words, amount }) => ({
            value: length,
            itemStyle: { color: isTotal ? INK.battery : amount < 0 ? INK.sun : INK.trouble },
            label: {
              show: true,
              // On a phone a step at the right end has its room on the left, where the steps before left it.
              position: size === 'narrow' && !isTotal && from > most / 2 ? 'left' : 'right',
              formatter: words,
              color: INK.ink,
              fontSize: 12,
            },
          })),
        },
      ],
    }),
    markWords: (series, item) => (series === 1 && bars[item] ? `${bars[item].name}: ${bars[item].words}` : undefined),
  };
}
