import { DAY_MS, HOUR_MS } from '../../math/index.js';
import { ConfigError } from '../../rig/index.js';
import { fillGaps, gapText, LABEL } from './fill-gaps.js';
import type { WeatherNote } from './note.js';

/** Days of a leap year before each month; 29 February is day 59. */
const DAYS_BEFORE = [0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335] as const;
const YEAR_DAYS = 366;
const LEAP_DAY = 59;

export type WeatherColumnName = 'ghi' | 'dni' | 'dhi' | 'air' | 'wind';

/**
 * A weather file once read: regular intervals on the file's own clock (written as if it were UTC), no gap left.
 * `dated`: interval i is [startMs + i·stepMs, + stepMs). `typical`: a year of 366 days that stands for any year;
 * interval i of day d (0 = 1 January, 59 = 29 February) is at index d·(intervals a day) + i and begins `phaseMs`
 * after midnight.
 */
export interface WeatherSeries {
  readonly file: string;
  readonly kind: 'typical' | 'dated';
  readonly stepMs: number;
  readonly startMs: number;
  readonly phaseMs: number;
  readonly intervals: number;
  /** hours by which the file's clock is ahead of UTC; absent = the file does not say, so the standard time of the place */
  readonly utcOffsetH?: number;
  /** where the file says it is from */
  readonly site?: { readonly latDeg: number; readonly lonDeg: number; readonly elevationM?: number };
  /** mean irradiance of each interval [W/m²]; `ghi`, or `dni` with `dhi`, is always there */
  readonly ghi?: Float64Array;
  readonly dni?: Float64Array;
  readonly dhi?: Float64Array;
  /** air temperature [°C] */
  readonly air: Float64Array;
  /** [m/s]; absent = the file has none */
  readonly wind?: Float64Array;
  /** of a table of days, whose intervals are days: lowest and highest temperature [°C], and the line of each in the file (0 = none) */
  readonly daily?: { readonly minC: Float64Array; readonly maxC: Float64Array; readonly line: Int32Array };
  readonly notes: readonly WeatherNote[];
}

/** Rows as they stand in a file, missing values NaN, units already turned into W/m², °C and m/s. */
export interface WeatherRows {
  readonly file: string;
  /** beginning of each row's interval, on the file's clock [ms] */
  readonly beginMs: Float64Array;
  readonly stepMs: number;
  readonly columns: Partial<Record<WeatherColumnName, Float64Array>>;
  /** `typical` = the file calls itself so; `unless dated` = decide by its stamps */
  readonly year: 'typical' | 'by stamps';
  readonly utcOffsetH?: number;
  readonly site?: WeatherSeries['site'];
  readonly notes: WeatherNote[];
}

/** Day 0..365 of a leap-year calendar for an instant of the file's clock. */
export function leapCalendarDay(clockMs: number): number {
  const date = new Date(clockMs);
  return DAYS_BEFORE[date.getUTCMonth()]! + date.getUTCDate() - 1;
}

/** The step that most rows are apart [ms]; 0 with fewer than two rows. */
export function commonStepMs(stampMs: Float64Array): number {
  const counts = new Map<number, number>();
  for (let i = 1; i < stampMs.length; i++) {
    const minutes = Math.round((stampMs[i]! - stampMs[i - 1]!) / 60_000);
    if (minutes > 0) counts.set(minutes, (counts.get(minutes) ?? 0) + 1);
  }
  let best = 0;
  let bestCount = 0;
  for (const [minutes, count] of counts)
    if (count > bestCount || (count === bestCount && minutes < best)) {
      best = minutes;
      bestCount = count;
    }
  return best * 60_000;
}

export function isoMinute(clockMs: number): string {
  return new Date(clockMs).toISOString().slice(0, 16).replace('T', ' ');
}

function refuse(file: string, code: string, message: string, hint?: string): never {
  throw new ConfigError([{ code, path: '', file, message, ...(hint !== undefined && { hint }) }]);
}

