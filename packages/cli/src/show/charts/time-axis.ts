import type { CivilDay } from '@stayput/core/model';
import { DAY_MS } from '@stayput/core/model';
import { dayText, monthText } from '../number.js';
import { placesAxis } from './axes.js';
import type { ChartSize } from './chart.js';

/** Longer spans are labelled by months. */
const MAX_BY_DAYS = 62;
const LABEL_PX = { day: 54, month: 40 } as const;

/** Local civil time as a number: milliseconds of that wall clock, as if it were UTC. */
export function localMs(days: readonly CivilDay[], ms: number): number {
  let day = days[0]!;
  for (const next of days) {
    if (next.startMs > ms) break;
    day = next;
  }
  return Date.parse(`${day.date}T00:00:00Z`) + (ms - day.startMs);
}

/** An axis of local time, labelled with days or months, as many as fit. */
export function timeAxis(fromMs: number, toMs: number, plotWidth: number): ReturnType<typeof placesAxis> {
  if (!(toMs > fromMs && toMs < Infinity)) throw new RangeError(`timeAxis: from ${fromMs} to ${toMs} ms is no time`);
  const days = Math.max(1, (toMs - fromMs) / DAY_MS);
  const iso = (ms: number) => new Date(ms).toISOString();
  if (days <= MAX_BY_DAYS) {
    const every = niceDays((days * LABEL_PX.day) / plotWidth);
    const first = Math.ceil(fromMs / DAY_MS) * DAY_MS;
    const at = Array.from(
      { length: Math.floor((toMs - first) / DAY_MS / every) + 1 },
      (_, k) => first + k * every * DAY_MS,
    );
    return placesAxis(
      at.filter((ms) => ms < toMs).map((ms) => ({ at: ms, words: dayText(iso(ms)) })),
      { min: fromMs, max: toMs, hasRules: false },
    );
  }
  const places: { at: number; words: string }[] = [];
  const start = new Date(fromMs);
  const months = days / 30.4;
  const every = [1, 2, 3, 6, 12].find((step) => (months / step) * LABEL_PX.month <= plotWidth) ?? 12;
  for (let k = 0; ; k += every) {
    const at = Date.UTC(start.getUTCFullYear(), start.getUTCMonth() + k, 1);
    if (at >= toMs) break;
    if (at >= fromMs) {
      const isYear = new Date(at).getUTCMonth() === 0 || places.length === 0;
      places.push({
        at,
        words: months > 14 && isYear ? `${monthText(iso(at))} ${iso(at).slice(0, 4)}` : monthText(iso(at)),
      });
    }
  }
  return placesAxis(places, { min: fromMs, max: toMs, hasRules: false });
}

function niceDays(least: number): number {
  return [1, 2, 3, 7, 14].find((days) => days >= least) ?? 14;
}

/** Points of a column over time, no more than a picture can show: of each stretch its first, lowest, highest and last. */
export function thinned(
  values: ArrayLike<number>,
  at: (step: number) => number,
  stretches: number,
): [number, number | null][] {
  const points: [number, number | null][] = [];
  const perStretch = Math.max(1, Math.ceil(values.length / stretches));
  const point = (i: number): [number, number | null] => [
    at(i),
    Number.isFinite(values[i]!) ? rounded(values[i]!) : null,
  ];
  for (let from = 0; from < values.length; from += perStretch) {
    const to = Math.min(values.length, from + perStretch);
    let [low, high] = [from, from];
    for (let i = from; i < to; i++) {
      if (!(values[i]! >= values[low]!)) low = i;
      if (!(values[i]! <= values[high]!)) high = i;
    }
    const kept = [...new Set([from, low, high, to - 1])].sort((a, b) => a - b);
    points.push(...kept.map(point));
  }
  return points;
}

const rounded = (value: number) => Number(value.toPrecision(5));

export const chartPoints = (size: ChartSize): number => (size === 'wide' ? 360 : 160);
