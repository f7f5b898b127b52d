import type * as z from 'zod';
import { closest, parseClock, shown } from '../quantity/index.js';
import { isDate } from './civil-date.js';
import type { Defaults } from './defaults.js';
import { clockHour, FieldError, field, found, number, part, quantity, readQuantity, text, wrong } from './field.js';
import { monthsPart, resolveMonths } from './months-part.js';
import { horizonPart, horizonPoints } from './solar-part.js';
import type { Stop, WeatherChoice } from './types.js';

export const positionField = field<{ latDeg: number; lonDeg: number }>(
  {
    description: 'latitude and longitude in degrees, north and east positive',
    type: ['array', 'string'],
    examples: [[41.7, -8.8]],
  },
  (value) => {
    const pair = typeof value === 'string' ? value.split(',').map((one) => Number(one.trim() || Number.NaN)) : value;
    if (
      !Array.isArray(pair) ||
      pair.length !== 2 ||
      !pair.every((one) => typeof one === 'number' && Number.isFinite(one))
    )
      throw new FieldError(
        'wrong_type',
        `found ${found(value)} where latitude and longitude are needed`,
        'such as [41.7, -8.8]',
      );
    const [latDeg, lonDeg] = pair as [number, number];
    if (Math.abs(latDeg) > 90)
      throw new FieldError(
        'out_of_range',
        `latitude ${latDeg} is out of range: -90 to 90`,
        Math.abs(lonDeg) <= 90 ? 'latitude comes first' : undefined,
      );
    if (Math.abs(lonDeg) > 180)
      throw new FieldError('out_of_range', `longitude ${lonDeg} is out of range: -180 to 180`);
    return { latDeg, lonDeg };
  },
);

const zoneField = field<string>(
  {
    description: 'time zone (IANA); left out = looked up from the position',
    type: 'string',
    examples: ['Europe/Lisbon'],
  },
  (value) => {
    if (typeof value === 'string' && isZone(value)) return value;
    const near = typeof value === 'string' ? closest(value, Intl.supportedValuesOf('timeZone')) : undefined;
    throw new FieldError(
      'unknown_zone',
      `there is no time zone ${found(value)}`,
      near ? `did you mean ${near}?` : 'such as Europe/Lisbon',
    );
  },
);

function isZone(zone: string): boolean {
  if (!/^[A-Za-z]/.test(zone)) return false;
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone });
    return true;
  } catch {
    return false;
  }
}

export const dateField = field<string>(
  { description: 'local date of arrival', type: 'string', examples: ['2026-10-03'] },
  (value) => {
    if (typeof value === 'string' && isDate(value.trim())) return value.trim();
    throw new FieldError('wrong_type', `${found(value)} is not a date`, 'write year-month-day, such as 2026-10-03');
  },
);

/** A local date with its clock time. */
export interface DateAndTime {
  readonly date: string;
  /** local civil time, 0 to 24, 24 excluded [h] */
  readonly hour: number;
}

const DATE_AND_TIME = /^(\S+?)(?:(?:\s+|T)(\d{1,2}(?::\d{2})?))?$/;

/** "2026-10-10 18:00", "2026-10-10T18:00" or a date alone, which begins at midnight; undefined for anything else. */
export function parseDateAndTime(value: string): DateAndTime | undefined {
  const [, date, time = '00:00'] = DATE_AND_TIME.exec(value.trim()) ?? [];
  if (date === undefined || !isDate(date)) return undefined;
  try {
    const point = parseClock(time);
    return point.kind === 'clock' && point.hour < 24 ? { date, hour: point.hour } : undefined;
  } catch {
    return undefined;
  }
}

export const startField = field<DateAndTime>(
  {
    description: "date and clock time at which the run begins, local; left out = midnight of the first stop's day",
    type: 'string',
    examples: ['2026-10-03 18:00'],
  },
  (value) => {
    const start = typeof value === 'string' ? parseDateAndTime(value) : undefined;
    if (start) return start;
    throw new FieldError('wrong_type', `${found(value)} is not a date with a time`, 'such as 2026-10-03 18:00');
  },
);

export const weatherField = field<WeatherChoice>(
  {
    description: "clear, climate, dull, or a weather file's name",
    type: 'string',
    examples: ['climate', 'clear', 'dull'],
  },
  readWeatherChoice,
);

/** "clear", "climate", "dull", or the name of a file. A misspelt kind is refused rather than taken for a file. */
export function readWeatherChoice(value: unknown): WeatherChoice {
  if (typeof value !== 'string' || value.trim() === '')
    throw new FieldError('wrong_type', `found ${found(value)} where clear, climate, dull or a file's name is needed`);
  const word = value.trim();
  const kinds = ['clear', 'climate', 'dull'] as const;
  const kind = kinds.find((one) => one === word.toLowerCase());
  if (kind) return { kind };
  const near = /[./\\]/.test(word) ? undefined : closest(word, kinds);
  if (near)
    throw new FieldError(
      'wrong_choice',
      `${shown(word)} is not one of ${kinds.join(', ')}, or a file's name`,
      `did you mean ${near}?`,
    );
  return { kind: 'file', path: word };
}

