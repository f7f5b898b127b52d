import { DAY_MS, dayStream, HOUR_MS, uniform } from '../math/index.js';
import type { ScheduledLoad } from '../rig/index.js';
import type { Grid } from '../sky/index.js';
import { type DayInfo, type Span, timesUsed, windowSpans } from './day.js';

/** No place on earth, so that loads and weather never share their draws. */
const NOWHERE = { latDeg: 999, lonDeg: 999 } as const;

/** How a load's runs are placed in its windows. */
export interface ScheduleOptions {
  /**
   * Place the runs of a load with hours or times a day at random within its windows instead of spreading them evenly:
   * each run whole, one in each of as many equal parts of the windows. Same seed, same runs, same energy; a day's runs
   * do not depend on when the trip begins, and each load has its own.
   */
  readonly seed?: number;
  /** another draw of the same seed, for weather years; 0 unless given */
  readonly year?: number;
}

/** When a load is on, a value a step. */
export interface ScheduleColumns {
  /** mean share of the step that the load is on, times the stop's `use` and the load's `share`; above 1 if use > 1 */
  readonly onShare: Float64Array;
}

/**
 * When a load runs, as the mean share of each step. Over a civil day the sum of onShare · stepH is the hours
 * demanded (windows' length, or hours a day, or times · lasts), times share and use; exact to rounding. Hours that
 * the day's windows cannot hold are not demanded.
 * @param days civil days that cover the grid, in order; those that reach beyond it give only their part
 */
export function scheduleColumns(
  load: ScheduledLoad,
  days: readonly DayInfo[],
  grid: Grid,
  options: ScheduleOptions = {},
): ScheduleColumns {
  const onShare = new Float64Array(grid.steps);
  for (const day of days) {
    if (!runsOn(load, day)) continue;
    const weight = load.share * timesUsed(day, load.name);
    if (weight === 0) continue;
    const windows = windowSpans(load.when, day);
    const openH = hoursOf(windows);
    if (openH === 0) continue;
    const wantedH = Math.min(openH, demandedHours(load) ?? openH);
    if (options.seed === undefined || wantedH === openH) {
      for (const span of windows) addSpan(onShare, grid, span, (weight * wantedH) / openH);
    } else {
      const runs = Math.max(1, Math.round(load.timesPerDay ?? 1));
      const random = dayStream(
        { seed: options.seed, year: options.year ?? 0, ...NOWHERE },
        Math.floor(day.startMs / DAY_MS),
        nameNumber(load.name),
      );
      for (let i = 0; i < runs; i++) {
        const fromH = (openH * i + (openH - wantedH) * uniform(random)) / runs;
        for (const span of inside(windows, fromH, fromH + wantedH / runs)) addSpan(onShare, grid, span, weight);
      }
    }
  }
  return { onShare };
}

/** Hours a day that the load itself names, before share and use; undefined = the whole of its windows. */
export function demandedHours(load: ScheduledLoad): number | undefined {
  if (load.hoursPerDay !== undefined) return load.hoursPerDay;
  if (load.timesPerDay === undefined || load.lastsH === undefined) return undefined;
  return load.timesPerDay * load.lastsH;
}

function nameNumber(name: string): number {
  let number = 7;
  for (const sign of name) number = (Math.imul(number, 31) + sign.codePointAt(0)!) | 0;
  return number;
}

/** "Every 3 days" is the first day of the run, then every third. */
function runsOn(load: ScheduledLoad, { dayNumber, startMs, offsets }: DayInfo): boolean {
  // Its noon by its own clock, as a day may begin some minutes off midnight.
  const noon = new Date(startMs + (offsets[0]!.utcOffsetH + 12) * HOUR_MS);
  if (load.months && !load.months.includes(noon.getUTCMonth() + 1)) return false;
  if (load.weekdays && !load.weekdays.includes(noon.getUTCDay())) return false;
  return Math.floor(dayNumber / load.everyDays) > Math.floor((dayNumber - 1) / load.everyDays);
}

function hoursOf(spans: readonly Span[]): number {
  let ms = 0;
  for (const span of spans) ms += span.toMs - span.fromMs;
  return ms / HOUR_MS;
}

/** The part of the spans between two points on the clock that runs only inside them [h]. */
function inside(spans: readonly Span[], fromH: number, toH: number): Span[] {
  const out: Span[] = [];
  let passedMs = 0;
  for (const span of spans) {
    const fromMs = Math.max(span.fromMs, span.fromMs + fromH * HOUR_MS - passedMs);
    const toMs = Math.min(span.toMs, span.fromMs + toH * HOUR_MS - passedMs);
    if (toMs > fromMs) out.push({ fromMs, toMs });
    passedMs += span.toMs - span.fromMs;
  }
  return out;
}

/** Adds `weight` over a span to a column of step means, part steps by the part that is covered. */
export function addSpan(column: Float64Array, grid: Grid, span: Span, weight: number): void {
  const stepMs = grid.stepH * HOUR_MS;
  const from = Math.max(0, (span.fromMs - grid.startMs) / stepMs);
  const to = Math.min(grid.steps, (span.toMs - grid.startMs) / stepMs);
  if (!(to > from)) return;
  const first = Math.floor(from);
  const last = Math.ceil(to) - 1;
  if (first === last) {
    column[first] = column[first]! + weight * (to - from);
    return;
  }
  column[first] = column[first]! + weight * (first + 1 - from);
  for (let i = first + 1; i < last; i++) column[i] = column[i]! + weight;
  column[last] = column[last]! + weight * (to - last);
}
