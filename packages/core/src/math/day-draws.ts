import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { normalQuantile } from './normal-distribution.js';

/** Texture is drawn at this step whatever the run's, so that a finer run refines the same sky. */
export const TEXTURE_PER_HOUR = 6;
export const TEXTURE_PER_DAY = 24 * TEXTURE_PER_HOUR;

/** Which weather: the seed, the weather year of that seed (0, 1, …) and the place. */
export interface WeatherDraw {
  readonly seed: number;
  readonly year: number;
  readonly latDeg: number;
  readonly lonDeg: number;
}

/** Whole numbers of 32 bits without end. */
export interface RandomStream {
  next(): number;
}

/** A random stream of its own for each day and purpose, so that a day's weather does not depend on when a run begins. */
export function dayStream(draw: WeatherDraw, day: number, purpose: number): RandomStream {
  let h = 0x9e3779b9;
  h = mixed(h, draw.seed | 0);
  h = mixed(h, Math.floor(draw.seed / 2 ** 32) | 0);
  h = mixed(h, draw.year);
  h = mixed(h, Math.round(draw.latDeg * 100));
  h = mixed(h, Math.round(draw.lonDeg * 100));
  h = mixed(h, day);
  h = mixed(h, purpose);
  const stream = xoroshiro128plus(h);
  for (let i = 0; i < 4; i++) stream.next();
  return stream;
}

/** One round of the MurmurHash3 body and finaliser (Appleby, public domain): neighbouring integers end far apart. */
function mixed(hash: number, value: number): number {
  let k = Math.imul(value, 0xcc9e2d51);
  k = Math.imul((k << 15) | (k >>> 17), 0x1b873593);
  let h = hash ^ k;
  h = Math.imul((h << 13) | (h >>> 19), 5) + 0xe6546b64;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) | 0;
}

/** A number above 0 and below 1, in steps of 2⁻³². */
export function uniform(stream: RandomStream): number {
  return ((stream.next() >>> 0) + 0.5) / 4294967296;
}

export function normal(stream: RandomStream): number {
  return normalQuantile(uniform(stream));
}
