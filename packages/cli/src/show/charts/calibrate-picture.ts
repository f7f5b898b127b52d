import type { Calibration, FitErrors } from '@stayput/core';
import type { EChartsOption } from 'echarts';
import { fixed } from '../number.js';
import { oneLine } from '../style.js';
import { namesAxis, numbersAxis } from './axes.js';
import type { Chart } from './chart.js';
import { INK } from './palette.js';

const ERRORS = [
  ['state of charge', ({ socRmse }: FitErrors) => socRmse],
  ['harvest', ({ harvestBias }: FitErrors) => harvestBias],
  ['loads', ({ loadBias }: FitErrors) => loadBias],
] as const;
const ROW_PX = 46;

/** How far the model is off on the days kept back, with the rig's own values and with the fitted ones; none without such days. */
export function calibratePicture(rigName: string, { checked, before, after }: Calibration): Chart | undefined {
  const rows = ERRORS.flatMap(([name, of]) => {
    const [old, fresh] = [of(before), of(after)];
    return old === undefined || fresh === undefined
      ? []
      : [{ name, old: 100 * Math.abs(old), fresh: 100 * Math.abs(fresh) }];
  });
  if (!checked || rows.length === 0) return undefined;
  const words = (value: number) => `${fixed(value, 1)} %`;
  const bars = (name: string, pick: (row: (typeof rows)[number]) => number, itemStyle: object) => ({
    name,
    type: 'bar' as const,
    barWidth: 15,
    barGap: '20%',
    itemStyle,
    data: rows.map((row) => ({
      value: pick(row),
      label: { show: true, position: 'right' as const, formatter: words(pick(row)), color: INK.ink, fontSize: 12 },
    })),
  });
  const most = Math.max(...rows.flatMap(({ old, fresh }) => [old, fresh]), 1);
  return {
    id: 'fit',
    title: `${oneLine(rigName)}: how far the model is off`,
    subtitle: 'size of the error on days that the fit did not see, before and after it, in %',
    description: rows.map(({ name, old, fresh }) => `${name}: ${words(old)} before, ${words(fresh)} after`).join('; '),
    foot: 'State of charge as root mean square, harvest and loads as means; an estimate by stayput.',
    keys: [
      { words: 'before', mark: 'hollow', colour: INK.trouble },
      { words: 'after', mark: 'bar', colour: INK.battery },
    ],
    height: ROW_PX * rows.length + 24,
    option: (size): EChartsOption => ({
      yAxis: namesAxis(
        rows.map(({ name }) => name),
        { inverse: true, axisLabel: { interval: 0, hideOverlap: false } },
      ),
      xAxis: numbersAxis((value) => `${fixed(value, 0)} %`, {
        min: 0,
        max: Math.ceil(most * (size === 'wide' ? 1.1 : 1.3)),
        splitNumber: 4,
        axisLabel: { showMaxLabel: false },
      }),
      series: [
        bars('before', ({ old }) => old, { color: 'transparent', borderColor: INK.trouble, borderWidth: 1.5 }),
        bars('after', ({ fresh }) => fresh, { color: INK.battery }),
      ],
    }),
    markWords: (series, item) => {
      const row = rows[item];
      return row && `${row.name}, ${series === 0 ? 'before' : 'after'}: ${words(series === 0 ? row.old : row.fresh)}`;
    },
  };
}
