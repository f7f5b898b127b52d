import { gzipSync } from 'node:zlib';
import type { LogOptions } from '../../packages/core/src/log/index.js';
import { Draw } from '../fuzz/random.js';
import {
  daysOf,
  PLACE,
  type Quantity,
  STARTS,
  STEP_MS,
  type Start,
  type TrueDay,
  type TrueRow,
  truthOf,
  ZONE,
} from './truth.js';
import { type HeadingWords, WORDS } from './words.js';
import { zipOf } from './zip.js';

/** What a variant of the true log can differ in. The first of each list is the plain way. */
export const CHOICES = {
  language: ['en', 'de', 'fr', 'es', 'it', 'nl', 'pt', 'sv', 'pl'],
  cells: [
    'comma',
    'semicolon',
    'semicolon, decimal comma',
    'tab',
    'tab, decimal comma',
    'bar',
    'decimal commas quoted',
    'decimal commas unquoted',
  ],
  encoding: ['utf-8', 'utf-8 with mark', 'utf-16le', 'utf-16be', 'windows-1252', 'gzip', 'zip'],
  ends: ['LF', 'CRLF', 'CR'],
  stamp: [
    'iso',
    'iso with T and Z',
    'iso with offset',
    'unix seconds',
    'unix milliseconds',
    'unix seconds with fraction',
    'd/m/y',
    'm/d/y',
    'd.m.y',
    'd/m/yy',
    'm/d/yy',
    'yy-mm-dd',
    'am and pm',
    'twelve hours without am or pm',
    'serial number of a spreadsheet',
    'date and time apart',
    'zone letters',
    'month in letters',
    'compact digits',
    'Buddhist year',
    'hours only',
  ],
  zoneBy: ['option', 'place', 'heading'],
  units: ['in the heading', 'in a row below', 'in the cells', 'nowhere'],
  scale: [
    'plain',
    'milli, named',
    'milli, not named',
    'milliamps under (A)',
    'kilowatts, named',
    'kilowatts, not named',
    'charge 0 to 1',
  ],
  sign: [
    'charging positive',
    'discharging positive',
    'parentheses',
    'minus behind',
    'typographic minus',
    'no sign at all',
  ],
  battery: ['current', 'current and power', 'power', 'charge and discharge apart', 'discharge negative apart'],
  solar: [
    'power',
    'negative power',
    'panel volts and amps',
    'power, panel volts and amps',
    'panel volts, charging amps',
    'charging amps',
    'two arrays',
    'none',
  ],
  loads: ['none', 'power', 'negative power'],
  soc: ['yes', 'no'],
  counters: ['none', 'yield today', 'yield in all', 'charge below full', 'charged and discharged', 'load today'],
  /** columns that cannot both be true: any answer is wrong */
  contradiction: ['none', 'counter', 'state of charge', 'solar watts', 'battery watts', 'load watts'],
  devices: ['one', 'two, apart', 'two, same stamps', 'three, apart', 'two, named in a column', 'two tables'],
  order: ['oldest first', 'newest first', 'shuffled', 'halves swapped'],
  rows: ['every step', 'on change', 'on change, changed cells only'],
  dirt: [
    'none',
    'blank cells',
    'dashes',
    'codes of a lost sensor',
    'headings again',
    'duplicates',
    'separator behind',
    'footer',
    'preface',
    'gap',
    'cut short',
  ],
} as const;
type Dimension = keyof typeof CHOICES;
export type Choice = { readonly [D in Dimension]: (typeof CHOICES)[D][number] };

export interface Variant {
  readonly seed: number;
  readonly choice: Choice;
  readonly bytes: Uint8Array;
  /** what the owner gives at once */
  readonly options: LogOptions;
  /** what the owner can answer when asked */
  readonly answers: LogOptions;
  readonly truth: readonly TrueDay[];
  /** cells that were lost, by date */
  readonly lost: ReadonlyMap<string, number>;
  /** two of its columns contradict each other */
  readonly contradicts: boolean;
}

