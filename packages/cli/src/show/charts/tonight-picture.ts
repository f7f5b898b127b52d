import type { Rig, TonightStudy } from '@stayput/core';
import { HOUR_MS } from '@stayput/core/model';
import type { EChartsOption } from 'echarts';
import { endVerdict, spareVerdict, whenText } from '../../words/tonight-words.js';
import { percent } from '../number.js';
import { oneLine } from '../style.js';
import { numbersAxis } from './axes.js';
import type { Chart } from './chart.js';
import { INK } from './palette.js';
import { bandSeries, floorSeries } from './soc-series.js';
import { chartPoints, timeAxis } from './time-axis.js';

const BAND = '8 ways in 10';

/** State of charge over the next two days as a band about its middle, with the floor. */
export function tonightPicture(rig: Rig, study: TonightStudy): Chart {
  const { band, floor, place, now } = study;
  const at = (step: number) => {
    const night = band.midnights.findLast((one) => one.step <= step);
    const [date, from] = night ? [`${night.date}T00:00:00`, night.step] : [now.slice(0, 16), 0];
    return Date.parse(`${date}Z`) + (step - from) * band.stepH * HOUR_MS;
  };
  const last = band.p50.length - 1;
  return {
    id: 'tonight',
    title: `${oneLine(rig.name)}: the next two days`,
    subtitle: `state of charge from ${whenText(now)} at ${oneLine(place.name)}`,
    description: `${spareVerdict(rig, study)} ${endVerdict(study)} State of charge ${percent(band.p50[0]!)} now, ${percent(band.p50[last]!)} two days on (${percent(band.p10[last]!)} to ${percent(band.p90[last]!)}).`,
    foot: 'If nothing changes; an estimate by stayput.',
    keys: [
      { words: 'the middle', mark: 'line', colour: INK.battery },
      { words: BAND, mark: 'band', colour: INK.battery },
      { words: `floor ${percent(floor)}`, mark: 'dashed', colour: INK.soft },
    ],
    height: 250,
    option: (size, plotWidth): EChartsOption => ({
      xAxis: timeAxis(at(0), at(last), plotWidth),
      yAxis: numbersAxis((value) => `${value} %`, { min: 0, max: 100, interval: 25 }),
      series: [
        ...bandSeries(BAND, band, at, chartPoints(size)),
        {
          name: 'the middle',
          type: 'line',
          symbol: 'none',
          data: Array.from(band.p50, (soc, step) => [at(step), Number((100 * soc).toFixed(1))]),
          lineStyle: { color: INK.battery, width: 2 },
        },
        floorSeries(floor),
      ],
    }),
  };
}
