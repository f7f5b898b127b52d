import type { FridgeReport } from '@stayput/core';
import type { EChartsOption } from 'echarts';
import { roomName } from '../fridge-table.js';
import { counted, dayText, fixed, percent } from '../number.js';
import { oneLine } from '../style.js';
import { numbersAxis } from './axes.js';
import type { Chart, ChartKey } from './chart.js';
import { fitted } from './fitted.js';
import { INK } from './palette.js';

/** With its temperature it must fit on a phone. */
const MAX_NAME = 22;
/** Less is rounding [h]. */
const NOTHING_H = 0.01;

const MARKS: readonly Pick<ChartKey, 'mark' | 'colour'>[] = [
  { mark: 'dot', colour: INK.battery },
  { mark: 'square', colour: INK.mains },
];

/** How much of the time each fridge ran, a mark a day, against the air around it; undefined where it had power on no whole day. */
export function fridgePicture(name: string, fridges: readonly FridgeReport[]): Chart | undefined {
  const keys = fridges.map((fridge, k) => ({
    words: `${fitted(oneLine(roomName(fridge)), MAX_NAME)}, held at ${fixed(fridge.setpointC, 0)} °C`,
    ...MARKS[k % MARKS.length]!,
  }));
  // a day without power shows what the fridge got, not what it needed
  const shown = fridges.map(({ days }) => days.filter(({ hoursWithout }) => hoursWithout < NOTHING_H));
  const all = shown.flat();
  const leftOut = new Set(
    fridges.flatMap(({ days }) => days.filter((day) => !all.includes(day)).map(({ date }) => date)),
  );
  if (all.length === 0) return undefined;
  const air = all.map(({ roomMeanC }) => roomMeanC);
  const duty = all.map(({ dutyCycle }) => dutyCycle);
  const [coldest, warmest] = [Math.min(...air), Math.max(...air)];
  return {
    id: 'fridge',
    title: `${name}: fridge against temperature`,
    subtitle: 'share of the day that the compressor ran, against the air around the fridge; one mark a day',
    description: `The compressor ran ${percent(Math.min(...duty))} to ${percent(Math.max(...duty))} of the day, in air of ${fixed(coldest, 0)} to ${fixed(warmest, 0)} °C.`,
    foot: `${leftOut.size > 0 ? `${counted(leftOut.size, 'day')} on which a fridge went without power ${leftOut.size === 1 ? 'is' : 'are'} left out; an` : 'An'} estimate by stayput.`,
    keys,
    height: 220,
    option: (): EChartsOption => ({
      xAxis: numbersAxis((value) => `${fixed(value, 0)} °C`, {
        min: Math.floor(coldest - 0.5),
        max: Math.ceil(warmest + 0.5),
        minInterval: 1,
        splitLine: { show: false },
      }),
      yAxis: numbersAxis((value) => `${fixed(value, 0)} %`, {
        min: 0,
        max: Math.min(100, 10 * Math.ceil(10 * Math.max(...duty) + 0.3)),
        minInterval: 1,
      }),
      series: shown.map((days, k) => ({
        name: keys[k]!.words,
        type: 'scatter',
        symbol: keys[k]!.mark === 'dot' ? 'circle' : 'rect',
        symbolSize: days.length > 60 ? 5 : 8,
        itemStyle:
          keys[k]!.mark === 'dot'
            ? { color: keys[k]!.colour, opacity: days.length > 60 ? 0.55 : 0.85 }
            : { color: 'transparent', borderColor: keys[k]!.colour, borderWidth: 1.5 },
        data: days.map(({ roomMeanC, dutyCycle }) => [
          Number(roomMeanC.toFixed(2)),
          Number((100 * dutyCycle).toFixed(2)),
        ]),
      })),
    }),
    markWords: (series, item) => {
      const day = shown[series]?.[item];
      return (
        day && `${dayText(day.date)}: ${percent(day.dutyCycle)} of the day in air of ${fixed(day.roomMeanC, 1)} °C`
      );
    },
  };
}
