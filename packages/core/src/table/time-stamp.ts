/** How a file writes a calendar date: the order of its parts. */
export type DateOrder = 'ymd' | 'dmy' | 'mdy';

const STAMP =
  /^\s*(\d{1,4})([-/.])(\d{1,2})\2(\d{1,4})(?:[T :]+(\d{1,2})(?:[:h.](\d{2}))?(?::(\d{2})(?:[.,]\d+)?)?)?\s*([ap]\.?m\.?)?\s*([a-z]{1,5}|[+-]\d{2}:?\d{2}|[+-]\d{2})?\s*$/i;
const COMPACT = /^\s*(\d{4})(\d{2})(\d{2})[T: ]?(\d{2})?:?(\d{2})?(\d{2})?\s*(z)?\s*$/i;

/** Letters behind a time that name one offset alone [h]; IST, CST and AST name several. From memory. */
const ZONE_LETTERS: Readonly<Record<string, number>> = {
  z: 0,
  utc: 0,
  gmt: 0,
  wet: 0,
  west: 1,
  bst: 1,
  cet: 1,
  cest: 2,
  mez: 1,
  mesz: 2,
  eet: 2,
  eest: 3,
  msk: 3,
  jst: 9,
  aest: 10,
  aedt: 11,
  nzst: 12,
  nzdt: 13,
  adt: -3,
  est: -5,
  edt: -4,
  cdt: -5,
  mst: -7,
  mdt: -6,
  pst: -8,
  pdt: -7,
  akst: -9,
  akdt: -8,
  hst: -10,
};

/** No stamp is longer, and the patterns are slow on long runs of blanks. */
const LONGEST_STAMP = 80;

/** An instant on the file's clock, written as if it were UTC; `offsetH` when the stamp itself names it. */
export interface Stamp {
  clockMs: number;
  offsetH: number | undefined;
}

/** No log and no weather file of use here is older than this or younger than that. */
const [FIRST_YEAR, LAST_YEAR] = [1970, 2069];
const DAY_MS = 86_400_000;
const ORDERS: readonly DateOrder[] = ['dmy', 'mdy', 'ymd'];

/**
 * The order of the parts of dates like 03/04/2021 or 26-04-03, from all of them: the order under which every one is a date and
 * most days follow one another; a date that begins with four digits, and points between the parts of one that ends so, settle
 * it alone. Undefined = cannot tell.
 */
export function dateOrderOf(samples: readonly string[]): DateOrder | undefined {
  const dates: string[] = [];
  let last = '';
  for (const text of samples) {
    const match = text.length > LONGEST_STAMP ? null : STAMP.exec(text);
    if (match === null) continue;
    if (match[1]!.length === 4) return 'ymd';
    if (match[2] === '.' && match[4]!.length === 4) return 'dmy';
    const date = `${match[1]}${match[2]}${match[3]}${match[2]}${match[4]}`;
    if (date !== last) dates.push(date);
    last = date;
  }
  if (dates.length === 0) return undefined;
  const days = (order: DateOrder) => dates.map((date) => (readStamp(date, order)?.clockMs ?? Number.NaN) / DAY_MS);
  const tried = ORDERS.map((order) => ({ order, days: days(order) })).map(({ order, days: of }) => ({
    order,
    days: of,
    known: of.filter((day) => isYear(new Date(day * DAY_MS).getUTCFullYear())).length,
    steps: of.slice(1).filter((day, i) => Math.abs(day - of[i]!) === 1).length,
  }));
  // a damaged stamp among many sound ones decides nothing
  const most = Math.max(...tried.map(({ known }) => known));
  const sound = tried.filter(({ known }) => known > 0 && known >= most - 0.02 * dates.length);
  const steadiest = Math.max(...sound.map(({ steps }) => steps));
  const best = sound.filter(({ steps }) => steps === steadiest);
  const first = best[0];
  if (first === undefined) return undefined;
  return best.every((one) => one.days.every((day, i) => Object.is(day, first.days[i]))) ? first.order : undefined;
}

