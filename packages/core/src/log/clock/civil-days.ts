import { HOUR_MS } from '../../math/index.js';
import { addDays, startOfDayMs } from '../../place/index.js';
import { fixedOffsetH, zoneOffsetH } from './zone-clock.js';

/** A civil day of a zone: [startMs, endMs). */
export interface CivilDaySpan {
  readonly date: string;
  readonly startMs: number;
  readonly endMs: number;
}

/** The civil day in which an instant falls, in an IANA zone or at a fixed offset. */
export function civilDayAt(ms: number, zone: string): CivilDaySpan {
  const date = new Date(ms + zoneOffsetH(ms, zone) * HOUR_MS).toISOString().slice(0, 10);
  const fixedH = fixedOffsetH(zone);
  const start = (isoDate: string) =>
    fixedH === undefined ? startOfDayMs(isoDate, zone) : Date.parse(isoDate) - fixedH * HOUR_MS;
  return { date, startMs: start(date), endMs: start(addDays(date, 1)) };
}
