import { type Advice, advice, advised, option } from '../../message/index.js';
import { ConfigError, type ConfigIssue } from '../../rig/index.js';
import { decimalMarkOf } from '../cells/cell-number.js';
import { splitLine } from '../cells/split-line.js';
import type { LogNote } from '../note.js';
import { LOG_COLUMNS, type LogColumnName, type LogOptions, TIDY_HEADINGS } from '../types.js';
import { type Counter, readCounter } from './counters.js';
import {
  type HeadingRead,
  type LogUnit,
  logWords,
  MILLIVOLTS,
  PERCENT,
  RATIO,
  readHeading,
  timeRoleOf,
  unitFor,
  unitsOf,
  unitTaken,
} from './heading-wording.js';

const NAME_TIME = advice`name it: ${option('columns', 'time', 'HEADING')}`;
const NAME_COLUMNS = advice`name them: ${option('columns', 'voltage', 'HEADING')}, ${option('columns', 'current', 'HEADING')}`;

const HEADER_SEARCH_LINES = 100;
const DELIMITERS = ['\t', ';', '|', ','] as const;
/** Columns that two headings may not both claim; of the others the first is taken, and said. */
const NO_GUESS: readonly LogColumnName[] = [
  'voltage',
  'current',
  'power',
  'soc',
  'solarPower',
  'solarCurrent',
  'loadPower',
  'loadCurrent',
  'alternatorPower',
  'alternatorCurrent',
];
/** Without a unit in the heading: a battery voltage above this is in millivolts. */
const MILLIVOLTS_ABOVE = 150;
/** The same of panels. */
const PANEL_MILLIVOLTS_ABOVE = 1000;

/** A column of the file that a value is made of. */
export interface ColumnPart {
  readonly index: number;
  readonly unit: LogUnit;
  /** whether heading, option or cells name the unit; else it was taken */
  readonly isNamed: boolean;
  /** 1 or -1: what it counts for */
  readonly factor: number;
}

export interface LogColumn {
  readonly role: LogColumnName;
  /** mostly one; the value is their sum */
  readonly parts: readonly ColumnPart[];
  readonly by: 'wording' | 'option';
  /** its heading says that positive is out of the battery */
  readonly outward: boolean;
  /** its parts are what goes in and what goes out, each in a column of its own: an empty one counts as nothing */
  readonly isSplit: boolean;
  /** the side of the controller that the heading says a solar current is of */
  readonly side?: 'panel' | 'battery';
  /** the heading speaks of one direction only */
  readonly flow?: 'in' | 'out';
}

/** How a log's table is laid out. Indexes from 0. */
export interface LogLayout {
  readonly delimiter: string;
  readonly decimalMark: '.' | ',';
  readonly headings: readonly string[];
  /** the same as they stand, without the units of a row below */
  readonly headingCells: readonly string[];
  /** index of the first line of data */
  readonly firstLine: number;
  readonly preface: readonly string[];
  readonly time: number;
  readonly date?: number;
  readonly columns: readonly LogColumn[];
  /** counters of charge or energy, that the columns are held against */
  readonly counters: readonly Counter[];
  readonly unused: readonly string[];
  readonly notes: readonly LogNote[];
}

/**
 * Finds the table in the first lines of a log: delimiter, headings (the first row that names a time and something measured),
 * columns by the user's choice and then by wording, units, decimal mark.
 * @throws ConfigError that names what was found and the option that helps
 */
