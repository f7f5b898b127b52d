import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { type Advice, advice, advised, option } from '../../message/index.js';
import { ConfigError } from '../../rig/index.js';
import { DEFAULT_SEED } from '../../simulate/index.js';
import { parseVary, type Vary, varyError } from './sweep-vary.js';

/** In one run; a larger sweep is cut into parts, or sampled. */
export const MAX_VARIANTS = 1_000_000;

/** Which values each variant has. Variants are numbered from 0 here, and from 1 for people. */
export interface SweepPlan {
  readonly varied: readonly Vary[];
  /** in the whole sweep, whatever part of it is run */
  readonly variants: number;
  /** place of the variant's value in each `Vary` */
  indexes(variant: number): number[];
}

/** One of several equal parts of a sweep. */
export interface SweepPart {
  /** from 1 to `of` */
  readonly part: number;
  readonly of: number;
}

/**
 * Lays out a sweep: every combination, the last quantity varying fastest, or a Latin hypercube of `sample` variants, in
 * which each quantity takes its values as evenly as they divide (McKay, Beckman & Conover, Technometrics 21, 1979).
 * @param vary   one text a quantity, as `parseVary` reads it
 * @param sample variants to draw; absent = the full grid
 * @throws ConfigError with the first fault
 */
export function planSweep(
  vary: readonly string[],
  { sample, seed = DEFAULT_SEED }: { readonly sample?: number; readonly seed?: number } = {},
): SweepPlan {
  if (vary.length === 0) throw varyError('', '', 'nothing is varied', 'such as "battery.capacity=50:25:200 Ah"');
  const varied = vary.map(parseVary);
  refuseOverlap(varied, vary);
  if (sample !== undefined) return sampled(varied, sample, seed);
  const variants = varied.reduce((product, { count }) => product * count, 1);
  if (!Number.isSafeInteger(variants))
    throw tooMany(variants, advice`take longer steps, or ${option('sample', 'N')} to draw some of them`);
  return { varied, variants, indexes: (variant) => gridIndexes(varied, variant) };
}

/**
 * The variants of a part, from 0, `to` not included: parts of a sweep are as equal as they divide, and lie in order.
 * @throws ConfigError when they are more than one run takes
 */
export function variantsOf(
  plan: SweepPlan,
  { part, of }: SweepPart = { part: 1, of: 1 },
): { from: number; to: number } {
  if (!(Number.isInteger(part) && Number.isInteger(of) && part >= 1 && part <= of))
    throw new RangeError(`part must be 1 to ${of}, got ${part}`);
  const bound = (k: number) => Number((BigInt(plan.variants) * BigInt(k)) / BigInt(of));
  const [from, to] = [bound(part - 1), bound(part)];
  if (to - from > MAX_VARIANTS)
    throw tooMany(
      of === 1 ? plan.variants : to - from,
      advice`run it in ${Math.ceil(plan.variants / MAX_VARIANTS).toLocaleString('en')} parts or more with ${option('part', 'i/n')}, or draw some with ${option('sample', 'N')}`,
    );
  return { from, to };
}

function tooMany(variants: number, help: Advice): ConfigError {
  const count = variants < 1e15 ? variants.toLocaleString('en') : variants.toExponential(1);
  const message = `these are ${count} variants, and one run takes ${MAX_VARIANTS.toLocaleString('en')} at most`;
  return new ConfigError([{ code: 'too_many', path: '', message, ...advised(help) }]);
}

function refuseOverlap(varied: readonly Vary[], texts: readonly string[]): void {
  const keys = varied.map(({ path }) => path.replace(/\s/g, '').replace(/\[(\d+)\]/g, '.$1'));
  keys.forEach((key, k) => {
    const other = keys.findIndex((before, j) => j < k && (key === before || startsBelow(key, before)));
    if (other < 0) return;
    const message =
      key === keys[other]
        ? `${varied[k]!.path} is varied twice`
        : `${varied[k]!.path} and ${varied[other]!.path} change the same thing`;
    throw varyError(varied[k]!.path, texts[k]!, message, 'put all values into one');
  });
}

const startsBelow = (a: string, b: string) => a.startsWith(`${b}.`) || b.startsWith(`${a}.`);

function gridIndexes(varied: readonly Vary[], variant: number): number[] {
  const indexes: number[] = [];
  let left = variant;
  for (let k = varied.length - 1; k >= 0; k--) {
    const { count } = varied[k]!;
    indexes.unshift(left % count);
    left = Math.floor(left / count);
  }
  return indexes;
}

function sampled(varied: readonly Vary[], sample: number, seed: number): SweepPlan {
  if (!(Number.isInteger(sample) && sample >= 1)) throw new RangeError(`sample must be 1 or more, got ${sample}`);
  if (sample > MAX_VARIANTS) throw tooMany(sample, advice`draw fewer`);
  const random = xoroshiro128plus(seed);
  const share = () => (random.next() >>> 0) / 2 ** 32;
  const columns = varied.map(({ count }) => {
    const strata = Uint32Array.from({ length: sample }, (_, i) => i);
    for (let i = sample - 1; i > 0; i--) {
      const j = Math.floor(share() * (i + 1));
      [strata[i], strata[j]] = [strata[j]!, strata[i]!];
    }
    return Float64Array.from(strata, (stratum) => Math.floor(((stratum + share()) / sample) * count));
  });
  return { varied, variants: sample, indexes: (variant) => columns.map((column) => column[variant]!) };
}
