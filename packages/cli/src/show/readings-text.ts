import type { Rig } from '@stayput/core';
import type { NextReading, ReadingsCalibration, Told } from '@stayput/core/model';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import { closingLines, findingLines, isDanger } from './findings.js';
import { counted, energy, fixed, percent } from './number.js';
import { oneLine } from './style.js';
import { type Tabled, table, wrapped } from './table.js';

const NAMES: Readonly<Record<Told['name'], string>> = {
  loads: 'loads, times the rig',
  heatLeak: "fridge's heat leak, times",
  harvest: 'panels, times the rig',
  shade: 'shade, of the direct sun',
  capacity: 'battery, times the rig',
  loadWhPerDay: 'loads a day, Wh',
  solarWhPerDay: 'sun a day, Wh',
};
const NEXT: Readonly<Record<NextReading['what'], string>> = {
  'used in all': 'what all loads used over the same days (used)',
  'solar in all': 'what the controllers gave over the same days (solar)',
  'days full': 'on how many days the battery was full (full)',
  'lowest charge': 'the lowest state of charge (lowest)',
  'charge on one morning': 'the state of charge at seven on a morning (moments)',
  'charge on one evening': 'the state of charge at six on an evening (moments)',
};
/** Not much narrower than before: the readings say nothing about it. */
const AS_WIDE = 0.85;

export function readingsTabled({ told }: ReadingsCalibration): Tabled<Told> {
  const shown = ({ name }: Told, value: number) =>
    name === 'shade' ? percent(value) : name.endsWith('PerDay') ? fixed(value, 0) : fixed(value, 2);
  const span = (one: Told, { low, high }: Told['before']) => `${shown(one, low)} to ${shown(one, high)}`;
  return [
    told,
    [
      { head: 'Value, 9 times in 10', cell: ({ name }) => NAMES[name] },
      { head: 'before', cell: (one) => span(one, one.before), align: 'right' },
      { head: 'by the readings', cell: (one) => span(one, one.after), align: 'right' },
      { head: 'middle', cell: (one) => shown(one, one.after.middle), align: 'right' },
      { head: '', cell: ({ width }) => (width > AS_WIDE ? 'as wide as before' : ''), drop: 1 },
    ],
  ];
}

/** What readings tell, for people: the answer, the intervals, twice the battery, and what to read next. */
export function readingsText(
  rig: Rig,
  calibration: ReadingsCalibration,
  { quiet, findings }: { readonly quiet: boolean; readonly findings: readonly ShownFinding[] },
  { style, terminal }: Pick<Io, 'style' | 'terminal'>,
): string[] {
  const { width } = terminal;
  const { told, days, readings, twice, next, unexplained } = calibration;
  const of = (name: Told['name']) => told.find((one) => one.name === name)!.after;
  const [loads, sun] = [of('loadWhPerDay'), of('solarWhPerDay')];
  const verdict = `By ${counted(readings, 'reading')} over ${counted(days, 'day')} ${oneLine(rig.name)} uses ${energy(loads.low)} to ${energy(loads.high)} a day, and the sun gives ${energy(sun.low)} to ${energy(sun.high)}, 9 times in 10.`;
  const lines = wrapped(verdict, width).map((line) => style.bold(style.green(line)));
  if (unexplained.length > 0)
    lines.push(
      ...wrapped(
        `No vehicle of this rig shows ${unexplained.join(', ')}: look at the reading, the rig, or what is not in it (engine, mains, another place)`,
        width,
      ).map(style.red),
    );
  if (quiet) return [...lines, ...findingLines(findings.filter(isDanger), width, style)];
  const [best] = next;
  const item = (text: string) => wrapped(`- ${text}`, width, '  ');
  return [
    ...lines,
    '',
    ...table(...readingsTabled(calibration), width, style.bold),
    '',
    style.bold('Twice the battery, over the same days'),
    ...item(
      `${counted(Math.round(twice.fullDays[1]), 'day')} full in place of ${Math.round(twice.fullDays[0])}, ${energy(twice.solarWhPerDay[1])} a day from the sun in place of ${energy(twice.solarWhPerDay[0])}, never below ${percent(twice.lowest[1])} in place of ${percent(twice.lowest[0])}; cut off in ${percent(twice.cut[1])} of the vehicles in place of ${percent(twice.cut[0])}`,
    ),
    '',
    style.bold('What to read next'),
    ...(best
      ? item(
          `${NEXT[best.what]}: it would take away some ${percent(best.narrows)} of what is open about loads and panels`,
        )
      : item('nothing more is asked for')),
    '',
    style.bold('What it rests on'),
    ...item(
      'vehicles drawn from what the rig may be, each followed in weather of the climate; parked, without engine and mains',
    ),
    ...item('"panels" hold what is not known of the light there too: dirt, wires, the climate of the place'),
    ...closingLines(
      findings,
      'Next: --ensemble-out FILE keeps these vehicles; stayput tonight RIG --ensemble FILE follows them.',
      width,
      style,
    ),
  ];
}
