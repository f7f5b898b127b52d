import { DAY_MS, HOUR_MS } from '../../math/index.js';
import { type DateOrder, dateOrderOf, readStamp, readTimeOfDay } from '../../table/index.js';
import { MONTH_LETTERS } from '../columns/heading-words.js';
import { createClockReader } from './clock-reader.js';
import { createKnownDay } from './known-day.js';

/** No stamp is longer, and the patterns are slow on long runs of blanks. */
const LONGEST = 80;
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'] as const;
const MONTH_WORD = '([a-z]{3,9})';
const DAY_FIRST = new RegExp(
  `(\\d{1,2})(?:st|nd|rd|th|\\.)?[\\s.-]*${MONTH_WORD}\\.?[\\s.,-]*(\\d{4}|\\d{2})(?!:)\\b`,
  'i',
);
const MONTH_FIRST = new RegExp(`${MONTH_WORD}\\.?\\s*(\\d{1,2})(?:st|nd|rd|th)?,?\\s+(\\d{4})\\b`, 'i');

/** Reads the stamps of one file on the file's own clock. `isUtc` tells whether the last one named its offset. */
export interface StampReader {
  isUtc: boolean;
  /** clock time as if it were UTC, or UTC when `isUtc` [ms]; NaN when it is no date and time */
  read(text: string): number;
  /** the same from a cell of date and a cell of time */
  readPair(date: string, time: string): number;
}

/** Years of the Buddhist calendar are so far ahead. */
export const BUDDHIST_YEARS = 543;

/** @param order of the parts of dates like 03/04/2026; ISO dates and spelt months need none */
export function createStampReader(order: DateOrder, calendar: 'gregorian' | 'buddhist' = 'gregorian'): StampReader {
  const day = createKnownDay();
  const clock = createClockReader();
  let date = '\u0000';
  let dateMs = Number.NaN;
  const slow = (text: string): number => {
    if (text.length > LONGEST) return Number.NaN;
    const counted = countedMs(text);
    if (counted !== undefined) {
      reader.isUtc = counted.isUtc;
      return counted.ms;
    }
    const gregorian =
      calendar === 'buddhist' ? text.replace(/2[4-6]\d\d/, (year) => String(Number(year) - BUDDHIST_YEARS)) : text;
    const plain = spelled(gregorian);
    const stamp = readStamp(plain, /^\s*\d{4}-/.test(plain) ? 'ymd' : order);
    if (stamp === undefined) return Number.NaN;
    reader.isUtc = stamp.offsetH !== undefined;
    const isEpoch = /^\s*\d+\s*$/.test(plain);
    const fraction = isEpoch ? null : /:\d\d[.,](\d{1,6})/.exec(plain);
    return (
      stamp.clockMs -
      (isEpoch ? 0 : (stamp.offsetH ?? 0) * HOUR_MS) +
      (fraction ? Math.round(Number(`0.${fraction[1]}`) * 1000) : 0)
    );
  };
  const reader: StampReader = {
    isUtc: false,
    read(text) {
      const known = day.read(text);
      if (!Number.isNaN(known)) {
        reader.isUtc = day.isUtc;
        return known;
      }
      const epoch = epochMs(text);
      if (!Number.isNaN(epoch)) {
        reader.isUtc = true;
        return epoch;
      }
      const ms = slow(text);
      if (!Number.isNaN(ms)) day.learn(text, ms, reader.isUtc);
      return ms;
    },
    readPair(dateText, time) {
      if (dateText !== date) {
        date = dateText;
        dateMs = slow(dateText);
      }
      reader.isUtc = false;
      const plainMs = clock.read(time, 0);
      const isPlain = !Number.isNaN(plainMs) && clock.end === time.length;
      const share = /^\s*0?[.,]\d+\s*$/.test(time) ? Number(time.replace(',', '.')) : Number.NaN;
      const ofDayMs = isPlain
        ? plainMs
        : Number.isNaN(share)
          ? readTimeOfDay(time.replace(/[.,]\d+\s*$/, ''))
          : Math.round(share * 86_400) * 1000;
      return ofDayMs === undefined ? Number.NaN : Math.floor(dateMs / DAY_MS) * DAY_MS + ofDayMs;
    },
  };
  return reader;
}

