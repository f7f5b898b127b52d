import { roleOf, wordsOf } from '../../table/index.js';
import type { LogColumnName } from '../types.js';

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
export const PERCENT = unit('%', 1, 100);
export const RATIO = unit('0 to 1');
const DEFAULT_UNITS = { voltage: 'V', current: 'A', power: 'W', temperature: 'C', irradiance: 'W/m2' } as const;

const KIND_WORDS: readonly (readonly [RegExp, Kind])[] = [
  [/\b(temp\w*|t)\b/, 'temperature'],
  [/\b(irradi\w*|insolation|radiation|ghi|poa)\b/, 'irradiance'],
  [/\b(volt\w*|spannung|tension\w*|u|v)\b/, 'voltage'],
  [/\b(power|watt\w*|leistung|puissance|potencia|potenza|p|w)\b/, 'power'],
  [/\b(current|amp\w*|strom|courant|corriente|corrente|i|a)\b/, 'current'],
];
const SOC =
  /\b(soc|state of charge|charge (state|level)|battery (level|charge|percent\w*)|ladezustand|ladestand|etat de charge)\b/;
const SOLAR = /\b(solar\w*|pv|panels?|array|photovolt\w*|mppt)\b/;
const LOAD = /\b(loads?|consum\w*|output|verbrauch\w*)\b/;
const ALTERNATOR = /\b(alternator|dc ?dc|engine)\b/;
const BATTERY = /\b(batt?(ery|erie|eria)?|bat|house|leisure|service|shunt|bank|bms)\b/;
const AIR = /\b(ambient|air|outside|outdoors?|aussen\w*|exterior)\b/;
const NOT_MEASURED =
  /\b(start(er)?|vehicle|chassis|min|max|minimum|maximum|lowest|highest|peak|delta|target|set ?point|limit|alarm|error|status|mode|fault|mains|ac|grid|shore|inverter|mid ?point|aux\w*|rated|nominal|yield|total|cumul\w*|today|daily|history|humidity|rh|duty|signal|speed|remaining|to go|cycles?|capacity)\b/;
const NOT_BATTERY_HEAT = /\b(inside|cabin|room|fridge|freezer|panel|module|solar|mppt|charger|water)\b/;

/** No heading is longer. */
const LONGEST = 120;

/** Words of a heading with accents taken off and "SoC" whole. */
export function logWords(heading: string): string {
  return wordsOf(heading.normalize('NFD').replace(/\p{M}/gu, '')).replace(/\bso c\b/g, 'soc');
}

/** What a heading of a log means by its wording and unit; undefined when it is none of the columns a log is read for. */
export function readHeading(heading: string): HeadingRead | undefined {
  if (heading.length > LONGEST) return undefined;
  const words = logWords(heading);
  if (words === '') return undefined;
  const named = (role: LogColumnName, found: LogUnit | undefined, score: number): HeadingRead => ({
    role,
    unit: found,
    score: score + (found ? 1 : 0),
    outward: /\b(discharg\w*|entlad\w*)\b/.test(words) && !/\b(charge|charging) ?(or|and)? discharg/.test(words),
  });
  const isPercent = /%|\b(percent|pct)\b/.test(words);
  const unmeasured = NOT_MEASURED.test(words);
  if (SOC.test(words) && !unmeasured) return named('soc', isPercent ? PERCENT : undefined, 2);
  if (isPercent) return BATTERY.test(words) && !unmeasured ? named('soc', PERCENT, 1) : undefined;
  const inUnit = UNITS.find(([pattern]) => pattern.test(words));
  const kind = inUnit?.[1] ?? KIND_WORDS.find(([pattern]) => pattern.test(words))?.[1];
  const found = inUnit?.[2];
  if (kind === undefined || kind === 'counter' || unmeasured) return undefined;
  if (kind === 'irradiance') return named('irradiance', found, 2);
  if (kind === 'temperature') {
    if (AIR.test(words)) return named('ambient', found, 2);
    if (NOT_BATTERY_HEAT.test(words)) return undefined;
    return named('temperature', found, BATTERY.test(words) ? 2 : 0);
  }
  if (/\bcells?\b/.test(words)) return undefined;
  if (SOLAR.test(words))
    return named(kind === 'voltage' ? 'solarVoltage' : kind === 'power' ? 'solarPower' : 'solarCurrent', found, 2);
  if (ALTERNATOR.test(words))
    return kind === 'voltage' ? undefined : named(kind === 'power' ? 'alternatorPower' : 'alternatorCurrent', found, 2);
  if (LOAD.test(words))
    return kind === 'voltage' ? undefined : named(kind === 'power' ? 'loadPower' : 'loadCurrent', found, 2);
  return named(kind as 'voltage' | 'current' | 'power', found, BATTERY.test(words) ? 2 : 0);
}

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

/** The unit that the words of any heading name for a role the user chose; undefined when it names none that fits. */
export function unitFor(role: LogColumnName, heading: string): LogUnit | undefined {
  const words = logWords(heading);
  if (role === 'soc') return /%|\b(percent|pct)\b/.test(words) ? PERCENT : undefined;
  const taken = unitTaken(role);
  const kind = UNITS.find(([, , one]) => one.text === taken.text)?.[1];
  return UNITS.find(([pattern, one]) => one === kind && pattern.test(words))?.[2];
}

/** Whether a heading is a time ("time": a stamp or a time of day) or a date of its own. */
export function timeRoleOf(heading: string): 'time' | 'date' | undefined {
  if (heading.length > LONGEST) return undefined;
  const words = logWords(heading);
  if (words === '') return undefined;
  if (/\b(to go|remaining|since|run ?time|up ?time|duration|absorption|bulk|float)\b/.test(words)) return undefined;
  if (/\b(zeitstempel|datum (und )?(zeit|uhrzeit)|fecha (y )?hora|date heure|data ora)\b/.test(words)) return 'time';
  if (/^(datum|fecha|data)\b/.test(words)) return 'date';
  if (/^(zeit|uhrzeit|hora|heure|ora|epoch|unix ?time)\b/.test(words)) return 'time';
  const role = roleOf(words);
  return role === 'clock' ? 'time' : role === 'date' ? 'date' : undefined;
}
