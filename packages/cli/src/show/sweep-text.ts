import type { Sweep, SweepRow } from '@stayput/core';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import { isDanger } from './findings.js';
import { counted, energy, fixed, percent, significant } from './number.js';
import { oneLine } from './style.js';
import { type Column, table, wrapped } from './table.js';

export interface SweepShown {
  readonly sweep: Sweep;
  readonly rows: readonly SweepRow[];
  readonly findings: readonly ShownFinding[];
  readonly rigName: string;
  readonly quiet: boolean;
}

/** What people look at first; a file holds all of the answers. */
const ONE_YEAR = [
  ['lowestSoc', 'lowest', percent],
  ['hoursBelowFloor', 'below floor', hoursText],
  ['unservedHours', 'unserved', hoursText],
  ['unservedWh', 'lacking', energy],
  ['pvHarvestWh', 'sun taken', energy],
  ['equivalentCycles', 'cycles', (cycles: number) => significant(cycles)],
] as const;
const YEARS = [
  ['yearsServed', 'years served', percent],
  ['lowestSocP10', 'lowest P10', percent],
  ['lowestSocP50', 'P50', percent],
  ['unservedHoursP50', 'unserved P50', hoursText],
  ['unservedHoursP90', 'P90', hoursText],
  ['pvHarvestWhP50', 'sun taken P50', energy],
] as const;

export function sweepText(
  { sweep, rows, findings, rigName, quiet }: SweepShown,
  { style, terminal }: Pick<Io, 'style' | 'terminal'>,
): string[] {
  const { plan, columns, years } = sweep;
  const { width } = terminal;
  const answer = (key: string, text: (value: number) => string) => {
    const place = columns.findIndex((column) => column.key === key);
    return ({ answers, failed }: SweepRow) => (failed ? '-' : text(answers[place]!));
  };
  const overloadAt = columns.findIndex(({ key }) => key === 'overloads');
  const isOverloaded = rows.some(({ answers }) => answers[overloadAt]! > 0);
  const cells: Column<SweepRow>[] = [
    ...plan.varied.map(({ path, unit }, k): Column<SweepRow> => {
      const isNumber = unit !== undefined;
      return {
        head: oneLine(unit ? `${path} [${unit}]` : path),
        cell: ({ values }) => oneLine(String(values[k])),
        align: isNumber ? 'right' : 'left',
      };
    }),
    ...(isOverloaded
      ? [
          {
            head: 'overload',
            cell: answer('overloads', (count) => (count > 0 ? 'yes' : 'no')),
            align: 'right',
          } as const,
        ]
      : []),
    ...(years === 1 ? ONE_YEAR : YEARS).map(
      ([key, head, text], k): Column<SweepRow> => ({
        head,
        cell: answer(key, text),
        align: 'right',
        ...(k > 0 && { drop: [0, 3, 1, 4, 2, 5][k]! }),
      }),
    ),
  ];
  const failed = rows.filter((row) => row.failed);
  return [
    style.bold(
      `${oneLine(rigName)}: ${counted(rows.length, 'variant')}${years > 1 ? ` over ${counted(years, 'weather year')}` : ''}`,
    ),
    ...findings
      .filter(isDanger)
      .flatMap(({ path, text }) => wrapped(`${style.red('danger')}: ${oneLine(`${path}: ${text}`)}`, width)),
    '',
    ...table(rows, cells, width, style.dim),
    ...(failed.length > 0 ? [''] : []),
    ...failed
      .slice(0, 5)
      .flatMap(({ variant, failed: why }) =>
        wrapped(oneLine(`variant ${fixed(variant, 0)}: ${why!.text}`), width, '  '),
      ),
    ...(quiet
      ? []
      : [
          '',
          ...(isOverloaded
            ? wrapped(
                'Overload: loads at their full power ask for more than inverter or battery can give, whatever the hours beside it; stayput check says which.',
                width,
              )
            : []),
          ...wrapped('Hours are of the whole time. Next: --out rows.csv keeps every answer, --plot draws one.', width),
        ]),
  ];
}

function hoursText(h: number): string {
  return h < 1e-6 ? '0 h' : `${h < 10 ? significant(h, 2) : fixed(h, 0)} h`;
}
