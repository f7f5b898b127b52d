import {
  checkRig,
  circuits,
  createLogReader,
  decodeText,
  describeRig,
  type LogOptions,
  parseQuantity,
  type Rig,
  readLog,
  readParts,
  readRig,
  readTrip,
  readWeatherFile,
  simulate,
  type Trip,
  tidyHeader,
  tidyLine,
  type WeatherSeries,
  withoutTrip,
} from '@stayput/core';
import { type CompiledExpression, compileExpression } from '@stayput/core/model';
import { textOf } from '../../packages/cli/src/files/log-text.js';
import type { Corpus } from './corpus.js';
import { ESCAPES, randomExpression } from './expressions.js';
import { grown } from './grow.js';
import { mutated, randomBytes } from './mutate.js';
import { Draw } from './random.js';
import { KEYS, NUMBERS, YAML } from './words.js';

/** One kind of input: how one is made, and what must become of it: a value, or an error of a type that is ours to give. */
export interface Target {
  make(draw: Draw, corpus: Corpus): Uint8Array;
  /** tries the input; `draw` says which options, and how far it is followed */
  attempt(input: Uint8Array, draw: Draw): Promise<void> | void;
}

/** The refusals that a reader may give: each says what the user can mend. */
const REFUSALS = new Set(['ConfigError', 'ExpressionError', 'QuantityError']);

export const isRefusal = (error: unknown) => error instanceof Error && REFUSALS.has(error.name);

const bytesOf = (text: string) => Buffer.from(text, 'utf8');
const textIn = (input: Uint8Array) => Buffer.from(input).toString('utf8');

function made(draw: Draw, kind: 'yaml' | 'table', own: readonly string[], others: readonly string[]): Uint8Array {
  if (draw.chance(0.03)) return randomBytes(draw);
  return mutated(draw.one(own), kind, draw.chance(0.2) ? others : own, draw);
}

const SUMMER = withoutTrip({ at: '41.7, -8.8', from: '2026-07-03', days: 2, weather: 'clear' });
const STEPS_H = [1, 1 / 2, 1 / 6, 1 / 6, 1 / 12];

const PLAIN_RIG = readRig(
  'battery: { chemistry: LFP, capacity: 100 Ah }\nsolar: [{ power: 100 W }]\nloads: [{ name: lamp, power: 10 W }]',
).rig;

/** Follows a rig for a short while: its ledger must close (a run whose ledger does not throws), its states be states. */
function follow(rig: Rig, trip: Trip, draw: Draw, weatherFile?: { name: string; text: string }): void {
  const run = simulate(rig, trip, {
    stepH: draw.one(STEPS_H),
    seed: draw.whole(1000),
    randomLoads: draw.chance(0.3),
    ...(weatherFile && { weatherFile }),
  });
  const { soc, batteryV } = run.trace;
  for (let i = 0; i < soc.length; i++)
    if (!(soc[i]! >= 0 && soc[i]! <= 1 && Number.isFinite(batteryV[i]!)))
      throw new Error(`step ${i}: state of charge ${soc[i]}, ${batteryV[i]} V`);
  const { lossWh, ...rest } = run.summary;
  for (const [name, value] of [...Object.entries(rest), ...Object.entries(lossWh)])
    if (typeof value === 'number' && !Number.isFinite(value)) throw new Error(`${name} is ${value}`);
}

const rig: Target = {
  make: (draw, corpus) =>
    draw.chance(0.4) ? bytesOf(grown('rig', readRig, draw)) : made(draw, 'yaml', corpus.rig, corpus.parts),
  attempt: (input, draw) => {
    const read = readRig(decodeText(input, 'rig.yaml'), { file: 'rig.yaml' }).rig;
    checkRig(read);
    describeRig(read);
    circuits(read);
    const { stops } = SUMMER;
    const weather = { kind: draw.one(['clear', 'dull', 'climate'] as const) };
    const winter = { ...stops[0]!, at: { latDeg: 64, lonDeg: 26 }, from: '2026-01-10' };
    if (draw.chance(0.5))
      follow(read, { ...SUMMER, weather, startSoc: draw.next(), stops: draw.chance(0.3) ? [winter] : stops }, draw);
  },
};

const trip: Target = {
  make: (draw, corpus) =>
    draw.chance(0.4) ? bytesOf(grown('trip', readTrip, draw)) : made(draw, 'yaml', corpus.trip, corpus.rig),
  attempt: (input, draw) => {
    const read = readTrip(decodeText(input, 'trip.yaml'), { file: 'trip.yaml' }).trip;
    checkRig(PLAIN_RIG, read);
    const weather = read.weather.kind === 'file' ? ({ kind: 'clear' } as const) : read.weather;
    // a long stay is followed for two of its days, all else as it is written
    const first = read.stops[0]!;
    if (draw.chance(0.5)) follow(PLAIN_RIG, { ...read, weather, stops: [{ ...first, nights: 2 }] }, draw);
    else if (read.stops.reduce((sum, { nights }) => sum + nights, 0) < 20)
      follow(PLAIN_RIG, { ...read, weather }, draw);
  },
};

