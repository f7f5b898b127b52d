import type * as z from 'zod';
import { advice, advised, type OptionName, option } from '../message/index.js';
import { ConfigError } from './config-error.js';
import { FieldError } from './field.js';
import { positionField, readWeatherChoice, startField, stopPart } from './stop-part.js';
import type { ConfigIssue, Trip } from './types.js';

/** What the command line gives instead of a trip. */
export interface WithoutTrip {
  /** "41.7,-8.8" or the position; exactly one of `at` and `place` */
  readonly at?: string | { readonly latDeg: number; readonly lonDeg: number };
  readonly place?: string;
  /** local date, ISO, or with the clock time at which the run begins: "2026-10-03 18:00" */
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
  const read = <T>(path: OptionName, run: () => T): T | undefined => {
    try {
      return run();
    } catch (error) {
      if (!(error instanceof FieldError)) throw error;
      issues.push({
        code: error.code,
        path,
        option: option(path),
        message: error.message,
        ...(error.hint && { hint: error.hint }),
      });
      return undefined;
    }
  };
  const checked = <T>(path: OptionName, schema: z.ZodType<T>, value: unknown): T | undefined => {
    const result = schema.safeParse(value);
    if (result.success) return result.data;
    for (const issue of result.error.issues) {
      const { code, hint } = ((issue.code === 'custom' && issue.params) || {}) as { code?: string; hint?: string };
      issues.push({
        code: code ?? 'invalid',
        path,
        option: option(path),
        message: issue.message,
        ...(hint && { hint }),
      });
    }
    return undefined;
  };
  if ((options.at === undefined) === (options.place === undefined))
    issues.push({
      code: 'missing',
      path: 'at',
      option: option('at'),
      message: 'give either a position or a place',
      ...advised(advice`such as ${option('at', '41.7,-8.8')} or ${option('place', 'Porto')}`),
    });
  const at =
    options.at === undefined
      ? undefined
      : checked(
          'at',
          positionField,
          typeof options.at === 'string' ? options.at : [options.at.latDeg, options.at.lonDeg],
        );
  const start = checked('from', startField, options.from);
  const nights = checked('days', stopPart.shape.nights, options.days);
  const weather =
    options.weather === undefined
      ? ({ kind: 'climate' } as const)
      : read('weather', () => readWeatherChoice(options.weather));
  if (issues.length > 0) throw new ConfigError(issues);
  return {
    name: options.place ?? `${at!.latDeg}, ${at!.lonDeg}`,
    startSoc: options.startSoc ?? 1,
    weather: weather!,
    ...(start!.hour > 0 && { startH: start!.hour }),
    stops: [
      {
        ...(at && { at }),
        ...(options.place !== undefined && { place: options.place }),
        from: start!.date,
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
