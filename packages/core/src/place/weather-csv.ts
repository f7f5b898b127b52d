import { parse } from 'csv-parse/browser/esm/sync';
import { ConfigError, type ConfigIssue } from '../rig/index.js';
import {
  type ColumnRole,
  clockOffsetOf,
  roleOf,
  type StampPosition,
  stampPositionOf,
  unitOf,
  wordsOf,
} from './column-wording.js';
import { type DateOrder, dateOrderOf, readStamp, readTimeOfDay } from './time-stamp.js';
import type { WeatherNote } from './types.js';
import { commonStepMs, type WeatherColumnName, type WeatherRows } from './weather-series.js';

const HOUR_MS = 3_600_000;
const HEADER_SEARCH_ROWS = 60;
const MEASURED = ['ghi', 'dni', 'dhi', 'air', 'wind'] as const;
const TIMES = ['clock', 'date', 'year', 'month', 'day', 'dayOfYear', 'minute'] as const;
const LIMITS = { ghi: [-50, 2500], dni: [-50, 2500], dhi: [-50, 2500], air: [-90, 70], wind: [0, 100] } as const;
const MISSING_WORD = /^[\s"']*(|-+|\.|na|n\/a|nan|nd|null|none|missing|#n\/a|\?|m|inf|-inf)[\s"']*$/i;

/** What `columns` may name: a heading (or its number, from 1) for each quantity, and where the stamp stands. */
export const COLUMN_OPTIONS = [...MEASURED, ...TIMES, 'stamp'] as const;

type Layout = Partial<Record<ColumnRole, number>>;

/**
 * Reads a delimited text table of weather. The heading row is the first of the first 60 that names light and a time;
 * rows before it are skipped. Delimiter , ; tab or |; decimal comma where the delimiter allows it.
 * @param columns headings chosen by the user: { air: 't_air_c', stamp: 'centred' }
 * @throws ConfigError that names the line, the headings read and the option that helps
 */
export function readWeatherCsv(text: string, file: string, columns: Readonly<Record<string, string>>): WeatherRows {
  const refuse = (code: string, message: string, extra: Partial<ConfigIssue> = {}): never => {
    throw new ConfigError([{ code, path: '', file, message, ...extra }]);
  };
  const delimiter = delimiterOf(text);
  let rows: string[][];
  try {
    // Without quotes a table is its lines and delimiters, ten times faster so; with quotes a parser is needed.
    rows = text.includes('"')
      ? parse(text, { delimiter, bom: true, relax_column_count: true, relax_quotes: true, skip_empty_lines: false })
      : text.split(/\r\n|\n|\r/).map((line) => line.split(delimiter));
  } catch (error) {
    const line = (error as { lines?: number }).lines;
    return refuse(
      'weather_csv',
      `not a readable table: ${(error as Error).message}`,
      line === undefined ? {} : { line },
    );
  }
  const headerRow = findHeader(rows, columns);
  if (headerRow < 0) {
    const widest = rows.slice(0, HEADER_SEARCH_ROWS).reduce((a, b) => (b.length > a.length ? b : a), []);
    return refuse(
      'weather_no_light',
      widest.length < 3
        ? 'this is not a weather file: no EPW header and no table with headings for time, light and air temperature'
        : `no row of headings with a time and an irradiance in W/m2 or Wh/m2 was found; the widest row reads: ${widest.slice(0, 12).join(', ')}`,
      { line: 1, hint: 'name columns by option: ghi=HEADING, air=HEADING, clock=HEADING' },
    );
  }
  let headings = rows[headerRow]!.map((h) => h.trim());
  let firstRow = headerRow + 1;
  const below = rows[firstRow];
  if (below !== undefined && isUnitsRow(headings, below)) {
    headings = headings.map((h, i) => `${h} ${below[i] ?? ''}`.trim());
    firstRow++;
  }
  const layout = layoutOf(headings, columns, headerRow + 1, file);
  if (layout.ghi === undefined && (layout.dni === undefined || layout.dhi === undefined))
    refuse(
      'weather_no_light',
      `needs global horizontal irradiance, or direct normal with diffuse horizontal; the headings are ${headings.join(', ')}`,
      { line: headerRow + 1, hint: 'name the column by option: ghi=HEADING' },
    );
  if (layout.air === undefined)
    refuse('weather_no_air', `no air temperature column; the headings are ${headings.join(', ')}`, {
      line: headerRow + 1,
      hint: 'name the column by option: air=HEADING',
    });

  const kept: number[] = [];
  for (let i = firstRow; i < rows.length; i++) if (rows[i]!.some((cell) => cell.trim() !== '')) kept.push(i);
  if (kept.length < 2) refuse('weather_empty', 'the file has headings but fewer than two rows of weather');
  const decimalComma = delimiter !== ',';
  const notes: WeatherNote[] = [];
  const problems: ConfigIssue[] = [];
  const problem = (row: number, code: string, message: string) => {
    problems.push({ code, path: '', file, line: row + 1, message });
  };
  const cellOf = (row: number, column: number) => rows[row]![column] ?? '';

  const stamps = stampsOf(kept, layout, headings, cellOf, problem);
  const stepMs = commonStepMs(stamps.clockMs);
  const stepH = stepMs / HOUR_MS;

  const values: Partial<Record<WeatherColumnName, Float64Array>> = {};
  const assumed: string[] = [];
  let negative = 0;
  for (const name of MEASURED) {
    const column = layout[name];
    if (column === undefined) continue;
    const { unit, assumed: guess } = unitOf(headings[column]!, name);
    if (guess) assumed.push(`${headings[column]} in ${unit.text}`);
    const scale = unit.energy ? unit.scale / stepH : unit.scale;
    const [low, high] = LIMITS[name];
    const light = name !== 'air' && name !== 'wind';
    const out = new Float64Array(kept.length);
    for (let i = 0; i < kept.length; i++) {
      const cell = cellOf(kept[i]!, column);
      let raw = cell === '' ? Number.NaN : Number(cell);
      if (Number.isNaN(raw) && !MISSING_WORD.test(cell)) {
        if (decimalComma && /^\s*[+-]?\d*,\d+\s*$/.test(cell)) raw = Number(cell.replace(',', '.'));
        else
          problem(kept[i]!, 'weather_number', `"${cell.slice(0, 40)}" in column ${headings[column]} is not a number`);
      }
      let value = raw * scale + unit.offset;
      if (isMissingCode(raw) || !(value >= low && value <= high)) value = Number.NaN;
      else if (light && value < 0) {
        value = 0;
        negative++;
      }
      out[i] = value;
    }
    values[name] = out;
  }
  if (problems.length > 0) {
    const shown = problems.slice(0, 5);
    if (problems.length > 5)
      shown.push({ code: 'weather_more', path: '', file, message: `and ${problems.length - 5} more such cells` });
    throw new ConfigError(shown);
  }
  if (assumed.length > 0)
    notes.push({ code: 'weather_units', text: `${file}: no unit in the heading, taken as ${assumed.join(', ')}` });
  if (negative > 0)
    notes.push({ code: 'weather_negative', text: `${file}: ${negative} small negative irradiances set to 0` });

  const position = positionOf(layout, headings, columns, stamps, stepMs, file, notes);
  const shift = position === 'ending' ? stepMs : position === 'centred' ? stepMs / 2 : 0;
  const utcOffsetH = stamps.offsetH ?? headingOffset(layout, headings) ?? prefaceOffset(rows, headerRow);
  const labelled = /\b(tmy\d?|typical|try)\b/.test(wordsOf(`${file} ${rows.slice(0, headerRow).flat().join(' ')}`));
  return {
    file,
    beginMs: stamps.clockMs.map((t) => t - shift),
    stepMs,
    columns: values,
    year: labelled || stamps.withoutYear ? 'typical' : 'by stamps',
    ...(utcOffsetH !== undefined && { utcOffsetH }),
    notes,
  };
}

function delimiterOf(text: string): string {
  const head = text.slice(0, 20_000).split('\n').slice(0, HEADER_SEARCH_ROWS);
  let best = ',';
  let bestScore = 0;
  for (const delimiter of ['\t', ';', '|', ',']) {
    let score = 0;
    for (const line of head)
      score += Math.min(1, line.split(delimiter).length - 1) + (line.includes(delimiter) ? 1 : 0);
    if (score > bestScore) {
      best = delimiter;
      bestScore = score;
    }
  }
  return best;
}

function findHeader(rows: readonly string[][], columns: Readonly<Record<string, string>>): number {
  const chosen = new Set(Object.values(columns).map((heading) => wordsOf(heading)));
  for (let i = 0; i < Math.min(rows.length, HEADER_SEARCH_ROWS); i++) {
    const row = rows[i]!;
    let light = false;
    let time = false;
    for (const cell of row) {
      if (cell.length > 120) continue;
      const role = roleOf(cell);
      light ||= role === 'ghi' || role === 'dni' || role === 'dhi' || (cell !== '' && chosen.has(wordsOf(cell)));
      time ||= role !== undefined && (TIMES as readonly string[]).includes(role);
    }
    if (row.length >= 3 && light && time) return i;
  }
  return -1;
}

/** A second heading row that holds units only: no cell is a number, and one at least is a unit. */
function isUnitsRow(headings: readonly string[], row: readonly string[]): boolean {
  if (row.some((cell) => /\d/.test(cell.replace(/m\^?-?2|10m|2m/gi, '')) && Number.isFinite(Number(cell))))
    return false;
  return headings.some((_, i) => /^\(?\[?\s*(k?wh?\/m|k?j\/|mj\/|w m|m\/s|deg|°|c|k|f)\b/i.test((row[i] ?? '').trim()));
}

function layoutOf(
  headings: readonly string[],
  columns: Readonly<Record<string, string>>,
  line: number,
  file: string,
): Layout {
  const issues: ConfigIssue[] = [];
  const issue = (code: string, message: string, hint: string) =>
    issues.push({ code, path: '', file, line, message, hint });
  const layout: Layout = {};
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
    else layout[role as ColumnRole] = at;
  }
  const roles = headings.map(roleOf);
  for (const role of [...MEASURED, ...TIMES]) {
    if (layout[role] !== undefined) continue;
    let found = roles.flatMap((r, i) => (r === role ? [i] : []));
    if (found.length > 1 && role !== 'clock') {
      const withUnit = (MEASURED as readonly string[]).includes(role)
        ? found.filter((i) => !unitOf(headings[i]!, role as WeatherColumnName).assumed)
        : [];
      if (withUnit.length > 0) found = withUnit;
    }
    if (found.length > 1 && (MEASURED as readonly string[]).includes(role))
      issue(
        'weather_ambiguous',
        `${found.length} columns could be the ${WORD[role as WeatherColumnName]}: ${found.map((i) => headings[i]).join(', ')}`,
        `name one by option: ${role}=${headings[found[0]!]}`,
      );
    if (found[0] !== undefined) layout[role] = found[0];
  }
  if (issues.length > 0) throw new ConfigError(issues);
  return layout;
}

const WORD = {
  ghi: 'global irradiance',
  dni: 'direct normal irradiance',
  dhi: 'diffuse irradiance',
  air: 'air temperature',
  wind: 'wind speed',
} as const;

function isMissingCode(value: number): boolean {
  return Number.isNaN(value) || value <= -99 || value === 9999 || value === 99999;
}

interface Stamps {
  readonly clockMs: Float64Array;
  readonly offsetH: number | undefined;
  readonly withoutYear: boolean;
  /** what the stamps are: hour numbers (lowest and highest), or instants */
  readonly hours: { readonly low: number; readonly high: number } | undefined;
  /** every stamp stands at half past, though rows are hourly */
  readonly halfPast: boolean;
}

function stampsOf(
  kept: readonly number[],
  layout: Layout,
  headings: readonly string[],
  cellOf: (row: number, column: number) => string,
  problem: (row: number, code: string, message: string) => void,
): Stamps {
  const clockMs = new Float64Array(kept.length);
  const n = kept.length;
  let offsetH: number | undefined;
  let halfPast = 0;
  const { clock, date, year, month, day, dayOfYear, minute } = layout;
  const byParts = date === undefined && ((month !== undefined && day !== undefined) || dayOfYear !== undefined);
  if (byParts) {
    let low = 24;
    let high = 0;
    for (let i = 0; i < n; i++) {
      const row = kept[i]!;
      const part = (column: number | undefined, otherwise: number) =>
        column === undefined ? otherwise : Number(cellOf(row, column) || Number.NaN);
      const y = part(year, 2001);
      const m = dayOfYear === undefined ? part(month, 1) : 1;
      const d = dayOfYear === undefined ? part(day, 1) : part(dayOfYear, 1);
      const ofDay = clock === undefined ? 0 : readTimeOfDay(cellOf(row, clock));
      const min = part(minute, 0);
      if (!(y > 0 && m >= 1 && m <= 12 && d >= 1 && d <= 366 && min >= 0 && min <= 60) || ofDay === undefined) {
        problem(row, 'weather_stamp', 'the cells for year, month, day and hour make no time');
        continue;
      }
      low = Math.min(low, ofDay / HOUR_MS);
      high = Math.max(high, ofDay / HOUR_MS);
      const t = Date.UTC(y, m - 1, d) + ofDay + min * 60_000;
      if (t % HOUR_MS === HOUR_MS / 2) halfPast++;
      clockMs[i] = t;
    }
    return { clockMs, offsetH, withoutYear: year === undefined, hours: { low, high }, halfPast: halfPast === n };
  }
  const main = date ?? clock;
  if (main === undefined) {
    problem(kept[0]! - 1, 'weather_stamp', `no date was found in the headings ${headings.join(', ')}`);
    return { clockMs, offsetH, withoutYear: false, hours: undefined, halfPast: false };
  }
  const timeColumn = date === undefined ? undefined : clock;
  const samples = kept.map((row) => cellOf(row, main));
  const order = headingOrder(headings[main]!) ?? dateOrderOf(samples) ?? 'ymd';
  let low = 24;
  let high = 0;
  for (let i = 0; i < n; i++) {
    const row = kept[i]!;
    const found = readStamp(samples[i]!, order);
    const extra = timeColumn === undefined ? 0 : readTimeOfDay(cellOf(row, timeColumn));
    if (found === undefined || extra === undefined) {
      const text = timeColumn === undefined ? samples[i]! : `${samples[i]} ${cellOf(row, timeColumn)}`;
      problem(row, 'weather_stamp', `"${text.slice(0, 40)}" is not a date and time`);
      continue;
    }
    low = Math.min(low, extra / HOUR_MS);
    high = Math.max(high, extra / HOUR_MS);
    let t = found.clockMs + extra;
    if (found.offsetH !== undefined) {
      t -= found.offsetH * HOUR_MS;
      offsetH = 0;
    }
    if (t % HOUR_MS === HOUR_MS / 2) halfPast++;
    clockMs[i] = t;
  }
  const hours = timeColumn === undefined ? undefined : { low, high };
  return { clockMs, offsetH, withoutYear: false, hours, halfPast: halfPast === n };
}

function headingOrder(heading: string): DateOrder | undefined {
  const words = wordsOf(heading);
  if (/mm dd y/.test(words)) return 'mdy';
  if (/dd mm y/.test(words)) return 'dmy';
  return undefined;
}

function positionOf(
  layout: Layout,
  headings: readonly string[],
  columns: Readonly<Record<string, string>>,
  stamps: Stamps,
  stepMs: number,
  file: string,
  notes: WeatherNote[],
): StampPosition {
  const chosen = columns.stamp;
  if (chosen !== undefined) {
    const known = stampPositionOf(chosen);
    if (known === undefined)
      throw new ConfigError([
        { code: 'weather_column', path: '', file, message: `stamp is beginning, centred or ending, found "${chosen}"` },
      ]);
    return known;
  }
  const timeHeadings = TIMES.flatMap((role) => (layout[role] === undefined ? [] : [headings[layout[role]!]!]));
  for (const heading of timeHeadings) {
    const said = stampPositionOf(heading);
    if (said !== undefined) return said;
  }
  const say = (position: StampPosition, why: string): StampPosition => {
    const text = `${file}: ${why}, so each stamp is taken as the ${position === 'centred' ? 'middle' : position === 'ending' ? 'end' : 'beginning'} of its interval; choose otherwise by option: stamp=beginning, centred or ending`;
    notes.push({ code: 'weather_stamp_position', text });
    return position;
  };
  if (stepMs === HOUR_MS && stamps.halfPast) return say('centred', 'hourly stamps stand at half past');
  if (stamps.hours !== undefined && layout.minute === undefined && layout.clock !== undefined) {
    if (stamps.hours.high >= 24) return say('ending', 'hours are numbered 1 to 24');
    if (stamps.hours.low === 0 && stepMs === HOUR_MS) return say('beginning', 'hours are numbered 0 to 23');
  }
  return say('ending', 'the headings do not say where a stamp stands');
}

function headingOffset(layout: Layout, headings: readonly string[]): number | undefined {
  for (const role of TIMES) {
    const column = layout[role];
    const offset = column === undefined ? undefined : clockOffsetOf(headings[column]!);
    if (offset !== undefined) return offset;
  }
  return undefined;
}

/** A time zone stated above the headings: "Time zone: UTC+3", or a station line of seven fields as in TMY3. */
function prefaceOffset(rows: readonly string[][], headerRow: number): number | undefined {
  for (let i = 0; i < headerRow; i++) {
    const row = rows[i]!;
    const named = /time ?zone\D{0,12}([+-]?\d{1,2}(?:\.\d+)?)/i.exec(row.join(' '));
    if (named !== null && Math.abs(Number(named[1])) <= 14) return Number(named[1]);
    if (i === headerRow - 1 && row.length === 7 && /^-?\d{1,2}(\.\d+)?$/.test(row[3]!.trim())) {
      const [zone, latDeg, lonDeg] = [3, 4, 5].map((c) => Number(row[c]));
      if (Math.abs(zone!) <= 14 && Math.abs(latDeg!) <= 90 && Math.abs(lonDeg!) <= 180) return zone;
    }
  }
  return undefined;
}