const useField = field<Record<string, number>>(
  { description: 'a load, by its name, times so much', type: 'object', examples: [{ laptop: 1.5 }] },
  (value) => {
    if (typeof value !== 'object' || value === null || Array.isArray(value))
      throw new FieldError(
        'wrong_type',
        `found ${found(value)} where loads with factors are needed`,
        'such as { laptop: 1.5 }',
      );
    return Object.fromEntries(
      Object.entries(value).map(([name, factor]: [string, unknown]) => {
        if (typeof factor !== 'number' || !(factor >= 0 && factor <= 100))
          throw new FieldError(
            'wrong_type',
            `${name}: found ${found(factor)} where a factor from 0 to 100 is needed`,
            'such as 1.5',
          );
        return [name, factor];
      }),
    );
  },
);

const SHADE_RANGE = { min: 0, max: 1 };

/** One share for all arrays, or shares by the arrays' names. */
const shadeField = field<number | Record<string, number>>(
  {
    description: 'share of the sun taken by trees and the like: of all panels, or panel by panel',
    type: ['string', 'number', 'object'],
    examples: ['20 %', { roof: '60 %', folding: '0 %' }],
  },
  (value) => {
    if (typeof value !== 'object' || value === null || Array.isArray(value))
      return readQuantity(value, 'ratio', SHADE_RANGE);
    return Object.fromEntries(
      Object.entries(value).map(([name, share]: [string, unknown]) => [
        name,
        readQuantity(share, 'ratio', SHADE_RANGE),
      ]),
    );
  },
);

const outingsPart = part('drives from here that come back on the same day', {
  every: number('every so many days after arrival', { min: 1, max: 365, whole: true }),
  drive: quantity('duration', 'engine hours of each, there and back', { min: 0, max: 24 }, '1 h'),
  from: clockHour('when they begin', '10:00').optional(),
});

export const stopPart = part(
  'a place where you stay',
  {
    name: text('what you call it').optional(),
    at: positionField.optional(),
    place: text('a place of the built-in table, instead of at', 'Porto').optional(),
    elevation: quantity('length', 'above the sea', { min: -450, max: 9000 }, '120 m').optional(),
    zone: zoneField.optional(),
    from: dateField.optional(),
    nights: number('how long', { min: 1, max: 36_600, whole: true }),
    drive: quantity('duration', 'engine hours to get there', { min: 0, max: 24 }, '2 h').optional(),
    driveFrom: clockHour('when that drive begins, by the clock of the stop before', '10:00').optional(),
    outings: outingsPart.optional(),
    shade: shadeField.optional(),
    skyShade: quantity(
      'ratio',
      "share of the sky's own light taken in that shade; left out = as much as of the sun, as under trees",
      { min: 0, max: 1 },
      '10 %',
    ).optional(),
    use: useField.optional(),
    mains: quantity('duration', 'hours on mains a day', { min: 0, max: 24 }, '8 h').optional(),
    mainsFrom: clockHour('when mains begins', '18:00').optional(),
    horizon: horizonPart.optional(),
    months: monthsPart.optional(),
  },
  (stop, context) => {
    if (stop.at === undefined && stop.place === undefined)
      wrong(context, [], 'the stop says neither at nor place', 'add at: [41.7, -8.8], or place: Porto', 'missing');
    if (stop.at !== undefined && stop.place !== undefined)
      wrong(context, ['place'], 'the stop has both at and place', 'keep one of them; name: can hold what you call it');
    if ((stop.drive ?? 0) + (stop.mains ?? 0) > 24)
      wrong(context, ['mains'], `${stop.drive} h of driving and ${stop.mains} h on mains are more than a day`);
  },
);

/** When one drives, unless it is said: after breakfast [h]. */
export const DRIVE_FROM_H = 10;

/** @param path of the stop in its file, for the defaults taken */
export function resolveStop(stop: z.output<typeof stopPart>, path: string, defaults: Defaults): Stop {
  const driveH = stop.drive ?? 0;
  const mainsH = stop.mains ?? 0;
  return {
    ...(stop.name !== undefined && { name: stop.name }),
    ...(stop.at && { at: stop.at }),
    ...(stop.place !== undefined && { place: stop.place }),
    ...(stop.elevation !== undefined && { elevationM: stop.elevation }),
    ...(stop.zone !== undefined && { zone: stop.zone }),
    ...(stop.from !== undefined && { from: stop.from }),
    nights: stop.nights,
    driveH,
    driveFromH:
      stop.driveFrom ??
      (driveH > 0 ? defaults.hour(undefined, `${path}.driveFrom`, DRIVE_FROM_H, 'after breakfast') : DRIVE_FROM_H),
    ...(stop.outings && {
      outings: {
        everyDays: stop.outings.every,
        driveH: stop.outings.drive,
        fromH: defaults.hour(stop.outings.from, `${path}.outings.from`, DRIVE_FROM_H, 'after breakfast'),
      },
    }),
    ...resolveShade(stop.shade),
    ...(stop.skyShade !== undefined && { skyShade: stop.skyShade }),
    use: stop.use ?? {},
    mainsH,
    mainsFromH:
      stop.mainsFrom ?? (mainsH > 0 ? defaults.hour(undefined, `${path}.mainsFrom`, 18, 'plugged in on arrival') : 18),
    horizon: horizonPoints(stop.horizon),
    ...resolveMonths(stop.months),
  };
}

function resolveShade(shade: number | Record<string, number> | undefined): Pick<Stop, 'shade' | 'arrayShade'> {
  if (typeof shade !== 'object') return { shade: shade ?? 0 };
  return { shade: Math.max(0, ...Object.values(shade)), arrayShade: shade };
}
