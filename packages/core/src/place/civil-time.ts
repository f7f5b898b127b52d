import { Temporal } from 'temporal-polyfill';
import { DAY_MS } from '../math/index.js';

/** A stretch of time with one offset from UTC. */
export interface OffsetSpan {
  readonly fromMs: number;
  /** local civil time minus UTC [h] */
  readonly utcOffsetH: number;
}

/** Whether the zone is known to the IANA database that the platform carries. */
export function isZone(zone: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone });
    return true;
  } catch {
    return false;
  }
}

/** The instant at which a civil date begins in a zone: 00:00, or the first instant after a clock change skips it. */
export function startOfDayMs(isoDate: string, zone: string): number {
  return Temporal.PlainDate.from(isoDate).toZonedDateTime(zone).epochMilliseconds;
}

/** A civil date so many days on. */
export function addDays(isoDate: string, days: number): string {
  return new Date(Date.parse(isoDate) + days * DAY_MS).toISOString().slice(0, 10);
}

/** Whole days from one civil date to another; negative when `to` is earlier. */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(to) - Date.parse(from)) / DAY_MS);
}

/**
 * Hours by which the zone's civil clock is ahead of UTC at an instant (UTC ms).
 * @throws RangeError for a zone not known
 */
export function utcOffsetH(ms: number, zone: string): number {
  return Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(zone).offsetNanoseconds / 3.6e12;
}

/** The zone's offset outside daylight saving in the year of `ms` [h]. */
export function standardOffsetH(ms: number, zone: string): number {
  const year = new Date(ms).getUTCFullYear();
  return Math.min(utcOffsetH(Date.UTC(year, 0, 1), zone), utcOffsetH(Date.UTC(year, 6, 1), zone));
}

/** The offsets in force over [fromMs, toMs), the first span beginning at fromMs. */
export function offsetSpans(fromMs: number, toMs: number, zone: string): OffsetSpan[] {
  const spans: OffsetSpan[] = [{ fromMs, utcOffsetH: utcOffsetH(fromMs, zone) }];
  let at = Temporal.Instant.fromEpochMilliseconds(fromMs).toZonedDateTimeISO(zone);
  for (;;) {
    const next = at.getTimeZoneTransition('next');
    if (next === null || next.epochMilliseconds >= toMs) return spans;
    spans.push({ fromMs: next.epochMilliseconds, utcOffsetH: next.offsetNanoseconds / 3.6e12 });
    at = next;
  }
}

/** Civil date and time as people read it: 2026-10-03 14:20. */
export function civilText(ms: number, zone: string): string {
  const at = Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(zone);
  return `${at.toPlainDate().toString()} ${at.toPlainTime().toString({ smallestUnit: 'minute' })}`;
}

/** The civil date at an instant, ISO. */
export function zonedDate(ms: number, zone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(zone).toPlainDate().toString();
}

/**
 * The instant of a civil date and hour: of an hour that comes twice the earlier one, one that is skipped as much later.
 * @param hour 0..24
 */
export function civilMs(isoDate: string, hour: number, zone: string): number {
  const minutes = Math.round(hour * 60);
  return Temporal.PlainDate.from(isoDate)
    .add({ days: Math.floor(minutes / 1440) })
    .toZonedDateTime({
      timeZone: zone,
      plainTime: Temporal.PlainTime.from({ hour: Math.floor(minutes / 60) % 24, minute: minutes % 60 }),
    }).epochMilliseconds;
}
