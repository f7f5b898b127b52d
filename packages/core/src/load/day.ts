import { HOUR_MS } from '../math/index.js';
import type { ClockPoint, DayWindow } from '../rig/index.js';

/**
 * One local civil day of the run, as the itinerary has them. Days are 23, 24 or 25 h long; the first and the last may reach beyond the grid,
 * which then takes only its part of them.
 */
export interface DayInfo {
  /** local midnight at which the day begins and ends, UTC milliseconds */
  readonly startMs: number;
  readonly endMs: number;
  /** 0 on the first day of the run */
  readonly dayNumber: number;
  /** local civil time minus UTC: first that at the day's begin, then each change inside it, in order of time [h] */
  readonly offsets: readonly { readonly fromMs: number; readonly utcOffsetH: number }[];
  /** of the solar day whose noon falls in this day; sunset may fall after `endMs` */
  readonly sunriseMs?: number | undefined;
  readonly sunsetMs?: number | undefined;
  /** the sun does not set ('day') or does not rise ('night') */
  readonly polar?: 'day' | 'night' | undefined;
  /** a load, by name, times so much on this day */
  readonly use: Readonly<Record<string, number>>;
}

/** How many times as much as usual a load is used on a day. A load may have any name, that of a part of every object too. */
export function timesUsed({ use }: DayInfo, name: string): number {
  return Object.hasOwn(use, name) ? use[name]! : 1;
}

/** A stretch of time, UTC milliseconds, end excluded. */
export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/**
 * The instant at which local clocks show `hour`. A time skipped in spring becomes the moment of the change, a time
 * that comes twice in autumn is the first; so a later hour never gives an earlier instant.
 * @param hour local civil time, 0 to 24 [h]
 * @returns UTC milliseconds, within the day
 */
export function clockMs(day: DayInfo, hour: number): number {
  const firstOffsetH = day.offsets[0]!.utcOffsetH;
  // The day may begin a few minutes off midnight, where a zone's odd offset had to fit the grid.
  const midnightMs = Math.round((day.startMs / HOUR_MS + firstOffsetH) / 24) * 24 * HOUR_MS;
  let ms = midnightMs + (hour - firstOffsetH) * HOUR_MS;
  for (let i = 1; i < day.offsets.length; i++) {
    const { fromMs, utcOffsetH } = day.offsets[i]!;
    if (ms < fromMs) break;
    ms = Math.max(fromMs, midnightMs + (hour - utcOffsetH) * HOUR_MS);
  }
  return Math.min(Math.max(ms, day.startMs), day.endMs);
}

/**
 * The stretches of one civil day that lie in the windows, merged where they overlap, in order of time. No window at
 * all means the whole day. A window across midnight ("22:00 to 02:00") gives the day its early and its late part, so
 * each civil day stands for itself. "Sunset to 22:30" on a day whose sunset is later than that is empty.
 * Where the sun does not set, a window that waits for sunset, or runs until sunrise, is empty, and "sunrise to
 * sunset" is the whole day; where it does not rise, the other way round.
 */
export function windowSpans(windows: readonly DayWindow[], day: DayInfo): Span[] {
  if (windows.length === 0) return [{ fromMs: day.startMs, toMs: day.endMs }];
  const spans: Span[] = [];
  const add = (fromMs: number, toMs: number) => {
    const span = { fromMs: Math.max(fromMs, day.startMs), toMs: Math.min(toMs, day.endMs) };
    if (span.toMs > span.fromMs) spans.push(span);
  };
  for (const { from, to } of windows) {
    if (neverOn(from, to, day.polar)) continue;
    const fromMs = pointMs(from, day);
    const toMs = pointMs(to, day);
    if (crossesMidnight(from, to)) {
      add(fromMs - 24 * HOUR_MS, toMs);
      add(fromMs, day.endMs);
    } else add(fromMs, toMs);
  }
  return merged(spans);
}

function neverOn(from: ClockPoint, to: ClockPoint, polar: DayInfo['polar']): boolean {
  if (polar === 'day') return from.kind === 'sunset' || to.kind === 'sunrise';
  if (polar === 'night') return from.kind === 'sunrise' || to.kind === 'sunset';
  return false;
}

function pointMs(point: ClockPoint, day: DayInfo): number {
  if (point.kind === 'clock') return clockMs(day, point.hour);
  if (day.polar !== undefined) {
    const sunUpFirst = (day.polar === 'day') === (point.kind === 'sunrise');
    return sunUpFirst ? day.startMs : day.endMs;
  }
  const ms = point.kind === 'sunrise' ? day.sunriseMs : day.sunsetMs;
  if (ms === undefined) throw new RangeError(`day ${day.dayNumber} has no ${point.kind} and is not marked polar`);
  return ms + point.offsetH * HOUR_MS;
}

/**
 * Whether a window is meant to run past midnight, judged by what its words mean and not by the day's sun: the sun
 * rises between 3 and 12 and sets between 12 and 24 o'clock. Otherwise "sunset to 22:30" would last 23 hours on the
 * June evening when the sun sets at 22:40.
 */
function crossesMidnight(from: ClockPoint, to: ClockPoint): boolean {
  const earliest = from.kind === 'clock' ? from.hour : (from.kind === 'sunrise' ? 3 : 12) + from.offsetH;
  const latest = to.kind === 'clock' ? to.hour : (to.kind === 'sunrise' ? 12 : 24) + to.offsetH;
  return earliest >= latest;
}

function merged(spans: Span[]): Span[] {
  spans.sort((a, b) => a.fromMs - b.fromMs);
  const out: Span[] = [];
  for (const span of spans) {
    const last = out[out.length - 1];
    if (last && span.fromMs <= last.toMs)
      out[out.length - 1] = { fromMs: last.fromMs, toMs: Math.max(last.toMs, span.toMs) };
    else out.push(span);
  }
  return out;
}
