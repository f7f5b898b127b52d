import type { Sweep } from '@stayput/core';
import type { Vary } from '@stayput/core/model';
import type { CustomSeriesRenderItemAPI, CustomSeriesRenderItemParams, EChartsOption } from 'echarts';
import { counted, significant } from '../number.js';
import { oneLine } from '../style.js';
import { namesAxis, numbersAxis, placeWords } from './axes.js';
import type { Chart } from './chart.js';
import { fitted } from './fitted.js';
import { INK } from './palette.js';

/** From low to high: own ramp, rising in lightness, told apart with any sight of colour; the same on a dark page. */
const RAMP = ['#262042', '#3c487a', '#34768a', '#56a080', '#b0c268', '#f4de8e'];
const INK_ON_LOW = '#f6f4ec';
const INK_ON_HIGH = '#1a2020';
/** A cell this large has its number written in it [px]. */
const READABLE = { width: 44, height: 18 };
const MANY_POINTS = 80;

/**
 * One answer over one varied quantity as a line, or over two as a map of colours.
 * @param answer  its place in the sweep's columns
 * @param answers one a variant; NaN where there is none
 */
export function sweepPicture(rigName: string, sweep: Sweep, answer: number, answers: Float64Array): Chart {
  const { key } = sweep.columns[answer]!;
  const [first, second] = sweep.plan.varied;
  const known = answers.filter((value) => !Number.isNaN(value));
  const low = known.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const high = known.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const span = known.length > 0 ? `${significant(low)} to ${significant(high)}` : 'no value';
  const subtitle = `${span} over ${counted(answers.length, 'variant')}${sweep.years > 1 ? `, ${sweep.years} weather years each` : ''}`;
  return {
    id: 'sweep',
    title: `${oneLine(rigName)}: ${wordsOf(key)} by ${axisText(first!)}${second ? ` and ${axisText(second)}` : ''}`,
    subtitle,
    description: `${wordsOf(key)}: ${subtitle}`,
    foot: 'An estimate by stayput.',
    keys: [],
    height: 290,
    ...(second ? map(first!, second, answers, low, high) : line(first!, answers)),
  };
}

function line(vary: Vary, answers: Float64Array): Pick<Chart, 'option' | 'markWords'> {
  const cells = Array.from({ length: vary.count }, (_, i) => vary.cellAt(i));
  const isNumbers = cells.every((cell) => typeof cell === 'number');
  const order = cells.map((_, i) => i);
  if (isNumbers) order.sort((a, b) => (cells[a] as number) - (cells[b] as number));
  const shown = order.filter((i) => !Number.isNaN(answers[i]!));
  const axis = { name: axisText(vary), nameLocation: 'middle', nameGap: 30 };
  return {
    option: (): EChartsOption => ({
      xAxis: isNumbers
        ? numbersAxis(placeWords, { ...axis, scale: true, splitLine: { show: false } })
        : namesAxis(cells.map(cellText), axis),
      yAxis: numbersAxis(placeWords),
      series: [
        {
          type: isNumbers ? 'line' : 'scatter',
          symbol: 'circle',
          symbolSize: shown.length > MANY_POINTS ? 3 : 7,
          showAllSymbol: true,
          itemStyle: { color: INK.battery },
          lineStyle: { color: INK.battery, width: 2 },
          data: shown.map((i) => [isNumbers ? (cells[i] as number) : i, answers[i]!]),
        },
      ],
    }),
    markWords: (_, item) => {
      const i = shown[item];
      return i === undefined ? undefined : `${cellText(cells[i]!)}: ${significant(answers[i]!)}`;
    },
  };
}

/** The first quantity upwards, the second across. */
function map(
  up: Vary,
  across: Vary,
  answers: Float64Array,
  low: number,
  high: number,
): Pick<Chart, 'option' | 'markWords'> {
  const names = (vary: Vary) => Array.from({ length: vary.count }, (_, i) => cellText(vary.cellAt(i)));
  const words = (value: number) => (Number.isNaN(value) ? 'no answer' : significant(value));
  return {
    option: (): EChartsOption => ({
      xAxis: namesAxis(names(across), { name: axisText(across), nameLocation: 'middle', nameGap: 30 }),
      yAxis: namesAxis(names(up), { name: axisText(up), nameLocation: 'end', nameGap: 8 }),
      grid: { left: 20, right: 92, top: 98, bottom: 34, outerBoundsMode: 'same', outerBoundsContain: 'all' },
      visualMap: {
        show: low < high,
        type: 'continuous',
        min: low,
        max: high > low ? high : low + 1,
        dimension: 2,
        calculable: false,
        right: 8,
        top: 'middle',
        itemHeight: 180,
        itemWidth: 12,
        text: [significant(high), significant(low)],
        textStyle: { color: INK.soft, fontSize: 12 },
        inRange: { color: RAMP },
      },
      series: [
        {
          type: 'custom',
          data: Array.from(answers, (value, i) => [i % across.count, Math.floor(i / across.count), value]),
          renderItem: (_: CustomSeriesRenderItemParams, api: CustomSeriesRenderItemAPI) => {
            const [x, y] = api.coord([api.value(0), api.value(1)]) as [number, number];
            const [width, height] = api.size!([1, 1]) as [number, number];
            const value = api.value(2) as number;
            const isKnown = !Number.isNaN(value);
            const isWritten = isKnown && width >= READABLE.width && height >= READABLE.height;
            return {
              type: 'rect',
              shape: { x: x - width / 2, y: y - height / 2, width: width + 0.3, height: height + 0.3 },
              style: { fill: isKnown ? (api.visual('color') as string) : 'none' },
              ...(isWritten && {
                textContent: {
                  type: 'text' as const,
                  style: {
                    text: significant(value),
                    fontSize: 12,
                    fill: high > low && (value - low) / (high - low) <= 0.5 ? INK_ON_LOW : INK_ON_HIGH,
                  },
                },
                textConfig: { position: 'inside' as const },
              }),
            };
          },
        },
      ],
    }),
    markWords: (_, item) =>
      answers[item] === undefined
        ? undefined
        : `${cellText(up.cellAt(Math.floor(item / across.count)))}, ${cellText(across.cellAt(item % across.count))}: ${words(answers[item])}`,
  };
}

/** "lowestSocP10" as "lowest SoC P10" */
function wordsOf(key: string): string {
  return key
    .replace(/P(\d+)$/, ' P$1')
    .replace(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`)
    .replace(/\bpv\b/, 'PV')
    .replace(/\bsoc\b/, 'SoC')
    .replace(/\bwh\b/, '[Wh]');
}

const axisText = ({ path, unit }: Vary) => oneLine(unit ? `${path} [${unit}]` : path);
const cellText = (cell: number | string) =>
  fitted(oneLine(typeof cell === 'number' ? String(Number(cell.toPrecision(5))) : cell), 14);
