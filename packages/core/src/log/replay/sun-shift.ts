import { MINUTE_MS, percentile } from '../../math/index.js';
import type { LogSteps } from './log-steps.js';

/** Shifts that are tried, each way [h]; beyond, night and day change places, which reading the log sees by itself. */
const WIDEST_H = 4;
/** A clock is wrong from here on [min]: below lie clouds between camp and station. */
export const CLOCK_WRONG_MIN = 25;
/** And from so many steps of the log on: one is the difference between stamps at a row's start and at its end. */
const CLOCK_WRONG_STEPS = 1.5;
/** Of what the clock as it stands leaves unexplained, the best shift leaves this at most. */
const BETTER = 0.85;
/** The two witnesses agree within this [min]. */
const AGREE_MIN = 25;
/** Ground that slopes, and clouds at the station before the camp, move a sun's day by so much, one standard error [min]. */
const LEAST_ERROR_MIN = 5;
const MIN_STEPS = 60;
const MIN_DAYS = 5;
/** Harvest and offer count as light above this share of their own 95th percentile. */
const EDGE_SHARE = 0.03;

/** How far the log's clock is ahead of the sun. */
export interface SunShift {
  /** the log is ahead of the sun by so much [min] */
  readonly aheadMin: number;
  /** by how far its three witnesses (light all day, first light, last light) are apart [min] */
  readonly standardError: number;
  /** correlation of harvest with light as the clock stands, and at its best */
  readonly asIs: number;
  readonly best: number;
  readonly days: number;
}

/**
 * Holds the harvest against the light at shifted times, where nothing but sun and panel limits it, and against first and last
 * light, which no battery holds back: a clock is wrong only where the two say the same.
 */
export function sunShift(
  { harvestW, grid }: Pick<LogSteps, 'harvestW' | 'grid'>,
  free: Uint8Array,
  offeredW: Float64Array,
  dayOf: Int32Array,
): SunShift | undefined {
  if (harvestW.every((watts) => !(watts > 0))) return undefined;
  const stepMin = grid.stepH * 60;
  const widest = Math.round((WIDEST_H * 60) / stepMin);
  const tried: { shift: number; r: number }[] = [];
  for (let shift = -widest; shift <= widest; shift++)
    tried.push({ shift, r: correlation(harvestW, free, offeredW, shift) });
  const asIs = tried[widest]!.r;
  const top = tried.reduce((best, one) => (one.r > best.r ? one : best), tried[widest]!);
  const edges = edgeShift(harvestW, offeredW, dayOf);
  if (Number.isNaN(asIs) || edges === undefined) return undefined;
  const k = top.shift + widest;
  const [left, right] = [tried[k - 1]?.r, tried[k + 1]?.r];
  const bend = left !== undefined && right !== undefined ? left - 2 * top.r + right : 0;
  const between = bend < 0 ? (0.5 * (left! - right!)) / bend : 0;
  const byLight = (top.shift + Math.max(-0.5, Math.min(0.5, between))) * stepMin;
  const byEdges = edges.both.map((steps) => steps * stepMin);
  const witnesses = [byLight, ...byEdges].sort((a, b) => a - b) as [number, number, number];
  const aheadMin = witnesses[1];
  const standardError = Math.hypot(LEAST_ERROR_MIN, (witnesses[2] - witnesses[0]) / 2 / Math.sqrt(3));
  const isWrong =
    Math.abs(aheadMin) >= Math.max(CLOCK_WRONG_MIN, CLOCK_WRONG_STEPS * stepMin) &&
    1 - top.r < BETTER * (1 - asIs) &&
    byEdges.every((one) => Math.abs(one - byLight) <= AGREE_MIN + stepMin);
  return isWrong ? { aheadMin, standardError, asIs, best: top.r, days: edges.days } : undefined;
}

/** How many milliseconds to add to the stamps. */
export const shiftMsOf = ({ aheadMin }: SunShift) => -Math.round(aheadMin) * MINUTE_MS;

function correlation(harvestW: Float64Array, free: Uint8Array, offeredW: Float64Array, shift: number): number {
  let [n, x, y, xx, yy, xy] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < offeredW.length; i++) {
    const j = i + shift;
    const harvest = harvestW[j];
    if (harvest === undefined || Number.isNaN(harvest) || free[j] !== 1) continue;
    const offer = offeredW[i]!;
    if (!(offer > 0) && !(harvest > 0)) continue;
    n++;
    x += harvest;
    y += offer;
    xx += harvest * harvest;
    yy += offer * offer;
    xy += harvest * offer;
  }
  if (n < MIN_STEPS) return Number.NaN;
  return (xy - (x * y) / n) / Math.sqrt((xx - (x * x) / n) * (yy - (y * y) / n));
}

/** How many steps later the harvest begins, and ends, than the light: medians over days. Shade moves only one of the two. */
function edgeShift(harvestW: Float64Array, offeredW: Float64Array, dayOf: Int32Array) {
  const level = (column: Float64Array) =>
    EDGE_SHARE *
    percentile(
      Array.from(column).filter((watts) => watts > 0),
      0.95,
    );
  const [harvestLevel, offerLevel] = [level(harvestW), level(offeredW)];
  const starts: number[] = [];
  const ends: number[] = [];
  for (let from = 0; from < dayOf.length; ) {
    let to = from;
    while (to < dayOf.length && dayOf[to] === dayOf[from]) to++;
    const edge = (column: Float64Array, least: number) => {
      let [first, last] = [-1, -1];
      for (let i = from; i < to; i++)
        if (column[i]! > least) {
          if (first < 0) first = i;
          last = i;
        }
      return { first, last };
    };
    const [harvest, offer] = [edge(harvestW, harvestLevel), edge(offeredW, offerLevel)];
    if (harvest.first > from && offer.first > from) starts.push(harvest.first - offer.first);
    if (harvest.last >= 0 && offer.last >= 0 && harvest.last < to - 1) ends.push(harvest.last - offer.last);
    from = to;
  }
  if (starts.length < MIN_DAYS || ends.length < MIN_DAYS) return undefined;
  const [begin, end] = [percentile(starts, 0.5), percentile(ends, 0.5)];
  return { both: [begin, end], days: starts.length };
}
