import { parse } from 'csv-parse/browser/esm/sync';
import { type Advice, advice, advised, option } from '../../message/index.js';
import { ConfigError, type ConfigIssue } from '../../rig/index.js';
import { type ColumnRole, dailyAirOf, roleOf, unitOf, wordsOf } from '../../table/index.js';
import type { WeatherColumnName } from './weather-series.js';

const HEADER_SEARCH_ROWS = 60;
export const MEASURED = ['ghi', 'dni', 'dhi', 'air', 'wind'] as const;
export const TIMES = ['clock', 'date', 'year', 'month', 'day', 'dayOfYear', 'minute'] as const;

/** Of a table of days, the highest and lowest temperature of each. */
const DAILY = ['airMax', 'airMin'] as const;

/** What `columns` may name: a heading (or its number, from 1) for each quantity, and where the stamp stands. */
export const COLUMN_OPTIONS = [...MEASURED, ...DAILY, ...TIMES, 'stamp'] as const;

/** Which column holds what, from 0. */
export type CsvLayout = Partial<Record<ColumnRole | (typeof DAILY)[number], number>>;

/** The rows of a delimited table and its delimiter. @throws ConfigError with the line where it is none */
export function tableRows(text: string, file: string): { rows: string[][]; delimiter: string } {
  const delimiter = delimiterOf(text);
  // Without quotes a table is its lines and delimiters, ten times faster so; with quotes a parser is needed.
  if (!text.includes('"')) return { rows: text.split(/\r\n|\n|\r/).map((line) => line.split(delimiter)), delimiter };
  try {
    const rows: string[][] = parse(text, {
      delimiter,
      bom: true,
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: false,
    });
    return { rows, delimiter };
  } catch (error) {
    const { message, lines } = error as Error & { lines?: number };
    throw new ConfigError([
      {
        code: 'weather_csv',
        path: '',
        file,
        message: `not a readable table: ${message}`,
        ...(lines !== undefined && { line: lines }),
      },
    ]);
  }
}

/** The delimiter that most of the first lines contain; a comma, which may be a decimal mark too, must be in twice as many. */
export function delimiterOf(text: string): string {
  const head = text.slice(0, 20_000).split('\n').slice(0, HEADER_SEARCH_ROWS);
  let best = ',';
  let most = 0;
  for (const delimiter of ['\t', ';', '|', ',']) {
    const lines = head.filter((line) => line.includes(delimiter)).length / (delimiter === ',' ? 2 : 1);
    if (lines > most) {
      best = delimiter;
      most = lines;
    }
  }
  return best;
}

/** The first of the first 60 rows that names light and a time, or -1. */
export function findHeader(rows: readonly string[][], columns: Readonly<Record<string, string>>): number {
  const chosen = new Set(Object.values(columns).map((heading) => wordsOf(heading)));
  for (let i = 0; i < Math.min(rows.length, HEADER_SEARCH_ROWS); i++) {
    const row = rows[i]!;
    let light = false;
    let time = false;
    for (const cell of row) {
      const role = roleOf(cell);
      light ||= role === 'ghi' || role === 'dni' || role === 'dhi' || (cell !== '' && chosen.has(wordsOf(cell)));
      time ||= role !== undefined && (TIMES as readonly string[]).includes(role);
    }
    if (row.length >= 3 && light && time) return i;
  }
  return -1;
}

const UNIT = /^[([]*\s*(k?wh?[ /]?m|[km]?j[ /]?c?m|k?m\/[sh]|deg|°|[ckf]\b)/i;

/** A second heading row that holds units only: no cell is a number, and one at least is a unit. */
export function isUnitsRow(headings: readonly string[], row: readonly string[]): boolean {
  if (row.some((cell) => cell.trim() !== '' && Number.isFinite(Number(cell.replace(',', '.'))))) return false;
  return headings.some((_, i) => UNIT.test((row[i] ?? '').trim()));
}

/** Finds each quantity's column by the user's choice, then by wording; a quantity with two candidates is an issue. */
export function layoutOf(
  headings: readonly string[],
  columns: Readonly<Record<string, string>>,
  line: number,
  file: string,
): CsvLayout {
  const issues: ConfigIssue[] = [];
  const issue = (code: string, message: string, hint: string | Advice) =>
    issues.push({ code, path: '', file, line, message, ...(typeof hint === 'string' ? { hint } : advised(hint)) });
  const layout: CsvLayout = {};
  for (const [role, heading] of Object.entries(columns)) {
    if (role === 'stamp') continue;
    if (!(COLUMN_OPTIONS as readonly string[]).includes(role)) {
      issue('weather_column', `"${role}" is not a column that can be named`, `one of ${COLUMN_OPTIONS.join(', ')}`);
      continue;
    }
    let at = headings.indexOf(heading.trim());
    if (at < 0) at = headings.findIndex((h) => wordsOf(h) === wordsOf(heading));
    if (at < 0 && /^\d+$/.test(heading) && Number(heading) >= 1 && Number(heading) <= headings.length)
      at = Number(heading) - 1;
    if (at < 0) issue('weather_column', `no column is headed "${heading}"`, `the headings are ${headings.join(', ')}`);
    else layout[role as keyof CsvLayout] = at;
  }
  for (const role of DAILY) {
    const at = headings.findIndex((heading) => dailyAirOf(heading) === role);
    if (layout[role] === undefined && at >= 0) layout[role] = at;
  }
  const roles = headings.map(roleOf);
  for (const role of [...MEASURED, ...TIMES]) {
    if (layout[role] !== undefined) continue;
    let found = roles.flatMap((r, i) => (r === role ? [i] : []));
    if (isMeasured(role)) {
      const withUnit = found.filter((i) => !unitOf(headings[i]!, role).assumed);
      if (withUnit.length > 0) found = withUnit;
      if (found.length > 1)
        issue(
          'weather_ambiguous',
          `${found.length} columns could be the ${WORD[role]}: ${found.map((i) => headings[i]).join(', ')}`,
          advice`name one: ${option('columns', role, headings[found[0]!]!)}`,
        );
    }
    if (found[0] !== undefined) layout[role] = found[0];
  }
  if (issues.length > 0) throw new ConfigError(issues);
  return layout;
}

function isMeasured(role: ColumnRole): role is WeatherColumnName {
  return (MEASURED as readonly string[]).includes(role);
}

const WORD = {
  ghi: 'global irradiance',
  dni: 'direct normal irradiance',
  dhi: 'diffuse irradiance',
  air: 'air temperature',
  wind: 'wind speed',
} as const;
