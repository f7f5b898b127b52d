import { HOUR_MS } from '../../math/index.js';
import { ConfigError } from '../../rig/index.js';
import {
  clockOffsetOf,
  type DateOrder,
  dateOrderOf,
  readStamp,
  readTimeOfDay,
  type StampPosition,
  stampPositionOf,
  wordsOf,
} from '../../table/index.js';
import { type CsvLayout, TIMES } from './csv-layout.js';
import type { WeatherNote } from './note.js';

/** The stamps of the rows, on the file's clock written as if it were UTC. */
export interface Stamps {
  readonly clockMs: Float64Array;
  readonly offsetH: number | undefined;
  readonly withoutYear: boolean;
  /** what the stamps are: hour numbers (lowest and highest), or instants */
  readonly hours: { readonly low: number; readonly high: number } | undefined;
  /** every stamp stands at half past, though rows are hourly */
  readonly halfPast: boolean;
}

/** Reads every row's stamp, from one column, from date and time, or from year, month, day and hour. */
export function stampsOf(
  kept: readonly number[],
  layout: CsvLayout,
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
      const written = part(year, 2001);
      const y = written < 70 ? written + 2000 : written < 100 ? written + 1900 : written; // as in stamps of two digits
      const m = dayOfYear === undefined ? part(month, 1) : 1;
      const d = dayOfYear === undefined ? part(day, 1) : part(dayOfYear, 1);
      const ofDay = clock === undefined ? 0 : readTimeOfDay(cellOf(row, clock));
      const min = part(minute, 0);
      if (!(written > 0 && m >= 1 && m <= 12 && d >= 1 && d <= 366 && min >= 0 && min <= 60) || ofDay === undefined) {
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

/** Where stamps stand in their intervals: chosen, worded, or judged from the numbers and then said. */
export function positionOf(
  layout: CsvLayout,
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

/** Hours ahead of UTC that a heading of time names. */
export function headingOffset(layout: CsvLayout, headings: readonly string[]): number | undefined {
  for (const role of TIMES) {
    const column = layout[role];
    const offset = column === undefined ? undefined : clockOffsetOf(headings[column]!);
    if (offset !== undefined) return offset;
  }
  return undefined;
}

const ZONE = /time ?zone\D{0,12}?([+−-]?)\s*(\d{1,2}(?:\.\d+)?)(?::?(00|30|45)\b)?/i;

/** A time zone stated above the headings: "Time zone: UTC+3", or a station line of seven fields as in TMY3. */
export function prefaceOffset(rows: readonly string[][], headerRow: number): number | undefined {
  for (let i = 0; i < headerRow; i++) {
    const row = rows[i]!;
    const named = ZONE.exec(row.join(' '));
    if (named !== null) {
      const hours = Number(named[2]) + Number(named[3] ?? 0) / 60;
      if (hours <= 14) return /[-−]/.test(named[1]!) ? -hours : hours;
    }
    if (i === headerRow - 1 && row.length === 7 && /^-?\d{1,2}(\.\d+)?$/.test(row[3]!.trim())) {
      const [zone, latDeg, lonDeg] = [3, 4, 5].map((c) => Number(row[c]));
      if (Math.abs(zone!) <= 14 && Math.abs(latDeg!) <= 90 && Math.abs(lonDeg!) <= 180) return zone;
    }
  }
  return undefined;
}
