import type { Comparison, LogReading, Rig } from '@stayput/core';
import type { CompareDay, CompareHour } from '@stayput/core/model';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import { wordedLogFinding } from '../words/log-finding-words.js';
import { logNoteText } from '../words/log-words.js';
import { closingLines, findingLines, isDanger } from './findings.js';
import { labelled } from './labelled.js';
import { counted, dayText, fixed, percent, significant } from './number.js';
import { oneLine, type Style } from './style.js';
import { type Column, table, wrapped } from './table.js';

export interface Compared {
  readonly rig: Rig;
  readonly logName: string;
  readonly comparison: Comparison;
  readonly warnings: LogReading['warnings'];
  /** the rig's own */
  readonly findings: readonly ShownFinding[];
  readonly quiet: boolean;
}

const GRAVEST_FIRST = { danger: 0, caution: 1, note: 2 } as const;
const MAX_DAYS = 40;

/** A comparison for people: the answer, what does not do its job, then the two side by side. */
export function compareText(compared: Compared, { style, terminal }: Pick<Io, 'style' | 'terminal'>): string[] {
  const { comparison, findings, quiet } = compared;
  const { width } = terminal;
  const answer = wrapped(compareVerdict(comparison), width).map((line) =>
    style.bold(isAllWell(comparison) ? style.green(line) : style.yellow(line)),
  );
  if (quiet)
    return [
      ...answer,
      ...findingBlocks(dangersOf(comparison), width, style),
      ...findingLines(findings.filter(isDanger), width, style),
    ];
  const told = findingBlocks(comparison, width, style);
  return [
    ...answer,
    ...wrapped(aboutCompare(compared), width, '  ', '  '),
    '',
    ...(told.length > 0 ? [style.bold('What does not do its job'), ...told, ''] : []),
    style.bold('How well the two agree'),
    ...labelled(fitWords(comparison), width, style),
    '',
    ...table(...hoursTabled(comparison), width, style.bold),
    '',
    ...table(...daysTabled(comparison), width, style.bold),
    ...moreDays(comparison).map(style.dim),
    '',
    style.bold('What it rests on'),
    ...compareRemarks(compared).flatMap((text) => wrapped(`- ${text}`, width, '  ')),
    ...closingLines(
      findings,
      'Next: stayput calibrate fits the rig to this log, so that its forecasts can be trusted.',
      width,
      style,
    ),
  ];
}

export const isAllWell = ({ findings }: Comparison) => findings.every(({ level }) => level === 'note');

export function aboutCompare({ rig, logName, comparison }: Compared): string {
  const { from, to, days, cover } = comparison;
  return `${oneLine(rig.name)} against ${oneLine(logName)}, ${dayText(from)} to ${dayText(to)} ${to.slice(0, 4)}: ${counted(days, 'day')}, ${percent(cover)} of the time logged`;
}

/** What the comparison rests on, and what it cannot tell. */
export function compareRemarks({ comparison, warnings }: Compared): string[] {
  const { sources, untold } = comparison;
  return [
    ...sources,
    startWords(comparison),
    ...untold.map((text) => `not told: ${text}`),
    ...warnings.map(logNoteText),
  ].map(oneLine);
}

const dangersOf = (comparison: Comparison): Comparison => ({
  ...comparison,
  findings: comparison.findings.filter(isDanger),
});

/** The gravest finding, or that all agrees, in one sentence. */
export function compareVerdict({ findings, fit, panel }: Comparison): string {
  const first = gravestFirst(findings)[0];
  if (first && first.level !== 'note') {
    const more = findings.length - 1;
    const { text } = wordedLogFinding(first);
    const sentence = /^.*?[.](?= |$)/.exec(text)?.[0] ?? text;
    return more > 0 ? `${sentence} (and ${counted(more, 'more finding')}, below)` : sentence;
  }
  const agreed = [
    ...(panel ? [`the panel gives ${percent(panel.share)} of its promise`] : []),
    ...(fit.socRmse !== undefined ? [`the state of charge agrees within ${percent(fit.socRmse)}`] : []),
  ];
  return `Nothing is found that does not do its job${agreed.length > 0 ? `: ${agreed.join(', ')}` : ''}.`;
}

/** The gravest first. */
export const gravestFirst = (findings: Comparison['findings']) =>
  [...findings].sort((a, b) => GRAVEST_FIRST[a.level] - GRAVEST_FIRST[b.level]);

function findingBlocks({ findings }: Comparison, width: number, style: Style): string[] {
  const mark = { note: style.dim, caution: style.yellow, danger: style.red };
  return gravestFirst(findings).flatMap((finding) => {
    const { level, path, text, evidence, confidence } = wordedLogFinding(finding);
    const [head, ...rest] = wrapped(`${level}  ${oneLine(text)}`, width, '    ');
    return [
      `${mark[level](level)}${head!.slice(level.length)}`,
      ...rest,
      ...wrapped(`${path}; seen in: ${oneLine(evidence)}; confidence ${confidence}`, width, '      ', '    ').map(
        style.dim,
      ),
    ];
  });
}

