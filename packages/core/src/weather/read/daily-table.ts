import { DAY_MS } from '../../math/index.js';
import { ConfigError, type ConfigIssue } from '../../rig/index.js';
import { dailyAirOf, unitOf } from '../../table/index.js';
import { findHeader, isUnitsRow, layoutOf, tableRows } from './csv-layout.js';
import { stampsOf } from './csv-stamps.js';
import type { WeatherNote } from './note.js';
import { commonStepMs, isoMinute, type WeatherSeries } from './weather-series.js';

/** The most light a day on Earth has [kWh/m²], and the range of air temperature [°C]. */
const MAX_KWH = 14;
const AIR_LIMITS = [-90, 70] as const;
/** Of the days of a table, at most so many may be filled from their neighbours. */
const MAX_FILLED = 0.1;
const LINES_SHOWN = 5;

/**
 * A table of days: a date, the day's light, and the lowest and highest temperature of the air. A day without one of them, with a
 * minimum above its maximum or with more light than any day has is left out, told by its line, and filled from the nearest day.
 * @returns undefined when the rows are no days, or have no lowest and highest temperature
 * @throws ConfigError when the light has no unit, dates make no days or more than 10 % of the days are missing
 */
export function readDailyTable(
  text: string,
  file: string,
  columns: Readonly<Record<string, string>>,
): WeatherSeries | undefined {
  const { rows } = tableRows(text, file);
  const headerRow = findHeader(rows, columns);
  if (headerRow < 0) return undefined;
  let headings = rows[headerRow]!.map((h) => h.trim());
  let firstRow = headerRow + 1;
  const below = rows[firstRow];
  if (below !== undefined && isUnitsRow(headings, below)) {
    headings = headings.map((h, i) => `${h} ${below[i] ?? ''}`.trim());
    firstRow++;
  }
  if (!columns.airMax && !headings.some((h) => dailyAirOf(h) === 'airMax')) return undefined;
  const { airMax, airMin, ghi, ...layout } = layoutOf(headings, columns, headerRow + 1, file);
  if (airMax === undefined || airMin === undefined || ghi === undefined) return undefined;
  const kept: number[] = [];
  for (let i = firstRow; i < rows.length; i++) if (rows[i]!.some((cell) => cell.trim() !== '')) kept.push(i);
  const issues: ConfigIssue[] = [];
  const cellOf = (row: number, column: number) => rows[row]![column] ?? '';
  const stamps = stampsOf(kept, layout, headings, cellOf, (row, code, message) => {
    issues.push({ code, path: '', file, line: row + 1, message });
  });
  if (commonStepMs(stamps.clockMs) !== DAY_MS) return undefined;
  if (issues.length > 0) throw new ConfigError(issues.slice(0, LINES_SHOWN));
  const refuse = (code: string, message: string, hint: string): never => {
    throw new ConfigError([{ code, path: '', file, line: headerRow + 1, message, hint }]);
  };
  if (stamps.withoutYear)
    refuse('weather_stamp', 'a table of days needs the year in its dates', 'add a column year, or whole dates');
  const light = unitOf(headings[ghi]!, 'ghi');
  if (light.assumed)
    refuse(
      'weather_units',
      `the light of a day has no unit in its heading "${headings[ghi]}"`,
      'write it as kWh/m2, MJ/m2, Wh/m2 or W/m2 (the mean of 24 hours)',
    );
  const kwhOf = (raw: number) => (raw * light.unit.scale * (light.unit.energy ? 1 : 24)) / 1000;
  const air = [airMin, airMax].map((column) => {
    const { unit } = unitOf(headings[column]!, 'air');
    return (raw: number) => raw * unit.scale + unit.offset;
  });
  const numberOf = (row: number, column: number) => {
    const cell = cellOf(row, column).trim();
    const value = cell === '' ? Number.NaN : Number(/^[+-]?\d*,\d+$/.test(cell) ? cell.replace(',', '.') : cell);
    return value <= -99 || value === 9999 || value === 99999 ? Number.NaN : value;
  };

  const dayOf = (i: number) => Math.floor(stamps.clockMs[i]! / DAY_MS);
  const days = kept.map((_, i) => dayOf(i));
  const first = days.reduce((a, b) => Math.min(a, b));
  const count = days.reduce((a, b) => Math.max(a, b)) - first + 1;
  const columnOf = () => new Float64Array(count).fill(Number.NaN);
  const [kwh, minC, maxC, line] = [columnOf(), columnOf(), columnOf(), new Int32Array(count)];
  const wrong: number[] = [];
  const repeated: number[] = [];
  kept.forEach((row, i) => {
    const at = days[i]! - first;
    if (line[at]! > 0) {
      repeated.push(row + 1);
      return;
    }
    line[at] = row + 1;
    const [sum, low, high] = [
      kwhOf(numberOf(row, ghi)),
      air[0]!(numberOf(row, airMin)),
      air[1]!(numberOf(row, airMax)),
    ];
    const isSound = sum >= 0 && sum <= MAX_KWH && low >= AIR_LIMITS[0] && high <= AIR_LIMITS[1] && low <= high;
    if (!isSound) {
      wrong.push(row + 1);
      return;
    }
    kwh[at] = sum;
    minC[at] = low;
    maxC[at] = high;
  });
  const notes: WeatherNote[] = [];
  const left = kwh.reduce((n, value) => n + (Number.isNaN(value) ? 1 : 0), 0);
  if (left > MAX_FILLED * count)
    refuse(
      'weather_gaps',
      `of ${count} days ${left} are missing or not sound (${Math.round((100 * left) / count)} %)${wrong.length > 0 ? `, such as on ${linesText(wrong)}` : ''}; at most 10 % can be filled`,
      `between ${isoMinute(first * DAY_MS).slice(0, 10)} and ${isoMinute((first + count - 1) * DAY_MS).slice(0, 10)}`,
    );
  if (left > 0) {
    const missing = line.reduce((n, at) => n + (at === 0 ? 1 : 0), 0);
    const from = isoMinute((first + line.indexOf(0)) * DAY_MS).slice(0, 10);
    const absent =
      missing > 0 ? `, ${missing} of them not in the table (${missing > 1 ? 'the first ' : ''}${from})` : '';
    const told = wrong.length > 0 ? `, ${wrong.length} of them for what stands on ${linesText(wrong)}` : '';
    notes.push({
      code: 'weather_gaps',
      text: `${file}: ${left} of ${count} days left out${absent}${told}; the nearest days stand for them`,
    });
  }
  if (repeated.length > 0)
    notes.push({
      code: 'weather_duplicates',
      text: `${file}: ${linesText(repeated)} repeat${repeated.length === 1 ? 's' : ''} a day and ${repeated.length === 1 ? 'was' : 'were'} left out`,
    });
  for (const column of [kwh, minC, maxC]) fillFromNearest(column);
  notes.push({
    code: 'weather_daily',
    text: `${file}: a table of days; hours follow the clear sky’s course with clouds to each day’s light, and the usual course between lowest and highest temperature`,
  });
  return {
    file,
    kind: 'dated',
    stepMs: DAY_MS,
    startMs: first * DAY_MS,
    phaseMs: 0,
    intervals: count,
    ghi: kwh.map((value) => (value * 1000) / 24),
    air: minC.map((low, i) => (low + maxC[i]!) / 2),
    daily: { minC, maxC, line },
    notes,
  };
}

/** "line 12", "lines 12, 40 and 3 more". */
export function linesText(lines: readonly number[]): string {
  const shown = lines.slice(0, LINES_SHOWN).join(', ');
  const more = lines.length > LINES_SHOWN ? ` and ${lines.length - LINES_SHOWN} more` : '';
  return `line${lines.length === 1 ? '' : 's'} ${shown}${more}`;
}

/** Each missing value becomes that of the nearest day that has one; of two as near, the earlier. */
export function fillFromNearest(values: Float64Array): void {
  const known = values.slice();
  for (let i = 0; i < values.length; i++) {
    if (!Number.isNaN(known[i]!)) continue;
    for (let away = 1; away < values.length; away++) {
      const near = [known[i - away], known[i + away]].find((value) => value !== undefined && !Number.isNaN(value));
      if (near === undefined) continue;
      values[i] = near;
      break;
    }
  }
}
