import type { Calibration, FitErrors, FittedValue, LogReading } from '@stayput/core';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import { logNoteText } from '../words/log-words.js';
import { closingLines, findingLines, isDanger } from './findings.js';
import { counted, dayText, fixed, percent, significant } from './number.js';
import { oneLine, type Style } from './style.js';
import { type Column, type Tabled, table, wrapped } from './table.js';

export interface ShownCalibration {
  readonly rigName: string;
  readonly logName: string;
  readonly calibration: Calibration;
  readonly warnings: LogReading['warnings'];
  /** the fitted rig's own */
  readonly findings: readonly ShownFinding[];
  /** where the fitted rig was written, if it was */
  readonly rigOut?: string;
  readonly quiet: boolean;
}

/** A calibration for people: what it comes to, the values with their intervals, what could not be told, and the check. */
export function calibrateText(shown: ShownCalibration, { style, terminal }: Pick<Io, 'style' | 'terminal'>): string[] {
  const { calibration, findings, rigOut, quiet } = shown;
  const { width } = terminal;
  const { fitted, untold } = calibration;
  const isAny = fitted.length > 0;
  const answer = wrapped(calibrateVerdict(calibration), width).map((line) =>
    style.bold(isAny ? style.green(line) : style.yellow(line)),
  );
  const values = isAny ? table(...valuesTabled(fitted), width, style.bold) : [];
  if (quiet) return [...answer, ...values, ...findingLines(findings.filter(isDanger), width, style)];
  return [
    ...answer,
    ...wrapped(aboutCalibrate(shown), width, '  ', '  '),
    '',
    ...(isAny
      ? [...values, '', style.bold('What they mean'), ...fitted.flatMap(({ text }) => item(text, width)), '']
      : []),
    ...(untold.length > 0
      ? [
          style.bold('What this log cannot tell; the rig keeps its values'),
          ...untold.flatMap(({ name, why }) => item(`${name}: ${why}`, width)),
          '',
        ]
      : []),
    ...checkLines(calibration, width, style),
    style.bold('What it rests on'),
    ...restsOn(shown).flatMap((text) => item(text, width)),
    ...closingLines(findings, nextOf(isAny, rigOut), width, style),
  ];
}

const item = (text: string, width: number) => wrapped(`- ${oneLine(text)}`, width, '  ');

export function calibrateVerdict({ fitted, checked, before, after }: Calibration): string {
  if (fitted.length === 0) return 'Nothing could be fitted: this log tells no value of the rig well enough.';
  const names = fitted.map(({ name }) => name);
  const list = names.length > 1 ? `${names.slice(0, -1).join(', ')} and ${names.at(-1)}` : names[0]!;
  const told = `Fitted to the log: ${list}.`;
  const row = errorRows(before, after)[0];
  return checked && row ? `${told} On the ${counted(checked.days, 'day')} kept back, ${row.sentence}.` : told;
}

export function aboutCalibrate({ rigName, logName, calibration: { trained, checked } }: ShownCalibration): string {
  const days = ({ from, to, days: count }: NonNullable<Calibration['checked']>) =>
    `${dayText(from)} to ${dayText(to)} (${counted(count, 'day')} logged)`;
  const check = checked
    ? `; checked on ${days(checked)}, by a fit of the days before them`
    : '; no days kept back to check it on';
  return `${oneLine(rigName)} fitted to ${oneLine(logName)}, ${days(trained)}${check}`;
}

export function valuesTabled(fitted: readonly FittedValue[]): Tabled<FittedValue> {
  const share = ({ unit, name }: FittedValue) => unit === '' && name.includes('shade');
  const shown = (one: FittedValue, value: number) =>
    share(one) ? `${fixed(100 * value, 0)} %` : `${significant(value)}${unitOf(one)}`;
  const columns: Column<FittedValue>[] = [
    { head: 'Value', cell: ({ name }) => name },
    { head: 'fitted', cell: (one) => shown(one, one.value), align: 'right' },
    { head: 'from', cell: (one) => shown(one, one.low), align: 'right' },
    { head: 'to', cell: (one) => shown(one, one.high), align: 'right' },
    { head: 'rig had', cell: (one) => shown(one, one.before), align: 'right' },
    ...(fitted.some(({ by }) => by !== '')
      ? [{ head: 'read from', cell: ({ by }: FittedValue) => oneLine(by), wrap: true, drop: 1 } as const]
      : []),
  ];
  return [fitted, columns];
}

const unitOf = ({ unit }: FittedValue) => (unit === '' ? '' : unit === 'times' ? ' ×' : ` ${unit}`);

export interface ErrorRow {
  readonly what: string;
  readonly before: string;
  readonly after: string;
  readonly sentence: string;
}

function errorRows(before: FitErrors, after: FitErrors): ErrorRow[] {
  const signed = (share: number) => `${share > 0 ? '+' : ''}${percent(share)}`;
  const rows = [
    ['state of charge, RMSE', before.socRmse, after.socRmse, (share: number) => `${fixed(100 * share, 1)} %`],
    ['voltage, RMSE', before.voltageRmse, after.voltageRmse, (volts: number) => `${significant(volts, 2)} V`],
    ['harvest, model against log', before.harvestBias, after.harvestBias, signed],
    ['loads, model against log', before.loadBias, after.loadBias, signed],
  ] as const;
  return rows.flatMap(([what, old, fresh, text]) =>
    old === undefined || fresh === undefined
      ? []
      : [
          {
            what,
            before: text(old),
            after: text(fresh),
            sentence: `the error of the ${what.split(',')[0]} goes from ${text(old)} to ${text(fresh)}`,
          },
        ],
  );
}

/** The error on days that the fit did not see; empty where none were kept back. */
export function errorsTabled({ checked, before, after }: Calibration): Tabled<ErrorRow> {
  return [
    checked ? errorRows(before, after) : [],
    [
      { head: 'Error on the days kept back', cell: ({ what }) => what },
      { head: 'before', cell: (row) => row.before, align: 'right' },
      { head: 'after', cell: (row) => row.after, align: 'right' },
    ],
  ];
}

function checkLines(calibration: Calibration, width: number, style: Style): string[] {
  const [rows, columns] = errorsTabled(calibration);
  return rows.length === 0 ? [] : [...table(rows, columns, width, style.bold), ''];
}

export function restsOn({ calibration: { notes, sources }, warnings }: ShownCalibration): string[] {
  return [
    ...notes,
    ...sources,
    'intervals: the truth lies within them 9 times in 10 if the model has the right form; they hold the scatter between days and the usual error of light, sensors and curves',
    ...warnings.map(logNoteText),
  ];
}

function nextOf(isAny: boolean, rigOut: string | undefined): string {
  if (!isAny)
    return 'Next: log two weeks or more, with a load or two switching at night and the battery below 90 % on some days.';
  if (rigOut === undefined || rigOut === '-')
    return 'Next: --rig-out FILE writes your rig file with these values in it.';
  return `Next: stayput simulate ${rigOut}, or stayput stay ${rigOut}: forecasts with your own system.`;
}