export function fitWords({ fit }: Comparison): [string, string][] {
  const { socRmse, socBias = 0, voltageRmse, voltageBias = 0, harvestBias, loadBias } = fit;
  const more = (bias: number) =>
    Math.abs(bias) < 0.005
      ? 'as much as the log'
      : `${percent(Math.abs(bias))} ${bias > 0 ? 'more' : 'less'} than the log`;
  const above = (bias: number, text: string) => `${text} too ${bias > 0 ? 'high' : 'low'} on average`;
  return [
    ...(socRmse === undefined
      ? []
      : [
          [
            'charge',
            `the model's state of charge is off by ${percent(socRmse)} (RMSE), ${above(socBias, percent(Math.abs(socBias)))}`,
          ] as [string, string],
        ]),
    ...(voltageRmse === undefined
      ? []
      : [
          [
            'voltage',
            `off by ${significant(voltageRmse, 2)} V (RMSE), ${above(voltageBias, `${significant(Math.abs(voltageBias), 2)} V`)}`,
          ] as [string, string],
        ]),
    ...(harvestBias === undefined ? [] : [['harvest', `the model has ${more(harvestBias)}`] as [string, string]]),
    ...(loadBias === undefined ? [] : [['loads', `the model draws ${more(loadBias)}`] as [string, string]]),
  ];
}

const watts = (value: number) => fixed(value, 0);
const share = (value: number) => (Number.isNaN(value) ? '-' : percent(value));

function pairColumns<T extends Comparison['hours'][number] | Comparison['daily'][number]>(
  rows: readonly T[],
  perDay: boolean,
): Column<T>[] {
  const some = (pick: (row: T) => number) => rows.some((row) => !Number.isNaN(pick(row)));
  const scale = perDay ? 24 : 1;
  const unit = perDay ? 'Wh' : 'W';
  const pair = (
    head: string,
    log: (row: T) => number,
    model: (row: T) => number,
    text: (v: number) => string,
    drop: number,
  ) =>
    some(log)
      ? [
          { head: `${head} log`, cell: (row: T) => text(log(row)), align: 'right' as const, ...(drop > 0 && { drop }) },
          { head: 'model', cell: (row: T) => text(model(row)), align: 'right' as const, ...(drop > 0 && { drop }) },
        ]
      : [];
  return [
    ...pair(
      `harvest ${unit}`,
      (r) => r.logHarvestW,
      (r) => r.modelHarvestW,
      (v) => watts(v * scale),
      0,
    ),
    ...pair(
      'draw W',
      (r) => r.logLoadW,
      (r) => r.modelLoadW,
      (v) => (Number.isNaN(v) ? '-' : significant(v, 2)),
      2,
    ),
    ...pair(
      'SoC',
      (r) => r.logSoc,
      (r) => r.modelSoc,
      share,
      0,
    ),
    ...pair(
      'V',
      (r) => r.logV,
      (r) => r.modelV,
      (v) => fixed(v, 2),
      3,
    ),
  ];
}

type Tabled<Row> = [readonly Row[], Column<Row>[]];

export function hoursTabled({ hours, panel }: Comparison): Tabled<CompareHour> {
  const gives = new Map(panel?.hours.map(({ hour, ratio }) => [hour, ratio]));
  const given = ({ hour }: CompareHour) => {
    const ratio = gives.get(hour);
    return ratio === undefined || Number.isNaN(ratio) ? '' : percent(ratio);
  };
  return [
    hours,
    [
      { head: 'Hour', cell: ({ hour }) => `${String(hour).padStart(2, '0')}:00` },
      ...pairColumns(hours, false),
      ...(panel ? [{ head: 'panel gives', cell: given, align: 'right' as const }] : []),
    ],
  ];
}

export function daysTabled({ daily }: Comparison): Tabled<CompareDay> {
  const shown = daily.slice(0, MAX_DAYS);
  return [
    shown,
    [{ head: 'Day', cell: ({ date }) => dayText(date).replace(' ', '\u00a0') }, ...pairColumns(shown, true)],
  ];
}

export function moreDays({ daily }: Comparison): string[] {
  return daily.length > MAX_DAYS ? [`… ${counted(daily.length - MAX_DAYS, 'more day')}: --json has all of them`] : [];
}

function startWords({ startSoc, startSocBy }: Comparison): string {
  const by = { log: "the log's", voltage: 'by its first quiet voltage', trip: "the trip's, as the log tells neither" };
  return `the model begins at ${percent(startSoc)}, ${by[startSocBy]}, and is not set right afterwards`;
}
