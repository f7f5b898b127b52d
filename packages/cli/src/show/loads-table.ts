import type { LoadRow } from '@stayput/core';
import { counted, fixed, hours, percent } from './number.js';
import { oneLine, type Style } from './style.js';
import { type Tabled, table } from './table.js';

/** What each load got, and what it went without. Energies in Wh a day. */
export function loadsTable(loads: readonly LoadRow[], days: number, width: number, style: Style): string[] {
  return table(...loadsTabled(loads, days, style), width, style.bold);
}

export function loadsTabled(loads: readonly LoadRow[], days: number, style: Style): Tabled<LoadRow> {
  const rows = [...loads].sort((a, b) => b.servedWh - a.servedWh);
  const hasUnserved = rows.some(({ unservedWh }) => unservedWh >= 0.5);
  const hasNotes = rows.some((row) => note(row) !== '');
  return [
    rows,
    [
      { head: 'Load', cell: ({ name }) => oneLine(name) },
      { head: 'Wh a day', cell: ({ servedWh }) => fixed(servedWh / days, 0), align: 'right' },
      {
        head: 'on',
        cell: ({ dutyCycle }) => (dutyCycle > 0 && dutyCycle < 0.01 ? '< 1 %' : percent(dutyCycle)),
        align: 'right',
        drop: 1,
      },
      ...(hasUnserved
        ? [
            {
              head: 'unserved Wh',
              cell: ({ unservedWh }: LoadRow) => fixed(unservedWh, 0),
              align: 'right' as const,
              mark: ({ unservedWh }: LoadRow, text: string) => (unservedWh >= 0.5 ? style.red(text) : text),
            },
          ]
        : []),
      {
        head: 'lowest V',
        cell: ({ lowestV }) => (lowestV === undefined ? '-' : fixed(lowestV, 2)),
        align: 'right',
        drop: 2,
      },
      ...(hasNotes ? [{ head: 'note', cell: note, drop: 3 }] : []),
    ],
  ];
}

function note(load: LoadRow): string {
  const notes: string[] = [];
  if (load.cutOuts) {
    const byDrop = load.cutOutsByDrop
      ? `, ${load.cutOutsByDrop === load.cutOuts ? 'all' : load.cutOutsByDrop} by cable drop`
      : '';
    notes.push(`cut out ${counted(load.cutOuts, 'time')}${byDrop}`);
  }
  if (load.warmHours && load.warmestC !== undefined)
    notes.push(`food warm ${hours(load.warmHours)}, up to ${fixed(load.warmestC, 1)} °C`);
  return notes.join('; ');
}
