import type { FridgeReport } from '@stayput/core';
import { bar } from './bar.js';
import { fixed, hours, monthText, percent } from './number.js';
import { oneLine, type Style } from './style.js';
import { table } from './table.js';

const BAR_CELLS = 20;

/** A fridge, or its second zone. */
export const roomName = ({ name, isSecondZone }: Pick<FridgeReport, 'name' | 'isSecondZone'>) =>
  isSecondZone ? `${name}, second zone` : name;

/** A run across months: how much each fridge ran, against the heat around it. Nothing for a shorter run. */
export function fridgeTables(
  fridges: readonly FridgeReport[],
  width: number,
  unicode: boolean,
  style: Style,
): string[] {
  return fridges
    .filter(({ months }) => months.length > 1)
    .flatMap((fridge) => {
      const { setpointC, warmAboveC, months } = fridge;
      const years = new Set(months.map(({ month }) => month.slice(0, 4)));
      const hasWarm = months.some(({ warmHours }) => warmHours > 0);
      return [
        '',
        ...table(
          months,
          [
            {
              head: oneLine(roomName(fridge)),
              cell: ({ month }) => `${monthText(month)}${years.size > 1 ? ` ${month.slice(0, 4)}` : ''}`,
            },
            { head: 'air °C', cell: ({ roomMeanC }) => fixed(roomMeanC, 1), align: 'right' },
            { head: 'Wh a day', cell: ({ whPerDay }) => fixed(whPerDay, 0), align: 'right' },
            ...(hasWarm
              ? [
                  {
                    head: `above ${warmAboveC} °C`,
                    cell: ({ warmHours }: { warmHours: number }) => (warmHours > 0 ? hours(warmHours) : '-'),
                    align: 'right' as const,
                  },
                ]
              : []),
            { head: 'on', cell: ({ dutyCycle }) => percent(dutyCycle), align: 'right' },
            {
              head: `of the time, to hold ${setpointC} °C`,
              cell: ({ dutyCycle }) => bar(dutyCycle, 1, BAR_CELLS, unicode),
              drop: 1,
            },
          ],
          width,
          style.bold,
        ),
      ];
    });
}
