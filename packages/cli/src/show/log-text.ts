import type { CellReason, LogReading } from '@stayput/core';
import type { Io } from '../io.js';
import { CELL_REASON_WORDS, logNoteText, ROW_REASON_WORDS, shortfallText } from '../words/log-words.js';
import { labelled } from './labelled.js';
import { logDaysTabled } from './log-days.js';
import { logVerdict, readWords, timeWords } from './log-words.js';
import { counted, fixed, hours } from './number.js';
import { oneLine, type Style } from './style.js';
import { table, wrapped } from './table.js';

export interface ShownLog {
  readonly file: string;
  readonly reading: LogReading;
  readonly quiet: boolean;
}

const MAX_GAPS = 5;
/** To be known, and no reason to look again. */
const QUIET: ReadonlySet<string> = new Set(['log_unit', 'log_unit_found']);

/** A log for people: the answer first, then the days, then how it was read. */
export function logText(
  { file, reading, quiet }: ShownLog,
  { style, terminal }: Pick<Io, 'style' | 'terminal'>,
): string[] {
  const { width } = terminal;
  const { shortfall } = reading;
  const lines = shortfall ? wrapped(shortfallText(shortfall), width).map((line) => style.bold(style.yellow(line))) : [];
  lines.push(...wrapped(logVerdict(reading), width).map((line) => style.bold(style.green(line))));
  if (quiet) return lines;
  lines.push(...wrapped(`${oneLine(file)}: ${timeWords(reading)}`, width, '  ', '  '), '');
  lines.push(...table(...logDaysTabled(reading, style), width, style.bold), '');
  lines.push(style.bold('How it was read'), ...labelled(readWords(reading), width, style), '');
  lines.push(...columnTable(reading, width, style));
  if (reading.unused.length > 0)
    lines.push(...wrapped(`not used: ${reading.unused.map(oneLine).join(', ')}`, width).map(style.dim));
  if (reading.reasons.length > 0) lines.push('', ...reasonTable(reading, width, style));
  const cells = cellTable(reading, width, style);
  if (cells.length > 0) lines.push('', ...cells);
  if (reading.gapCount > 0) lines.push('', ...gapLines(reading, width, style));
  if (reading.warnings.length > 0) {
    lines.push('', style.bold('To know'));
    for (const note of reading.warnings)
      lines.push(
        ...wrapped(`- ${oneLine(logNoteText(note))}`, width, '  ').map(
          QUIET.has(note.code) ? (line) => line : style.yellow,
        ),
      );
  }
  lines.push('', ...wrapped('Next: stayput compare RIG LOG --place NAME says which part does not do its job.', width));
  return lines;
}

function columnTable({ columns, time }: LogReading, width: number, style: Style): string[] {
  const rows = [
    { what: 'time', heading: time.headings.join(' + '), unit: time.zone, tidy: 'time' },
    ...Object.entries(columns).map(([what, { heading, unit, tidy }]) => ({ what, heading, unit, tidy })),
  ];
  return table(
    rows,
    [
      { head: 'Column', cell: ({ what }) => what },
      { head: 'heading in the log', cell: ({ heading }) => oneLine(heading).slice(0, 40) },
      { head: 'unit', cell: ({ unit }) => unit },
      { head: 'in the tidy log', cell: ({ tidy }) => tidy, drop: 1 },
    ],
    width,
    style.bold,
  );
}

function reasonTable({ reasons }: LogReading, width: number, style: Style): string[] {
  return table(
    reasons,
    [
      { head: 'Rows', cell: ({ count }) => fixed(count, 0), align: 'right' },
      {
        head: '',
        cell: ({ outcome }) => outcome,
        mark: ({ outcome }, text) => (outcome === 'rejected' ? style.yellow(text) : text),
      },
      { head: 'first line', cell: ({ firstLine }) => String(firstLine), align: 'right', drop: 1 },
      { head: 'why', cell: ({ code }) => ROW_REASON_WORDS[code], wrap: true },
    ],
    width,
    style.bold,
  );
}

/** Cells that were not used, by column and reason. */
function cellTable({ columns }: LogReading, width: number, style: Style): string[] {
  const rows = Object.values(columns).flatMap(({ heading, unused = {} }) =>
    (Object.entries(unused) as [CellReason, number][]).map(([reason, count]) => ({ heading, reason, count })),
  );
  if (rows.length === 0) return [];
  return table(
    rows,
    [
      { head: 'Cells', cell: ({ count }) => fixed(count, 0), align: 'right' },
      { head: 'not used', cell: ({ heading }) => oneLine(heading).slice(0, 40) },
      { head: 'why', cell: ({ reason }) => CELL_REASON_WORDS[reason], wrap: true },
    ],
    width,
    style.bold,
  );
}

function gapLines({ gaps, gapCount, gapHours }: LogReading, width: number, style: Style): string[] {
  const longest = [...gaps].sort((a, b) => b.hours - a.hours).slice(0, MAX_GAPS);
  const told = longest.map(({ from, hours: h }) => `${from.slice(0, 16).replace('T', ' ')} UTC for ${hours(h)}`);
  const rest = gapCount > told.length ? `; the ${told.length} longest` : '';
  return wrapped(`${counted(gapCount, 'gap')}, ${hours(gapHours)} in all${rest}: ${told.join('; ')}`, width, '  ').map(
    (line, k) => (k === 0 ? style.bold(line.slice(0, line.indexOf(':'))) + line.slice(line.indexOf(':')) : line),
  );
}