const isYear = (year: number) => year >= FIRST_YEAR && year <= LAST_YEAR;

/**
 * Reads a date with or without a time of day: ISO 8601, YYYY/MM/DD, DD.MM.YYYY, MM/DD/YYYY, compact YYYYMMDDHHMM, seconds
 * or milliseconds since 1970. Ten digits from 19… on are YYYYMMDDHH: as seconds they would lie after 2030. 24:00 is the
 * midnight that ends the day. Undefined when it is none of these.
 */
export function readStamp(text: string, order: DateOrder): Stamp | undefined {
  if (text.length > LONGEST_STAMP) return undefined;
  const match = STAMP.exec(text);
  if (match !== null) {
    const [a, b, c] = [Number(match[1]), Number(match[3]), Number(match[4])];
    const [year, month, day] = order === 'ymd' ? [a, b, c] : order === 'dmy' ? [c, b, a] : [c, a, b];
    let hour = Number(match[5] ?? 0);
    if (match[8] !== undefined) hour = (hour % 12) + (match[8][0]!.toLowerCase() === 'p' ? 12 : 0);
    const minute = Number(match[6] ?? 0);
    return stamp(year!, month!, day!, hour, minute, Number(match[7] ?? 0), zoneOffset(match[9]));
  }
  if (/^\s*1([0-8]\d{8}|\d{12})\s*$/.test(text)) {
    const n = Number(text);
    return { clockMs: n < 1e12 ? n * 1000 : n, offsetH: 0 };
  }
  const compact = COMPACT.exec(text);
  if (compact === null) return undefined;
  const [year, month, day, hour, minute, second] = [1, 2, 3, 4, 5, 6].map((i) => Number(compact[i] ?? 0));
  return stamp(year!, month!, day!, hour!, minute!, second!, compact[7] === undefined ? undefined : 0);
}

function stamp(
  year: number,
  month: number,
  day: number,
  hour: number,
  minute: number,
  second: number,
  offsetH: number | undefined,
): Stamp | undefined {
  const full = year < 100 ? year + (year < 70 ? 2000 : 1900) : year;
  if (!(month >= 1 && month <= 12 && day >= 1 && day <= 31 && hour <= 24 && minute < 60 && second < 61))
    return undefined;
  if (Number.isNaN(offsetH)) return undefined;
  const clockMs = Date.UTC(full, month - 1, day, hour, minute, second);
  if (new Date(Date.UTC(full, month - 1, day)).getUTCDate() !== day) return undefined;
  return { clockMs, offsetH };
}

/** Hours ahead of UTC; NaN for letters that name no one zone. */
function zoneOffset(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (/^[a-z]/i.test(text)) return ZONE_LETTERS[text.toLowerCase()] ?? Number.NaN;
  const digits = text.replace(':', '');
  const hours = Number(digits.slice(1, 3)) + Number(digits.slice(3, 5) || 0) / 60;
  return digits[0] === '-' ? -hours : hours;
}

/** A time of day [ms after midnight] from "14", "14:30", "24:00", "2:30 PM"; undefined when it is none. */
export function readTimeOfDay(text: string): number | undefined {
  if (text.length > LONGEST_STAMP) return undefined;
  const match = /^\s*(\d{1,2})(?:[:h.](\d{2}))?(?::(\d{2}))?\s*([ap]\.?m\.?)?\s*$/i.exec(text);
  if (match === null) return undefined;
  let hour = Number(match[1]);
  if (match[4] !== undefined) hour = (hour % 12) + (match[4][0]!.toLowerCase() === 'p' ? 12 : 0);
  const minute = Number(match[2] ?? 0);
  if (!(hour <= 24 && minute < 60)) return undefined;
  return ((hour * 60 + minute) * 60 + Number(match[3] ?? 0)) * 1000;
}