const parts: Target = {
  make: (draw, corpus) =>
    draw.chance(0.4) ? bytesOf(grown('parts', readParts, draw)) : made(draw, 'yaml', corpus.parts, corpus.rig),
  attempt: (input) => void readParts(decodeText(input, 'parts.yaml'), { file: 'parts.yaml' }),
};

const HEADINGS = ['GHI (W/m2)', 'time', '1', '2', '99', '', 'date', '__proto__', 'ending'];

const weather: Target = {
  make: (draw, corpus) => made(draw, 'table', corpus.weather, corpus.log),
  attempt: (input, draw) => {
    const text = decodeText(input, 'weather.csv', { maxBytes: 2e8 });
    const series = readWeatherFile(text, {
      file: 'weather.csv',
      ...(draw.chance(0.2) && {
        columns: { [draw.one(['ghi', 'air', 'clock', 'stamp', ...KEYS])]: draw.one(HEADINGS) },
      }),
      ...(draw.chance(0.2) && { utcOffsetH: draw.one([0, -12, 14, 5.75]) }),
      ...(draw.chance(0.2) && { everyYear: true }),
    });
    mustBeFinite(series);
    if (!draw.chance(0.2) || Math.abs(series.startMs) > 8e15) return;
    const from = series.kind === 'dated' ? new Date(series.startMs).toISOString().slice(0, 10) : '2026-07-05';
    if (from.length !== 10) return;
    const stops = SUMMER.stops.map((stop) => ({ ...stop, from, nights: 1 }));
    const fileTrip: Trip = { ...SUMMER, stops, weather: { kind: 'file', path: 'weather.csv' } };
    follow(PLAIN_RIG, fileTrip, draw, { name: 'weather.csv', text });
  },
};

function mustBeFinite({ ghi, dni, dhi, air, wind, intervals, stepMs }: WeatherSeries): void {
  if (!(stepMs > 0 && intervals > 0)) throw new Error(`${intervals} intervals of ${stepMs} ms`);
  for (const column of [ghi, dni, dhi, air, wind])
    if (column && (column.length !== intervals || !column.every(Number.isFinite)))
      throw new Error(`a column of ${column.length} values for ${intervals} intervals, or one that is no number`);
}

const log: Target = {
  make: (draw, corpus) => made(draw, 'table', corpus.log, corpus.weather),
  attempt: async (input, draw) => {
    const accounts = { corrected: 0, rejected: 0 };
    const tidy: string[] = [];
    let lastMs = Number.NEGATIVE_INFINITY;
    const options: LogOptions = {
      file: 'log.csv',
      ...(draw.chance(0.2) && { zone: draw.one(['Europe/Lisbon', 'UTC', 'UTC+02:00', 'America/St_Johns', 'nowhere']) }),
      ...(draw.chance(0.2) && { dateOrder: draw.one(['dmy', 'mdy', 'ymd'] as const) }),
      ...(draw.chance(0.2) && { positive: draw.one(['charging', 'discharging'] as const) }),
      ...(draw.chance(0.2) && { at: { latDeg: 41.7, lonDeg: -8.8 } }),
      ...(draw.chance(0.2) && {
        columns: { [draw.one(['time', 'voltage', 'soc', ...KEYS])]: draw.one(['1', '2', '99', 'time', '']) },
      }),
      onColumns: (columns) => tidy.push(tidyHeader(columns)),
      onRow: (row) => {
        if (!(row.timeMs > lastMs)) throw new Error(`time went back in line ${row.line}`);
        lastMs = row.timeMs;
        tidy.push(tidyLine(row));
      },
      onAccount: ({ outcome }) => {
        accounts[outcome]++;
      },
    };
    const reader = createLogReader(options);
    for await (const text of textOf(pieces(input, draw))) reader.push(text);
    const { rows, daily } = reader.end();
    if (rows.read !== rows.kept + rows.corrected + rows.rejected) throw new Error(`rows ${JSON.stringify(rows)}`);
    if (rows.corrected !== accounts.corrected || rows.rejected !== accounts.rejected)
      throw new Error('rows not accounted for');
    if (daily.some((day) => Object.values(day).some((value) => value === Infinity || value === -Infinity)))
      throw new Error('a day without end');
    if (draw.chance(0.3)) readLog(tidy.join('\n'));
  },
};