const HOUR_MS = 3_600_000;
/** What a logger that writes on change takes for none, by unit. */
const SMALL: Readonly<Record<string, number>> = {
  V: 0.02,
  mV: 20,
  A: 0.03,
  mA: 30,
  W: 0.3,
  kW: 0.0003,
  '%': 0.2,
  '': 0.002,
  '°C': 0.2,
};
const DIMENSIONS = Object.keys(CHOICES) as Dimension[];
/** How often a variant differs from the plain way in one matter. */
const ODD: Readonly<Record<Dimension, number>> = {
  language: 0.5,
  cells: 0.4,
  encoding: 0.3,
  ends: 0.3,
  stamp: 0.5,
  zoneBy: 0.3,
  units: 0.25,
  scale: 0.2,
  sign: 0.4,
  battery: 0.4,
  solar: 0.5,
  loads: 0.3,
  soc: 0.3,
  counters: 0.3,
  contradiction: 0,
  devices: 0.2,
  order: 0.2,
  rows: 0.12,
  dirt: 0.35,
};

/** Variant `seed`: one matter is walked through in turn, so that every choice comes up; the others are drawn. */
export function variantOf(seed: number): Variant {
  const draw = new Draw('variant', seed);
  const turns = DIMENSIONS.flatMap((dimension) =>
    CHOICES[dimension].slice(1).map((value) => [dimension, value] as const),
  );
  const [shown, value] = turns[seed % turns.length]!;
  const drawn = Object.fromEntries(
    DIMENSIONS.map((dimension) => {
      const values = CHOICES[dimension];
      return [dimension, draw.chance(ODD[dimension]) ? draw.one<string>(values.slice(1)) : values[0]];
    }),
  ) as { -readonly [D in Dimension]: string };
  drawn[shown] = value;
  return make(seed, tidied(drawn as Choice), draw);
}

/** Takes back what cannot go together. */
function tidied(choice: Choice): Choice {
  const c = { ...choice } as { -readonly [D in Dimension]: Choice[D] };
  if (c.language === 'pl' && c.encoding === 'windows-1252') c.encoding = 'utf-8';
  if (c.devices !== 'one') c.rows = 'every step';
  // of a change that is lost nothing is left
  if (c.rows !== 'every step' && (c.dirt === 'blank cells' || c.dirt === 'dashes')) c.dirt = 'none';
  if (c.devices !== 'one' && c.solar === 'none') c.solar = 'power';
  if (c.devices === 'three, apart' && c.loads === 'none') c.loads = 'power';
  if (c.devices === 'two, named in a column')
    [c.battery, c.solar, c.loads, c.scale] = ['current', 'power', 'none', 'plain'];
  if (c.devices === 'two tables') c.units = 'in the heading';
  if (c.scale === 'milli, not named' || c.scale === 'kilowatts, not named')
    if (c.units === 'in the cells') c.units = 'nowhere';
  if (c.scale === 'milliamps under (A)') c.units = 'in the heading';
  if (c.scale === 'kilowatts, named' && c.units === 'nowhere') c.units = 'in the heading';
  if (c.scale === 'milli, named' && c.units === 'nowhere') c.units = 'in the heading';
  if (c.battery === 'charge and discharge apart' || c.battery === 'discharge negative apart')
    c.sign = 'charging positive';
  if (c.stamp === 'unix seconds' || c.stamp === 'unix milliseconds' || c.stamp.startsWith('unix')) c.zoneBy = 'option';
  if (c.stamp === 'iso with offset' || c.stamp === 'iso with T and Z' || c.stamp === 'zone letters')
    c.zoneBy = 'option';
  // what contradicts needs what it contradicts
  if (c.contradiction === 'counter' && c.counters === 'none') c.counters = 'charge below full';
  if (c.contradiction === 'state of charge') c.soc = 'yes';
  if (c.contradiction === 'solar watts') c.solar = 'power, panel volts and amps';
  if (c.contradiction === 'battery watts') c.battery = 'current and power';
  if (c.contradiction === 'load watts') c.loads = 'power';
  if (c.counters.startsWith('yield') && c.solar === 'none') c.solar = 'power';
  if (c.counters === 'load today' && c.loads === 'none') c.loads = 'power';
  if (c.devices === 'two, named in a column') [c.counters, c.contradiction] = ['none', 'none'];
  if (c.cells === 'decimal commas unquoted' && c.dirt === 'separator behind') c.dirt = 'none';
  return c;
}