/**
 * Puts rows on regular intervals, merges duplicates, tells a typical from a dated file and fills the gaps.
 * Gaps of at most 3 h are interpolated, longer ones take the mean of the same hours of the nearest days before and after.
 * A file is typical when it says so or when its stamps fill one calendar (1 January to 31 December) but jump between years.
 * @throws ConfigError when more than 10 % of the light or of the temperature is missing, or the stamps make no year
 */
export function seriesFromRows(rows: WeatherRows): WeatherSeries {
  const { file, beginMs, stepMs } = rows;
  const notes = [...rows.notes];
  if (beginMs.length === 0) refuse(file, 'weather_empty', 'the file has a header but no rows of weather');
  if (!(stepMs >= 60_000 && stepMs <= HOUR_MS && HOUR_MS % stepMs === 0))
    refuse(
      file,
      'weather_step',
      `rows are ${stepMs / 60_000} minutes apart; weather files need hourly rows or a whole number of rows an hour`,
    );
  const perDay = DAY_MS / stepMs;
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  let outOfOrder = 0;
  for (let i = 0; i < beginMs.length; i++) {
    const t = beginMs[i]!;
    if (i > 0 && t < beginMs[i - 1]!) outOfOrder++;
    if (t < first) first = t;
    if (t > last) last = t;
  }
  const span = Math.round((last - first) / stepMs) + 1;
  const phaseMs = ((first % stepMs) + stepMs) % stepMs;
  const yearSlots = YEAR_DAYS * perDay;
  const wouldBe = new Int32Array(beginMs.length);
  const seen = new Uint8Array(yearSlots);
  let covered = 0;
  let day = 0;
  let dayMs = Number.NaN;
  for (let i = 0; i < beginMs.length; i++) {
    const t = beginMs[i]! - phaseMs + stepMs / 2;
    const midnight = Math.floor(t / DAY_MS) * DAY_MS;
    if (midnight !== dayMs) {
      dayMs = midnight;
      day = leapCalendarDay(midnight);
    }
    const slot = day * perDay + Math.floor((t - midnight) / stepMs);
    wouldBe[i] = slot;
    if (seen[slot] === 0) {
      seen[slot] = 1;
      covered++;
    }
  }
  const fillsYear = covered >= 0.9 * 365 * perDay && beginMs.length <= 1.02 * yearSlots;
  let turns = 0; // places where the calendar, year aside, goes back
  for (let i = 1; i < wouldBe.length; i++) if (wouldBe[i]! < wouldBe[i - 1]!) turns++;
  const jumps = span > 1.12 * beginMs.length || (outOfOrder > 0 && turns === 0);
  const typical = fillsYear && (rows.year === 'typical' || jumps);
  if (!typical && span > 40 * YEAR_DAYS * perDay)
    refuse(file, 'weather_stamp', `stamps run from ${isoMinute(first)} to ${isoMinute(last)}, more than 40 years`);

  if (!typical) {
    const lit = litSpan(rows);
    if (lit !== undefined && Math.max(lit.first - first, last - lit.last) > 3 * HOUR_MS) {
      [first, last] = [lit.first, lit.last];
      const text = `${file}: light is given only from ${isoMinute(first)} to ${isoMinute(last + stepMs)}; the rest is left out`;
      notes.push({ code: 'weather_trimmed', text });
    }
  }
  const intervals = typical ? yearSlots : Math.round((last - first) / stepMs) + 1;
  const hits = new Uint16Array(intervals);
  /** outside 0..intervals − 1 for a row that was left out */
  const slotOf = (i: number) => (typical ? wouldBe[i]! : Math.round((beginMs[i]! - first) / stepMs));
  for (let i = 0; i < beginMs.length; i++) {
    const slot = slotOf(i);
    if (slot >= 0 && slot < intervals) hits[slot]!++;
  }
  let duplicates = 0;
  for (const n of hits) if (n > 1) duplicates += n - 1;
  if (outOfOrder > 0 && !(typical && jumps))
    notes.push({
      code: 'weather_order',
      text: `${file}: rows were out of order in ${outOfOrder} places and were sorted`,
    });
  if (duplicates > 0)
    notes.push({
      code: 'weather_duplicates',
      text: `${file}: ${duplicates} rows repeat an interval and were averaged with it`,
    });

  const columns: Partial<Record<WeatherColumnName, Float64Array>> = {};
  const gaps: string[] = [];
  const leapGiven = typical && hits[LEAP_DAY * perDay]! > 0;
  for (const name of ['ghi', 'dni', 'dhi', 'air', 'wind'] as const) {
    const values = rows.columns[name];
    if (values === undefined) continue;
    const sum = new Float64Array(intervals);
    const count = new Uint16Array(intervals);
    for (let i = 0; i < values.length; i++) {
      const value = values[i]!;
      if (Number.isNaN(value)) continue;
      const slot = slotOf(i);
      if (!(slot >= 0 && slot < intervals)) continue;
      sum[slot]! += value;
      count[slot]!++;
    }
    for (let i = 0; i < intervals; i++) sum[i] = count[i]! > 0 ? sum[i]! / count[i]! : Number.NaN;
    if (typical && !leapGiven) sum.copyWithin(LEAP_DAY * perDay, (LEAP_DAY - 1) * perDay, LEAP_DAY * perDay);
    const filled = fillGaps(sum, perDay, stepMs, typical);
    if (filled.missing > 0.1 * intervals || filled.left > 0) {
      const share = `${Math.round((100 * filled.missing) / intervals)} % of its ${LABEL[name]} is missing`;
      if (name === 'ghi' || name === 'air')
        refuse(file, 'weather_gaps', `${share}; at most 10 % can be filled`, spanHint(typical, first, last, stepMs));
      notes.push({ code: 'weather_dropped', text: `${file}: ${share}, so that column was left out` });
      continue;
    }
    if (filled.missing > 0) gaps.push(gapText(name, filled, stepMs));
    columns[name] = sum;
  }
  if (gaps.length > 0) notes.push({ code: 'weather_gaps', text: `${file}: missing values filled: ${gaps.join('; ')}` });
  const { ghi, dni, dhi, air, wind } = columns;
  if (ghi === undefined && (dni === undefined || dhi === undefined))
    refuse(
      file,
      'weather_no_light',
      'no usable irradiance: a weather file needs global horizontal irradiance, or direct normal with diffuse horizontal',
    );
  if (air === undefined) refuse(file, 'weather_no_air', 'no air temperature column was found');
  if (wind === undefined)
    notes.push({ code: 'weather_no_wind', text: `${file}: no wind speed, so 2 m/s is used throughout` });
  if (typical) {
    const leap = leapGiven ? 'has its own 29 February' : '29 February repeats the 28th';
    notes.push({ code: 'weather_typical', text: `${file}: a typical year, used for every year; ${leap}` });
  }
  return {
    file,
    kind: typical ? 'typical' : 'dated',
    stepMs,
    startMs: typical ? 0 : first,
    phaseMs,
    intervals,
    ...(rows.utcOffsetH !== undefined && { utcOffsetH: rows.utcOffsetH }),
    ...(rows.site !== undefined && { site: rows.site }),
    ...(ghi !== undefined && { ghi }),
    ...(dni !== undefined && { dni }),
    ...(dhi !== undefined && { dhi }),
    air,
    ...(wind !== undefined && { wind }),
    notes,
  };
}

/** First and last interval that has light in any column. */
function litSpan(rows: WeatherRows): { first: number; last: number } | undefined {
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  for (const column of [rows.columns.ghi ?? rows.columns.dni, rows.columns.dhi]) {
    if (column === undefined) continue;
    for (let i = 0; i < column.length; i++) {
      if (Number.isNaN(column[i]!)) continue;
      const t = rows.beginMs[i]!;
      if (t < first) first = t;
      if (t > last) last = t;
    }
  }
  return last >= first ? { first, last } : undefined;
}

function spanHint(typical: boolean, first: number, last: number, stepMs: number): string {
  return typical ? 'of a whole year' : `between ${isoMinute(first)} and ${isoMinute(last + stepMs)}`;
}
