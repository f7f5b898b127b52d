import { isZone, zoneAt } from '../../place/index.js';
import { clockOffsetOf } from '../../table/index.js';
import type { LogLayout } from '../columns/log-layout.js';
import type { LogOptions, LogReading } from '../types.js';
import { isClockZone } from './zone-clock.js';

export interface LogZone {
  /** of stamps that do not name their own offset */
  readonly clock: string;
  /** whose civil days the picture is told in */
  readonly civil: string;
  readonly by: LogReading['time']['zoneBy'];
}

/** The zone of a log's clock: the user's word, the stamps', the headings', the preface's, the place's, else UTC. */
export function zoneOfLog(layout: LogLayout, options: LogOptions, stampsAreUtc: boolean): LogZone {
  const { zone, at } = options;
  const place = at && zoneAt(at.latDeg, at.lonDeg);
  if (stampsAreUtc) return { clock: 'UTC', civil: zone ?? place ?? 'UTC', by: zone ? 'option' : 'stamps' };
  if (zone !== undefined) return { clock: zone, civil: zone, by: 'option' };
  const times = layout.date === undefined ? [layout.time] : [layout.time, layout.date];
  const headed = times.map((k) => clockOffsetOf(layout.headings[k]!)).find((offset) => offset !== undefined);
  if (headed !== undefined) return { clock: offsetText(headed), civil: place ?? offsetText(headed), by: 'heading' };
  const preface = zoneInPreface(layout.preface);
  if (preface !== undefined) return { clock: preface, civil: preface, by: 'heading' };
  if (place !== undefined) return { clock: place, civil: place, by: 'place' };
  return { clock: 'UTC', civil: 'UTC', by: 'assumed' };
}

function zoneInPreface(preface: readonly string[]): string | undefined {
  for (const line of preface) {
    const named = /\b[A-Z][A-Za-z]+\/[A-Z][A-Za-z_]+(?:\/[A-Z][A-Za-z_]+)?\b/.exec(line);
    if (named !== null && isZone(named[0])) return named[0];
    const offset = /time ?zone\W{0,6}((?:utc|gmt)?\s*[+-]\d{1,2}(?::?\d{2})?|utc|gmt)\b/i.exec(line);
    if (offset !== null && isClockZone(offset[1]!)) return offset[1]!.toUpperCase();
  }
  return undefined;
}

/** "UTC+05:30" */
export function offsetText(hours: number): string {
  if (hours === 0) return 'UTC';
  const minutes = Math.round(Math.abs(hours) * 60);
  const two = (value: number) => String(value).padStart(2, '0');
  return `UTC${hours < 0 ? '-' : '+'}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}
