import { DAY_MS, HOUR_MS } from '../math/index.js';
import { ConfigError, type Stop, type Trip } from '../rig/index.js';
import type { Grid } from '../sky/index.js';
import { sunTimes } from '../sky/index.js';
import { addDays, civilMs, daysBetween, type OffsetSpan, offsetSpans, startOfDayMs } from './civil-time.js';
import { findPlace, placeFor } from './places.js';
import type { Place } from './types.js';

/** One local civil day of a run; 23 or 25 hours long when the clocks change, or when the zone does between stops. */
export interface CivilDay {
  /** local civil date, ISO */
  readonly date: string;
  /** local midnight at which it begins, of the first day also where the run begins later */
  readonly startMs: number;
  readonly endMs: number;
  /** since the first day of the run, from 0 */
  readonly dayNumber: number;
  readonly leg: number;
  readonly offsets: readonly OffsetSpan[];
  readonly sunriseMs?: number;
  readonly sunsetMs?: number;
  /** set when the sun neither rises nor sets */
  readonly polar?: 'day' | 'night';
  /** loads, by name, times so much at this stop */
  readonly use: Readonly<Record<string, number>>;
}

/** A stop with its place found and its instants known. */
export interface Leg {
  readonly stop: Stop;
  readonly place: Place;
  readonly startMs: number;
  readonly endMs: number;
  readonly firstStep: number;
  readonly steps: number;
}

/** A trip laid on the grid. */
export interface Itinerary {
  readonly grid: Grid;
  readonly legs: readonly Leg[];
  readonly days: readonly CivilDay[];
  /** share of each step with the engine on, 0..1 */
  readonly driving: Float64Array;
  /** share of each step on mains, 0..1 */
  readonly mains: Float64Array;
  /** local civil hour at the middle of each step, 0..24 */
  readonly localHour: Float64Array;
}

/** Steps that divide the hour evenly [min]. */
export const STEP_MINUTES = [1, 2, 3, 4, 5, 6, 10, 12, 15, 20, 30, 60] as const;

/**
 * Lays a trip on a regular grid. A stop lasts from the local midnight that begins its day of arrival to the midnight
 * that begins the next stop's; a trip thus holds whole civil days, of 23 or 25 hours where clocks or zones change.
 * The drive to a stop is on its day of arrival, by the clock of the stop before, at the stop's own sky. A trip that starts at a clock
 * time leaves out the steps of its first day before it; of an hour that comes twice it is the first, and one that is skipped is as much later.
 * @param stepH one of STEP_MINUTES, in hours
 * @throws ConfigError when a place is not found, a date is missing or the stops do not join
 */
export function itineraryFor(trip: Trip, stepH: number): Itinerary {
  const whole = wholeDays(trip, stepH);
  return begunAt(whole, startStep(whole, trip));
}

/** The same from the midnight of the first day on. */
export function wholeDays(trip: Trip, stepH: number): Itinerary {
  if (!STEP_MINUTES.some((minutes) => Math.abs(minutes / 60 - stepH) < 1e-12))
    throw new RangeError(`stepH must be one of ${STEP_MINUTES.join(', ')} minutes, got ${stepH} h`);
  const stepMs = Math.round(stepH * HOUR_MS);
  const dates = stopDates(trip);
  const places = trip.stops.map(stopPlace);
  const startMs = startOfDayMs(dates[0]!, places[0]!.zone);
  const last = trip.stops.length - 1;
  const lastEndMs = startOfDayMs(addDays(dates[last]!, trip.stops[last]!.nights), places[last]!.zone);

  const legs: Leg[] = trip.stops.map((stop, k) => {
    const from = startOfDayMs(dates[k]!, places[k]!.zone);
    const to = k < last ? startOfDayMs(dates[k + 1]!, places[k + 1]!.zone) : lastEndMs;
    const firstStep = Math.round((from - startMs) / stepMs);
    const steps = Math.round((to - startMs) / stepMs) - firstStep;
    if (steps <= 0)
      throw new ConfigError([
        {
          code: 'stops_do_not_join',
          path: `stops[${k}].nights`,
          message: `no time is left here: at the next stop, across the date line, its date begins ${(from - to) / HOUR_MS} h before this one's`,
          hint: 'give it one night more',
        },
      ]);
    return {
      stop,
      place: places[k]!,
      startMs: startMs + firstStep * stepMs,
      endMs: startMs + (firstStep + steps) * stepMs,
      firstStep,
      steps,
    };
  });
  const steps = legs.reduce((sum, leg) => sum + leg.steps, 0);
  const grid: Grid = { startMs, stepH, steps };
  const days = legs.flatMap((leg, k) => legDays(leg, k, dates[k]!, dates[0]!));

  const driving = new Float64Array(steps);
  const mains = new Float64Array(steps);
  for (const day of days) {
    const leg = legs[day.leg]!;
    const onLeg = daysBetween(dates[day.leg]!, day.date);
    const { driveFromH, driveH, outings } = leg.stop;
    if (onLeg === 0) {
      // Who leaves looks at the clock of the place that is left.
      const left = legs[day.leg - 1]?.place.zone ?? leg.place.zone;
      addHours(
        driving,
        grid,
        left === leg.place.zone ? civilHourMs(day, driveFromH) : civilMs(day.date, driveFromH, left),
        driveH,
      );
    } else if (outings && onLeg % outings.everyDays === 0) addWindow(driving, grid, day, outings.fromH, outings.driveH);
    addWindow(mains, grid, day, leg.stop.mainsFromH, leg.stop.mainsH);
  }
  return { grid, legs, days, driving, mains, localHour: localHours(grid, days) };
}