export function layoutOfLog(
  lines: readonly string[],
  file: string,
  options: Pick<LogOptions, 'columns' | 'units' | 'ignore'>,
): LogLayout {
  const chosen = options.columns ?? {};
  const found = findTable(lines, chosen);
  if (found === undefined) throw new ConfigError([noTable(lines, file, chosen)]);
  const { delimiter, line } = found;
  let headings = found.headings;
  let firstLine = line + 1;
  const below = lines[firstLine] === undefined ? undefined : splitLine(lines[firstLine]!, delimiter);
  if (below !== undefined && isUnitsRow(below)) {
    headings = headings.map((heading, k) => `${heading} (${(below[k] ?? '').trim()})`.replace(' ()', ''));
    firstLine++;
  }
  const sample = lines.slice(firstLine, firstLine + 2000).map((text) => splitLine(text, delimiter));
  const issues: ConfigIssue[] = [];
  const notes: LogNote[] = [];
  const issue = (code: string, message: string, hint: string | Advice) =>
    issues.push({
      code,
      path: '',
      file,
      line: line + 1,
      message,
      ...(typeof hint === 'string' ? { hint } : advised(hint)),
    });

  const byOption = new Map<string, number>();
  for (const [role, heading] of Object.entries(chosen)) {
    if (role !== 'time' && role !== 'date' && !(LOG_COLUMNS as readonly string[]).includes(role)) {
      issue(
        'log_column',
        `"${role}" is not a column that can be named`,
        `one of time, date, ${LOG_COLUMNS.join(', ')}`,
      );
      continue;
    }
    const at = columnNamed(heading, headings);
    if (at < 0) issue('log_column', `no column is headed "${heading}"`, `the headings are ${headings.join(', ')}`);
    else byOption.set(role, at);
  }
  const taken = new Set(byOption.values());
  const times = headings.map((heading, k) => (taken.has(k) ? undefined : timeRoleOf(heading)));
  const date = byOption.get('date') ?? (byOption.has('time') ? -1 : times.indexOf('date'));
  let time = byOption.get('time') ?? times.indexOf('time');
  if (time < 0) time = date;
  if (time < 0 && issues.length === 0)
    issue('log_no_time', `no column of time; the headings are ${headings.join(', ')}`, NAME_TIME);
  // a "date" that holds the time of day as well needs no second column, and is the better stamp
  const hasClock = (column: number) => sample.some((row) => /\d:\d\d/.test(row[column] ?? ''));
  const isPair = date >= 0 && date !== time && !hasClock(date);
  if (date >= 0 && date !== time && !isPair && !byOption.has('time')) time = date;

  const ignored = new Set<number>();
  for (const heading of options.ignore ?? []) {
    const at = columnNamed(heading, headings);
    if (at < 0) issue('log_column', `no column is headed "${heading}"`, `the headings are ${headings.join(', ')}`);
    else ignored.add(at);
  }
  const read = headings.map((heading, k) =>
    taken.has(k) || ignored.has(k) || k === time || k === date ? undefined : readHeading(heading),
  );
  const unitOption = (role: LogColumnName): LogUnit | undefined => {
    const text = options.units?.[role];
    if (text === undefined) return undefined;
    const found = unitFor(role, text);
    if (found === undefined)
      issue('log_unit', `"${text}" is no unit of the ${role}`, `such as ${unitsOf(role).join(', ')}`);
    return found;
  };
  for (const role of Object.keys(options.units ?? {}))
    if (!(LOG_COLUMNS as readonly string[]).includes(role))
      issue('log_unit', `"${role}" is not a column that can have a unit`, `one of ${LOG_COLUMNS.join(', ')}`);
  const part = (role: LogColumnName, index: number, headed: LogUnit | undefined, factor: number): ColumnPart => {
    const named = unitOption(role) ?? headed ?? unitOfSuffix(role, index, sample);
    const taken = named ?? unitOfCells(role, index, sample);
    const isTidy = headings[index] === TIDY_HEADINGS[role];
    return { index, unit: taken, isNamed: named !== undefined || isTidy, factor };
  };
  const columns: LogColumn[] = [];
  for (const role of LOG_COLUMNS) {
    const own = byOption.get(role);
    if (own !== undefined) {
      const heading = readHeading(headings[own]!);
      columns.push({
        role,
        parts: [part(role, own, unitFor(role, headings[own]!), 1)],
        by: 'option',
        outward: heading?.outward ?? false,
        isSplit: false,
        ...(heading?.side && { side: heading.side }),
      });
      continue;
    }
    const found = best(role, read, headings, issue, notes);
    if (found === undefined) continue;
    const first = read[found.of[0]!]!;
    columns.push({
      role,
      parts: found.of.map((index) =>
        part(role, index, read[index]!.unit, found.isSplit && read[index]!.flow === 'out' ? -1 : 1),
      ),
      by: 'wording',
      outward: !found.isSplit && first.outward,
      isSplit: found.isSplit,
      ...(first.side && { side: first.side }),
      ...(first.flow && { flow: first.flow }),
    });
  }
  if (columns.length === 0 && issues.length === 0)
    issue(
      'log_no_column',
      `no column of voltage, current, power or state of charge was recognised; the headings are ${headings.join(', ')}`,
      NAME_COLUMNS,
    );
  if (issues.length > 0) throw new ConfigError(issues);
  const counters = headings.flatMap((heading, index) => {
    const isFree = !taken.has(index) && !ignored.has(index) && index !== time && index !== date && !read[index];
    const counter = isFree ? readCounter(heading) : undefined;
    return counter ? [{ index, ...counter }] : [];
  });
  const used = new Set([
    time,
    date,
    ...counters.map(({ index }) => index),
    ...columns.flatMap(({ parts }) => parts.map(({ index }) => index)),
  ]);
  return {
    delimiter,
    decimalMark: decimalMarkOf(
      sample.flatMap((row) => columns.flatMap(({ parts }) => parts.map(({ index }) => row[index] ?? ''))),
    ),
    headings,
    headingCells: found.headings,
    firstLine,
    preface: lines.slice(0, line),
    time,
    ...(isPair && { date }),
    columns,
    counters,
    unused: headings.filter((heading, k) => !used.has(k) && heading !== ''),
    notes,
  };
}