async function* pieces(input: Uint8Array, draw: Draw): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < input.length; ) {
    const size = draw.chance(0.5) ? input.length : 1 + draw.whole(1000);
    yield input.subarray(at, at + size);
    at += size;
  }
}

const NAMES = ['ambient', 'cabin', 'hour', 'soc'] as const;
const SCOPES = [
  { ambient: 20, cabin: 25, hour: 12.5, soc: 0.5 },
  { ambient: -40, cabin: 0, hour: 0, soc: 0 },
  { ambient: Number.NaN, cabin: Infinity, hour: 24, soc: 1 },
];

const expression: Target = {
  make: (draw) => bytesOf(draw.chance(0.2) ? bent(draw.one(ESCAPES), draw) : randomExpression(draw)),
  attempt: (input, draw) => {
    const text = textIn(input);
    const compiled: CompiledExpression<(typeof NAMES)[number]> = compileExpression(text, NAMES);
    for (const scope of SCOPES)
      if (typeof compiled.evaluate(scope) !== 'number') throw new Error('an expression that is no number');
    const loads = [{ name: 'load', power: text }];
    const read = readRig(JSON.stringify({ battery: { chemistry: 'LFP', capacity: '100 Ah' }, loads })).rig;
    if (draw.chance(0.1)) follow(read, SUMMER, draw);
  },
};

function bent(text: string, draw: Draw): string {
  const at = draw.whole(text.length + 1);
  return (
    text.slice(0, at) + draw.one(['', ' ', '(', ')', '.', '"', ';', '\n', 'cabin']) + text.slice(at + draw.whole(2))
  );
}

const DIMENSIONS_TRIED = ['charge', 'power', 'length', 'section', 'temperature', 'ratio', 'count', 'duration'] as const;

const quantity: Target = {
  make: (draw) => {
    const unit = draw.one([
      'Ah',
      'W',
      'kWh/day',
      'mm2',
      '10 AWG',
      '%',
      '%/degC',
      'degF',
      '°C',
      'h',
      '/',
      '^',
      'm^9',
      '*',
    ]);
    const number = draw.chance(0.5) ? draw.one(NUMBERS) : draw.whole(1000);
    const text = `${number} ${unit}${draw.chance(0.2) ? unit.repeat(draw.whole(3000)) : ''}`;
    return bytesOf(draw.chance(0.5) ? bent(text, draw) : text);
  },
  attempt: (input, draw) => {
    if (!Number.isFinite(parseQuantity(textIn(input), draw.one(DIMENSIONS_TRIED))))
      throw new Error('a quantity that is not finite');
  },
};

const setting: Target = {
  make: (draw) => {
    if (draw.chance(0.3))
      return bytesOf(`${draw.one(SETTINGS)}=${draw.one([...NUMBERS, '1 %', '12 V', '4 degC', '80 Ah'])}`);
    const steps = ['battery', 'loads', 'solar', 'fridge', '[0]', '0', 'cable', 'name', 'count', 'capacity', ...KEYS];
    const path = Array.from({ length: 1 + draw.whole(4) }, () => draw.one(steps)).join('.');
    return bytesOf(
      `${path}${draw.one(['=', '', ' = ', '=='])}${draw.one([...NUMBERS, ...YAML, '200 Ah', '{a: 1}', '[1'])}`,
    );
  },
  attempt: (input) => void readRig(RIG_TO_SET, { set: [textIn(input)] }),
};

const SETTINGS = [
  'battery.capacity',
  'battery.floor',
  'battery.count',
  'loads.fridge.setpoint',
  'solar[0].tilt',
  'albedo',
];
const RIG_TO_SET = `battery: &b { chemistry: LFP, capacity: 100 Ah }
solar: [{ power: 100 W }]
loads:
  - { name: lamp, power: 10 W }
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC }
`;

/** Breaks in every way that must be noticed; only for the test of the fuzz itself. */
const broken: Target = {
  make: (draw) => Uint8Array.of(draw.whole(8)),
  attempt: ([how]) => {
    if (how === 0) throw new TypeError('broken on purpose');
    if (how === 1) for (;;);
    if (how === 2) process.exit(3);
    if (how === 3) Reflect.set(Object.prototype, 'polluted', 1);
  },
};

export const TARGETS = { rig, trip, parts, weather, log, expression, quantity, setting, broken } as const;

export type TargetName = keyof typeof TARGETS;

export const isTarget = (name: string): name is TargetName => Object.hasOwn(TARGETS, name);

/** The input and the options of one try: the same for the same seed and number on any machine. */
export const inputOf = (name: TargetName, seed: number, number: number, corpus: Corpus) =>
  TARGETS[name].make(new Draw(seed, name, number), corpus);

export const optionsOf = (seed: number, number: number) => new Draw(seed, 'options', number);
