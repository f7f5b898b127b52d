import { equationOfTimeMin } from '../../sky/index.js';
import type { LogNote } from '../note.js';
import type { LogOptions, LogReading } from '../types.js';
import { type LogZone, offsetText } from './log-zone.js';
import { zoneOffsetH } from './zone-clock.js';

/** Solar time: a harvest is centred within this of noon, trees, hills and a battery that is full in the morning granted [h]. */
const SOLAR_WITHIN_H = 4.5;
/** Civil time: solar noon lies between these by the clock wherever people live, daylight saving and trees granted [h]. */
const CIVIL_FROM_H = 9.5;
const CIVIL_TO_H = 16.5;
const NIGHT_SHARE = 0.05;

/**
 * Holds the centre of the harvest against the middle of the day: a zone that makes night of day shows here. With the place it
 * is told in solar time, else by the clock of the zone.
 */
export function judgeHarvestHours(
  harvest: { readonly utcH: number; readonly nightShare: number } | undefined,
  zone: LogZone,
  middleMs: number,
  at: LogOptions['at'],
): { centre?: NonNullable<LogReading['harvestCentre']>; warning?: LogNote } {
  if (harvest === undefined) return {};
  const { utcH, nightShare } = harvest;
  const usedH = zoneOffsetH(middleMs, zone.clock);
  if (at !== undefined) {
    const dayH = inDay(utcH + at.lonDeg / 15 + equationOfTimeMin(middleMs) / 60);
    const centre = { utcH, dayH, dayBy: 'solar time' } as const;
    if (Math.abs(dayH - 12) <= SOLAR_WITHIN_H && !(nightShare > NIGHT_SHARE)) return { centre };
    const clock = offsetText(Math.round(2 * (usedH + dayH - 12)) / 2);
    return {
      centre,
      warning: { code: 'log_night_harvest', args: { dayH, zone: zone.clock, sun: { nightShare, clock } } },
    };
  }
  const dayH = inDay(utcH + zoneOffsetH(middleMs, zone.civil));
  const centre = { utcH, dayH, dayBy: 'civil time' } as const;
  if (dayH >= CIVIL_FROM_H && dayH <= CIVIL_TO_H) return { centre };
  const lonDeg = (12 - utcH) * 15;
  return {
    centre,
    warning: {
      code: 'log_night_harvest',
      args: { dayH, zone: zone.civil, lonDeg: lonDeg > 180 ? lonDeg - 360 : lonDeg },
    },
  };
}

const inDay = (hour: number) => ((hour % 24) + 24) % 24;
