import type { DailyRow } from '@stayput/core';
import { dayText, fixed, monthText, percent, significant, weekdayText } from './number.js';
import { sparkline, stretches } from './sparkline.js';
import { oneLine, type Style } from './style.js';
import { type Column, type Tabled, table } from './table.js';

/** Runs longer than this are told by the month. */
const MAX_DAYS = 40;

/** A period of the run: one day, or the days of one month with its energies as means a day. */
export interface Period {
  readonly when: string;
  /** as short as it can be */
  readonly label: string;
  readonly stop: string;
  readonly harvestWh: number;
  readonly spilledWh: number;
  readonly alternatorWh: number;
  readonly mainsWh: number;
  readonly loadWh: number;
  readonly unservedWh: number;
  readonly lowestSoc: number;
  readonly highestSoc: number;
  readonly ambientC: number;
}

/** A row a day, or a row a month for long runs. Energies in Wh a day. */
export function periodsOf(daily: readonly DailyRow[]): { rows: Period[]; byMonth: boolean } {
  const byMonth = daily.length > MAX_DAYS;
  return { rows: byMonth ? months(daily) : daily.map(dayPeriod), byMonth };
}

/** @param soc the state of charge over each day, where small pictures can be shown */
export function daysTable(
  daily: readonly DailyRow[],
  floor: number,
  width: number,
  style: Style,
  soc?: readonly Float64Array[],
): string[] {
  const [rows, columns] = daysTabled(daily, floor, style);
  const pictured = soc ? [...columns, courseColumn(rows, daily, soc)] : columns;
  return [style.dim(`(${daysUnit(daily)})`), ...table(rows, pictured, width, style.bold)];
}

/** Cells of a small picture: three hours each of a day. */
const COURSE_CELLS = 8;

function courseColumn(
  rows: readonly Period[],
  daily: readonly DailyRow[],
  soc: readonly Float64Array[],
): Column<Period> {
  const keys = daily.map(({ date }) => date.slice(0, rows.length < daily.length ? 7 : 10));
  const courses = [...new Set(keys)].map((key) =>
    stretches(
      soc.filter((_, k) => keys[k] === key).flatMap((day) => [...day]),
      COURSE_CELLS,
    ),
  );
  return { head: 'charge', cell: (row) => sparkline(courses[rows.indexOf(row)]!), drop: 7, isBar: true };
}

export function daysUnit(daily: readonly DailyRow[]): string {
  return periodsOf(daily).byMonth
    ? 'Wh a day, the mean of each month; lowest and highest of the month'
    : 'Wh in the day';
}

export function daysTabled(daily: readonly DailyRow[], floor: number, style: Style): Tabled<Period> {
  const { rows, byMonth } = periodsOf(daily);
  const some = (pick: (row: Period) => number) => rows.some((row) => pick(row) >= 0.5);
  const wh = (value: number) => fixed(value, 0);
  const stops = new Set(daily.map(({ stop }) => stop));
  const columns: Column<Period>[] = [
    { head: byMonth ? 'Month' : 'Day', cell: ({ when }) => when },
    ...(stops.size > 1 && !byMonth
      ? [{ head: 'stop', cell: ({ stop }: Period) => oneLine(stop).slice(0, 18), drop: 6 }]
      : []),
    { head: 'sun', cell: ({ harvestWh }) => wh(harvestWh), align: 'right' },
    { head: 'spilled', cell: ({ spilledWh }) => wh(spilledWh), align: 'right', drop: 3 },
    ...(some((row) => row.alternatorWh) ? [energyColumn('alternator', (row) => row.alternatorWh, 4)] : []),
    ...(some((row) => row.mainsWh) ? [energyColumn('mains', (row) => row.mainsWh, 5)] : []),
    { head: 'loads', cell: ({ loadWh }) => wh(loadWh), align: 'right' },
    ...(some((row) => row.unservedWh)
      ? [
          {
            ...energyColumn('unserved', (row) => row.unservedWh, 0),
            mark: ({ unservedWh }: Period, text: string) => (unservedWh >= 0.5 ? style.red(text) : text),
          },
        ]
      : []),
    {
      head: 'lowest',
      cell: ({ lowestSoc }) => percent(lowestSoc),
      align: 'right',
      mark: ({ lowestSoc }, text) => (lowestSoc < floor ? style.red(text) : text),
    },
    { head: 'highest', cell: ({ highestSoc }) => percent(highestSoc), align: 'right', drop: 1 },
    {
      head: 'air',
      cell: ({ ambientC }) => `${significant(ambientC, Math.abs(ambientC) < 9.95 ? 2 : 3)} °C`,
      align: 'right',
      drop: 2,
    },
  ];
  return [rows, columns];
}

function energyColumn(head: string, pick: (row: Period) => number, drop: number): Column<Period> {
  return { head, cell: (row) => fixed(pick(row), 0), align: 'right', drop };
}

function dayPeriod(day: DailyRow): Period {
  return {
    ...day,
    when: `${weekdayText(day.date)} ${dayText(day.date)}`,
    label: dayText(day.date),
    harvestWh: day.pvHarvestWh,
    spilledWh: day.pvSpilledWh,
    ambientC: day.ambientMeanC,
  };
}

function months(daily: readonly DailyRow[]): Period[] {
  const groups = new Map<string, DailyRow[]>();
  for (const day of daily) {
    const month = day.date.slice(0, 7);
    groups.set(month, [...(groups.get(month) ?? []), day]);
  }
  return [...groups].map(([month, days]) => {
    const mean = (pick: (day: DailyRow) => number) => days.reduce((sum, day) => sum + pick(day), 0) / days.length;
    return {
      when: `${monthText(month)} ${month.slice(0, 4)}`,
      label: monthText(month),
      stop: '',
      harvestWh: mean((day) => day.pvHarvestWh),
      spilledWh: mean((day) => day.pvSpilledWh),
      alternatorWh: mean((day) => day.alternatorWh),
      mainsWh: mean((day) => day.mainsWh),
      loadWh: mean((day) => day.loadWh),
      unservedWh: mean((day) => day.unservedWh),
      lowestSoc: Math.min(...days.map((day) => day.lowestSoc)),
      highestSoc: Math.max(...days.map((day) => day.highestSoc)),
      ambientC: mean((day) => day.ambientMeanC),
    };
  });
}
