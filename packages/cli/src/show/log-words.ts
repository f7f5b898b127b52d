import type { LogReading } from '@stayput/core';
import { signText } from '../words/log-words.js';
import { counted, energy, fixed, hours, percent, significant } from './number.js';

/** The answer in one sentence. */
export function logVerdict({ rows, span, picture }: LogReading): string {
  const { harvestWhDay, dischargedAhDay, lowestSoc, lowestV, alwaysOnA, fullDays, days } = picture;
  const a = [
    ...(harvestWhDay === undefined ? [] : [`${energy(harvestWhDay)} of sun`]),
    ...(dischargedAhDay === undefined ? [] : [`${significant(dischargedAhDay)} Ah out of the battery`]),
  ];
  const parts = [
    ...(a.length > 0 ? [`${a.join(' and ')} a day`] : []),
    ...(lowestSoc !== undefined
      ? [`lowest ${percent(lowestSoc)}`]
      : lowestV !== undefined
        ? [`lowest ${fixed(lowestV, 2)} V`]
        : []),
    ...(fullDays === undefined ? [] : [`full on ${fixed(fullDays, 0)} of ${counted(days, 'day')}`]),
    ...(alwaysOnA === undefined ? [] : [`${significant(alwaysOnA, 2)} A always on`]),
  ];
  const read = `${counted(rows.read, 'row')} over ${spanWords(span.days)}, ${fixed(rows.kept, 0)} kept, ${fixed(rows.corrected, 0)} corrected, ${fixed(rows.rejected, 0)} rejected`;
  return parts.length > 0 ? `${sentence(parts.join(', '))} (${read}).` : `${read}.`;
}

const sentence = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
export const spanWords = (days: number) => (days < 2 ? hours(days * 24) : `${fixed(days, days < 10 ? 1 : 0)} days`);

const ORDER = { ymd: 'year, month, day', dmy: 'day, month, year', mdy: 'month, day, year' } as const;
const ZONE_BY = {
  option: 'as the option says',
  stamps: 'as the stamps themselves say',
  heading: 'as the log says',
  place: 'of the place',
  assumed: 'taken, as nothing says',
} as const;

/** Span and step. */
export function timeWords({ span, time }: LogReading): string {
  const between = time.stepH >= 1 / 60 ? hours(time.stepH) : `${significant(time.stepH * 3600, 2)} s`;
  const short = (iso: string) => iso.slice(0, 16).replace('T', ' ');
  return `${short(span.from)} to ${short(span.to)} UTC, a row every ${between}`;
}

const DELIMITERS: Readonly<Record<string, string>> = { ',': 'comma', ';': 'semicolon', '\t': 'tab', '|': 'bar' };

/** What was worked out rather than read, and from what. */
export function readWords(reading: LogReading): [string, string][] {
  const { time, currentSign, delimiter, decimalMark, counterAh, harvestCentre, picture, socResets } = reading;
  const clock = (h: number) => {
    const minutes = Math.round(h * 60) % 1440;
    return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
  };
  const night = { harvest: 'when the panel gives nothing', sun: 'by the sun', clock: 'from 22:00 to 05:00' } as const;
  return [
    ['cells', `set apart by ${DELIMITERS[delimiter] ?? delimiter}, decimal ${decimalMark === ',' ? 'comma' : 'point'}`],
    [
      'time',
      `zone ${time.zone}, ${ZONE_BY[time.zoneBy]}; dates as ${ORDER[time.dateOrder]}${time.dateOrderBy === 'assumed' ? ' (taken)' : ''}`,
    ],
    ...(currentSign
      ? ([['current', `positive in the log is ${currentSign.positive}: ${signText(currentSign)}`]] as [
          string,
          string,
        ][])
      : []),
    ...(harvestCentre
      ? ([['sun', `the harvest is centred on about ${clock(harvestCentre.dayH)} ${harvestCentre.dayBy}`]] as [
          string,
          string,
        ][])
      : []),
    ['night', night[picture.nightBy]],
    ...(picture.fullBy
      ? ([
          [
            'full',
            picture.fullBy === 'voltage'
              ? 'when the voltage reaches 14 V per 12 V'
              : 'when the state of charge reaches 99 %',
          ],
        ] as [string, string][])
      : []),
    ...(counterAh === undefined
      ? []
      : ([
          [
            'counter',
            `100 % of the monitor's state of charge goes with ${significant(counterAh)} Ah${socResets.length > 0 ? `; it was set ${counted(socResets.length, 'time')}` : ''}`,
          ],
        ] as [string, string][])),
  ];
}
