import type { Remedies, Rig, Run, RunRecovery, Trip } from '@stayput/core';
import { HOUR_MS } from '@stayput/core/model';
import type { TargetResult } from '../commands/targets.js';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import { remedyTexts } from '../words/remedy-words.js';
import { warningText } from '../words/run-words.js';
import { verdict } from '../words/verdict-words.js';
import { batteryLines, engineLimits } from './battery-lines.js';
import { daysTable } from './days-table.js';
import { closingLines, findingLines, isDanger } from './findings.js';
import { fridgeTables } from './fridge-table.js';
import { labelled } from './labelled.js';
import { ledgerLines } from './ledger.js';
import { loadsTable } from './loads-table.js';
import { counted, dayText, energy, fixed, hours, momentText, percent } from './number.js';
import { socChart } from './soc-chart.js';
import { socByDay } from './sparkline.js';
import { oneLine, type Style } from './style.js';
import { wrapped } from './table.js';

export interface Simulated {
  readonly rig: Rig;
  readonly trip: Trip;
  readonly run: Run;
  /** what the engine could have done about it; absent when it was never below the floor, or there is no alternator */
  readonly recovery?: RunRecovery;
  /** what would cure what went wrong, as tried; absent = too long a run to try */
  readonly remedies?: readonly Remedies[];
  readonly findings: readonly ShownFinding[];
  readonly targets: readonly TargetResult[];
  readonly quiet: boolean;
  readonly hasTripFile: boolean;
  /** what the call left open */
  readonly assumed: readonly string[];
}

/** The result of a run for people: the answer first, then what it rests on. */
export function simulateText(simulated: Simulated, { style, terminal }: Pick<Io, 'style' | 'terminal'>): string[] {
  const { rig, run, findings, targets, quiet } = simulated;
  const { width, unicode } = terminal;
  const { tone, text, others } = verdict(rig, run);
  const mark = { good: style.green, low: style.yellow, flat: style.red }[tone];
  const lines = wrapped(text, width).map((line) => style.bold(mark(line)));
  for (const { met, text: said } of targets)
    lines.push(...wrapped(`${met ? 'met' : 'missed'}: ${said}.`, width).map(met ? style.green : style.red));
  const dangers = findings.filter(isDanger);
  if (quiet) return [...lines, ...findingLines(dangers, width, style)];

  lines.push(
    ...wrapped(aboutRun(simulated), width, '  '),
    '',
    ...chart(rig, run, width, unicode, style),
    '',
    ...wentWrong(simulated, others, width, style),
    ...labelled(summaryEntries(run), width, style),
    '',
    ...batteryLines(rig, run, simulated.recovery, width, style),
  );
  lines.push('', ...daysTable(run.daily, rig.battery.floor, width, style, unicode ? socByDay(run) : undefined));
  if (run.loads.length > 0) lines.push('', ...loadsTable(run.loads, run.summary.days, width, style));
  lines.push(...fridgeTables(run.fridges, width, unicode, style));
  lines.push('', ...ledgerLines(run, width, style));
  const remarks = [
    ...run.warnings.map((warning) => ({ text: warningText(warning), mark: style.yellow })),
    ...run.conditions.notes.map((note) => ({ text: note.text, mark: (plain: string) => plain })),
  ];
  if (remarks.length > 0) lines.push('', style.bold('To know'));
  for (const remark of remarks) lines.push(...wrapped(`- ${oneLine(remark.text)}`, width, '  ').map(remark.mark));
  lines.push(...closingLines(findings, nextStep(tone), width, style));
  return lines;
}

