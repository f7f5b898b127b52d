import { HOUR_MS } from '../../math/index.js';
import { advice, option } from '../../message/index.js';
import type { Contradiction } from './agreement.js';
import { logWords } from './heading-wording.js';
import * as words from './heading-words.js';

/** What a counter of charge or energy adds up. `net`: charge that goes in and out, as "Ah below full" or "Ah left". */
export type CounterOf = 'harvest' | 'load' | 'charged' | 'discharged' | 'net';

/** A column that counts, with how its figures become Ah or Wh. */
export interface Counter {
  readonly index: number;
  readonly of: CounterOf;
  readonly in: 'Ah' | 'Wh';
  readonly times: number;
}

const UNITS: readonly (readonly [RegExp, Counter['in'], number])[] = [
  [/\bk ?wh\b/, 'Wh', 1000],
  [/(?<!\bm )\bwh\b/, 'Wh', 1],
  [/\bm ?ah\b/, 'Ah', 0.001],
  [/\bah\b/, 'Ah', 1],
];

/** What a heading counts, by its wording and unit; undefined when that is not clear, or it is no counter. */
export function readCounter(heading: string): Omit<Counter, 'index'> | undefined {
  const text = logWords(heading);
  if (/\bw?h m2\b|\bper\b|\brated|\bnominal|\bcapa[ck]|\btarget\b|\blimit\b/.test(text)) return undefined;
  const unit = UNITS.find(([pattern]) => pattern.test(text));
  if (unit === undefined) return undefined;
  const [, kind, times] = unit;
  const counter = (of: CounterOf) => ({ of, in: kind, times });
  if (words.ALTERNATOR.test(text) || /\b(ac|grid|mains|shore|inverter)\b/.test(text)) return undefined;
  if (words.SOLAR.test(text) || words.YIELD.test(text)) return kind === 'Wh' ? counter('harvest') : undefined;
  const isOut = words.DISCHARGING.test(text);
  const isIn = words.CHARGED.test(isOut ? text.replace(words.DISCHARGING, '') : text);
  if (isOut !== isIn) return counter(isOut ? 'discharged' : 'charged');
  if (kind === 'Wh') return words.LOAD.test(text) ? counter('load') : undefined;
  if (/\b(total|cumul\w*|lifetime|today|daily)\b/.test(text)) return undefined;
  return words.NET_CHARGE.test(text) ? counter('net') : undefined;
}

/** A counter over the flow that it counts is within this of one, sensors and what a counter rounds away granted. Common practice, no source. */
const ALIKE: readonly [number, number] = [0.7, 1.4];
/** The same of one direction alone: within a row the flow may change its direction. */
const ALIKE_ONE_WAY: readonly [number, number] = [0.5, 2];
/** Too little is counted to judge by: steps of the counter, and what it comes to [Ah], [Wh]. */
const FEWEST = 8;
const LEAST: Readonly<Record<Counter['in'], number>> = { Ah: 1, Wh: 10 };
/** Charge between two looks at a counter that goes both ways [Ah], and steps that end near nought, where it is set. */
const WINDOW_AH = 1;
const NEAR_NOUGHT = 0.02;
const MIN_WINDOWS = 6;

/** Charge or energy since the last figure of a counter, and the sums over stretches without a reset. */
interface Tally {
  readonly counter: Counter;
  last: number;
  flow: number;
  /** steps up and down of the counter, each with what flowed meanwhile */
  up: { count: number; steps: number; flow: number };
  down: { count: number; steps: number; flow: number };
  /** of a counter that goes both ways */
  windowCount: number;
  windowFlow: number;
  product: number;
  squares: number;
  windows: number;
  most: number;
}

/** What each counter is held against: the flow [A] or [W] of a row, which holds until the next. */
export type FlowOf = (counter: Counter, values: Float64Array) => number;

/**
 * Holds counters against the flows that they count, over all rows. A counter may begin anew each day or when the battery is full;
 * over gaps nothing is compared.
 * @param maxStepMs beyond it nobody knows what flowed between two rows
 */