function columnNamed(heading: string, headings: readonly string[]): number {
  const exact = headings.indexOf(heading.trim());
  if (exact >= 0) return exact;
  const words = logWords(heading);
  const same = words === '' ? -1 : headings.findIndex((one) => logWords(one) === words);
  if (same >= 0) return same;
  const bare = headings.findIndex((one) => one.toLowerCase() === heading.trim().toLowerCase());
  if (bare >= 0) return bare;
  return /^\d+$/.test(heading) && Number(heading) >= 1 && Number(heading) <= headings.length ? Number(heading) - 1 : -1;
}

interface Table {
  readonly delimiter: string;
  readonly line: number;
  readonly headings: readonly string[];
}

/** The row of headings under the delimiter that makes most of it. With every column given by number, none is needed. */
function findTable(lines: readonly string[], chosen: Readonly<Record<string, string>>): Table | undefined {
  const named = Object.values(chosen);
  let table: Table | undefined;
  let most = 0;
  for (const delimiter of DELIMITERS)
    for (let i = 0; i < Math.min(lines.length, HEADER_SEARCH_LINES); i++) {
      if (!lines[i]!.includes(delimiter)) continue;
      const cells = splitLine(lines[i]!, delimiter).map((cell) => cell.trim());
      const isChosen = (cell: string) =>
        cell !== '' &&
        named.some((one) => one.trim() === cell || (logWords(one) !== '' && logWords(one) === logWords(cell)));
      const times = cells.filter(
        (cell) => timeRoleOf(cell) !== undefined || (isChosen(cell) && !readHeading(cell)),
      ).length;
      const measured = cells.filter((cell) => isChosen(cell) || readHeading(cell) !== undefined).length;
      const score = times > 0 || 'time' in chosen ? measured : 0;
      const hasNumbers = cells.some((cell) => cell !== '' && Number.isFinite(Number(cell)));
      if (score > most && !hasNumbers) {
        most = score;
        table = { delimiter, line: i, headings: cells };
      }
    }
  if (table !== undefined) return table;
  const numbers = named.map(Number);
  if (!('time' in chosen) || named.length < 2 || !numbers.every((value) => Number.isInteger(value) && value >= 1))
    return undefined;
  for (const delimiter of DELIMITERS) {
    const line = lines.findIndex((text) => splitLine(text, delimiter).length >= Math.max(...numbers));
    if (line < 0) continue;
    const headings = splitLine(lines[line]!, delimiter).map((_, k) => `column ${k + 1}`);
    return { delimiter, line: line - 1, headings };
  }
  return undefined;
}

