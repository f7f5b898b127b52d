import { roleOf, wordsOf } from '../../table/index.js';
import type { LogColumnName } from '../types.js';
import * as words from './heading-words.js';

/** value · times / per + plus gives V, A, W, °C, W/m² or a ratio. */
export interface LogUnit {
  readonly text: string;
  readonly times: number;
  readonly per: number;
  readonly plus: number;
}

type Kind = 'voltage' | 'current' | 'power' | 'soc' | 'temperature' | 'irradiance' | 'counter';

export interface HeadingRead {
  readonly role: LogColumnName;
  readonly unit: LogUnit | undefined;
  /** how surely the wording means this: the subject named 2, the unit named 1 */
  readonly score: number;
  /** the heading says that positive is out of the battery */
  readonly outward: boolean;
  /** only what goes in, or only what goes out */
  readonly flow?: 'in' | 'out';
  /** the side of the controller that the words say a solar current is of */
  readonly side?: 'panel' | 'battery';
}

const unit = (text: string, times = 1, per = 1, plus = 0): LogUnit => ({ text, times, per, plus });

const UNITS: readonly (readonly [RegExp, Kind, LogUnit])[] = [
  [/\bk ?w m2\b/, 'irradiance', unit('kW/m2', 1000)],
  [/\bw m2\b/, 'irradiance', unit('W/m2')],
  [/\b([mk] ?)?wh\b|\b(m ?)?ah\b|\bk?j\b/, 'counter', unit('')],
  [/\bm ?v\b|\bmillivolts?\b/, 'voltage', unit('mV', 1, 1000)],
  [/\bv(olts?)?\b/, 'voltage', unit('V')],
  [/\bm ?a\b|\bmilliamp\w*/, 'current', unit('mA', 1, 1000)],
  [/\ba(mps?|mperes?)?\b/, 'current', unit('A')],
  [/\bk ?w\b|\bkilowatts?\b/, 'power', unit('kW', 1000)],
  [/\bm ?w\b|\bmilliwatts?\b/, 'power', unit('mW', 1, 1000)],
  [/\bw(atts?)?\b/, 'power', unit('W')],
  [/\b(deg ?)?f(ahrenheit)?\b/, 'temperature', unit('F', 5, 9, -160 / 9)],
  [/\b(deg ?)?c(elsius)?\b/, 'temperature', unit('C')],
];
export const MILLIVOLTS = unit('mV', 1, 1000);
export const PERCENT = unit('%', 1, 100);
export const RATIO = unit('0 to 1');
const DEFAULT_UNITS = { voltage: 'V', current: 'A', power: 'W', temperature: 'C', irradiance: 'W/m2' } as const;

const KIND_WORDS: readonly (readonly [RegExp, Kind])[] = [
  [words.TEMPERATURE, 'temperature'],
  [words.IRRADIANCE, 'irradiance'],
  [words.VOLTAGE, 'voltage'],
  [words.POWER, 'power'],
  [words.CURRENT, 'current'],
];
/** Of a heading that says load and nothing more ("Consumo"). */
const KIND_OF_LOAD: Kind = 'power';

/** No heading is longer. */
const LONGEST = 120;
/** Things that stand inside and have a warmth of their own. */
const NOT_CABIN =
  /\b(fridge|freezer|panel\w*|modul\w*|solar\w*|mppt|charger|water|kuhl\w*|frigo|nevera|batt?\w*|akku\w*|accu\w*)\b/;

/** Words of a heading with accents taken off and "SoC" whole. */
export function logWords(heading: string): string {
  const plain = heading
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[łŁ]/g, 'l')
    .replace(/[øØ]/g, 'o')
    .replace(/ß/g, 'ss');
  return wordsOf(plain)
    .replace(/\bso c\b/g, 'soc')
    .replace(/\b([a-z]{2,})(\d+)\b/g, '$1 $2'); // "PV1" is a PV, the first
}

