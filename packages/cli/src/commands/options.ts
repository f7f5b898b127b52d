import { type Command, InvalidArgumentError, Option } from 'commander';
import { monthNames } from '../show/number.js';

/** What every command takes. */
export interface CommonOptions {
  readonly json?: boolean;
  readonly out?: string;
  readonly force?: boolean;
  readonly quiet?: boolean;
  /** false with --no-color; read where streams are opened */
  readonly color: boolean;
}

export function addCommon(command: Command): Command {
  return command
    .option('--json', 'print one JSON document and nothing else')
    .option('--out <file>', 'write the result to a file instead of printing it; - prints it')
    .option('--force', 'replace files that exist')
    .option('--quiet', 'only the answer; findings at level danger are always shown')
    .option('--no-color', 'no colours (NO_COLOR and TERM=dumb are heeded too)');
}

export const setOption = () =>
  new Option(
    '--set <path=value>',
    'change one value of the rig or trip, such as battery.count=2; may be repeated',
  ).argParser((text: string, before: string[] | undefined) => [...(before ?? []), text]);

export const ensembleOption = () =>
  new Option('--ensemble <file>', 'the vehicles that the rig may be, as calibrate writes them from readings');

/** "20" or "20 %" as 0.2. */
export function percentOption(text: string): number {
  const found = /^\s*(\d+(?:\.\d+)?)\s*%?\s*$/.exec(text);
  const value = Number(found?.[1]);
  if (!found || value > 100) throw new InvalidArgumentError('Give a percentage from 0 to 100, such as 20.');
  if (value > 0 && value < 1 && !text.includes('%'))
    throw new InvalidArgumentError(`Give a percentage; did you mean ${Number((value * 100).toFixed(6))}?`);
  return value / 100;
}

function isDate(text: string): boolean {
  const date = new Date(`${text}T00:00:00Z`);
  return /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
}

/** An ISO civil date that exists. */
export function dateOption(text: string): string {
  if (!isDate(text)) throw new InvalidArgumentError('Give a date that exists as year-month-day, such as 2026-10-03.');
  return text;
}

/** When a run starts: a date, and perhaps a clock time, as "2026-10-03 18:00". */
export function startOption(text: string): string {
  const [, date = '', time = '0:00'] = /^\s*(\S+?)(?:(?:\s+|T)(\d{1,2}:\d{2}))?\s*$/.exec(text) ?? [];
  const [hour, minute] = time.split(':').map(Number) as [number, number];
  if (hour > 23 || minute > 59 || !isDate(date))
    throw new InvalidArgumentError('Give a date that exists, and perhaps a time: 2026-10-03, or "2026-10-03 18:00".');
  return text.trim();
}

/** Settings that let a trip file start otherwise. */
export const startSettings = (start: string): string[] => [`start=${start}`, `stops[0].from=${start.slice(0, 10)}`];

const MAX_DAYS = 36_600;

export function daysOption(text: string): number {
  const days = Number(text);
  if (!/^\d+$/.test(text) || days < 1 || days > MAX_DAYS)
    throw new InvalidArgumentError(`Give whole days, 1 to ${MAX_DAYS}.`);
  return days;
}

/** Weather years to draw, as core takes them. */
const MAX_YEARS = 1000;

export function yearsOption(text: string): number {
  const years = Number(text);
  if (!/^\d+$/.test(text) || years < 1 || years > MAX_YEARS)
    throw new InvalidArgumentError(`Give whole years, 1 to ${MAX_YEARS}.`);
  return years;
}

export function seedOption(text: string): number {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError('Give a whole number from 0 to 999999999.');
  return Number(text);
}

/** Steps that divide the hour evenly, as core takes them [min]. */
const STEP_MINUTES = [1, 2, 3, 4, 5, 6, 10, 12, 15, 20, 30, 60];

/** "10min" or "1 h", in hours. */
export function stepOption(text: string): number {
  const found = /^\s*(\d+(?:\.\d+)?)\s*(min|minutes?|h|hours?)\s*$/.exec(text);
  const minutes = Number(found?.[1]) * (found?.[2]?.startsWith('h') ? 60 : 1);
  if (!STEP_MINUTES.includes(minutes))
    throw new InvalidArgumentError(`Give one of ${STEP_MINUTES.map((m) => `${m}min`).join(', ')}.`);
  return minutes / 60;
}

/** "ghi=Global, W/m2", collected into a record. */
export function columnOption(text: string, before: Record<string, string> | undefined): Record<string, string> {
  const equals = text.indexOf('=');
  const [key, heading] = [text.slice(0, Math.max(0, equals)).trim(), text.slice(equals + 1).trim()];
  if (!key || !heading)
    throw new InvalidArgumentError('Give what it is and the heading of its column, such as ghi=SolarRad.');
  return { ...before, [key]: heading };
}

/** "jun", "June" or "6" as 6; undefined when it is no month. */
export function monthOf(text: string): number | undefined {
  const word = text.trim().toLowerCase();
  if (/^\d{1,2}$/.test(word)) return Number(word) >= 1 && Number(word) <= 12 ? Number(word) : undefined;
  if (!/^\p{L}{3,}$/u.test(word)) return undefined;
  const at = monthNames.findIndex((name) => name.toLowerCase().startsWith(word));
  return at < 0 ? undefined : at + 1;
}
