import { climateAt, type Remedies, type Rig, type Run, type RunRecovery, type Trip, type Warning } from '@stayput/core';
import { HOUR_MS, isoLocal, type RunSpread } from '@stayput/core/model';
import type { TargetResult } from '../commands/targets.js';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import { remedyTexts } from '../words/remedy-words.js';
import { warningText } from '../words/run-words.js';
import { runSpreadText } from '../words/spread-words.js';
import { verdict } from '../words/verdict-words.js';
import { batteryLines, engineLimits } from './battery-lines.js';
import { daysTable } from './days-table.js';
import { closingLines, findingLines, isDanger } from './findings.js';
import { fridgeTables } from './fridge-table.js';
import { labelled } from './labelled.js';
import { ledgerLines, lossName } from './ledger.js';
import { loadsTable } from './loads-table.js';
import { counted, daysCounted, dayText, energy, fixed, hours, momentText, percent } from './number.js';
import { type ChartSize, socChart } from './soc-chart.js';
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
  /** over the vehicles of the rig's ensemble */
  readonly spread?: RunSpread;
  readonly findings: readonly ShownFinding[];
  readonly targets: readonly TargetResult[];
  readonly quiet: boolean;
  /** with all of its tables */
  readonly isDetailed: boolean;
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
    ...chart(rig, run, width, unicode, style, simulated.isDetailed ? 'tall' : 'short'),
    '',
    ...listed('What else went wrong', others, width, style),
    ...(run.troubles.length > 0 ? listed('What would help', remedyTexts(rig, simulated.remedies), width, style) : []),
    ...(run.troubles.length > 0 ? [''] : []),
    ...labelled(
      [...spreadEntry(simulated), ...(simulated.isDetailed ? summaryEntries(run) : shortEntries(simulated))],
      width,
      style,
    ),
  );
  if (simulated.isDetailed) lines.push('', ...detailLines(simulated, { style, terminal: { width, unicode } }));
  else lines.push(...listed('', run.warnings.filter(isApart).map(warningText), width, style));
  lines.push(...closingLines(findings, nextStep(tone, simulated.isDetailed), width, style));
  return lines;
}

/** What stands in the tables: the battery, each day, each load, each fridge, each watt-hour, and all that is to be known. */
function detailLines(
  { rig, run, recovery }: Simulated,
  { style, terminal: { width, unicode } }: { style: Style; terminal: { width: number; unicode: boolean } },
): string[] {
  const lines = [
    ...batteryLines(rig, run, recovery, width, style),
    '',
    ...daysTable(run.daily, rig.battery.floor, width, style, unicode ? socByDay(run) : undefined),
  ];
  if (run.loads.length > 0) lines.push('', ...loadsTable(run.loads, run.summary.days, width, style));
  lines.push(...fridgeTables(run.fridges, width, unicode, style), '', ...ledgerLines(run, width, style));
  const remarks = [
    ...run.warnings.map((warning) => ({ text: warningText(warning), mark: style.yellow })),
    ...run.conditions.notes.map((note) => ({ text: note.text, mark: (plain: string) => plain })),
  ];
  if (remarks.length > 0) lines.push('', style.bold('To know'));
  for (const remark of remarks) lines.push(...wrapped(`- ${oneLine(remark.text)}`, width, '  ').map(remark.mark));
  return lines;
}

/** Warnings that no trouble says already. */
const APART: readonly Warning['code'][] = [
  'mains_without_charger',
  'drive_without_alternator',
  'starter_side',
  'rarely_full',
  'cabin_not_heated',
  'weather_shift',
];
const isApart = ({ code }: Warning) => APART.includes(code);

/** A list under its heading, each on as few lines as it needs; nothing without entries. */
function listed(head: string, texts: readonly string[], width: number, style: Style): string[] {
  if (texts.length === 0) return [];
  const lines = texts.flatMap((text) => wrapped(`- ${oneLine(text)}`, width, '  '));
  return head === '' ? lines.map(style.yellow) : [style.bold(head), ...lines];
}

/** The largest of each side, in Wh a day. */
const LARGEST = 3;