/** At which step of whole days a trip starts: the nearest one. */
export function startStep({ grid, legs, days }: Itinerary, { startH = 0 }: Pick<Trip, 'startH'>): number {
  if (startH === 0) return 0;
  const ms = civilMs(days[0]!.date, startH, legs[0]!.place.zone);
  return Math.min(legs[0]!.steps - 1, Math.max(0, Math.round((ms - grid.startMs) / (grid.stepH * HOUR_MS))));
}

/** An itinerary without its first steps, which are of its first leg. Its days stay whole, and the first reaches beyond the grid. */
export function begunAt(whole: Itinerary, step: number): Itinerary {
  if (step === 0) return whole;
  const { grid, legs } = whole;
  const startMs = grid.startMs + step * Math.round(grid.stepH * HOUR_MS);
  return {
    ...whole,
    grid: { ...grid, startMs, steps: grid.steps - step },
    legs: legs.map((leg, k) =>
      k === 0 ? { ...leg, startMs, steps: leg.steps - step } : { ...leg, firstStep: leg.firstStep - step },
    ),
    driving: whole.driving.slice(step),
    mains: whole.mains.slice(step),
    localHour: whole.localHour.slice(step),
  };
}

/** The civil date on which each stop begins. */
function stopDates(trip: Trip): string[] {
  const dates: string[] = [];
  trip.stops.forEach((stop, k) => {
    const before = trip.stops[k - 1];
    const expected = before ? addDays(dates[k - 1]!, before.nights) : undefined;
    if (expected === undefined && stop.from === undefined)
      throw new ConfigError([
        {
          code: 'missing',
          path: 'stops[0].from',
          message: 'the first stop needs the date it begins, such as 2026-10-03',
        },
      ]);
    if (expected !== undefined && stop.from !== undefined && daysBetween(expected, stop.from) !== 0)
      throw new ConfigError([
        {
          code: 'stops_do_not_join',
          path: `stops[${k}].from`,
          message: `begins on ${stop.from}, but the stop before it ends on ${expected}`,
          hint: `change its nights or leave out from`,
        },
      ]);
    dates.push(stop.from ?? expected!);
  });
  return dates;
}

/** Where a stop is, with what it says of itself. @throws ConfigError for a place not known */
export function stopPlace(stop: Pick<Stop, 'at' | 'place' | 'name' | 'elevationM' | 'zone'>): Place {
  const { name, latDeg, lonDeg, elevationM, zone } = stop.at ? placeFor(stop.at) : findPlace(stop.place!);
  return {
    name: stop.name ?? name,
    latDeg,
    lonDeg,
    elevationM: stop.elevationM ?? elevationM,
    zone: stop.zone ?? zone,
  };
}

