import type { StayStudy, Trip } from '@stayput/core';
import type { EChartsOption } from 'echarts';
import { monthName } from '../number.js';
import { daysCell, daysText } from '../stay-words.js';
import { oneLine } from '../style.js';
import { weatherWords } from '../yield-words.js';
import { namesAxis, placesAxis } from './axes.js';
import type { Chart } from './chart.js';
import { levels, shortMonth, whiskers } from './month-marks.js';
import { INK } from './palette.js';
import { stayGridPicture } from './stay-grid-picture.js';

/** Lines of an axis of days on which each doubling is as long as the next. */
const TICKS = [0.5, 1, 2, 3, 5, 7, 10, 14, 21, 30, 60, 90, 180, 365];

/** The months of one place as a picture, or months by places when there are several. */
export function stayPicture(rigName: string, weather: Trip['weather'], studies: readonly StayStudy[]): Chart {
  return studies.length > 1 ? stayGridPicture(rigName, weather, studies) : monthsPicture(rigName, weather, studies[0]!);
}

function monthsPicture(rigName: string, weather: Trip['weather'], study: StayStudy): Chart {
  const { months, place, horizonDays, weatherYears, darkDays } = study;
  const least = Math.min(darkDays, ...months.map(({ parkedDaysP10 }) => parkedDaysP10));
  const bottom = TICKS.findLast((tick) => tick < least) ?? TICKS[0]! / 2;
  const height = (days: number) => Math.log2(Math.max(days, bottom) / bottom);
  const ticks = [bottom, ...TICKS.filter((tick) => tick > bottom && tick < horizonDays), horizonDays];
  const inWords = months
    .map(
      (row) =>
        `${monthName(row.month)} ${row.indefinite ? 'as long as you like' : daysText(row.parkedDaysP50, horizonDays)}`,
    )
    .join(', ');
  const key = { half: "half of the stays, season's sun", spread: '8 of 10 stays', dark: 'no charging at all' };
  return {
    id: 'stay',
    title: `${oneLine(rigName)} at ${oneLine(place.name)}: how many days one can stay`,
    subtitle: `${weatherWords(weather, weatherYears)}; ${daysText(darkDays, horizonDays)} with no charging at all in ${monthName(study.darkMonth)}`,
    description: `Days with the sun of the season and the engine off, half of the stays, by month: ${inWords}. With no charging at all ${daysText(darkDays, horizonDays)}.`,
    foot: 'An estimate by stayput; the axis is logarithmic, its top is as long as you like.',
    keys: [
      { words: key.half, mark: 'bar', colour: INK.sun },
      { words: key.spread, mark: 'whisker', colour: INK.ink },
      { words: key.dark, mark: 'line', colour: INK.battery },
    ],
    height: 250,
    option: (size): EChartsOption => ({
      xAxis: namesAxis(
        months.map(({ month }) => shortMonth(month, size)),
        { axisLabel: { interval: 0, hideOverlap: false } },
      ),
      yAxis: placesAxis(
        ticks.map((days) => ({ at: height(days), words: days === horizonDays ? `${days}+` : String(days) })),
        { min: 0, max: height(horizonDays) * 1.06, name: 'days', nameGap: 6 },
      ),
      series: [
        {
          name: key.half,
          type: 'bar',
          barWidth: '58%',
          itemStyle: { color: INK.sun },
          data: months.map(({ parkedDaysP50 }) => height(parkedDaysP50)),
        },
        whiskers(
          key.spread,
          months.flatMap(({ parkedDaysP10, parkedDaysP90 }, k) =>
            parkedDaysP10 < horizonDays ? [[k, height(parkedDaysP10), height(parkedDaysP90)] as const] : [],
          ),
        ),
        levels(
          key.dark,
          INK.battery,
          months.map((row, k) => [k, height(row.darkDays)] as const),
        ),
        {
          // the words, above both bar and whisker
          type: 'scatter',
          symbolSize: 1,
          silent: true,
          itemStyle: { color: 'transparent', opacity: 1 },
          data: months.map(({ parkedDaysP50, parkedDaysP90 }, k) => ({
            value: [k, height(Math.max(parkedDaysP50, parkedDaysP90))],
            label: {
              show: true,
              position: 'top',
              formatter: daysCell(parkedDaysP50, horizonDays),
              color: INK.ink,
              fontSize: size === 'wide' ? 12 : 10,
            },
          })),
        },
      ],
    }),
    markWords: (series, item) => {
      const row = months[item];
      if (series !== 0 || !row) return undefined;
      const stays = row.indefinite
        ? 'as long as you like'
        : `half of the stays last ${daysText(row.parkedDaysP50, horizonDays)}, nine in ten ${daysText(row.parkedDaysP10, horizonDays)}`;
      return `${monthName(row.month)}: ${stays}; ${daysText(row.darkDays, horizonDays)} in the dark`;
    },
  };
}