interface Column {
  readonly heading: string;
  readonly unit: string;
  /** text of the cell with a decimal point, before marks, signs and quotes */
  readonly cell: (row: TrueRow) => number;
  readonly digits: number;
  readonly device: number;
}

function columnsOf(c: Choice, words: HeadingWords, start: Start): Column[] {
  const [milli, kilo] = [c.scale.startsWith('milli'), c.scale.startsWith('kilowatts')];
  const sense = c.sign === 'discharging positive' ? -1 : 1;
  const flow = (value: number) => (c.sign === 'no sign at all' ? Math.abs(value) : sense * value);
  const solarDevice = c.devices === 'one' ? 0 : 1;
  const loadDevice = c.devices === 'three, apart' ? 2 : solarDevice;
  const volts = (heading: string, pick: (row: TrueRow) => number, device: number): Column =>
    milli && c.scale !== 'milliamps under (A)'
      ? { heading, unit: 'mV', cell: (row) => 1000 * pick(row), digits: 0, device }
      : { heading, unit: 'V', cell: pick, digits: 3, device };
  const amps = (heading: string, pick: (row: TrueRow) => number, device: number): Column =>
    milli
      ? {
          heading,
          unit: c.scale === 'milliamps under (A)' ? 'A' : 'mA',
          cell: (row) => 1000 * pick(row),
          digits: 0,
          device,
        }
      : { heading, unit: 'A', cell: pick, digits: 3, device };
  const watts = (heading: string, pick: (row: TrueRow) => number, device: number): Column =>
    kilo
      ? { heading, unit: 'kW', cell: (row) => pick(row) / 1000, digits: 5, device }
      : { heading, unit: 'W', cell: pick, digits: 2, device };
  const off = (what: Choice['contradiction'], factor: number) => (c.contradiction === what ? factor : 1);
  /** of another battery: it goes its own way */
  const socOf = ({ ms, soc }: TrueRow) =>
    c.contradiction === 'state of charge' ? 0.6 + 0.3 * Math.sin(ms / HOUR_MS / 1.7) : soc;
  const columns: Column[] = [volts(words.voltV, ({ voltV }) => voltV, 0)];
  if (c.battery === 'current' || c.battery === 'current and power')
    columns.push(amps(words.currentA, ({ currentA }) => flow(currentA), 0));
  if (c.battery === 'power' || c.battery === 'current and power')
    columns.push(watts(words.powerW, ({ currentA, voltV }) => off('battery watts', 2) * flow(currentA * voltV), 0));
  if (c.battery.endsWith('apart')) {
    const out = c.battery === 'discharge negative apart' ? -1 : 1;
    columns.push(amps(words.charge, ({ currentA }) => Math.max(0, currentA), 0));
    columns.push(amps(words.discharge, ({ currentA }) => out * Math.max(0, -currentA), 0));
  }
  if (c.soc === 'yes')
    columns.push(
      c.scale === 'charge 0 to 1'
        ? { heading: words.soc, unit: '', cell: (row) => socOf(row), digits: 4, device: 0 }
        : { heading: words.soc, unit: '%', cell: (row) => 100 * socOf(row), digits: 1, device: 0 },
    );
  const { solar } = c;
  const down = solar === 'negative power' ? -1 : 1;
  if (solar === 'power' || solar === 'negative power' || solar === 'power, panel volts and amps')
    columns.push(watts(words.solarW, ({ solarW }) => off('solar watts', 2.5) * down * solarW, solarDevice));
  if (solar === 'two arrays') {
    columns.push(watts(`${words.solarW} 1`, ({ solarW }) => 0.6 * solarW, solarDevice));
    columns.push(watts(`${words.solarW} 2`, ({ solarW }) => 0.4 * solarW, solarDevice));
  }
  if (/panel volts/.test(solar)) columns.push(volts(words.panelV, ({ panelV }) => panelV, solarDevice));
  if (/panel volts and amps/.test(solar)) columns.push(amps(words.panelA, ({ panelA }) => panelA, solarDevice));
  if (/charging amps/.test(solar)) columns.push(amps(words.solarA, ({ solarA }) => solarA, solarDevice));
  if (c.loads !== 'none') {
    const out = c.loads === 'negative power' ? -1 : 1;
    columns.push(watts(words.loadW, ({ loadW }) => off('load watts', 4) * out * loadW, loadDevice));
  }
  columns.push(...countersOf(c, start, off('counter', 2.5), solarDevice, loadDevice));
  columns.push({ heading: words.batteryC, unit: '°C', cell: ({ batteryC }) => batteryC, digits: 1, device: 0 });
  return columns;
}

