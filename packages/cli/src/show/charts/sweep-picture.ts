import type { Vary } from '@stayput/core/model';
import type { CustomSeriesRenderItemAPI, CustomSeriesRenderItemParams, EChartsOption } from 'echarts';
import { pathWords } from '../../words/path-words.js';
import { counted } from '../number.js';
import { oneLine } from '../style.js';
import { type Answer, answerOf, type SweepDrawn, varyText } from '../sweep-answers.js';
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
 * One answer over one varied quantity as a line, or over two as a map of colours. The scale is that of the answer, from nothing to
 * all there can be, not that of the values at hand: small differences look small.
 */
export function sweepPicture({ rig, sweep, key, answers: all }: SweepDrawn): Chart {
  const about = answerOf(key);
  const answers = all.get(key)!;
  const [first, second] = sweep.plan.varied;
  const known = answers.filter((value) => !Number.isNaN(value));
  const low = known.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const high = known.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const span =
    known.length === 0 ? 'no value' : low === high ? about.words(low) : `${about.words(low)} to ${about.words(high)}`;
  const variants = `${counted(answers.length, 'variant')}${sweep.years > 1 ? `, ${sweep.years} weather years each` : ''}`;
  const names = sweep.plan.varied.map((vary) => varyText(vary, rig));
  const scale = { from: Math.min(0, low), to: about.top ?? Math.max(high, 1e-9) };
  return {
    id: 'sweep',
    title: `${oneLine(rig.name)}: ${about.name} by ${sweep.plan.varied.map(({ path }) => oneLine(pathWords(path, rig))).join(' and ')}`,
    subtitle: known.length > 0 && low === high ? `${span} in all of ${variants}` : `${span} over ${variants}`,
    description: `${about.name}: ${span} over ${variants}.`,
    foot: 'An estimate by stayput.',
    keys: [],
    height: 300,
    ...(second
      ? map({ up: first!, across: second, names, answers, scale, about })
      : line({ vary: first!, name: names[0]!, answers, scale, about })),
  };
}

interface Scale {
  readonly from: number;
  readonly to: number;
}

function line({
  vary,
  name,
  answers,
  scale,
  about,
}: {
  vary: Vary;
  name: string;
  answers: Float64Array;
  scale: Scale;
  about: Answer;
}): Pick<Chart, 'option' | 'markWords'> {
  const cells = Array.from({ length: vary.count }, (_, i) => vary.cellAt(i));
  const isNumbers = cells.every((cell) => typeof cell === 'number');
  const order = cells.map((_, i) => i);
  if (isNumbers) order.sort((a, b) => (cells[a] as number) - (cells[b] as number));
  const shown = order.filter((i) => !Number.isNaN(answers[i]!));
  const axis = { name, nameLocation: 'middle', nameGap: 30 };
  const values = shown.map((i) => cells[i] as number);
  return {
    option: (): EChartsOption => ({
      xAxis: isNumbers
        ? numbersAxis(placeWords, {
            ...axis,
            ...(values.length > 1 && { min: Math.min(...values), max: Math.max(...values) }),
            splitLine: { show: false },
          })
        : namesAxis(cells.map(cellText), axis),
      yAxis: numbersAxis(about.words, { min: scale.from, ...(about.top !== undefined && { max: scale.to }) }),
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
      return i === undefined ? undefined : `${cellText(cells[i]!)}: ${about.words(answers[i]!)}`;
    },
  };
}

/** The first quantity upwards, the second across; each cell with its value where there is room for it. */
function map({
  up,
  across,
  names: [upName, acrossName],
  answers,
  scale,
  about,
}: {
  up: Vary;
  across: Vary;
  names: readonly string[];
  answers: Float64Array;
  scale: Scale;
  about: Answer;
}): Pick<Chart, 'option' | 'markWords' | 'roomRight' | 'roomAbove'> {
  const names = (vary: Vary) => Array.from({ length: vary.count }, (_, i) => cellText(vary.cellAt(i)));
  const words = (value: number) => (Number.isNaN(value) ? 'no answer' : about.words(value));
  return {
    roomRight: 66,
    roomAbove: 6,
    option: (): EChartsOption => ({
      xAxis: namesAxis(names(across), { name: acrossName, nameLocation: 'middle', nameGap: 30 }),
      yAxis: namesAxis(names(up), {
        name: upName,
        nameLocation: 'end',
        nameGap: 8,
        nameTextStyle: { color: INK.soft, align: 'left', fontSize: 12 },
      }),
      visualMap: {
        type: 'continuous',
        min: scale.from,
        max: scale.to,
        dimension: 2,
        calculable: false,
        right: 4,
        top: 'middle',
        itemHeight: 160,
        itemWidth: 12,
        text: [about.words(scale.to), about.words(scale.from)],
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
                    text: about.words(value),
                    fontSize: 12,
                    fill: (value - scale.from) / (scale.to - scale.from) <= 0.5 ? INK_ON_LOW : INK_ON_HIGH,
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

const cellText = (cell: number | string) =>
  fitted(oneLine(typeof cell === 'number' ? String(Number(cell.toPrecision(5))) : cell), 14);