function noTable(lines: readonly string[], file: string, chosen: Readonly<Record<string, string>>): ConfigIssue {
  const issue = (code: string, message: string, hint: string | Advice): ConfigIssue => ({
    code,
    path: '',
    file,
    line: 1,
    message,
    ...(typeof hint === 'string' ? { hint } : advised(hint)),
  });
  const rows = DELIMITERS.flatMap((delimiter) =>
    lines.slice(0, HEADER_SEARCH_LINES).map((text) => splitLine(text, delimiter)),
  );
  const widest = rows.reduce((a, b) => (b.length > a.length ? b : a), []);
  if (widest.length < 2)
    return issue(
      'log_not_table',
      'this is not a log: no row of it has two columns',
      'a log is a table with a row of headings, its columns set apart by comma, semicolon, tab or |',
    );
  const headed = rows.find((cells) =>
    cells.some((cell) => readHeading(cell.trim()) !== undefined && !/^[\d.,\s]*$/.test(cell)),
  );
  if (headed !== undefined && !headed.some((cell) => timeRoleOf(cell.trim()) !== undefined))
    return issue('log_no_time', `no column of time; the headings are ${short(headed)}`, NAME_TIME);
  const timed = rows.find((cells) => cells.length > 1 && cells.some((cell) => timeRoleOf(cell.trim()) !== undefined));
  if (timed !== undefined)
    return issue(
      'log_no_column',
      `no column of voltage, current, power or state of charge was recognised; the headings are ${short(timed)}`,
      NAME_COLUMNS,
    );
  return issue(
    'log_no_headings',
    `no row of headings with a time and something measured; the widest row reads ${short(widest)}`,
    Object.keys(chosen).length > 0
      ? advice`every column can be named by its number: ${option('columns', 'time', '1')}, ${option('columns', 'voltage', '2')}`
      : advice`name the columns: ${option('columns', 'time', 'HEADING')}, ${option('columns', 'voltage', 'HEADING')}`,
  );
}

const short = (cells: readonly string[]) =>
  cells
    .slice(0, 12)
    .map((cell) => cell.trim().slice(0, 40))
    .join(', ');

function isUnitsRow(cells: readonly string[]): boolean {
  const filled = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
  return (
    cells.length > 1 &&
    filled.length > 0 &&
    filled.every((cell) => cell.length <= 24 && !/\d{2}/.test(cell)) &&
    filled.some((cell) => /^[[(]?\s*(m?v|m?a|k?w|%|°?[cf]|deg ?[cf]|k?wh|m?ah|w\/m[²2])\s*[\])]?$/i.test(cell))
  );
}

/** Words that number or place one of several alike: panels on two controllers, loads on two fuses. */
const ORDINAL =
  /\b(\d|[a-d]|i{1,3}|one|two|three|left|right|front|rear|back|roof|side|portable|port|starboard|links|rechts|vorne|hinten|dach|gauche|droite|avant|arriere|toit|izquierd[ao]|derech[ao]|techo|sinistr[ao]|destr[ao]|tetto|dak|tak|dach)\b/g;
/** Of these several alike add up. */
const SUMMED: readonly LogColumnName[] = [
  'solarPower',
  'solarCurrent',
  'loadPower',
  'loadCurrent',
  'alternatorPower',
  'alternatorCurrent',
];

