import type { StayStudy, Trip } from '@stayput/core';
import type { CustomSeriesRenderItemAPI, CustomSeriesRenderItemParams, EChartsOption } from 'echarts';
import { monthName } from '../number.js';
import { daysCell, daysText } from '../stay-words.js';
import { oneLine } from '../style.js';
import { weatherWords } from '../yield-words.js';
import { namesAxis } from './axes.js';
import type { Chart } from './chart.js';
import { fitted } from './fitted.js';
import { shortMonth } from './month-marks.js';
import { INK } from './palette.js';

const MAX_ROWS = 14;
const GAP_PX = 2;
const ROW_PX = 44;
/** Few enough steps to be told apart, each named: from so many days on a square is so full [days, 0..1]. */
const STEPS = [
  [0, 0],
  [3, 0.14],
  [7, 0.3],
  [14, 0.48],
  [30, 0.7],
] as const;

/** A row a place, a square a month: the longer nine stays in ten last, the fuller its colour, in named steps. */
export function stayGridPicture(rigName: string, weather: Trip['weather'], studies: readonly StayStudy[]): Chart {
  const shown = studies.slice(0, MAX_ROWS);
  const { horizonDays, weatherYears } = studies[0]!;
  const cells = shown.flatMap(({ place, months }, row) =>
    months.map((stay) => ({ row, name: oneLine(place.name), stay, days: stay.parkedDaysP10 })),
  );
  const hidden = studies.length - shown.length;
  const said = shown.map(
    ({ place, months }) =>
      `${oneLine(place.name)}: ${months.map((row) => `${monthName(row.month)} ${daysCell(row.parkedDaysP10, horizonDays)}`).join(', ')}`,
  );
  const fullness = (days: number) => STEPS.findLast(([from]) => days >= from)![1];
  return {
    id: 'stay',
    title: `${oneLine(rigName)}: how many days one can stay, by place and month`,
    subtitle: `${weatherWords(weather, weatherYears)}; days that nine stays in ten last, ${horizonDays}+ is as long as you like`,
    description: `Days that nine stays in ten last with the sun of the season and the engine off. ${said.join('. ')}.`,
    foot: `An estimate by stayput; the colour grows at ${STEPS.slice(1)
      .map(([from]) => from)
      .join(', ')} days${hidden > 0 ? `; ${hidden} more places are not drawn` : ''}.`,
    keys: [],
    height: 30 + ROW_PX * shown.length,
    option: (size): EChartsOption => ({
      xAxis: namesAxis(
        Array.from({ length: 12 }, (_, k) => shortMonth(k + 1, size)),
        { axisLine: { show: false }, axisLabel: { interval: 0, hideOverlap: false } },
      ),
      yAxis: namesAxis(
        shown.map(({ place }) => fitted(oneLine(place.name), size === 'wide' ? 22 : 13)),
        { inverse: true, axisLine: { show: false }, axisLabel: { interval: 0, hideOverlap: false } },
      ),
      series: [
        {
          type: 'custom',
          data: cells.map(({ row, stay, days }) => [stay.month - 1, row, days]),
          renderItem: (_: CustomSeriesRenderItemParams, api: CustomSeriesRenderItemAPI) => {
            const [x, y] = api.coord([api.value(0), api.value(1)]) as [number, number];
            const [width, height] = api.size!([1, 1]) as [number, number];
            const days = api.value(2) as number;
            return {
              type: 'rect',
              shape: {
                x: x - width / 2 + GAP_PX / 2,
                y: y - height / 2 + GAP_PX,
                width: width - GAP_PX,
                height: height - 2 * GAP_PX,
              },
              style: { fill: INK.sun, fillOpacity: fullness(days), stroke: INK.rule, lineWidth: 1 },
              textContent: {
                type: 'text',
                style: { text: daysCell(days, horizonDays), fill: INK.ink, fontSize: size === 'wide' ? 12 : 9.5 },
              },
              textConfig: { position: 'inside' },
            };
          },
        },
      ],
    }),
    markWords: (_, item) => {
      const cell = cells[item];
      if (!cell) return undefined;
      const words = cell.stay.indefinite
        ? 'as long as you like'
        : `nine stays in ten last ${daysText(cell.days, horizonDays)}`;
      return `${cell.name}, ${monthName(cell.stay.month)}: ${words}`;
    },
  };
}
