import { HOUR_MS } from '../../math/index.js';
import { advice, advised, option } from '../../message/index.js';
import { ConfigError, type ConfigIssue } from '../../rig/index.js';
import { unitOf, wordsOf } from '../../table/index.js';
import { findHeader, isUnitsRow, layoutOf, MEASURED, tableRows } from './csv-layout.js';
import { headingOffset, positionOf, prefaceOffset, stampsOf } from './csv-stamps.js';
import type { WeatherNote } from './note.js';
import { commonStepMs, type WeatherColumnName, type WeatherRows } from './weather-series.js';

/** A cell that says that nothing was measured is no longer than this: the pattern is slow on a long one. */
const LONGEST_MISSING = 40;
const LIMITS = { ghi: [-50, 2500], dni: [-50, 2500], dhi: [-50, 2500], air: [-90, 70], wind: [0, 100] } as const;
const MISSING_WORD = /^[\s"']*(|-+|\.|na|n\/a|nan|nd|null|none|missing|#n\/a|\?|m|inf|-inf)[\s"']*$/i;

const heading = (role: string) => option('columns', role, 'HEADING');

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
  const { rows, delimiter } = tableRows(text, file);
  const headerRow = findHeader(rows, columns);
  if (headerRow < 0) {
    const widest = rows.slice(0, 60).reduce((a, b) => (b.length > a.length ? b : a), []);
    return refuse(
      'weather_no_light',
      widest.length < 3
        ? 'this is not a weather file: no EPW header and no table with headings for time, light and air temperature'
        : `no row of headings with a time and an irradiance in W/m2 or Wh/m2 was found; the widest row reads: ${widest.slice(0, 12).join(', ')}`,
      { line: 1, ...advised(advice`name columns: ${heading('ghi')}, ${heading('air')}, ${heading('clock')}`) },
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
      { line: headerRow + 1, ...advised(advice`name the column: ${heading('ghi')}`) },
    );
  if (layout.air === undefined)
    refuse('weather_no_air', `no air temperature column; the headings are ${headings.join(', ')}`, {
      line: headerRow + 1,
      ...advised(advice`name the column: ${heading('air')}`),
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
      let raw = cell.trim() === '' ? Number.NaN : Number(cell);
      if (Number.isNaN(raw) && !isMissing(cell)) {
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

function isMissing(cell: string): boolean {
  const bare = cell.trim();
  return bare.length <= LONGEST_MISSING && MISSING_WORD.test(bare);
}

function isMissingCode(value: number): boolean {
  return Number.isNaN(value) || value <= -99 || value === 9999 || value === 99999;
}
