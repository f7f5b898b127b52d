import type { Rig, TonightStudy } from '@stayput/core';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import {
  endVerdict,
  lastDayText,
  skyText,
  spareText,
  spareVerdict,
  tonightFindingText,
  whenText,
} from '../words/tonight-words.js';
import { bandChart } from './band-chart.js';
import { CAUTION, findingLines, isDanger } from './findings.js';
import { labelled } from './labelled.js';
import { energy, fixed, percent } from './number.js';
import { engineWords } from './stay-words.js';
import { oneLine } from './style.js';
import { wrapped } from './table.js';

export interface Tonight {
  readonly rig: Rig;
  readonly study: TonightStudy;
  readonly findings: readonly ShownFinding[];
  readonly quiet: boolean;
  readonly target?: { readonly met: boolean; readonly text: string };
  /** date or time were not given, and are told as they were taken */
  readonly taken?: boolean;
}

/** One screen for who is tired: what is to spare, how long, what to do; then the next two days. */
export function tonightText(
  { rig, study, findings, quiet, target }: Tonight,
  { style, terminal }: Pick<Io, 'style' | 'terminal'>,
): string[] {
  const { width, unicode } = terminal;
  const isSafe = study.spareAtChanceWh >= 0;
  const lines = wrapped(spareVerdict(rig, study), width).map((line) =>
    style.bold((isSafe ? style.green : style.red)(line)),
  );
  lines.push(...wrapped(endVerdict(study), width).map(style.bold));
  if (target)
    lines.push(
      ...wrapped(`${target.met ? 'target met' : 'target missed'}: ${target.text}`, width).map(
        target.met ? style.green : style.red,
      ),
    );
  const dangers = findingLines(findings.filter(isDanger), width, style);
  if (quiet) return [...lines, ...dangers];
  return [
    ...lines,
    '',
    ...labelled(tonightEntries(study), width, style),
    '',
    ...bandChart({ ...study.band, floor: study.floor }, width, unicode, style),
    ...study.findings.flatMap((finding) => wrapped(`- ${tonightFindingText(finding)}`, width, '  ')).map(style.yellow),
    ...dangers,
    ...wrapped(CAUTION, width).map(style.dim),
  ];
}

/** What it rests on, and what would help, a line each. */
export function tonightEntries(study: TonightStudy): [string, string][] {
  const { place, now, soc, sky, loads, switchOff, drive, paidBackAtChance } = study;
  const read = `${percent(soc.p50)}${soc.p90 - soc.p10 > 0.005 ? ` (${percent(soc.p10)} to ${percent(soc.p90)})` : ''}`;
  const until = paidBackAtChance === null ? 'to the end' : 'until then';
  const days = sky.length > 0 ? `${sky.map(skyText).join(', ')} kWh/m2; then the climate's` : undefined;
  return [
    ['Now', `${whenText(now)} at ${oneLine(place.name)}, battery at ${read}`],
    ['Sky', days ?? "the climate's (--sky says otherwise)"],
    ['Loads', `${until}: ${costsText(loads)}`],
    ...withoutEntry(study, switchOff),
    ...(drive ? ([['Drive', driveText(now, drive)]] as [string, string][]) : []),
  ];
}

/** What would help, a sentence each. */
export function tonightHelps(study: TonightStudy): string[] {
  const without = withoutEntry(study, study.switchOff).map(([, said]) => `Without ${said}`);
  return [...without, ...(study.drive ? [`Driving: ${driveText(study.now, study.drive)}`] : [])];
}

/** The largest, so that they fit on two lines. */
const MAX_LOADS = 6;

function costsText(loads: TonightStudy['loads']): string {
  const shown = loads.slice(0, MAX_LOADS).map(({ name, costWh }) => `${oneLine(name)} ${energy(costWh)}`);
  const restWh = loads.slice(MAX_LOADS).reduce((sum, { costWh }) => sum + costWh, 0);
  if (restWh > 0) shown.push(`others ${energy(restWh)}`);
  return shown.join(', ') || 'none';
}

function withoutEntry(study: TonightStudy, switchOff: TonightStudy['switchOff']): [string, string][] {
  const last = switchOff.at(-1);
  if (!last) return [];
  const names = switchOff.map(({ name }) => oneLine(name));
  const order = names.length > 1 ? `${names[0]} first, then ${names.slice(1).join(', then ')}` : names[0]!;
  const does = last.spareAtEndWh >= 0;
  const after = does
    ? `then the floor holds to the end of ${lastDayText(study.end)}, with ${spareText(last.spareAtEndWh)} to spare`
    : `even then ${spareText(last.spareAtEndWh)} are missing by the end of ${lastDayText(study.end)}`;
  const spoils = study.loads.some(({ name, kind }) => kind === 'spoils' && names.includes(name))
    ? ' (empty it first: food spoils)'
    : '';
  return [['Without', `${order}${spoils}: ${after}`]];
}

function driveText(
  now: string,
  { from, daily, minutes, idleMinutes, fuelL, idleFuelL }: NonNullable<TonightStudy['drive']>,
): string {
  if (minutes === Infinity) return 'four hours of driving every morning would not keep the floor';
  const first = from === now ? 'now' : `on ${whenText(from)}`;
  const when = daily ? `${first} and again every morning at 10:00` : first;
  const idle =
    idleMinutes === Infinity
      ? 'idling at the camp would not do'
      : `idling at the camp takes ${engineWords(idleMinutes)} and about ${fixed(idleFuelL, 1)} L`;
  return `${engineWords(minutes)} ${when} instead (some ${fixed(fuelL, 1)} L of fuel for the charging); ${idle}`;
}
