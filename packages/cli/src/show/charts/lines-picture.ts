import { HOUR_MS } from '@stayput/core/model';
import type { EChartsOption } from 'echarts';
import { numbersAxis, placeWords } from './axes.js';
import type { Chart } from './chart.js';
import { INK } from './palette.js';
import { chartPoints, thinned, timeAxis } from './time-axis.js';

/** One quantity over time; NaN makes a gap. */
export interface TimeLine {
  readonly name: string;
  /** as `localMs` gives: of the wall clock, in order [ms] */
  readonly localMs: ArrayLike<number>;
  readonly values: ArrayLike<number>;
}

const LOOKS = [
  { colour: INK.battery, type: 'solid', mark: 'line' },
  { colour: INK.trouble, type: 'dashed', mark: 'dashed' },
  { colour: INK.mains, type: 'solid', mark: 'line' },
] as const;

/** Lines over time on one scale, such as a model's state of charge and a log's: the first is whole, the second dashed. */
export function linesPicture(
  about: Pick<Chart, 'id' | 'title' | 'subtitle' | 'description' | 'foot'> & {
    readonly unit: string;
    readonly lines: readonly TimeLine[];
    /** fixed ends of the scale; left out = by what the lines hold */
    readonly from?: number;
    readonly to?: number;
  },
): Chart {
  const { unit, lines, from, to, ...rest } = about;
  const ends = lines.flatMap(({ localMs }) => (localMs.length > 0 ? [localMs[0]!, localMs[localMs.length - 1]!] : []));
  const [first, last] = [Math.min(...ends), Math.max(...ends)];
  const look = (k: number) => LOOKS[k % LOOKS.length]!;
  return {
    ...rest,
    keys: lines.map(({ name }, k) => ({ words: name, mark: look(k).mark, colour: look(k).colour })),
    height: 230,
    option: (size, plotWidth): EChartsOption => ({
      xAxis: timeAxis(first, Math.max(last, first + HOUR_MS), plotWidth),
      yAxis: numbersAxis(placeWords, {
        name: unit,
        nameGap: 8,
        scale: true,
        ...(from !== undefined && { min: from }),
        ...(to !== undefined && { max: to }),
      }),
      series: lines.map(({ name, localMs, values }, k) => ({
        name,
        type: 'line',
        symbol: 'none',
        connectNulls: false,
        lineStyle: { color: look(k).colour, width: 1.8, type: look(k).type },
        data: thinned(values, (i) => localMs[i]!, chartPoints(size)),
      })),
    }),
  };
}
