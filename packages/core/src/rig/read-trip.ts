import type { z } from 'zod';
import { closest, shown } from '../quantity/index.js';
import { addDays, isDate } from './civil-date.js';
import { ConfigError } from './config-error.js';
import { Defaults } from './defaults.js';
import { clockHour, FieldError, field, found, number, part, quantity, text, wrong } from './field.js';
import { refuseOtherKind } from './file-kind.js';
import { inOrder, issuesOf } from './issues.js';
import { monthsPart, resolveMonths } from './months-part.js';
import type { ReadOptions } from './read-rig.js';
import { horizonPart, horizonPoints } from './solar-part.js';
import { isGroup, Source } from './source.js';
import type { ConfigIssue, DefaultTaken, Stop, Trip, WeatherChoice } from './types.js';

const positionField = field<{ latDeg: number; lonDeg: number }>(
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

const dateField = field<string>(
  { description: 'local date of arrival', type: 'string', examples: ['2026-10-03'] },
  (value) => {
    if (typeof value === 'string' && isDate(value.trim())) return value.trim();
    throw new FieldError('wrong_type', `${found(value)} is not a date`, 'write year-month-day, such as 2026-10-03');
  },
);

const weatherField = field<WeatherChoice>(
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

const stopPart = part(
  'a place where you stay',
  {
    name: text('what you call it').optional(),
    at: positionField.optional(),
    place: text('a place of the built-in table, instead of at', 'Porto').optional(),
    elevation: quantity('length', 'above the sea', { min: -450, max: 9000 }, '120 m').optional(),
    zone: zoneField.optional(),
    from: dateField.optional(),
    nights: number('how long', { min: 1, max: 3660, whole: true }),
    drive: quantity('duration', 'engine hours to get there', { min: 0, max: 24 }, '2 h').optional(),
    driveFrom: clockHour('when that drive begins', '10:00').optional(),
    shade: quantity(
      'ratio',
      'share of the direct sun taken by trees and the like',
      { min: 0, max: 1 },
      '20 %',
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

/** A trip as it is written. */
export const tripFile = part(
  'a trip: where, when, how',
  {
    name: text('what you call it', 'North-west coast in October').optional(),
    startSoc: quantity('ratio', 'state of charge at the start', { min: 0, max: 1 }, '90 %').optional(),
    weather: weatherField.optional(),
    stops: stopPart
      .array()
      .min(1, { error: 'a trip needs one stop at least' })
      .meta({ description: 'one after the other' }),
  },
  (trip, context) => {
    let due: string | undefined;
    for (const [i, stop] of trip.stops.entries()) {
      if (i === 0 && stop.from === undefined)
        wrong(context, ['stops', 0], 'the first stop does not say when it begins', 'add from: 2026-10-03', 'missing');
      if (due !== undefined && stop.from !== undefined && stop.from !== due)
        wrong(
          context,
          ['stops', i, 'from'],
          `from ${stop.from} does not join the stop before, which ends on ${due}`,
          `write from: ${due}, or leave it out, or change its nights`,
        );
      const start = stop.from ?? due;
      due = start === undefined ? undefined : addDays(start, stop.nights);
    }
  },
);

export interface ReadTripOptions extends ReadOptions {
  /** names of the rig's loads, so that a misspelt one in `use` is found */
  readonly loads?: readonly string[];
}

/**
 * Reads a trip from YAML or JSON text.
 * @throws ConfigError with every fault
 */
export function readTrip(yaml: string, options: ReadTripOptions = {}): { trip: Trip; defaults: DefaultTaken[] } {
  const source = Source.read(yaml, options.file, options.set);
  refuseOtherKind(source, 'trip');
  const parsed = tripFile.safeParse(source.value);
  const issues = [...(parsed.success ? [] : issuesOf(parsed.error, source)), ...unknownLoads(source, options.loads)];
  if (!parsed.success || issues.length > 0) throw new ConfigError(inOrder(issues));
  const defaults = new Defaults();
  const { name, startSoc, weather, stops } = parsed.data;
  const trip: Trip = {
    name: defaults.plain(name, 'name', 'trip', 'it has no name'),
    startSoc: defaults.quantity(startSoc, 'startSoc', 1, 'ratio', 'you leave with a full battery'),
    weather:
      weather ?? defaults.take('weather', { kind: 'climate' }, 'climate', 'the usual weather of place and season'),
    stops: stops.map((stop, i) => resolveStop(stop, `stops[${i}]`, defaults)),
  };
  return { trip, defaults: defaults.taken };
}

/** Loads that a stop uses more or less of, but that the rig does not have. */
function unknownLoads(source: Source, loads: readonly string[] | undefined): ConfigIssue[] {
  const stops = isGroup(source.value) ? source.value.stops : undefined;
  if (!loads || !Array.isArray(stops)) return [];
  return stops.flatMap((stop: unknown, i) => {
    const names = isGroup(stop) && isGroup(stop.use) ? Object.keys(stop.use) : [];
    return names
      .filter((name) => !loads.includes(name))
      .map((name) => {
        const near = closest(name, loads);
        const hint = near ? `did you mean ${near}?` : `its loads are ${loads.join(', ')}`;
        return source.issue(
          'unknown_load',
          ['stops', i, 'use', name],
          `the rig has no load ${shown(name)}`,
          hint,
          true,
        );
      });
  });
}

function resolveStop(stop: z.output<typeof stopPart>, path: string, defaults: Defaults): Stop {
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
      stop.driveFrom ?? (driveH > 0 ? defaults.hour(undefined, `${path}.driveFrom`, 10, 'after breakfast') : 10),
    shade: stop.shade ?? 0,
    use: stop.use ?? {},
    mainsH,
    mainsFromH:
      stop.mainsFrom ?? (mainsH > 0 ? defaults.hour(undefined, `${path}.mainsFrom`, 18, 'plugged in on arrival') : 18),
    horizon: horizonPoints(stop.horizon),
    ...resolveMonths(stop.months),
  };
}

/** What the command line gives instead of a trip. */
export interface WithoutTrip {
  /** "41.7,-8.8" or the position; exactly one of `at` and `place` */
  readonly at?: string | { readonly latDeg: number; readonly lonDeg: number };
  readonly place?: string;
  /** local date, ISO */
  readonly from: string;
  readonly days: number;
  readonly weather?: string;
  readonly startSoc?: number;
}

/**
 * A trip of one stop.
 * @throws ConfigError, whose paths are the names of the options
 */
export function withoutTrip(options: WithoutTrip): Trip {
  const issues: ConfigIssue[] = [];
  const read = <T>(path: string, run: () => T): T | undefined => {
    try {
      return run();
    } catch (error) {
      if (!(error instanceof FieldError)) throw error;
      issues.push({ code: error.code, path, message: error.message, ...(error.hint && { hint: error.hint }) });
      return undefined;
    }
  };
  const checked = <T>(path: string, schema: z.ZodType<T>, value: unknown): T | undefined => {
    const result = schema.safeParse(value);
    if (result.success) return result.data;
    for (const issue of result.error.issues) {
      const { code, hint } = ((issue.code === 'custom' && issue.params) || {}) as { code?: string; hint?: string };
      issues.push({ code: code ?? 'invalid', path, message: issue.message, ...(hint && { hint }) });
    }
    return undefined;
  };
  if ((options.at === undefined) === (options.place === undefined))
    issues.push({
      code: 'missing',
      path: '--at',
      message: 'give either a position or a place',
      hint: 'such as --at 41.7,-8.8 or --place Porto',
    });
  const at =
    options.at === undefined
      ? undefined
      : checked(
          '--at',
          positionField,
          typeof options.at === 'string' ? options.at : [options.at.latDeg, options.at.lonDeg],
        );
  const from = checked('--from', dateField, options.from);
  const nights = checked('--days', stopPart.shape.nights, options.days);
  const weather =
    options.weather === undefined
      ? ({ kind: 'climate' } as const)
      : read('--weather', () => readWeatherChoice(options.weather));
  if (issues.length > 0) throw new ConfigError(issues);
  return {
    name: options.place ?? `${at!.latDeg}, ${at!.lonDeg}`,
    startSoc: options.startSoc ?? 1,
    weather: weather!,
    stops: [
      {
        ...(at && { at }),
        ...(options.place !== undefined && { place: options.place }),
        from: from!,
        nights: nights!,
        driveH: 0,
        driveFromH: 10,
        shade: 0,
        use: {},
        mainsH: 0,
        mainsFromH: 18,
        horizon: [],
      },
    ],
  };
}