interface Found {
  /** indexes of the columns that make it up */
  readonly of: readonly number[];
  readonly isSplit: boolean;
}

function best(
  role: LogColumnName,
  read: readonly (HeadingRead | undefined)[],
  headings: readonly string[],
  issue: (code: string, message: string, hint: Advice) => void,
  notes: LogNote[],
): Found | undefined {
  const ofRole = read.flatMap((one, k) => (one?.role === role ? [k] : []));
  // what shows both directions in one column comes before a column for each
  const net = ofRole.filter((k) => read[k]!.flow === undefined);
  const all = net.length > 0 ? net : ofRole;
  if (all.length === 0) return undefined;
  const whole = (of: readonly number[]): Found => ({ of, isSplit: false });
  if (net.length === 0) {
    const [into, out] = (['in', 'out'] as const).map((flow) => all.filter((k) => read[k]!.flow === flow));
    if (into!.length === 1 && out!.length === 1) return { of: [into![0]!, out![0]!], isSplit: true };
    if (all.length === 1) return whole(all);
  }
  const top = Math.max(...all.map((k) => read[k]!.score));
  const candidates = all.filter((k) => read[k]!.score === top);
  if (candidates.length > 1) {
    const bare = candidates.map((k) => logWords(headings[k]!).replace(ORDINAL, '#').replace(/[ #]+/g, ' ').trim());
    const isAlike =
      SUMMED.includes(role) &&
      new Set(bare).size === 1 &&
      new Set(candidates.map((k) => headings[k])).size === candidates.length;
    const named = candidates.map((k) => headings[k]!);
    if (isAlike) {
      notes.push({ code: 'log_columns_summed', args: { column: role, headings: named } });
      return whole(candidates);
    }
    if (NO_GUESS.includes(role))
      issue(
        'log_ambiguous',
        `${candidates.length} columns could be the ${role}: ${named.join(', ')}`,
        advice`name one: ${option('columns', role, headings[candidates[0]!]!)}`,
      );
    else notes.push({ code: 'log_column_first', args: { column: role, headings: named } });
  }
  return whole([candidates[0]!]);
}

const CELL_WITH_UNIT = /^[^a-z%°]*\d[^a-z%°]*\s*(mv|ma|mw|kw|v|a|w|%|°?\s?c|°?\s?f|w\/m[²2])\)?$/i;

/** The unit that stands in most cells of a column. */
function unitOfSuffix(role: LogColumnName, index: number, sample: readonly (readonly string[])[]): LogUnit | undefined {
  const counts = new Map<string, number>();
  let filled = 0;
  for (const row of sample) {
    const cell = (row[index] ?? '').trim();
    if (cell === '' || cell.length > 40) continue;
    filled++;
    const suffix = CELL_WITH_UNIT.exec(cell)?.[1]?.toLowerCase();
    if (suffix !== undefined) counts.set(suffix, (counts.get(suffix) ?? 0) + 1);
  }
  for (const [suffix, count] of counts) if (count > filled / 2) return unitFor(role, suffix);
  return undefined;
}

/** The unit of a column that names none, judged from its size where that can tell. */
function unitOfCells(role: LogColumnName, index: number, sample: readonly (readonly string[])[]): LogUnit {
  const values = sample
    .map((row) => Number((row[index] ?? '').replace(',', '.').replace('%', '') || Number.NaN))
    .filter((value) => Number.isFinite(value));
  const most = values.reduce((a, b) => Math.max(a, b), -Infinity);
  if (role === 'soc') return most <= 1.001 && most > 0 ? RATIO : PERCENT;
  if (role === 'voltage' && most > MILLIVOLTS_ABOVE) return MILLIVOLTS;
  if (role === 'solarVoltage' && most > PANEL_MILLIVOLTS_ABOVE) return MILLIVOLTS;
  return unitTaken(role);
}