/** Counters begin at midnight or run on; what a row counts is what flowed before it. */
function countersOf(c: Choice, start: Start, factor: number, solarDevice: number, loadDevice: number): Column[] {
  const count = (rate: (row: TrueRow) => number, isDaily: boolean) => {
    const at = new Map<number, number>();
    let [sum, date] = [0, ''];
    for (const row of truthOf(start)) {
      const today = new Date(row.ms + start.offsetH * HOUR_MS).toISOString().slice(0, 10);
      if (isDaily && today !== date) sum = 0;
      date = today;
      at.set(row.ms, factor * sum);
      sum += (rate(row) * STEP_MS) / HOUR_MS;
    }
    return ({ ms }: TrueRow) => at.get(ms)!;
  };
  const column = (heading: string, cell: Column['cell'], digits: number, device: number): Column => {
    return { heading, unit: '', cell, digits, device };
  };
  const kilo =
    (cell: Column['cell']): Column['cell'] =>
    (row) =>
      cell(row) / 1000;
  switch (c.counters) {
    case 'none':
      return [];
    case 'yield today':
      return [column('Yield today (kWh)', kilo(count(({ solarW }) => solarW, true)), 2, solarDevice)];
    case 'yield in all':
      return [
        column(
          'Total solar energy (Wh)',
          count(({ solarW }) => solarW, false),
          0,
          solarDevice,
        ),
      ];
    case 'charge below full':
      return [
        column(
          'Consumed Ah',
          count(({ currentA }) => currentA, false),
          1,
          0,
        ),
      ];
    case 'charged and discharged':
      return [
        column(
          'Charged energy (kWh)',
          kilo(count(({ currentA, voltV }) => Math.max(0, currentA * voltV), false)),
          3,
          0,
        ),
        column(
          'Discharged energy (kWh)',
          kilo(count(({ currentA, voltV }) => Math.max(0, -currentA * voltV), false)),
          3,
          0,
        ),
      ];
    case 'load today':
      return [
        column(
          'Load energy today (Wh)',
          count(({ loadW }) => loadW, true),
          0,
          loadDevice,
        ),
      ];
  }
}

