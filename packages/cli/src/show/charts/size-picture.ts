import type { SizeChoice } from '@stayput/core';
import type { EChartsOption } from 'echarts';
import { counted, fixed } from '../number.js';
import type { Sized } from '../size-text.js';
import { partsWords, sizeVerdict } from '../size-words.js';
import { oneLine } from '../style.js';
import { weatherWords } from '../yield-words.js';
import { numbersAxis } from './axes.js';
import type { Chart } from './chart.js';
import { INK } from './palette.js';

/** The trade-off: each choice of the front by mass and price; what meets the target is a disc, what does not an open square. */
export function sizePicture({ rig, study, span, weather }: Sized): Chart {
  const front = study.choices.filter(({ onFront }) => onFront);
  const does = front.filter(({ meets }) => meets);
  const not = front.filter(({ meets }) => !meets);
  const heaviest = Math.max(1, ...front.map(({ massKg }) => massKg));
  const currency = rig.currency ? oneLine(rig.currency) : 'price';
  const point = (choice: SizeChoice) => ({
    value: [choice.massKg, choice.price],
    symbolSize: choice.marks.length > 0 ? 14 : 9,
    label: {
      show: choice.marks.length > 0,
      formatter: choice.marks.join(', '),
      position: choice.massKg > heaviest / 2 ? 'left' : 'right',
      color: INK.ink,
      fontSize: 12,
      backgroundColor: INK.ground,
      padding: [1, 3],
    },
  });
  const key = { does: 'meets the target', not: 'does not' };
  return {
    id: 'size',
    title: `${oneLine(rig.name)}: mass against price`,
    subtitle: `${study.places.map(oneLine).join(', ')}, ${oneLine(span)}; ${weatherWords(weather, study.weatherYears)}`,
    description: `${sizeVerdict(study, rig.currency ?? '')} ${counted(does.length, 'choice')} of the trade-off ${does.length === 1 ? 'meets' : 'meet'} the target, ${not.length} ${not.length === 1 ? 'does' : 'do'} not.`,
    foot: 'An estimate by stayput: none of these is beaten by one as light, as cheap and as reliable.',
    keys: [
      { words: key.does, mark: 'dot', colour: INK.battery },
      { words: key.not, mark: 'square', colour: INK.trouble },
    ],
    height: 270,
    option: (): EChartsOption => ({
      xAxis: numbersAxis((kg) => `${fixed(kg, kg % 1 === 0 ? 0 : 1)} kg`, { min: 0, splitLine: { show: false } }),
      yAxis: numbersAxis((price) => fixed(price, 0), { min: 0, name: currency, nameGap: 8 }),
      series: [
        { name: key.does, type: 'scatter', itemStyle: { color: INK.battery, opacity: 1 }, data: does.map(point) },
        {
          name: key.not,
          type: 'scatter',
          symbol: 'rect',
          itemStyle: { color: 'transparent', borderColor: INK.trouble, borderWidth: 1.5, opacity: 1 },
          data: not.map(point),
        },
      ] as never,
    }),
    markWords: (series, item) => {
      const choice = (series === 0 ? does : not)[item];
      return (
        choice &&
        `${partsWords(choice)}: ${fixed(choice.massKg, 1)} kg, ${fixed(choice.price, 0)}, ${counted(choice.nightsWithout, 'night')} without power`
      );
    },
  };
}
