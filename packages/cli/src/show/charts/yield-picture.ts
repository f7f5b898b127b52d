import type { Trip, YieldStudy } from '@stayput/core';
import type { EChartsOption } from 'echarts';
import { energy, fixed, monthName } from '../number.js';
import { oneLine } from '../style.js';
import { setupWords, weatherWords } from '../yield-words.js';
import { namesAxis, numbersAxis } from './axes.js';
import type { Chart } from './chart.js';
import { levels, shortMonth, whiskers } from './month-marks.js';
import { INK } from './palette.js';

/** The arrays as fitted, a whisker from P10 to P90 over weather years, a line for the best fixed tilt, a dot for re-aiming. */
export function yieldPicture(rigName: string, weather: Trip['weather'], study: YieldStudy): Chart {
  const { months, setups, place, annualKwh, weatherYears, powerW } = study;
  const tilt = setups.find(({ setup }) => setup === 'best tilt');
  const aimed = setups.find(({ setup }) => setup === 're-aimed');
  const inWords = months.map(({ month, yieldWhDay }) => `${monthName(month)} ${energy(yieldWhDay)}`).join(', ');
  const spread = months.flatMap(({ yieldWhDayP10: low, yieldWhDayP90: high }, k) =>
    low === undefined || high === undefined ? [] : [[k, low, high] as const],
  );
  const fitted = 'as fitted';
  const years = '8 of 10 years';
  return {
    id: 'yield',
    title: `${oneLine(rigName)}, ${fixed(powerW, 0)} W at ${oneLine(place.name)}: what the panels can give`,
    subtitle: `${weatherWords(weather, weatherYears)}; ${energy(annualKwh * 1000)} a year, into a battery that is never full`,
    description: `Wh a day at the controllers' output, by month, as fitted: ${inWords}. In a year ${energy(annualKwh * 1000)}.`,
    foot: 'An estimate by stayput; a battery that is often full takes less.',
    keys: [
      { words: fitted, mark: 'bar', colour: INK.sun },
      ...(weatherYears > 1 ? [{ words: years, mark: 'whisker', colour: INK.ink } as const] : []),
      ...(tilt ? [{ words: setupWords(tilt, place.latDeg), mark: 'line', colour: INK.battery } as const] : []),
      ...(aimed ? [{ words: setupWords(aimed, place.latDeg), mark: 'dot', colour: INK.mains } as const] : []),
    ],
    height: 240,
    option: (size): EChartsOption => ({
      xAxis: namesAxis(
        months.map(({ month }) => shortMonth(month, size)),
        { axisLabel: { interval: 0, hideOverlap: false } },
      ),
      yAxis: numbersAxis((wh) => fixed(wh, wh > 0 && wh < 1 ? 1 : 0), { min: 0, name: 'Wh/day', nameGap: 8 }),
      series: [
        {
          name: fitted,
          type: 'bar',
          barWidth: '58%',
          itemStyle: { color: INK.sun },
          data: months.map(({ yieldWhDay }) => yieldWhDay),
        },
        ...(weatherYears > 1 ? [whiskers(years, spread)] : []),
        ...(tilt
          ? [
              levels(
                setupWords(tilt, place.latDeg),
                INK.battery,
                tilt.yieldWhDay.map((wh, k) => [k, wh] as const),
              ),
            ]
          : []),
        ...(aimed
          ? [
              {
                name: setupWords(aimed, place.latDeg),
                type: 'scatter',
                symbolSize: 8,
                itemStyle: { color: INK.mains, opacity: 1 },
                data: aimed.yieldWhDay.map((wh, k) => [k, wh]),
              } as const,
            ]
          : []),
      ],
    }),
    markWords: (series, item) => {
      const month = months[item];
      if (series !== 0 || !month) return undefined;
      const { yieldWhDayP10: low, yieldWhDayP90: high } = month;
      const between =
        low === undefined || high === undefined ? '' : `, ${energy(low)} to ${energy(high)} in 8 of 10 years`;
      return `${monthName(month.month)}: ${energy(month.yieldWhDay)} a day${between}`;
    },
  };
}
