import { HOUR_MS } from '../../math/index.js';
import type { LogReading, Stamps } from '../types.js';
import { zoneOffsetH } from './zone-clock.js';

/** What the stamp of a row marks of its interval, and what tells so. */
export interface RowStamps {
  readonly stamps: Stamps;
  readonly by: 'option' | 'heading' | 'days' | 'assumed';
  /** added to a stamp it gives the beginning of the row's interval [ms] */
  readonly shiftMs: number;
}

const HEADING: readonly (readonly [Stamps, RegExp])[] = [
  ['start', /\b(from|start|begin|beginning|since|von|beginn|anfang|début|debut|inizio|desde)\b/i],
  ['end', /\b(end|ending|until|till|bis|ende|fin|fine|hasta)\b/i],
];
/** A stamp may be off a whole hour by so much [h]. */
const NEAR_H = 0.001;

/**
 * Whether rows are stamped at the start or at the end of their intervals: as the owner says; else by the wording of the heading;
 * else by what the first and last rows fill: a log that runs from 00:05 to 00:00 has its stamps at the ends, one from 00:00 to
 * 23:55 at the starts. Rows written on change hold until the next, and so are stamped at their start.
 */
export function rowStamps(
  { time, span }: Pick<LogReading, 'time' | 'span'>,
  option: Stamps | undefined,
  heading = time.headings.join(' '),
): RowStamps {
  const { stepH, zone, holdH } = time;
  const found = (stamps: Stamps, by: RowStamps['by']): RowStamps => ({
    stamps,
    by,
    shiftMs: (holdH !== undefined && by !== 'option') || !(stepH > 0) ? 0 : SHIFT[stamps] * stepH * HOUR_MS,
  });
  if (option !== undefined) return found(option, 'option');
  const worded = HEADING.find(([, words]) => words.test(heading));
  if (worded) return found(worded[0], 'heading');
  if (holdH !== undefined || !(stepH > 0)) return found('start', 'assumed');
  const unitH = stepH < 1 - NEAR_H ? 1 : 24;
  const isWhole = (iso: string, moreH: number) => {
    const ms = Date.parse(iso);
    const localH = ms / HOUR_MS + zoneOffsetH(ms, zone) + moreH;
    return Math.abs(localH / unitH - Math.round(localH / unitH)) * unitH < NEAR_H;
  };
  if (isWhole(span.from, -stepH) && isWhole(span.to, 0)) return found('end', 'days');
  if (isWhole(span.from, 0) && isWhole(span.to, stepH)) return found('start', 'days');
  return found('start', 'assumed');
}

const SHIFT = { start: 0, end: -1, instant: -0.5 } as const;