function shortEntries(simulated: Simulated): [string, string][] {
  const { run } = simulated;
  const { summary: s, loads } = run;
  const aDay = (wh: number) => fixed(wh / s.days, wh / s.days < 9.95 ? 1 : 0);
  const largest = (entries: readonly { name: string; wh: number }[]) =>
    entries
      .filter(({ wh }) => wh / s.days >= 0.5)
      .sort((a, b) => b.wh - a.wh)
      .slice(0, LARGEST)
      .map(({ name, wh }) => `${oneLine(name)} ${aDay(wh)}`)
      .join(', ');
  const share = (part: number, whole: number) => (whole > 0 ? ` (${percent(part / whole)})` : '');
  const served = largest(loads.map(({ name, servedWh }) => ({ name, wh: servedWh })));
  const lostWh = Object.values(s.lossWh).reduce((sum, wh) => sum + wh, 0);
  const lost = largest(Object.entries(s.lossWh).map(([where, wh]) => ({ name: lossName(where), wh })));
  const made = [
    ...(s.alternatorWh > 0 ? [`the engine ${aDay(s.alternatorWh)}`] : []),
    ...(s.mainsWh > 0 ? [`the mains ${aDay(s.mainsWh)}`] : []),
  ].join(', ');
  const from = climateText(simulated);
  return [
    [
      'Charge',
      `${percent(s.startSoc)} at the start, ${percent(s.endSoc)} at the end; full on ${fixed(s.fullDays, 0)} of ${counted(run.daily.length, 'day')}`,
    ],
    [
      'Came in',
      [
        s.pvAvailableWh > 0
          ? `the sun ${aDay(s.pvHarvestWh)} Wh a day, ${aDay(s.pvSpilledWh)} spilled${share(s.pvSpilledWh, s.pvAvailableWh)}`
          : 'no sun',
        ...(made ? [made] : []),
      ].join('; '),
    ],
    [
      'Loads',
      `${aDay(s.loadWh)} Wh a day${served && `: ${served}`}${s.unservedWh >= 0.5 ? `; unserved ${energy(s.unservedWh)}${share(s.unservedWh, s.unservedWh + s.loadWh)}` : ''}`,
    ],
    ['Lost', `${aDay(lostWh)} Wh a day${lost && `: ${lost}`}`],
    ...(from ? [['Climate', from] satisfies [string, string]] : []),
  ];
}

/** What the vehicles of an ensemble come to. */
export function spreadEntry({ rig, spread }: Simulated): [string, string][] {
  return spread ? [['Vehicles', runSpreadText(spread, rig.battery.floor)]] : [];
}

/** The places whose climate the weather is made from, with their distance. */
function climateText({ rig, trip: { weather, stops }, run: { conditions } }: Simulated): string {
  if (weather.kind === 'file') return '';
  const names = conditions.itinerary.legs.map(({ place: { latDeg, lonDeg, elevationM } }, k) => {
    if ((stops[k]?.months ?? rig.months)?.ghiKwhM2Day) return "the file's own months";
    const [nearest, ...others] = climateAt(latDeg, lonDeg, elevationM).places;
    if (!nearest) return '';
    return `${oneLine(nearest.place.name)} ${fixed(nearest.distanceKm, 0)} km${others.length > 0 ? ` and others` : ''}`;
  });
  return [...new Set(names.filter(Boolean))].join(', ');
}

export function aboutRun({ rig, trip, run, assumed, hasTripFile }: Simulated): string {
  const { daily, summary, trace, days } = run;
  const [first, last] = [daily[0]!.date, daily.at(-1)!.date];
  const weather = trip.weather.kind === 'file' ? `weather of ${trip.weather.path}` : `${trip.weather.kind} weather`;
  const begin = isoLocal(trace.grid.startMs, days);
  const span = `${trip.startH ? momentText(begin) : dayText(first)}${first === last ? '' : ` to ${dayText(last)}`} ${last.slice(0, 4)}`;
  const places = [...new Set(run.conditions.itinerary.legs.map(({ place }) => place.name))].join('; ');
  const where = hasTripFile ? `${trip.name} (${places})` : places;
  return oneLine([`${rig.name}: ${where}`, span, daysCounted(summary.days), weather, ...assumed].join('; '));
}

function chart(
  rig: Rig,
  { trace, days, summary }: Run,
  width: number,
  unicode: boolean,
  style: Style,
  size: ChartSize,
): string[] {
  const { startMs, stepH, steps } = trace.grid;
  let step = 0;
  for (let i = 1; i < steps; i++) if (trace.soc[i]! < trace.soc[step]!) step = i;
  const series = {
    soc: trace.soc,
    days: days.map((day) => ({
      date: day.date,
      firstStep: Math.max(0, Math.round((day.startMs - startMs) / (stepH * HOUR_MS))),
    })),
    floor: rig.battery.floor,
    lowest: { step, text: `${percent(summary.lowestSoc, rig.battery.floor)}, ${momentText(summary.lowestAt)}` },
  };
  return [
    style.bold('State of charge, %') + style.dim(`   (floor ${percent(rig.battery.floor)} dashed)`),
    ...socChart(series, width, unicode, style, size),
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
      `${percent(s.startSoc)} at the start, ${percent(s.endSoc)} at the end; full on ${fixed(s.fullDays, 0)} of ${counted(run.daily.length, 'day')}; ${fixed(s.equivalentCycles, 1)} full cycles`,
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

function nextStep(tone: 'good' | 'low' | 'flat', isDetailed: boolean): string {
  const tables = isDetailed ? '' : '--detail has the tables; ';
  return tone === 'good'
    ? `Next: ${tables}try a harder case, such as --weather dull.`
    : `Next: ${tables}try a change, such as --set battery.count=2.`;
}