const two = (value: number) => String(value).padStart(2, '0');
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** The cells of time of one row: one, or a date and a time. */
function stampOf(c: Choice, { offsetH }: Start, ms: number): string[] {
  const local = new Date(ms + offsetH * HOUR_MS);
  const [y, m, d] = [local.getUTCFullYear(), local.getUTCMonth() + 1, local.getUTCDate()];
  const [h, min, s] = [local.getUTCHours(), local.getUTCMinutes(), local.getUTCSeconds()];
  const clock = `${two(h)}:${two(min)}:${two(s)}`;
  const yy = two(y % 100);
  switch (c.stamp) {
    case 'iso':
      return [`${y}-${two(m)}-${two(d)} ${clock}`];
    case 'iso with T and Z':
      return [new Date(ms).toISOString().replace('.000', '')];
    case 'iso with offset':
      return [`${y}-${two(m)}-${two(d)}T${clock}+${two(offsetH)}:00`];
    case 'unix seconds':
      return [String(ms / 1000)];
    case 'unix milliseconds':
      return [String(ms)];
    case 'unix seconds with fraction':
      return [(ms / 1000 + 0.25).toFixed(3)];
    case 'd/m/y':
      return [`${two(d)}/${two(m)}/${y} ${clock}`];
    case 'm/d/y':
      return [`${two(m)}/${two(d)}/${y} ${clock}`];
    case 'd.m.y':
      return [`${two(d)}.${two(m)}.${y} ${clock}`];
    case 'd/m/yy':
      return [`${d}/${m}/${yy} ${clock}`];
    case 'm/d/yy':
      return [`${m}/${d}/${yy} ${clock}`];
    case 'yy-mm-dd':
      return [`${yy}-${two(m)}-${two(d)} ${clock}`];
    case 'am and pm':
      return [`${two(m)}/${two(d)}/${y} ${((h + 11) % 12) + 1}:${two(min)}:${two(s)} ${h < 12 ? 'AM' : 'PM'}`];
    case 'twelve hours without am or pm':
      return [`${y}-${two(m)}-${two(d)} ${two(((h + 11) % 12) + 1)}:${two(min)}:${two(s)}`];
    case 'serial number of a spreadsheet':
      return [(25569 + (ms + offsetH * HOUR_MS) / 86_400_000).toFixed(6)];
    case 'date and time apart':
      return [`${y}-${two(m)}-${two(d)}`, clock];
    case 'zone letters':
      return [`${y}-${two(m)}-${two(d)} ${clock} ${offsetH === 1 ? 'WEST' : 'WET'}`];
    case 'month in letters':
      return [`${d} ${MONTHS[m - 1]} ${y} ${clock}`];
    case 'compact digits':
      return [`${y}${two(m)}${two(d)}${two(h)}${two(min)}${two(s)}`];
    case 'Buddhist year':
      return [`${y + 543}-${two(m)}-${two(d)} ${clock}`];
    case 'hours only':
      return [clock];
  }
}

