import type { EChartsOption } from 'echarts';
import { significant } from '../number.js';
import { namesAxis, numbersAxis, placeWords } from './axes.js';
import type { Chart } from './chart.js';
import { INK } from './palette.js';

/** One quantity by the hour of the day, from midnight: 24 values. */
export interface HourBars {
  readonly name: string;
  readonly values: ArrayLike<number>;
}

const LOOKS = [
  { mark: 'bar', colour: INK.battery },
  { mark: 'hollow', colour: INK.trouble },
] as const;

/** Bars by the hour of the day side by side, such as a model's and a log's: the first are filled, the second open. */
export function hoursPicture(
  about: Pick<Chart, 'id' | 'title' | 'subtitle' | 'description' | 'foot'> & {
    readonly unit: string;
    readonly bars: readonly HourBars[];
  },
): Chart {
  const { unit, bars, ...rest } = about;
  const look = (k: number) => LOOKS[k % LOOKS.length]!;
  return {
    ...rest,
    keys: bars.map(({ name }, k) => ({ words: name, ...look(k) })),
    height: 210,
    option: (size): EChartsOption => ({
      xAxis: namesAxis(
        Array.from({ length: 24 }, (_, hour) => `${hour} h`),
        { axisLabel: { interval: size === 'wide' ? 2 : 5 } },
      ),
      yAxis: numbersAxis(placeWords, { name: unit, nameGap: 8 }),
      series: bars.map(({ name, values }, k) => ({
        name,
        type: 'bar',
        barGap: '0%',
        barCategoryGap: '24%',
        itemStyle:
          look(k).mark === 'bar'
            ? { color: look(k).colour }
            : { color: 'transparent', borderColor: look(k).colour, borderWidth: 1.5 },
        data: Array.from(values, (value) => (Number.isFinite(value) && value !== 0 ? value : '-')),
      })),
    }),
    markWords: (series, item) => {
      const value = bars[series]?.values[item];
      return value === undefined ? undefined : `${item} h, ${bars[series]!.name}: ${significant(value)} ${unit}`;
    },
  };
}
