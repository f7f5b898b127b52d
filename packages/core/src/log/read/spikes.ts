import { HOUR_MS } from '../../math/index.js';
import type { LogColumnName, LogRow } from '../types.js';

/** How far a single reading stands off both its neighbours, which agree, to be a fault: absolute, and as a share. */
const OFF: Readonly<Partial<Record<LogColumnName, readonly [apart: number, share: number, agree: number]>>> = {
  voltage: [1.5, 0.2, 0.4],
  soc: [0.15, 0, 0.04],
  temperature: [12, 0, 3],
  ambient: [15, 0, 4],
  cabin: [15, 0, 4],
};
/** Currents leap truly (a pump, a microwave): a fault only when it is beyond all seen, and the voltage does not feel it. */
const CURRENT_LEAST_A = 150;
const CURRENT_TIMES = 4;
const FELT_V = 0.2;
/** Neighbours further apart tell nothing. */
const NEIGHBOURS_MS = 2 * HOUR_MS;

/** Clears single readings that their neighbours contradict. `check` looks at the middle of three rows in time order. */
export function createSpikeFilter(columns: readonly LogColumnName[]) {
  const volts = columns.indexOf('voltage');
  const amps = columns.indexOf('current');
  const watts = columns.indexOf('power');
  const steady = columns.flatMap((name, k) => (OFF[name] ? [k] : []));
  const apart = steady.map((k) => OFF[columns[k]!]!);
  let largestA = 0;
  /** cells cleared, by column */
  const counts = new Uint32Array(columns.length);
  return {
    counts,
    /** @returns whether a reading of `row` was cleared */
    check(before: LogRow | undefined, row: LogRow, after: LogRow | undefined): boolean {
      let cleared = false;
      if (before !== undefined && after !== undefined && after.timeMs - before.timeMs <= NEIGHBOURS_MS)
        for (let j = 0; j < steady.length; j++) {
          const k = steady[j]!;
          const off = apart[j]!;
          const a = before.values[k]!;
          const x = row.values[k]!;
          const b = after.values[k]!;
          const least = Math.max(off[0], off[1] * Math.abs(a));
          // A counter that is set to full is no spike: it stays there. NaN fails every comparison.
          if (Math.abs(x - a) > least && Math.abs(x - b) > least && Math.abs(a - b) <= off[2]) {
            row.values[k] = Number.NaN;
            counts[k]!++;
            cleared = true;
          }
        }
      if (amps >= 0) {
        const current = Math.abs(row.values[amps]!);
        const isFelt =
          volts < 0 || before === undefined || !(Math.abs(row.values[volts]! - before.values[volts]!) < FELT_V);
        const neighbourA = Math.max(Math.abs(before?.values[amps] ?? 0), Math.abs(after?.values[amps] ?? 0));
        if (current > CURRENT_LEAST_A && current > CURRENT_TIMES * Math.max(largestA, neighbourA) && !isFelt) {
          row.values[amps] = Number.NaN;
          counts[amps]!++;
          if (watts >= 0) row.values[watts] = Number.NaN;
          cleared = true;
        } else if (current > largestA) largestA = current;
      }
      return cleared;
    },
  };
}
