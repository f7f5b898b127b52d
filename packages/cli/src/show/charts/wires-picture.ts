import type { Circuit } from '@stayput/core';
import type { EChartsOption } from 'echarts';
import { fixed, significant } from '../number.js';
import { oneLine } from '../style.js';
import { verdictText, type Wires, wiresVerdict } from '../wires-text.js';
import { namesAxis, numbersAxis } from './axes.js';
import type { Chart, ChartSize } from './chart.js';
import { fitted } from './fitted.js';
import { INK } from './palette.js';

const ROW_PX = 26;
/** Between the names and the right edge, at least; and of a letter of the words [px]. */
const ROOM_PX = { wide: 560, narrow: 200 } as const;
const LETTER_PX = 6.6;

/** What the cable of each circuit loses, beside its limit. Undefined where no circuit has a cable. */
export function wiresPicture(wires: Wires): Chart | undefined {
  const shown = wires.circuits.filter(({ lengthM }) => lengthM !== null);
  if (shown.length === 0) return undefined;
  const words = (circuit: Circuit, size: ChartSize = 'wide') => {
    const verdict = circuit.ok ? [] : [verdictText(circuit)];
    const left = `, ${fixed(circuit.arrivesV, 1)} V left`;
    // on a phone there is room for one of the two
    return [`${fixed(circuit.dropPercent, 1)} %${size === 'narrow' && !circuit.ok ? '' : left}`, ...verdict].join('; ');
  };
  /** Right of both bar and limit. */
  const wordsFrom = ({ dropPercent, limitPercent }: Circuit) => Math.max(dropPercent, limitPercent);
  const axisEnd = (size: ChartSize) =>
    Math.ceil(
      Math.max(
        ...shown.map((circuit) => {
          const wordsShare = (8 + LETTER_PX * words(circuit, size).length) / ROOM_PX[size];
          return wordsFrom(circuit) / (1 - Math.min(0.8, wordsShare));
        }),
      ),
    );
  const key = { ok: 'does', not: 'must change', limit: 'most it should lose' };
  const bar = (circuit: Circuit) => ({
    value: Number(circuit.dropPercent.toPrecision(4)),
    itemStyle: { color: circuit.ok ? INK.battery : INK.trouble },
  });
  return {
    id: 'wires',
    title: `${oneLine(wires.rig.name)}: what the cables lose`,
    subtitle: 'drop of voltage on the way out and back, in % of what is at the near end',
    description: `${wiresVerdict(wires)} ${shown.map((circuit) => `${oneLine(circuit.name)}: ${words(circuit)}, at most ${significant(circuit.limitPercent, 2)} %`).join('; ')}.`,
    foot: 'An estimate by stayput, not an electrical design; have it checked by a licensed person.',
    keys: [
      { words: key.ok, mark: 'bar', colour: INK.battery },
      { words: key.not, mark: 'bar', colour: INK.trouble },
      { words: key.limit, mark: 'line', colour: INK.ink },
    ],
    height: ROW_PX * shown.length + 24,
    option: (size): EChartsOption => ({
      yAxis: namesAxis(
        shown.map(({ name }) => fitted(oneLine(name), size === 'wide' ? 30 : 14)),
        { inverse: true, axisLabel: { interval: 0, hideOverlap: false } },
      ),
      xAxis: numbersAxis((value) => `${value} %`, {
        min: 0,
        max: axisEnd(size),
        splitNumber: 4,
        axisLabel: { showMaxLabel: false },
        splitLine: { showMaxLine: false, lineStyle: { color: INK.rule } },
      }),
      series: [
        // Both names stand in the legend; the colour of a bar is that of its own verdict.
        { name: key.ok, type: 'bar', barWidth: '58%', data: shown.map(bar) },
        { name: key.not, type: 'bar', data: [] },
        {
          name: key.limit,
          type: 'scatter',
          symbol: 'rect',
          symbolSize: [3, ROW_PX - 4],
          silent: true,
          itemStyle: { color: INK.ink, opacity: 1 },
          data: shown.map(({ limitPercent }, k) => [limitPercent, k]),
        },
        {
          type: 'scatter',
          symbolSize: 1,
          silent: true,
          itemStyle: { color: 'transparent', opacity: 1 },
          data: shown.map((circuit, k) => ({
            value: [wordsFrom(circuit), k],
            label: { show: true, position: 'right', formatter: words(circuit, size), color: INK.ink, fontSize: 12 },
          })),
        },
      ] as never,
    }),
    markWords: (series, item) =>
      series === 0 && shown[item] ? `${oneLine(shown[item].name)}: ${words(shown[item])}` : undefined,
  };
}