/** What a heading of a log means by its wording and unit; undefined when it is none of the columns a log is read for. */
export function readHeading(heading: string): HeadingRead | undefined {
  if (heading.length > LONGEST) return undefined;
  const text = logWords(heading);
  if (text === '') return undefined;
  const isOut = words.DISCHARGING.test(text);
  const isIn = words.CHARGING.test(isOut ? text.replace(words.DISCHARGING, '') : text);
  const named = (role: LogColumnName, found: LogUnit | undefined, score: number): HeadingRead => ({
    role,
    unit: found,
    score: score + (found ? 1 : 0),
    outward: OUTWARD.test(heading) || (isOut && !isIn),
  });
  const isPercent = /%|\b(percent|pct|procent|prozent)\b/.test(text);
  const unmeasured = words.NOT_MEASURED.test(text);
  if (words.SOC.test(text) && !unmeasured)
    return named('soc', isPercent ? PERCENT : /\b0 (to )?1$/.test(text) ? RATIO : undefined, 2);
  if (isPercent) return words.CHARGE_PERCENT.test(text) && !unmeasured ? named('soc', PERCENT, 1) : undefined;
  const inUnit = UNITS.find(([pattern]) => pattern.test(text));
  const kind =
    inUnit?.[1] ??
    KIND_WORDS.find(([pattern]) => pattern.test(text))?.[1] ??
    (words.LOAD.test(text) ? KIND_OF_LOAD : undefined);
  const found = inUnit?.[2];
  if (kind === undefined || kind === 'counter' || unmeasured) return undefined;
  if (kind === 'irradiance') return named('irradiance', found, 2);
  if (kind === 'temperature') {
    if (words.AIR.test(text)) return named('ambient', found, 2);
    if (words.CABIN.test(text) && !NOT_CABIN.test(text)) return named('cabin', found, 2);
    if (words.NOT_BATTERY_HEAT.test(text)) return undefined;
    return named('temperature', found, words.BATTERY.test(text) ? 2 : 0);
  }
  if (/\b(cells?|zelle\w*)\b/.test(text)) return undefined;
  if (words.SOLAR.test(text)) {
    const one = named(kind === 'voltage' ? 'solarVoltage' : kind === 'power' ? 'solarPower' : 'solarCurrent', found, 2);
    const side = words.AT_BATTERY.test(text) ? 'battery' : words.AT_PANEL.test(text) ? 'panel' : undefined;
    return { ...one, ...(side && { side }) };
  }
  if (words.ALTERNATOR.test(text))
    return kind === 'voltage' ? undefined : named(kind === 'power' ? 'alternatorPower' : 'alternatorCurrent', found, 2);
  if (words.LOAD.test(text))
    return kind === 'voltage' ? undefined : named(kind === 'power' ? 'loadPower' : 'loadCurrent', found, 2);
  if (!words.BATTERY.test(text) && isOfAnother(text)) return undefined;
  const battery = named(kind as 'voltage' | 'current' | 'power', found, words.BATTERY.test(text) ? 2 : 0);
  return kind !== 'voltage' && isIn !== isOut ? { ...battery, flow: isIn ? 'in' : 'out' } : battery;
}

/** Whether words are left over that say whose voltage, current or power it is. */
function isOfAnother(text: string): boolean {
  const patterns = [words.VOLTAGE, words.CURRENT, words.POWER, words.CHARGING, words.DISCHARGING];
  return text
    .split(/[^a-z]+/)
    .some(
      (word) =>
        word.length > 2 &&
        !words.NEUTRAL.test(word) &&
        ![...patterns, ...UNITS.map(([pattern]) => pattern)].some((pattern) => pattern.test(word)),
    );
}

/** "+ = out", "positive = discharge" in a heading. */
const OUTWARD = /(\+|\bpos\w*)\s*=\s*(out|disch)/i;

/** The unit of a column that names none. */
export function unitTaken(role: LogColumnName): LogUnit {
  if (role === 'soc') return PERCENT;
  const kind = /Voltage|voltage/.test(role)
    ? 'voltage'
    : /Current|current/.test(role)
      ? 'current'
      : /Power|power/.test(role)
        ? 'power'
        : role === 'irradiance'
          ? 'irradiance'
          : 'temperature';
  return unit(DEFAULT_UNITS[kind]);
}

/** The unit that any words name for a role that is known; undefined when they name none that fits. */
export function unitFor(role: LogColumnName, heading: string): LogUnit | undefined {
  const text = logWords(heading);
  if (role === 'soc')
    return /%|\b(percent|pct)\b/.test(text) ? PERCENT : /\b0 (to )?1$|\bratio\b/.test(text) ? RATIO : undefined;
  const kind = kindOf(role);
  return UNITS.find(([pattern, one]) => one === kind && pattern.test(text))?.[2];
}

const kindOf = (role: LogColumnName): Kind | undefined => {
  const taken = unitTaken(role);
  return UNITS.find(([, , one]) => one.text === taken.text)?.[1];
};

/** The units that a role may have. */
export const unitsOf = (role: LogColumnName): readonly string[] =>
  role === 'soc'
    ? [PERCENT.text, RATIO.text]
    : UNITS.filter(([, one]) => one === kindOf(role)).map(([, , { text }]) => text);

/** Whether a heading is a time ("time": a stamp or a time of day) or a date of its own. */
export function timeRoleOf(heading: string): 'time' | 'date' | undefined {
  if (heading.length > LONGEST) return undefined;
  const text = logWords(heading);
  if (text === '') return undefined;
  if (/\b(to go|remaining|since|run ?time|up ?time|duration|absorption|bulk|float)\b/.test(text)) return undefined;
  if (words.STAMP.test(text)) return 'time';
  if (words.DATE.test(text)) return 'date';
  if (words.TIME.test(text)) return 'time';
  const role = roleOf(text);
  return role === 'clock' ? 'time' : role === 'date' || role === 'day' ? 'date' : undefined;
}
