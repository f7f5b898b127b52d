import type { LogDay, LogReading } from '@stayput/core';
import { dayText, fixed, monthText, percent, weekdayText } from './number.js';
import type { Style } from './style.js';
import type { Column, Tabled } from './table.js';

/** Logs longer than this are told by the month. */
const MAX_DAYS = 45;

/** One day, or the days of one month: energies and charges are means a day. */
export interface Period {
  readonly when: string;
  readonly day: LogDay;
}

/** What the log shows, a row a day, or a row a month for long logs. Only columns that the log can tell. */
export function logDaysTabled({ daily }: LogReading, style: Style): Tabled<Period> {
  const byMonth = daily.length > MAX_DAYS;
  const rows = byMonth
    ? months(daily)
    : daily.map((day) => ({ when: `${weekdayText(day.date)} ${dayText(day.date)}`, day }));
  const column = (
    head: string,
    pick: (day: LogDay) => number | undefined,
    show: (value: number) => string,
    drop = 0,
  ): Column<Period>[] =>
    rows.some(({ day }) => pick(day) !== undefined)
      ? [
          {
            head,
            cell: ({ day }) => {
              const value = pick(day);
              return value === undefined ? '-' : show(value);
            },
            align: 'right',
            drop,
          },
        ]
      : [];
  const whole = (value: number) => fixed(value, 0);
  const one = (value: number) => fixed(value, 1);
  const two = (value: number) => fixed(value, 2);
  const hasSoc = daily.some(({ lowestSoc }) => lowestSoc !== undefined);
  return [
    rows,
    [
      { head: byMonth ? 'Month (a day)' : 'Day', cell: ({ when }) => when },
      ...column('sun Wh', (day) => day.harvestWh, whole),
      ...column('alternator Wh', (day) => day.alternatorWh, whole, 5),
      ...column('loads Wh', (day) => day.loadWh, whole, 4),
      ...column('in Ah', (day) => day.chargedAh, one),
      ...column('out Ah', (day) => day.dischargedAh, one),
      ...column('lowest', (day) => day.lowestSoc, percent),
      ...column('highest', (day) => day.highestSoc, percent, 3),
      ...column('low V', (day) => day.lowestV, two, hasSoc ? 6 : 0),
      ...column('high V', (day) => day.highestV, two, hasSoc ? 7 : 1),
      ...column('night W', (day) => day.baseLoadW, one, 2),
      ...column('always A', (day) => day.alwaysOnA, two, 1),
      { head: 'full', cell: ({ day }) => (day.full ? 'full' : ''), drop: 8 },
      {
        head: 'gap h',
        cell: ({ day }) => (day.gapH >= 0.05 ? one(day.gapH) : ''),
        align: 'right',
        drop: 9,
        mark: (_, text) => style.yellow(text),
      },
    ],
  ];
}

function months(daily: readonly LogDay[]): Period[] {
  const groups = new Map<string, LogDay[]>();
  for (const day of daily) {
    const month = day.date.slice(0, 7);
    const group = groups.get(month);
    if (group) group.push(day);
    else groups.set(month, [day]);
  }
  return [...groups].map(([month, days]) => ({
    when: `${monthText(month)} ${month.slice(0, 4)}`,
    day: summed(month, days),
  }));
}

const LOWEST = ['lowestSoc', 'lowestV'] as const;
const HIGHEST = ['highestSoc', 'highestV'] as const;
const MEAN = ['chargedAh', 'dischargedAh', 'harvestWh', 'loadWh', 'alternatorWh', 'baseLoadW', 'alwaysOnA'] as const;

function summed(date: string, days: readonly LogDay[]): LogDay {
  const values = (key: keyof LogDay) => days.map((day) => day[key]).filter((value) => typeof value === 'number');
  const over = (keys: readonly (keyof LogDay)[], fold: (values: number[]) => number) =>
    Object.fromEntries(keys.flatMap((key) => (values(key).length > 0 ? [[key, fold(values(key))]] : [])));
  const sum = (list: number[]) => list.reduce((a, b) => a + b, 0);
  return {
    date,
    rows: sum(values('rows')),
    coveredH: sum(values('coveredH')),
    gapH: sum(values('gapH')),
    ...over(MEAN, (list) => sum(list) / list.length),
    ...over(LOWEST, (list) => Math.min(...list)),
    ...over(HIGHEST, (list) => Math.max(...list)),
    full: days.every(({ full }) => full),
  };
}
