import type { Rig, Trip, YieldMonth, YieldStudy } from '@stayput/core';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import type { ShownWarning } from '../words/run-words.js';
import { bar } from './bar.js';
import { closingLines, findingLines, isDanger } from './findings.js';
import { energy, fixed, monthName } from './number.js';
import { snowRemark } from './stay-words.js';
import { oneLine } from './style.js';
import { type Column, type Tabled, table, wrapped } from './table.js';
import { equatorward, lossHelp, lossWords, rangeWords, setupWords, weatherWords, yieldVerdict } from './yield-words.js';

export interface Yielded {
  readonly rig: Rig;
  readonly weather: Trip['weather'];
  readonly study: YieldStudy;
  readonly findings: readonly ShownFinding[];
  /** what of the call was not looked at */
  readonly warnings: readonly ShownWarning[];
  readonly quiet: boolean;
}

const BAR_CELLS = 20;

/** The result of a yield study for people: the answer first, then what it rests on. */
export function yieldText(yielded: Yielded, { style, terminal }: Pick<Io, 'style' | 'terminal'>): string[] {
  const { rig, study, findings, warnings, quiet } = yielded;
  const { width, unicode } = terminal;
  const lines = wrapped(yieldVerdict(rig, study), width).map((line) => style.bold(style.green(line)));
  if (quiet) return [...lines, ...findingLines(findings.filter(isDanger), width, style)];

  lines.push(
    ...wrapped(aboutYield(yielded), width, '  ', '  '),
    '',
    ...table(...yieldMonthsTabled(study, unicode), width, style.bold),
    ...wrapped(yearWords(study), width).map(style.bold),
  );
  if (study.arrays.length > 1) lines.push('', ...table(...arraysTabled(study), width, style.bold));
  lines.push('', ...table(...setupsTabled(study, rig), width, style.bold));
  const [taken, columns] = lightTakenTabled(study, rig);
  if (taken.length > 0)
    lines.push('', ...wrapped(arrivesWords(study), width), ...table(taken, columns, width, style.bold));
  lines.push('', style.bold('To know'));
  for (const remark of yieldRemarks(yielded)) lines.push(...wrapped(`- ${oneLine(remark)}`, width, '  '));
  for (const { text } of warnings) lines.push(...wrapped(`- ${oneLine(text)}`, width, '  ').map(style.yellow));
  lines.push(
    ...closingLines(
      findings,
      'Next: stayput simulate RIG --place NAME --from DATE shows what the battery makes of it.',
      width,
      style,
    ),
  );
  return lines;
}

export function aboutYield({ weather, study: { place, weatherYears } }: Yielded): string {
  const at = `${fixed(place.latDeg, 2)}, ${fixed(place.lonDeg, 2)}`;
  const name = oneLine(place.name);
  return `${name === at ? at : `${name} (${at})`}, ${fixed(place.elevationM, 0)} m; ${weatherWords(weather, weatherYears)}; what the controllers can give to a battery that is never full`;
}

export function yieldMonthsTabled(study: YieldStudy, unicode: boolean): Tabled<YieldMonth> {
  const { months, weatherYears } = study;
  const most = Math.max(...months.map(({ yieldWhDay }) => yieldWhDay));
  const wh = (value: number) => fixed(value, value > 0 && value < 9.5 ? 1 : 0);
  const columns: Column<YieldMonth>[] = [
    { head: 'Month', cell: ({ month }) => monthName(month) },
    { head: 'sun h', cell: ({ peakSunHours }) => fixed(peakSunHours, 1), align: 'right' },
    { head: 'Wh/day', cell: ({ yieldWhDay }) => wh(yieldWhDay), align: 'right' },
    {
      head: '',
      cell: ({ yieldWhDay }) => bar(yieldWhDay, most, BAR_CELLS, unicode).padEnd(BAR_CELLS),
      drop: 4,
      isBar: true,
    },
    ...(weatherYears > 1
      ? [
          {
            head: '8 in 10 years',
            cell: (row: YieldMonth) => `${wh(row.yieldWhDayP10 ?? 0)} to ${wh(row.yieldWhDayP90 ?? 0)}`,
            align: 'right',
            drop: 3,
          } as const,
        ]
      : []),
    {
      head: 'mean within',
      cell: ({ yieldWhDayLow, yieldWhDayHigh }) =>
        yieldWhDayHigh > yieldWhDayLow ? `${wh(yieldWhDayLow)} to ${wh(yieldWhDayHigh)}` : '-',
      align: 'right',
      drop: 5,
    },
    {
      head: 'best tilt deg',
      cell: (row) => (row.bestTiltDeg === undefined ? '-' : String(row.bestTiltDeg)),
      align: 'right',
      drop: 2,
    },
  ];
  return [months, columns];
}