function legDays(leg: Leg, legIndex: number, firstDate: string, runDate: string): CivilDay[] {
  const days: CivilDay[] = [];
  const { place } = leg;
  const spans = offsetSpans(leg.startMs, leg.endMs + DAY_MS, place.zone);
  let date = firstDate;
  for (let startMs = leg.startMs; startMs < leg.endMs; ) {
    const next = addDays(date, 1);
    const isLast = days.length === leg.stop.nights - 1;
    const endMs = isLast ? leg.endMs : Math.min(leg.endMs, dayBeginMs(next, spans));
    const sun = sunTimes(startMs, place.latDeg, place.lonDeg);
    days.push({
      date,
      startMs,
      endMs,
      dayNumber: daysBetween(runDate, date),
      leg: legIndex,
      offsets: spansWithin(spans, startMs, endMs),
      use: leg.stop.use,
      ...(sun.sunriseMs !== undefined && { sunriseMs: sun.sunriseMs }),
      ...(sun.sunsetMs !== undefined && { sunsetMs: sun.sunsetMs }),
      ...(sun.polar && { polar: sun.polar }),
    });
    startMs = endMs;
    date = next;
  }
  return days;
}

/** Where a civil date begins: at midnight, or at the clock change that skips it. */
function dayBeginMs(date: string, spans: readonly OffsetSpan[]): number {
  const beginMs = (span: OffsetSpan) => Math.max(span.fromMs, Date.parse(date) - span.utcOffsetH * HOUR_MS);
  return beginMs(spans.find((span, k) => beginMs(span) < (spans[k + 1]?.fromMs ?? Infinity))!);
}

/** The offsets in force over [fromMs, toMs), the first beginning at fromMs. */
function spansWithin(spans: readonly OffsetSpan[], fromMs: number, toMs: number): OffsetSpan[] {
  const before = spans.findLast((span) => span.fromMs <= fromMs) ?? spans[0]!;
  return [
    { fromMs, utcOffsetH: before.utcOffsetH },
    ...spans.filter((span) => span.fromMs > fromMs && span.fromMs < toMs),
  ];
}

/** The instant of a local civil hour of a day: of an hour that comes twice the later one; one that is skipped is as much later. */
export function civilHourMs(day: CivilDay, hour: number): number {
  const before = day.offsets[0]!;
  const atMs = (span: OffsetSpan) => day.startMs + (before.utcOffsetH - span.utcOffsetH) * HOUR_MS + hour * HOUR_MS;
  return atMs(day.offsets.findLast((span) => atMs(span) >= span.fromMs) ?? before);
}

/** Adds a window of elapsed hours to a share-of-step column; what runs past the end of the grid is cut off. */
function addWindow(column: Float64Array, grid: Grid, day: CivilDay, fromH: number, hours: number): void {
  addHours(column, grid, civilHourMs(day, fromH), hours);
}

function addHours(column: Float64Array, grid: Grid, from: number, hours: number): void {
  const stepMs = grid.stepH * HOUR_MS;
  const to = from + hours * HOUR_MS;
  const first = Math.max(0, Math.floor((from - grid.startMs) / stepMs + 1e-9));
  for (let i = first; i < grid.steps; i++) {
    const a = grid.startMs + i * stepMs;
    if (a >= to) return;
    column[i] = Math.min(1, column[i]! + Math.max(0, Math.min(to, a + stepMs) - Math.max(from, a)) / stepMs);
  }
}

function localHours(grid: Grid, days: readonly CivilDay[]): Float64Array {
  const hours = new Float64Array(grid.steps);
  const stepMs = grid.stepH * HOUR_MS;
  let day = 0;
  let span = 0;
  for (let i = 0; i < grid.steps; i++) {
    const middle = grid.startMs + (i + 0.5) * stepMs;
    while (day + 1 < days.length && middle >= days[day]!.endMs) {
      day++;
      span = 0;
    }
    const { offsets } = days[day]!;
    while (span + 1 < offsets.length && middle >= offsets[span + 1]!.fromMs) span++;
    const local = (middle / HOUR_MS + offsets[span]!.utcOffsetH) % 24;
    hours[i] = local < 0 ? local + 24 : local;
  }
  return hours;
}

/** An instant as local civil time of the run, ISO 8601 with offset: 2026-10-05T08:10+01:00. */
export function isoLocal(ms: number, days: readonly CivilDay[]): string {
  let low = 0;
  let high = days.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (days[middle]!.startMs <= ms) low = middle;
    else high = middle - 1;
  }
  let offsetH = 0;
  for (const span of days[low]?.offsets ?? []) if (span.fromMs <= ms) offsetH = span.utcOffsetH;
  const local = new Date(ms + offsetH * HOUR_MS).toISOString().slice(0, 16);
  const minutes = Math.round(Math.abs(offsetH) * 60);
  const pad = (value: number) => String(value).padStart(2, '0');
  return `${local}${offsetH < 0 ? '-' : '+'}${pad(Math.floor(minutes / 60))}:${pad(minutes % 60)}`;
}
