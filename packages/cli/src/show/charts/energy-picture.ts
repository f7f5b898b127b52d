import type { Run } from '@stayput/core';
import type { EChartsOption } from 'echarts';
import { type Period, periodsOf } from '../days-table.js';
import { daysCounted, energy, fixed } from '../number.js';
import { namesAxis, numbersAxis } from './axes.js';
import type { Chart, ChartKey } from './chart.js';
import { INK } from './palette.js';

interface Flow extends ChartKey {
  readonly wh: (period: Period) => number;
  readonly isOut: boolean;
}

const FLOWS: readonly Flow[] = [
  { words: 'sun taken', mark: 'bar', colour: INK.sun, wh: ({ harvestWh }) => harvestWh, isOut: false },
  { words: 'alternator', mark: 'bar', colour: INK.engine, wh: ({ alternatorWh }) => alternatorWh, isOut: false },
  { words: 'mains', mark: 'bar', colour: INK.mains, wh: ({ mainsWh }) => mainsWh, isOut: false },
  { words: 'sun spilled', mark: 'hollow', colour: INK.sun, wh: ({ spilledWh }) => spilledWh, isOut: false },
  { words: 'loads (below)', mark: 'bar', colour: INK.battery, wh: ({ loadWh }) => loadWh, isOut: true },
  { words: 'unserved', mark: 'hollow', colour: INK.trouble, wh: ({ unservedWh }) => unservedWh, isOut: true },
];

/** Energy in and out, a bar a day or a month: what comes in above the line, what goes out below it. */
export function energyPicture(name: string, run: Run): Chart {
  const { rows, byMonth } = periodsOf(run.daily);
  const flows = FLOWS.filter(({ wh }) => rows.some((row) => wh(row) >= 0.5));
  const { summary } = run;
  const perDay = byMonth ? 'a day, the mean of each month' : 'in each day';
  return {
    id: 'energy',
    title: `${name}: energy by ${byMonth ? 'month' : 'day'}`,
    subtitle: `Wh ${perDay}`,
    description: `Energy in Wh ${perDay}. Over all ${daysCounted(summary.days)}: sun taken ${energy(summary.pvHarvestWh)}, spilled ${energy(summary.pvSpilledWh)}, alternator ${energy(summary.alternatorWh)}, mains ${energy(summary.mainsWh)}; loads ${energy(summary.loadWh)}, unserved ${energy(summary.unservedWh)}.`,
    foot: 'Above the line what comes in, below it what the loads take; an estimate by stayput.',
    keys: flows,
    height: 230,
    option: (): EChartsOption => ({
      xAxis: namesAxis(
        rows.map(({ label }) => label),
        {
          axisLine: { onZero: true, lineStyle: { color: INK.soft } },
          axisLabel: { hideOverlap: true, interval: 'auto' },
          position: 'bottom',
        },
      ),
      yAxis: numbersAxis((value) => fixed(Math.abs(value), 0), { name: 'Wh', nameGap: 8 }),
      series: flows.map(({ words, mark, colour, wh, isOut }) => ({
        name: words,
        type: 'bar',
        stack: isOut ? 'out' : 'in',
        barGap: '-100%',
        barCategoryGap: '28%',
        itemStyle:
          mark === 'hollow'
            ? { color: 'transparent', borderColor: colour, borderWidth: 1.5 }
            : { color: colour, borderColor: INK.ground, borderWidth: 0.5 },
        data: rows.map((row) => (wh(row) >= 0.5 ? Math.round((isOut ? -1 : 1) * wh(row) * 10) / 10 : '-')),
      })),
    }),
    markWords: (series, item) => {
      const [flow, row] = [flows[series], rows[item]];
      return flow && row && `${row.when}: ${flow.words.replace(' (below)', '')} ${energy(flow.wh(row))}`;
    },
  };
}