export function yearWords(study: YieldStudy): string {
  const { annualKwh, bestTiltDeg } = study;
  const sun = study.months.reduce((sum, { peakSunHours }) => sum + peakSunHours, 0) / 12;
  return `Year: ${fixed(sun, 1)} peak sun hours a day and ${energy(annualKwh * 1000)} in all, ${energy(study.annualKwhLow * 1000)} to ${energy(study.annualKwhHigh * 1000)} for what nobody knows better; best fixed tilt ${bestTiltDeg}° to the ${equatorward(study.place.latDeg)}.`;
}

export function arraysTabled({ arrays }: YieldStudy): Tabled<YieldStudy['arrays'][number]> {
  return [
    arrays,
    [
      { head: 'Array', cell: ({ name }) => oneLine(name) },
      { head: 'W', cell: ({ powerW }) => fixed(powerW, 0), align: 'right' },
      { head: 'a year', cell: ({ annualKwh }) => energy(annualKwh * 1000), align: 'right' },
      { head: 'Jan', cell: ({ months }) => energy(months[0]!.yieldWhDay), align: 'right', drop: 1 },
      { head: 'Jul', cell: ({ months }) => energy(months[6]!.yieldWhDay), align: 'right', drop: 1 },
    ],
  ];
}

export function setupsTabled({ setups, annualKwh, place }: YieldStudy, rig: Rig): Tabled<YieldStudy['setups'][number]> {
  const isFlat = rig.solar.every(({ tiltDeg, reaimedPerDay }) => tiltDeg === 0 && reaimedPerDay === 0);
  const day = (month: number) => (setup: YieldStudy['setups'][number]) => energy(setup.yieldWhDay[month]!);
  return [
    isFlat ? setups.filter(({ setup }) => setup !== 'flat') : setups,
    [
      {
        head: 'Set up',
        cell: (setup) =>
          isFlat && setup.setup === 'as fitted'
            ? 'as fitted: flat'
            : setupWords(setup, place.latDeg).replace('°', ' deg'),
      },
      { head: 'a year', cell: (setup) => energy(setup.annualKwh * 1000), align: 'right' },
      {
        head: 'more',
        cell: (setup) => {
          const more = Math.round((annualKwh > 0 ? setup.annualKwh / annualKwh - 1 : 0) * 100);
          return setup.setup === 'as fitted' ? '' : `${more > 0 ? '+' : ''}${more} %`;
        },
        align: 'right',
      },
      { head: 'a day in Dec', cell: day(11), align: 'right', drop: 1 },
      { head: 'in Jun', cell: day(5), align: 'right', drop: 1 },
    ],
  ];
}

/** What takes some of the light before it arrives, and what can be done about it. */
export interface LightTaken {
  readonly name: string;
  /** negative where it gives [kWh] */
  readonly kwh: number;
  readonly helps: string;
}

/** What takes the light of a year, the most first; empty in the dark. */
export function lightTaken({ waterfall: { lightKwh, losses } }: YieldStudy, rig: Pick<Rig, 'solar'>): LightTaken[] {
  if (!(lightKwh > 0)) return [];
  return losses
    .filter(({ kwh }) => Math.abs(kwh) >= 0.0005 * lightKwh)
    .map(({ where, kwh }) => ({
      name: kwh < 0 ? `${lossWords(where).replace('heat', 'cold')}, a gain` : lossWords(where),
      kwh,
      helps: kwh < 0 ? '' : lossHelp(where, rig),
    }))
    .sort((one, other) => other.kwh - one.kwh);
}

/** "Of the 474 Wh a day that the panels would make of their light at their rating, 363 Wh arrive." */
export function arrivesWords({ waterfall: { lightKwh, yieldKwh } }: YieldStudy): string {
  return `Of the ${energy(aDay(lightKwh))} a day that the light on the panels is worth at their rating, ${energy(aDay(yieldKwh))} arrive.`;
}

const aDay = (kwhAYear: number) => (1000 * kwhAYear) / 365;

export function lightTakenTabled(study: YieldStudy, rig: Rig): Tabled<LightTaken> {
  const { lightKwh } = study.waterfall;
  const rows = lightTaken(study, rig);
  return [
    rows,
    [
      { head: 'What takes the rest', cell: ({ name }) => name },
      { head: 'Wh/day', cell: ({ kwh }) => fixed(aDay(kwh), Math.abs(aDay(kwh)) < 9.95 ? 1 : 0), align: 'right' },
      { head: 'of the light', cell: ({ kwh }) => `${fixed((100 * kwh) / lightKwh, 1)} %`, align: 'right' },
      ...(rows.some(({ helps }) => helps !== '')
        ? [{ head: 'what helps', cell: ({ helps }: LightTaken) => helps, drop: 1 } as const]
        : []),
    ],
  ];
}

export function yieldRemarks({ rig, study }: Pick<Yielded, 'rig' | 'study'>): string[] {
  const { ranges, notes } = study;
  return [
    ...ranges.map(rangeWords),
    ...snowRemark(rig),
    'a battery that is often full takes less than this: stayput simulate tells what is spilled',
    ...notes.map(({ text }) => text),
  ];
}