/**
 * Plain seconds or milliseconds since 1970, as ten or thirteen digits [ms]; NaN when it is not. No log is of the 20th
 * century, so that ten digits from 19 on are seconds here, where in weather they are hours.
 */
function epochMs(text: string): number {
  if (text.length !== 10 && text.length !== 13) return Number.NaN;
  if (text.charCodeAt(0) !== 49) return Number.NaN;
  for (let at = 1; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code < 48 || code > 57) return Number.NaN;
  }
  const since = Number(text);
  return since < 1e12 ? since * 1000 : since;
}

const EPOCH = /^\s*(1\d{9})[.,](\d{1,9})\s*$/;
const SERIAL = /^\s*(\d{5})(?:[.,](\d{1,12}))?\s*$/;
/** 1 January 1970 as the day number of spreadsheets, and how far ahead they are read: to 2099. */
const SERIAL_1970 = 25_569;
const SERIALS: readonly [number, number] = [36_526, 73_050];

/** Seconds since 1970 with decimals, or days as spreadsheets number them, on the local clock. */
function countedMs(text: string): { ms: number; isUtc: boolean } | undefined {
  const epoch = EPOCH.exec(text);
  if (epoch !== null) return { ms: Math.round(Number(`${epoch[1]}.${epoch[2]}`) * 1000), isUtc: true };
  const serial = SERIAL.exec(text);
  if (serial === null) return undefined;
  const days = Number(`${serial[1]}.${serial[2] ?? 0}`);
  if (days < SERIALS[0] || days >= SERIALS[1]) return undefined;
  // five decimals are a second wide: the minute is meant
  const grain = (serial[2]?.length ?? 0) > 6 ? 1000 : 60_000;
  const ms = (days - SERIAL_1970) * DAY_MS;
  const near = Math.round(ms / grain) * grain;
  return { ms: Math.abs(near - ms) < 2000 ? near : Math.round(ms / 1000) * 1000, isUtc: false };
}

/** A stamp with its month in letters, its time first or a comma in the middle, as one that has none of these. */
function spelled(text: string): string {
  let plain = text.trim().replace(/,\s*/, ' ');
  const timeFirst = /^(\d{1,2}:\d{2}(?::\d{2})?(?:\s*[ap]m)?)\s+(.*\d{4}.*|\d+[-/.]\d+[-/.]\d+)$/i.exec(plain);
  if (timeFirst !== null) plain = `${timeFirst[2]} ${timeFirst[1]}`;
  if (!/\p{L}{3}/u.test(plain)) return plain;
  plain = plain.normalize('NFD').replace(/\p{M}/gu, '');
  for (const [pattern, dayAt, monthAt] of [
    [DAY_FIRST, 1, 2],
    [MONTH_FIRST, 2, 1],
  ] as const) {
    const found = pattern.exec(plain);
    if (found === null) continue;
    const word = found[monthAt]!.toLowerCase();
    const month =
      MONTH_LETTERS[word.slice(0, 4)] ??
      MONTH_LETTERS[word.slice(0, 3)] ??
      MONTHS.indexOf(word.slice(0, 3) as (typeof MONTHS)[number]) + 1;
    if (month === 0) continue;
    const year = found[3]!.length === 2 ? `20${found[3]}` : found[3];
    const rest = plain.slice(found.index + found[0].length);
    return `${year}-${String(month).padStart(2, '0')}-${found[dayAt]!.padStart(2, '0')}${rest === '' ? '' : ` ${rest.trim()}`}`;
  }
  return plain;
}

/**
 * The order of the parts of the dates of a log. `isSettled` = false when they could be read in more than one way.
 */
export function settleOrder(samples: readonly string[]): { order: DateOrder; isSettled: boolean } {
  const known = dateOrderOf(samples.map(spelled));
  if (known !== undefined) return { order: known, isSettled: true };
  const isUnclear = samples.some((text) => UNCLEAR.test(text));
  return { order: isUnclear ? 'dmy' : 'ymd', isSettled: !isUnclear };
}

const UNCLEAR = /^\s*\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4}/;
