import { type Dimension, formatClock, writeQuantity } from '../quantity/index.js';
import type { DefaultTaken } from './types.js';

/** Fills in what a file does not say, and remembers each such value with its reason. */
export class Defaults {
  readonly taken: DefaultTaken[] = [];

  /** A quantity. */
  quantity(given: number | undefined, path: string, value: number, dimension: Dimension, why: string): number {
    return given ?? this.take(path, value, writeQuantity(tidy(value), dimension), why);
  }

  /** Anything whose text is its own value: a choice, a count, true or false. */
  plain<T extends string | number | boolean>(given: T | undefined, path: string, value: T, why: string): T {
    return given ?? this.take(path, value, String(value), why);
  }

  /** A clock time [h]. */
  hour(given: number | undefined, path: string, value: number, why: string): number {
    return given ?? this.take(path, value, formatClock({ kind: 'clock', hour: value }), why);
  }

  take<T>(path: string, value: T, text: string, why: string): T {
    this.taken.push({ path, text, why });
    return value;
  }
}

/** Without the last digits that arithmetic adds: 0.15000000000000002 is 0.15. */
export function tidy(value: number): number {
  return Number.isFinite(value) ? Number(value.toPrecision(6)) : value;
}

/** The smallest usual size that is at least `least`; the largest there is when none is. */
export function sizeUp(least: number, sizes: readonly number[]): number {
  return sizes.find((size) => size >= least) ?? sizes.at(-1)!;
}
