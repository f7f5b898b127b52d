import { DAY_MS, HOUR_MS } from '../../math/index.js';
import { isZone, utcOffsetH } from '../../place/index.js';

/** Turns the local times of a log into UTC. `isSkipped`: the last one does not exist, as clocks were put forward over it. */
export interface ZoneClock {
  isSkipped: boolean;
  /** @param lastMs UTC of the row before: of an hour that comes twice it tells which is meant */
  toUtc(localMs: number, lastMs: number): number;
}

/** Hours ahead of UTC of "UTC", "+02:00" or "UTC+2"; undefined for a named zone. */
export function fixedOffsetH(zone: string): number | undefined {
  if (/^(utc|gmt|z)$/i.test(zone)) return 0;
  const found = /^(?:utc|gmt)?\s*([+-])(\d{1,2})(?::?(\d{2}))?$/i.exec(zone);
  if (found === null) return undefined;
  const hours = Number(found[2]) + Number(found[3] ?? 0) / 60;
  return hours > 14 ? undefined : found[1] === '-' ? -hours : hours;
}

/** Whether `zone` can be used: an IANA name or a fixed offset. */
export const isClockZone = (zone: string) => fixedOffsetH(zone) !== undefined || isZone(zone);

/** Local civil time less UTC [h] at an instant. */
export const zoneOffsetH = (ms: number, zone: string) => fixedOffsetH(zone) ?? utcOffsetH(ms, zone);

export function createZoneClock(zone: string): ZoneClock {
  const fixedH = fixedOffsetH(zone);
  let day = Number.NaN;
  /** the one offset of this local day; NaN on a day near a change */
  let dayOffsetMs = Number.NaN;
  const askedAt = (ms: number) => utcOffsetH(ms, zone) * HOUR_MS;
  /** near a change each row asks anew: the one offset of each hour of UTC, NaN where it changes within */
  const ofHour = new Map<number, number>();
  const offsetAt = (ms: number) => {
    const hour = Math.floor(ms / HOUR_MS);
    let offsetMs = ofHour.get(hour);
    if (offsetMs === undefined) {
      const early = askedAt(hour * HOUR_MS);
      offsetMs = early === askedAt((hour + 1) * HOUR_MS - 1) ? early : Number.NaN;
      ofHour.set(hour, offsetMs);
    }
    return Number.isNaN(offsetMs) ? askedAt(ms) : offsetMs;
  };
  const clock: ZoneClock = {
    isSkipped: false,
    toUtc(localMs, lastMs) {
      clock.isSkipped = false;
      if (fixedH !== undefined) return localMs - fixedH * HOUR_MS;
      const thisDay = Math.floor(localMs / DAY_MS);
      if (thisDay !== day) {
        day = thisDay;
        ofHour.clear();
        const early = askedAt(day * DAY_MS - 15 * HOUR_MS);
        dayOffsetMs = early === askedAt((day + 1) * DAY_MS + 15 * HOUR_MS) ? early : Number.NaN;
      }
      if (!Number.isNaN(dayOffsetMs)) return localMs - dayOffsetMs;
      const before = offsetAt(localMs - DAY_MS);
      const after = offsetAt(localMs + DAY_MS);
      const [first, second] = [localMs - before, localMs - after];
      const isFirst = offsetAt(first) === before;
      const isSecond = offsetAt(second) === after;
      if (isFirst && isSecond)
        return Math.min(first, second) > lastMs ? Math.min(first, second) : Math.max(first, second);
      if (isSecond) return second;
      clock.isSkipped = !isFirst;
      return first;
    },
  };
  return clock;
}