export function createCounterCheck(
  counters: readonly { readonly counter: Counter; readonly cell: number }[],
  flowOf: FlowOf,
  maxStepMs: number,
) {
  const tallies = counters.map(
    ({ counter }): Tally => ({
      counter,
      last: Number.NaN,
      flow: 0,
      up: { count: 0, steps: 0, flow: 0 },
      down: { count: 0, steps: 0, flow: 0 },
      windowCount: 0,
      windowFlow: 0,
      product: 0,
      squares: 0,
      windows: 0,
      most: 0,
    }),
  );
  const rates = new Float64Array(counters.length);
  let beforeMs = Number.NaN;
  const restart = (one: Tally, value: number) => {
    one.last = value;
    one.flow = one.windowCount = one.windowFlow = 0;
  };
  const step = (one: Tally, value: number) => {
    const delta = value - one.last;
    if (Number.isNaN(delta) || Number.isNaN(one.flow)) return restart(one, value);
    one.most = Math.max(one.most, Math.abs(value));
    if (one.counter.of === 'net') {
      if (Math.abs(value) <= NEAR_NOUGHT * one.most) return restart(one, value);
      one.windowCount += delta;
      one.windowFlow += one.flow;
      if (Math.abs(one.windowFlow) >= WINDOW_AH || Math.abs(one.windowCount) >= WINDOW_AH) {
        one.product += one.windowCount * one.windowFlow;
        one.squares += one.windowFlow * one.windowFlow;
        one.windows++;
        one.windowCount = one.windowFlow = 0;
      }
    } else {
      const way = delta > 0 ? one.up : delta < 0 ? one.down : undefined;
      if (way) {
        way.count += Math.abs(delta);
        way.steps++;
        way.flow += one.flow;
      } else {
        // what flows while it stands still belongs to the step that follows
        return;
      }
    }
    one.last = value;
    one.flow = 0;
  };
  return {
    add(timeMs: number, values: Float64Array, cells: Float64Array): void {
      const hours = (timeMs - beforeMs) / HOUR_MS;
      const isGap = !(timeMs - beforeMs <= maxStepMs);
      beforeMs = timeMs;
      for (let k = 0; k < tallies.length; k++) {
        const one = tallies[k]!;
        one.flow = isGap ? Number.NaN : one.flow + rates[k]! * hours;
        const rate = flowOf(one.counter, values);
        rates[k] = Number.isNaN(rate) ? 0 : rate;
        const value = cells[counters[k]!.cell]!;
        if (!Number.isNaN(value)) step(one, value * one.counter.times);
      }
    },
    /** @param name of a column in messages; @param against what the counter counts; undefined = nothing that could be compared */
    end(
      name: (index: number) => string,
      against: (of: CounterOf) => { readonly role: string; readonly headings: string } | undefined,
    ): Contradiction[] {
      return tallies.flatMap((one): Contradiction[] => {
        const other = against(one.counter.of);
        const ratio = ratioOf(one);
        const [low, high] = one.counter.of === 'charged' || one.counter.of === 'discharged' ? ALIKE_ONE_WAY : ALIKE;
        if (other === undefined || ratio === undefined || (ratio >= low && ratio <= high)) return [];
        const heading = name(one.counter.index);
        return [
          {
            code: 'log_contradiction',
            message: `"${heading}" contradicts ${other.headings}: over the log it counts ${Number(ratio.toPrecision(2))} times what that comes to`,
            help: advice`${option('units', other.role, 'UNIT')} or ${option('columns', other.role, 'HEADING')} puts it right; ${option('ignore', heading)} leaves the counter out`,
          },
        ];
      });
    },
  };
}

/** What was counted over what flowed; undefined when that is too little to tell. */
function ratioOf({ counter, up, down, product, squares, windows }: Tally): number | undefined {
  if (counter.of === 'net') return windows >= MIN_WINDOWS ? Math.abs(product) / squares : undefined;
  // the way it counts has the more steps; those against it are resets
  const { count, steps, flow } = up.steps >= down.steps ? up : down;
  if (steps < FEWEST || Math.max(count, flow) < LEAST[counter.in]) return undefined;
  return flow > 0 ? count / flow : Number.POSITIVE_INFINITY;
}
