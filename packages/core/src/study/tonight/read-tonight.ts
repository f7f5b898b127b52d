import { addDays, civilMs, stopPlace, zonedDate } from '../../place/index.js';
import { closest, parseClock, parseQuantity, QuantityError, shown } from '../../quantity/index.js';
import { ConfigError, type ConfigIssue, type Rig } from '../../rig/index.js';
import type { StudyStop } from '../run/weather-cases.js';
import { parseSky } from './sky-days.js';
import type { ExtraUse, PlannedSpan, TonightOptions } from './tonight-types.js';

/** What people say of tonight, as they write it. */
export interface TonightText {
  /** "18:00", or "2026-10-10 18:00"; the present moment unless given */
  readonly now?: string;
  /** "43 %" */
  readonly soc?: string;
  /** "13.1 V" */
  readonly volts?: string;
  /** with volts: "-2 A", positive while charging; 0 unless given */
  readonly amps?: string;
  /** "dull, dull, fair" */
  readonly sky?: string;
  /** "10:00 for 2 h", "2026-10-12 9:30 for 45 min" */
  readonly drive?: readonly string[];
  readonly mains?: readonly string[];
  /** "laptop 3 h", "60 W 3 h", "laptop 3 h at 20:00"; from now unless it says when */
  readonly use?: readonly string[];
}

export type TonightPlan = Pick<TonightOptions, 'nowMs' | 'battery' | 'sky' | 'drives' | 'mains' | 'use'>;

/**
 * What is said of tonight as `tonightStudy` takes it.
 * @param presentMs the present moment, UTC [ms]: where no date is given, its date at the place is taken
 * @throws ConfigError with every fault, by the keys of the text
 */
export function readTonight(text: TonightText, rig: Rig, stop: StudyStop, presentMs: number): TonightPlan {
  const { zone } = stopPlace(stop);
  const issues: ConfigIssue[] = [];
  const read = <T>(path: string, run: () => T): T | undefined => {
    try {
      return run();
    } catch (error) {
      if (!(error instanceof QuantityError)) throw error;
      issues.push({ code: error.code, path, message: error.message, ...(error.hint && { hint: error.hint }) });
      return undefined;
    }
  };
  const nowMs =
    text.now === undefined
      ? presentMs
      : (read('now', () => momentMs(text.now!, zonedDate(presentMs, zone), zone)) ?? presentMs);
  const battery = read('battery', () => readingOf(text));
  const each = <T>(path: string, all: readonly string[] | undefined, run: (one: string) => T) =>
    (all ?? []).flatMap((one) => read(path, () => run(one)) ?? []);
  const plan = {
    nowMs,
    battery: battery!,
    ...(text.sky !== undefined && { sky: read('sky', () => parseSky(text.sky!)) ?? [] }),
    drives: each('drive', text.drive, (one) => spanOf(one, nowMs, zone)),
    mains: each('mains', text.mains, (one) => spanOf(one, nowMs, zone)),
    use: each('use', text.use, (one) => useOf(one, rig, nowMs, zone)),
  };
  if (plan.drives.length > 0 && !rig.alternator)
    issues.push({ code: 'missing', path: 'drive', message: 'the rig has no alternator, so a drive charges nothing' });
  if (plan.mains.length > 0 && !rig.mains)
    issues.push({ code: 'missing', path: 'mains', message: 'the rig has no mains charger, so mains charge nothing' });
  if (issues.length > 0) throw new ConfigError(issues);
  return plan;
}

function readingOf({ soc, volts, amps }: TonightText): TonightOptions['battery'] {
  if ((soc === undefined) === (volts === undefined))
    throw new QuantityError(
      'not_a_quantity',
      soc === undefined ? 'what the battery says is missing' : 'give a state of charge or volts, not both',
      'such as soc 43 %, or volts 12.9 V with amps -2 A',
    );
  if (soc !== undefined) {
    if (amps !== undefined)
      throw new QuantityError('not_a_quantity', 'amps go with volts', 'a state of charge stands alone');
    const share = parseQuantity(/%/.test(soc) ? soc : `${soc} %`, 'ratio');
    if (!(share >= 0 && share <= 1))
      throw new QuantityError('not_a_quantity', `${shown(soc)} is no state of charge: 0 to 100 %`);
    return { kind: 'soc', soc: share };
  }
  return {
    kind: 'voltage',
    voltageV: parseQuantity(volts!, 'voltage'),
    currentA: amps === undefined ? 0 : parseQuantity(amps, 'current'),
  };
}

const DATE = /^(\d{4}-\d{2}-\d{2})[ T]+(.*)$/;

