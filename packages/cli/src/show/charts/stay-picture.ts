import type { StayStudy, Trip } from '@stayput/core';
import type { EChartsOption } from 'echarts';
import { monthName } from '../number.js';
import { daysCell, daysText } from '../stay-words.js';
import { oneLine } from '../style.js';
import { weatherWords } from '../yield-words.js';
import { namesAxis, numbersAxis } from './axes.js';
import type { Chart } from './chart.js';
import { levels, shortMonth } from './month-marks.js';
import { INK } from './palette.js';
import { stayGridPicture } from './stay-grid-picture.js';

/** A stay that reaches this share of the horizon has an axis that ends there. */
const NEAR_HORIZON = 0.5;

/** The months of one place as a picture, or months by places when there are several. */
export function stayPicture(rigName: string, weather: Trip['weather'], studies: readonly StayStudy[]): Chart {
  return studies.length > 1 ? stayGridPicture(rigName, weather, studies) : monthsPicture(rigName, weather, studies[0]!);
}

/** Bars from zero on an even scale, so that twice the days are twice the length; the days themselves stand under the months. */
function monthsPicture(rigName: string, weather: Trip['weather'], study: StayStudy): Chart {
  const { months, place, horizonDays, weatherYears, darkDays } = study;
  const upTo = (days: number) => Math.min(days, horizonDays);
  const longest = Math.max(darkDays, ...months.map(({ parkedDaysP10 }) => parkedDaysP10));
  const inWords = months
    .map(
      (row) =>
        `${monthName(row.month)} ${row.indefinite ? 'as long as you like' : daysText(row.parkedDaysP10, horizonDays)}`,
    )
    .join(', ');
  const key = { sure: 'nine stays in ten last this long', dark: 'no charging at all' };
  return {
    id: 'stay',
    title: `${oneLine(rigName)} at ${oneLine(place.name)}: how many days one can stay`,
    subtitle: `${weatherWords(weather, weatherYears)}; the days under each month are those that nine stays in ten last`,
    description: `Days with the sun of the season and the engine off, that nine stays in ten last, by month: ${inWords}. With no charging at all ${daysText(darkDays, horizonDays)}.`,
    foot: `An estimate by stayput${longest >= horizonDays ? `; ${horizonDays}+ is as long as you like` : ''}.`,
    keys: [
      { words: key.sure, mark: 'bar', colour: INK.sun },
      { words: key.dark, mark: 'line', colour: INK.battery },
    ],
    height: 280,
    option: (size): EChartsOption => ({
      xAxis: namesAxis(
        months.map(
          ({ month, parkedDaysP10 }) => `${shortMonth(month, size)}\n{days|${daysCell(parkedDaysP10, horizonDays)}}`,
        ),
        {
          axisLabel: {
            interval: 0,
            hideOverlap: false,
            lineHeight: 16,
            rich: { days: { color: INK.ink, fontWeight: 600, fontSize: size === 'wide' ? 13 : 10.5 } },
          },
        },
      ),
      yAxis: numbersAxis((days) => (days >= horizonDays ? `${horizonDays}+` : String(days)), {
        min: 0,
        ...(longest >= NEAR_HORIZON * horizonDays && { max: horizonDays }),
        name: 'days',
        nameGap: 6,
      }),
      series: [
        {
          name: key.sure,
          type: 'bar',
          barWidth: '58%',
          itemStyle: { color: INK.sun },
          data: months.map(({ parkedDaysP10 }) => upTo(parkedDaysP10)),
        },
        levels(
          key.dark,
          INK.battery,
          months.map((row, k) => [k, upTo(row.darkDays)] as const),
        ),
      ],
    }),
    markWords: (series, item) => {
      const row = months[item];
      if (series !== 0 || !row) return undefined;
      const stays = row.indefinite
        ? 'as long as you like'
        : `nine stays in ten last ${daysText(row.parkedDaysP10, horizonDays)}, half of them ${daysText(row.parkedDaysP50, horizonDays)}`;
      return `${monthName(row.month)}: ${stays}; ${daysText(row.darkDays, horizonDays)} in the dark`;
    },
  };
}