function make(seed: number, c: Choice, draw: Draw): Variant {
  const words = WORDS[c.language]!;
  const start = draw.one(STARTS);
  const columns = columnsOf(c, words, start);
  const separator =
    { comma: ',', semicolon: ';', 'semicolon, decimal comma': ';', tab: '\t', 'tab, decimal comma': '\t', bar: '|' }[
      c.cells as string
    ] ?? ',';
  const mark = c.cells.includes('decimal comma') ? ',' : '.';
  const text = (value: string) =>
    value.includes(separator) || value.includes('"') ? `"${value.replaceAll('"', '""')}"` : value;
  const number = ({ digits, unit }: Column, value: number): string => {
    if (Number.isNaN(value)) return '';
    const size = Math.abs(value).toFixed(digits).replace('.', mark);
    const isBelow = Number(value.toFixed(digits)) < 0;
    const signed = !isBelow
      ? size
      : c.sign === 'parentheses'
        ? `(${size})`
        : c.sign === 'minus behind'
          ? `${size}-`
          : c.sign === 'typographic minus'
            ? `\u2212${size}`
            : `-${size}`;
    const united = c.units === 'in the cells' && unit !== '' ? `${signed} ${unit}` : signed;
    return c.cells === 'decimal commas unquoted' ? united : text(united);
  };
  const isPair = c.stamp === 'date and time apart';
  const zoned = c.zoneBy === 'heading' ? ` (UTC+${start.offsetH})` : '';
  const headed = ({ heading, unit }: Column) =>
    c.units === 'in the heading' && unit !== '' ? `${heading} (${unit})` : heading;
  const hasDevice = c.devices === 'two, named in a column';
  const headings = (own: readonly Column[]) =>
    [
      ...(isPair ? [words.date, words.time + zoned] : [words.stamp + zoned]),
      ...(hasDevice ? ['Device'] : []),
      ...own.map(headed),
    ]
      .map(text)
      .join(separator);

  let kept: readonly TrueRow[] = truthOf(start);
  if (c.dirt === 'gap') {
    const from = kept[0]!.ms + (1 + draw.whole(70)) * HOUR_MS;
    kept = kept.filter(({ ms }) => ms < from || ms >= from + 3 * HOUR_MS);
  }
  const lost = new Map<string, number>();
  const empty = (cell: string, { ms }: TrueRow) => {
    if (!(c.dirt === 'blank cells' || c.dirt === 'dashes') || !draw.chance(0.003)) return cell;
    const date = new Date(ms + start.offsetH * HOUR_MS).toISOString().slice(0, 10);
    lost.set(date, (lost.get(date) ?? 0) + 1);
    return c.dirt === 'dashes' ? draw.one(['--', 'NaN', 'n/a', '-']) : '';
  };
  const spoilt = (column: Column, cell: string, row: TrueRow) =>
    c.dirt === 'codes of a lost sensor' && column.unit === '°C' && draw.chance(0.02) ? '65535' : empty(cell, row);
  /** rows with the moment that orders them */
  const rows: { ms: number; line: string }[] = [];
  const line = (ms: number, own: string[], device?: string) => {
    const cells = [...stampOf(c, start, ms).map(text), ...(device === undefined ? [] : [device]), ...own];
    rows.push({ ms, line: cells.join(separator) + (c.dirt === 'separator behind' ? separator : '') });
  };
  const deviceCount = 1 + Math.max(...columns.map(({ device }) => device));
  if (c.devices === 'one') {
    let last: number[] | undefined;
    let lastMs = Number.NaN;
    for (const row of kept) {
      const values = columns.map(({ cell }) => cell(row));
      const isSame = (k: number) => {
        const small = SMALL[columns[k]!.unit]!;
        return last !== undefined && Math.abs(values[k]! - last[k]!) < small && row.ms - lastMs < 3 * STEP_MS;
      };
      // how long the last row holds nobody could know
      if (c.rows !== 'every step' && row !== kept.at(-1) && values.every((_, k) => isSame(k))) continue;
      const isWhole = last === undefined || row.ms - lastMs >= 3 * STEP_MS;
      const own = columns.map((column, k) =>
        c.rows === 'on change, changed cells only' && !isWhole && isSame(k)
          ? ''
          : spoilt(column, number(column, values[k]!), row),
      );
      line(row.ms, own);
      last =
        c.rows === 'on change, changed cells only' && last && !isWhole
          ? values.map((value, k) => (isSame(k) ? last![k]! : value))
          : values;
      lastMs = row.ms;
    }
  } else
    for (const row of kept)
      for (let device = 0; device < deviceCount; device++) {
        const ms = row.ms + (c.devices.endsWith('apart') ? device * 20_000 : 0);
        const own = columns.map((column) =>
          column.device === device ? spoilt(column, number(column, column.cell(row)), row) : '',
        );
        if (hasDevice) {
          // both devices share the columns of volts, amps and watts
          const shared = columns.map((column) => {
            if (column.device === device) return number(column, column.cell(row));
            return column.heading === words.voltV
              ? number(column, row.panelV)
              : column.heading === words.currentA
                ? number(column, row.panelA)
                : '';
          });
          line(ms, shared, ['shunt', 'roof'][device]);
        } else line(ms, own);
      }
  if (c.order === 'newest first') rows.reverse();
  if (c.order === 'shuffled') for (let k = rows.length - 1; k > 0; k--) swap(rows, k, draw.whole(k + 1));
  if (c.order === 'halves swapped') rows.push(...rows.splice(0, rows.length >> 1));
  let lines = rows.map((row) => row.line);
  if (c.dirt === 'duplicates') lines = lines.flatMap((one) => (draw.chance(0.02) ? [one, one] : [one]));
  if (c.dirt === 'headings again') lines.splice(lines.length >> 1, 0, headings(columns));
  if (c.dirt === 'footer') lines.push('', 'End of the log');
  if (c.dirt === 'cut short') lines[lines.length - 1] = lines.at(-1)!.slice(0, -3);
  if (c.devices === 'two tables') lines = secondTable(c, start, kept, columns, headings, number, text, separator);
  else lines.unshift(headings(columns));
  if (c.units === 'in a row below')
    lines.splice(
      1,
      0,
      [...stampOf(c, start, 0).map(() => ''), ...(hasDevice ? [''] : []), ...columns.map(({ unit }) => unit)].join(
        separator,
      ),
    );
  if (c.dirt === 'preface') lines.unshift('Log of an invented van', 'Serial no. 12', '');
  const ending = { LF: '\n', CRLF: '\r\n', CR: '\r' }[c.ends];
  const zone = c.zoneBy === 'place' ? { at: PLACE } : c.zoneBy === 'option' ? { zone: ZONE } : {};
  return {
    seed,
    choice: c,
    bytes: encoded(lines.join(ending) + ending, c.encoding),
    options: zone,
    answers: answersOf(c),
    truth: daysOf(kept, start, holdsOf(c)),
    lost,
    contradicts: c.contradiction !== 'none',
  };
}