export function aboutRun({ rig, trip, run, assumed, hasTripFile }: Simulated): string {
  const { daily, summary } = run;
  const [first, last] = [daily[0]!.date, daily.at(-1)!.date];
  const weather = trip.weather.kind === 'file' ? `weather of ${trip.weather.path}` : `${trip.weather.kind} weather`;
  const span = `${dayText(first)}${first === last ? '' : ` to ${dayText(last)}`} ${last.slice(0, 4)}`;
  const places = [...new Set(run.conditions.itinerary.legs.map(({ place }) => place.name))].join('; ');
  const where = hasTripFile ? `${trip.name} (${places})` : places;
  return oneLine([`${rig.name}: ${where}`, span, counted(summary.days, 'day'), weather, ...assumed].join('; '));
}

function chart(rig: Rig, { trace, days, summary }: Run, width: number, unicode: boolean, style: Style): string[] {
  const { startMs, stepH, steps } = trace.grid;
  let step = 0;
  for (let i = 1; i < steps; i++) if (trace.soc[i]! < trace.soc[step]!) step = i;
  const series = {
    soc: trace.soc,
    days: days.map((day) => ({ date: day.date, firstStep: Math.round((day.startMs - startMs) / (stepH * HOUR_MS)) })),
    floor: rig.battery.floor,
    lowest: { step, text: `${percent(summary.lowestSoc, rig.battery.floor)}, ${momentText(summary.lowestAt)}` },
  };
  return [
    style.bold('State of charge, %') + style.dim(`   (floor ${percent(rig.battery.floor)} dashed)`),
    ...socChart(series, width, unicode, style),
  ];
}

export function summaryEntries(run: Run): [string, string][] {
  const { summary: s } = run;
  const share = (part: number, whole: number) => (whole > 0 ? ` (${percent(part / whole)})` : '');
  const { days } = s;
  const trouble = [
    ...(s.hoursBelowFloor > 0 ? [`${hours(s.hoursBelowFloor)} below the floor`] : []),
    ...(s.hoursOff > 0 ? [`${hours(s.hoursOff)} cut off`] : []),
  ];
  return [
    [
      'Battery',
      `${percent(s.startSoc)} at the start, ${percent(s.endSoc)} at the end; full on ${fixed(s.fullDays, 0)} of ${counted(days, 'day')}; ${fixed(s.equivalentCycles, 1)} full cycles`,
    ],
    [
      'Sun',
      s.pvAvailableWh > 0
        ? `${energy(s.pvHarvestWh / days)} a day, of ${energy(s.pvAvailableWh / days)} available; spilled ${energy(s.pvSpilledWh / days)}${share(s.pvSpilledWh, s.pvAvailableWh)}`
        : 'none',
    ],
    ...(s.alternatorWh > 0
      ? [
          ['Engine', `${energy(s.alternatorWh)} from the alternator; limited by ${engineLimits(run)}`] satisfies [
            string,
            string,
          ],
        ]
      : []),
    ...(s.mainsWh > 0 ? [['Mains', energy(s.mainsWh)] satisfies [string, string]] : []),
    [
      'Loads',
      `${energy(s.loadWh / days)} a day${s.unservedWh >= 0.5 ? `; unserved ${energy(s.unservedWh)}${share(s.unservedWh, s.unservedWh + s.loadWh)}` : ''}`,
    ],
    ...(trouble.length > 0 ? [['Trouble', trouble.join(', ')] satisfies [string, string]] : []),
  ];
}

function nextStep(tone: 'good' | 'low' | 'flat'): string {
  return tone === 'good'
    ? 'Next: try a harder case, such as --weather dull or a month with less sun.'
    : 'Next: try a change without editing, such as --set battery.count=2 or --set solar[0].count=2.';
}

/** What went wrong beside the headline, and what would cure it. */
function wentWrong(
  { rig, run, remedies }: Simulated,
  others: readonly string[],
  width: number,
  style: Style,
): string[] {
  const listed = (head: string, texts: readonly string[]) =>
    texts.length > 0 ? [style.bold(head), ...texts.flatMap((text) => wrapped(`- ${text}`, width, '  ')), ''] : [];
  return [
    ...listed('What else went wrong', others),
    ...(run.troubles.length > 0 ? listed('What would cure it', remedyTexts(rig, remedies)) : []),
  ];
}
