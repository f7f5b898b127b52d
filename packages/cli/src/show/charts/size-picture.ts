import type { SizeChoice } from '@stayput/core';
import type { EChartsOption } from 'echarts';
import { counted, fixed } from '../number.js';
import type { Sized } from '../size-text.js';
import { money, partsWords, sizeVerdict } from '../size-words.js';
import { oneLine } from '../style.js';
import { weatherWords } from '../yield-words.js';
import { numbersAxis, placesAxis } from './axes.js';
import type { Chart } from './chart.js';
import { fitted } from './fitted.js';
import { INK } from './palette.js';

/** One of the two pictures side by side: what a choice costs, and how that is written. */
interface Cost {
  readonly of: (choice: SizeChoice) => number;
  readonly words: (value: number) => string;
  readonly name: string;
}

const PANEL_PX = 250;
const MAX_CURRENCY = 6;
const MARK_ROW_PX = 16;

/**
 * What power every night takes: nights without, upwards, against mass and against price. What meets the target is a disc, what does
 * not an open square; the marked ones say what they are best in.
 */
export function sizePicture({ rig, study, span, weather }: Sized): Chart {
  const front = study.choices.filter(({ onFront }) => onFront);
  const does = front.filter(({ meets }) => meets);
  const not = front.filter(({ meets }) => !meets);
  const currency = rig.currency ? fitted(oneLine(rig.currency), MAX_CURRENCY) : '';
  const costs: readonly Cost[] = [
    { of: ({ massKg }) => massKg, words: (kg) => fixed(kg, 0), name: 'kg' },
    { of: ({ price }) => price, words: (price) => fixed(price, 0), name: currency || 'price' },
  ];
  const key = { does: 'meets the target', not: 'does not' };
  const within = study.weatherYears === 1 ? 'in one weather year' : `in ${study.weatherYears} weather years`;
  return {
    id: 'size',
    title: `${oneLine(rig.name)}: nights without power, by mass and price of the parts`,
    subtitle: `${study.places.map(oneLine).join(', ')}, ${oneLine(span)}; ${weatherWords(weather, study.weatherYears)}`,
    description: `${sizeVerdict(study, rig.currency ?? '')} ${counted(does.length, 'choice')} of the trade-off ${does.length === 1 ? 'meets' : 'meet'} the target, ${not.length} ${not.length === 1 ? 'does' : 'do'} not.`,
    foot: `Nights ${within}: lower is better. None of these is beaten by one as light, as cheap and as reliable.`,
    keys: [
      { words: key.does, mark: 'dot', colour: INK.battery },
      { words: key.not, mark: 'square', colour: INK.trouble },
    ],
    height: PANEL_PX + 20,
    narrowHeight: 2 * PANEL_PX + 60,
    isTwin: true,
    option: (): EChartsOption => panels(costs, does, not, key),
    markWords: (series, item) => {
      const choice = [does, not][series % 3]?.[item];
      return (
        choice &&
        `${partsWords(choice)}: ${counted(choice.nightsWithout, 'night')} without power, ${fixed(choice.massKg, 1)} kg, ${money(choice.price, currency)}`
      );
    },
  };
}

function panels(
  costs: readonly Cost[],
  does: readonly SizeChoice[],
  not: readonly SizeChoice[],
  key: { readonly does: string; readonly not: string },
): EChartsOption {
  const all = [...does, ...not];
  const marked = all.filter(({ marks }) => marks.length > 0);
  const mostNights = Math.max(1, ...all.map(({ nightsWithout }) => nightsWithout));
  // a strip below zero, a row for the words of each marked choice
  const stripPx = marked.length * MARK_ROW_PX + 8;
  const bottom = marked.length > 0 ? -(mostNights * stripPx) / (PANEL_PX - stripPx - 60) : 0;
  const series = costs.flatMap((cost, panel) => {
    const most = Math.max(1, ...all.map(cost.of));
    const point = (choice: SizeChoice) => ({
      value: [cost.of(choice), choice.nightsWithout],
      symbolSize: choice.marks.length > 0 ? 15 : 9,
    });
    const at = { type: 'scatter', xAxisIndex: panel, yAxisIndex: panel, clip: false };
    return [
      { ...at, name: key.does, z: 4, itemStyle: { color: INK.battery, opacity: 1 }, data: does.map(point) },
      {
        ...at,
        name: key.not,
        symbol: 'rect',
        itemStyle: { color: 'transparent', borderColor: INK.trouble, borderWidth: 1.5, opacity: 1 },
        data: not.map(point),
      },
      {
        ...at,
        symbolSize: 1,
        silent: true,
        itemStyle: { color: 'transparent', opacity: 1 },
        data: marked.map((choice, row) => ({
          value: [cost.of(choice), 0],
          label: {
            show: true,
            formatter: `${choice.marks.join(', ')}: ${cost.words(cost.of(choice))} ${cost.name}`,
            position: 'bottom',
            distance: 10 + row * MARK_ROW_PX,
            align: cost.of(choice) > most / 2 ? 'right' : 'left',
            color: INK.ink,
            fontSize: 12,
          },
        })),
      },
    ];
  });
  return {
    xAxis: costs.map((cost, panel) => ({
      ...numbersAxis(cost.words, {
        min: 0,
        splitNumber: 4,
        splitLine: { show: false },
        name: cost.name,
        nameLocation: 'middle',
        nameGap: 24,
      }),
      gridIndex: panel,
    })),
    yAxis: costs.map((_, panel) => ({
      ...placesAxis(nightPlaces(mostNights), {
        min: bottom,
        max: mostNights,
        name: 'nights without power',
        nameGap: 8,
        nameTextStyle: { align: 'left', color: INK.soft, fontSize: 12 },
      }),
      gridIndex: panel,
    })),
    series,
  } as EChartsOption;
}

const MAX_PLACES = 6;

/** Whole nights at even distances, from zero. */
function nightPlaces(most: number) {
  const decades = Array.from({ length: 6 }, (_, power) => 10 ** power);
  const every = decades.flatMap((one) => [one, 2 * one, 5 * one]).find((step) => most / step <= MAX_PLACES)!;
  return Array.from({ length: Math.floor(most / every) + 1 }, (_, k) => ({
    at: k * every,
    words: fixed(k * every, 0),
  }));
}