function secondTable(
  c: Choice,
  start: Start,
  kept: readonly TrueRow[],
  columns: readonly Column[],
  headings: (own: readonly Column[]) => string,
  number: (column: Column, value: number) => string,
  text: (value: string) => string,
  separator: string,
): string[] {
  return [0, 1].flatMap((device) => {
    const own = columns.filter((column) => column.device === device);
    const cells = kept.map((row) =>
      [...stampOf(c, start, row.ms).map(text), ...own.map((column) => number(column, column.cell(row)))].join(
        separator,
      ),
    );
    return [...(device === 0 ? [] : ['']), headings(own), ...cells];
  });
}

function swap<T>(items: T[], a: number, b: number) {
  [items[a], items[b]] = [items[b]!, items[a]!];
}

function encoded(text: string, encoding: Choice['encoding']): Uint8Array {
  switch (encoding) {
    case 'utf-8':
      return Buffer.from(text, 'utf8');
    case 'utf-8 with mark':
      return Buffer.from(`\ufeff${text}`, 'utf8');
    case 'utf-16le':
      return Buffer.from(`\ufeff${text}`, 'utf16le');
    case 'utf-16be':
      return Buffer.from(`\ufeff${text}`, 'utf16le').swap16();
    case 'windows-1252':
      return Buffer.from(text.replaceAll('\u2212', '-'), 'latin1');
    case 'gzip':
      return gzipSync(text);
    case 'zip':
      return zipOf({ 'log.csv': Buffer.from(text, 'utf8') });
  }
}

function holdsOf(c: Choice): ReadonlySet<Quantity> {
  const holds = new Set<Quantity>(['voltage', 'charge']);
  if (c.soc === 'yes') holds.add('soc');
  if (c.loads !== 'none') holds.add('load');
  if (c.solar === 'panel volts and amps') holds.add('panel harvest');
  else if (c.solar !== 'none') holds.add('harvest');
  return holds;
}

/** What the owner knows of the file, as options. */
function answersOf(c: Choice): LogOptions {
  const dateOrder = /^d[/.]m/.test(c.stamp)
    ? 'dmy'
    : /^m\/d/.test(c.stamp) || c.stamp === 'am and pm'
      ? 'mdy'
      : c.stamp === 'yy-mm-dd'
        ? 'ymd'
        : undefined;
  const isNet = !c.battery.endsWith('apart') && c.sign !== 'no sign at all';
  const units =
    c.scale === 'kilowatts, not named'
      ? { solarPower: 'kW', loadPower: 'kW', power: 'kW' }
      : c.scale === 'milliamps under (A)'
        ? { current: 'mA', solarCurrent: 'mA' }
        : c.scale === 'milli, not named'
          ? { voltage: 'mV', solarVoltage: 'mV', current: 'mA', solarCurrent: 'mA' }
          : undefined;
  return {
    ...(units && { units }),
    ...(c.stamp === 'Buddhist year' && { calendar: 'buddhist' as const }),
    ...(dateOrder && { dateOrder }),
    ...(isNet && { positive: c.sign === 'discharging positive' ? 'discharging' : 'charging' }),
  };
}
