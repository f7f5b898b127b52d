import type { Rig, Trip, YieldMonth, YieldStudy } from '@stayput/core';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import type { ShownWarning } from '../words/run-words.js';
import { bar } from './bar.js';
import { closingLines, findingLines, isDanger } from './findings.js';
import { energy, fixed, monthName, percent } from './number.js';
import { oneLine, type Style } from './style.js';
import { type Column, type Tabled, table, wrapped } from './table.js';
import { equatorward, lossWords, rangeWords, setupWords, weatherWords, yieldVerdict } from './yield-words.js';

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
  lines.push('', ...waterfallTable(study, width, unicode, style));
  lines.push('', style.bold('To know'));
  for (const remark of yieldRemarks(study)) lines.push(...wrapped(`- ${oneLine(remark)}`, width, '  '));
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

/** A part of the light, and what is left after it. */
export interface LightStep {
  readonly name: string;
  /** negative where it is lost */
  readonly kwh: number;
  readonly left: number;
}

/** Where the light of a year goes; empty in the dark. */
export function lightSteps({ waterfall }: YieldStudy): LightStep[] {
  const { lightKwh, losses, yieldKwh } = waterfall;
  if (!(lightKwh > 0)) return [];
  const least = 0.0005 * lightKwh;
  let left = lightKwh;
  return [
    { name: 'light on the plane', kwh: lightKwh, left },
    ...losses
      .filter(({ kwh }) => Math.abs(kwh) >= least)
      .map(({ where, kwh }) => {
        left -= kwh;
        return {
          name: kwh < 0 ? `gained: ${lossWords(where).replace('heat', 'cold')}` : `lost: ${lossWords(where)}`,
          kwh: -kwh,
          left,
        };
      }),
    { name: 'yield', kwh: yieldKwh, left: yieldKwh },
  ];
}

function waterfallTable(study: YieldStudy, width: number, unicode: boolean, style: Style): string[] {
  const { lightKwh } = study.waterfall;
  const rows = lightSteps(study);
  if (rows.length === 0) return [];
  const [head, ...body] = table(
    rows,
    [
      { head: 'Where the light goes', cell: ({ name }) => name },
      { head: 'kWh/year', cell: ({ kwh }) => fixed(kwh, lightKwh < 100 ? 2 : 1), align: 'right' },
      { head: 'share', cell: ({ kwh }) => `${fixed((100 * kwh) / lightKwh, 1)} %`, align: 'right' },
      { head: 'left', cell: (row) => bar(row.left, lightKwh, BAR_CELLS, unicode), drop: 1 },
    ],
    width,
    style.bold,
  );
  return [head!, ...body.map((line, k) => (k === 0 || k === body.length - 1 ? style.bold(line) : line))];
}

export function yieldRemarks(study: YieldStudy): string[] {
  const { ranges, performanceRatio, notes } = study;
  return [
    ...ranges.map(rangeWords),
    ...(performanceRatio === undefined
      ? []
      : [`of nameplate times peak sun hours, ${percent(performanceRatio)} arrives at the controllers' output`]),
    'a battery that is often full takes less than this: stayput simulate tells what is spilled',
    ...notes.map(({ text }) => text),
  ];
}
