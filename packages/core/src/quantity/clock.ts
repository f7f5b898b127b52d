import { parseQuantity, QuantityError, shown } from './quantity.js';

/** A time of day: hours of local civil time, or offset from sunrise or sunset. */
export type ClockPoint =
  | { readonly kind: 'clock'; readonly hour: number }
  | { readonly kind: 'sunrise' | 'sunset'; readonly offsetH: number };

/** A span of the day; one that ends before it begins crosses midnight. */
export interface DayWindow {
  readonly from: ClockPoint;
  readonly to: ClockPoint;
}

const HELP = 'write 22:30, sunset, or sunrise + 1 h';

/**
 * A time of day: "22:30", "7:05", "24:00", "sunset", "sunrise + 1 h", "sunset - 30 min".
 * @throws QuantityError
 */
export function parseClock(text: string): ClockPoint {
  const clean = text
    .replace(/\u2212/g, '-')
    .trim()
    .toLowerCase();
  const time = /^(\d{1,2}):(\d{2})$/.exec(clean);
  if (time) {
    const hour = Number(time[1]) + Number(time[2]) / 60;
    if (Number(time[2]) > 59 || hour > 24)
      throw new QuantityError('not_a_quantity', `${shown(text.trim())} is not a time of day (00:00 to 24:00)`, HELP);
    return { kind: 'clock', hour };
  }
  const sun = /^(sunrise|sunset)(?:\s*([+-])\s*(.+))?$/.exec(clean);
  if (!sun) throw new QuantityError('not_a_quantity', `${shown(text.trim())} is not a time of day`, HELP);
  const offsetH = sun[3] ? parseQuantity(sun[3], 'duration') : 0;
  if (!(offsetH >= 0 && offsetH <= 24))
    throw new QuantityError('not_a_quantity', `${shown(text.trim())} is more than a day from ${sun[1]}`, HELP);
  return { kind: sun[1] as 'sunrise' | 'sunset', offsetH: sun[2] === '-' && offsetH > 0 ? -offsetH : offsetH };
}

/**
 * One or more windows: "sunset to 22:30", "07:00 to 09:00 and 18:00 to 22:00". A window may cross midnight.
 * "always" and "all day" give no window, which means the whole day.
 * @throws QuantityError also if a window begins and ends at the same time
 */
export function parseWindows(text: string): DayWindow[] {
  if (/^\s*(always|all day)\s*$/i.test(text)) return [];
  const plain = text.replace(/\s+/g, ' '); // long runs of blanks would make the patterns below slow
  return plain.split(/ and | ?, ?/i).map((part) => {
    const ends = part.split(/ to /i);
    if (ends.length !== 2)
      throw new QuantityError(
        'not_a_quantity',
        `${shown(part.trim())} is not a time window`,
        'write sunset to 22:30, or 09:00 to 17:00',
      );
    const from = parseClock(ends[0]!);
    const to = parseClock(ends[1]!);
    if (formatClock(from) === formatClock(to))
      throw new QuantityError(
        'not_a_quantity',
        `${shown(part.trim())} begins and ends at the same time`,
        'write always for the whole day',
      );
    return { from, to };
  });
}

/** As a user would write it; `parseClock` reads it back to the same point, to the minute. */
export function formatClock(point: ClockPoint): string {
  if (point.kind === 'clock') {
    const minutes = Math.round(point.hour * 60);
    return `${pad(Math.floor(minutes / 60))}:${pad(minutes % 60)}`;
  }
  if (point.offsetH === 0) return point.kind;
  return `${point.kind} ${point.offsetH < 0 ? '-' : '+'} ${Math.abs(point.offsetH)} h`;
}

/** Windows as a file has them: "sunset to 22:30"; none is "always". */
export function formatWindows(windows: readonly DayWindow[]): string {
  return windows.length === 0
    ? 'always'
    : windows.map((w) => `${formatClock(w.from)} to ${formatClock(w.to)}`).join(' and ');
}

/** Length of a window whose ends are both clock times, which may cross midnight [h]; undefined if the sun sets an end. */
export function windowHours(window: DayWindow): number | undefined {
  if (window.from.kind !== 'clock' || window.to.kind !== 'clock') return undefined;
  const hours = window.to.hour - window.from.hour;
  return hours > 0 ? hours : hours + 24;
}

const pad = (n: number) => String(n).padStart(2, '0');
