import { HOUR_MS } from '../../math/index.js';

const ALL_OF_TWELVE = 11;

/** Whether the hours of a clock run from 1 to 12 only. */
export function createTwelveHours() {
  const seen = new Uint8Array(24);
  return {
    see(localMs: number): void {
      seen[((Math.floor(localMs / HOUR_MS) % 24) + 24) % 24] = 1;
    },
    isHalf(): boolean {
      const within = seen.slice(1, 13).reduce((sum, one) => sum + one, 0);
      return within >= ALL_OF_TWELVE && seen[0] === 0 && seen.slice(13).every((one) => one === 0);
    },
  };
}
