import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { type RandomStream, uniform } from './day-draws.js';

/** A stream of its own for a seed and a purpose. */
export function seededStream(seed: number, purpose = 0): RandomStream {
  const stream = xoroshiro128plus((Math.imul(seed | 0, 0x9e3779b1) ^ Math.imul(purpose + 1, 0x85ebca6b)) | 0);
  for (let i = 0; i < 4; i++) stream.next();
  return stream;
}

/**
 * Draws that fill a unit cube evenly: along each axis one value in each of `count` equal parts, in an order of its own.
 * Source: McKay, Beckman & Conover, Technometrics 21(2), 1979, p. 239.
 * @returns one row a draw, each with a value above 0 and below 1 for every axis
 */
export function latinHypercube(count: number, axes: number, stream: RandomStream): number[][] {
  const rows = Array.from({ length: count }, () => new Array<number>(axes).fill(0));
  for (let axis = 0; axis < axes; axis++) {
    const order = Array.from({ length: count }, (_, k) => k);
    for (let k = count - 1; k > 0; k--) {
      const other = Math.floor(uniform(stream) * (k + 1));
      [order[k], order[other]] = [order[other]!, order[k]!];
    }
    for (let k = 0; k < count; k++) rows[k]![axis] = (order[k]! + uniform(stream)) / count;
  }
  return rows;
}