/** "18:00" of a date, or "2026-10-10 18:00". */
function momentMs(text: string, date: string, zone: string): number {
  const dated = DATE.exec(text.trim());
  const clock = parseClock(dated?.[2] ?? text);
  if (clock.kind !== 'clock')
    throw new QuantityError('not_a_quantity', `${shown(text)} is no clock time`, 'write 18:00, or 2026-10-10 18:00');
  return civilMs(realDate(dated?.[1]) ?? date, clock.hour, zone);
}

function realDate(date: string | undefined): string | undefined {
  if (date === undefined) return undefined;
  const at = new Date(`${date}T00:00:00Z`);
  if (Number.isNaN(at.getTime()) || at.toISOString().slice(0, 10) !== date)
    throw new QuantityError(
      'not_a_quantity',
      `${date} is no date that exists`,
      'write year-month-day, such as 2026-10-10',
    );
  return date;
}

/** "10:00 for 2 h": the next 10:00; "2026-10-12 10:00 for 2 h". */
function spanOf(text: string, nowMs: number, zone: string): PlannedSpan {
  const found = /^(?<when>.*\d{1,2}:\d{2})\s+(?:for\s+)?(?<long>[\d.]+\s*[a-z]+)$/i.exec(text.trim());
  if (!found?.groups)
    throw new QuantityError('not_a_quantity', `${shown(text)} does not say when and how long`, 'write 10:00 for 2 h');
  const hours = parseQuantity(found.groups.long!, 'duration');
  if (!(hours > 0 && hours <= 24 * 14))
    throw new QuantityError('not_a_quantity', `${shown(text)} is out of range: up to two weeks`);
  return { fromMs: nextMs(found.groups.when!, nowMs, zone), hours };
}

/** A clock time as its next moment; one with a date as it is. @throws QuantityError when that is over */
function nextMs(text: string, nowMs: number, zone: string): number {
  const today = zonedDate(nowMs, zone);
  const ms = momentMs(text, today, zone);
  if (ms >= nowMs) return ms;
  if (DATE.test(text.trim()))
    throw new QuantityError('not_a_quantity', `${shown(text.trim())} is over`, 'plans begin now or later');
  return momentMs(text, addDays(today, 1), zone);
}

/** "laptop 3 h", "60 W for 3 h", either with "at 20:00". */
function useOf(text: string, rig: Rig, nowMs: number, zone: string): ExtraUse {
  const found =
    /^(?<what>.+?)\s+(?:for\s+)?(?<long>[\d.]+\s*(?:h|hours?|min|minutes?))(?:\s+(?:at\s+)?(?<when>.*\d{1,2}:\d{2}))?$/i.exec(
      text.trim(),
    );
  if (!found?.groups)
    throw new QuantityError(
      'not_a_quantity',
      `${shown(text)} does not say what and how long`,
      'write laptop 3 h, or 60 W 3 h at 20:00',
    );
  const { what, long, when } = found.groups as { what: string; long: string; when?: string };
  const hours = parseQuantity(long, 'duration');
  if (!(hours > 0 && hours <= 24 * 14))
    throw new QuantityError('not_a_quantity', `${shown(text)} is out of range: up to two weeks`);
  const fromMs = when === undefined ? nowMs : nextMs(when, nowMs, zone);
  if (/^[\d.]/.test(what)) {
    const powerW = parseQuantity(what, 'power');
    if (!(powerW >= 0 && powerW <= 1e5))
      throw new QuantityError('not_a_quantity', `${shown(what)} is out of range: 0 to 100 kW`);
    return { name: what, powerW, inverter: false, fromMs, hours };
  }
  const load = rig.loads.find(({ name }) => name.toLowerCase() === what.toLowerCase());
  const names = rig.loads.flatMap((one) =>
    one.kind === 'scheduled' && one.draw.kind !== 'expression' ? [one.name] : [],
  );
  if (load?.kind !== 'scheduled' || load.draw.kind === 'expression') {
    const near = closest(what, names);
    const why = load ? `how much ${shown(what)} draws changes by itself` : `the rig has no load ${shown(what)}`;
    throw new QuantityError(
      'not_a_quantity',
      why,
      near && !load ? `did you mean ${near}?` : `its loads of one power are ${names.join(', ')}; or write 60 W 3 h`,
    );
  }
  const { draw } = load;
  const powerW = draw.kind === 'power' ? draw.powerW : draw.currentA * rig.battery.nominalV * rig.battery.series;
  return { name: load.name, powerW, inverter: load.inverter, fromMs, hours };
}
