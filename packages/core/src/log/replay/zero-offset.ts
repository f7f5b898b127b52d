import { HOUR_MS } from '../../math/index.js';
import type { Rig } from '../../rig/index.js';
import type { Log } from './replay.js';

/** A battery is full at its absorption voltage, so far below it, per 12 V [V], … */
const FULL_WITHIN_V = 0.12;
/** … while it takes less than this of its capacity [A per Ah]: LFP 0.02 to 0.05, lead 0.01 to 0.04 set monitors to full. Common practice, no source. */
const TAIL_C = { LFP: 0.05, lead: 0.02 } as const;
/** How alike two such states of charge are, one standard error. */
const FULL_SOC_ERROR = { LFP: 0.01, lead: 0.05 } as const;
/**
 * Charge that does not come out again, with its own standard error, as a share of what goes in. Lead-acid that is kept near full
 * loses a tenth to a fifth: from 90 % of charge on hardly more than half of what goes in stays (Stevens & Corey 1996, from memory).
 */
const LOST = { LFP: { share: 0.005, error: 0.01 }, lead: { share: 0.12, error: 0.06 } } as const;
const LONGEST_GAP_H = 1.5;
const MIN_H = 96;
const MIN_FULLS = 3;
/** Zeros of shunts lie within 0.1 A. Common practice, no source. */
const USUAL_A = 0.1;
const SIGNIFICANT_ERRORS = 4;
/** Rows on change leave out what changes by less than some tenths of an ampere, one standard error [A]. Common practice, no source. */
const ON_CHANGE_A = 0.06;

/** What a monitor's current reads when none flows. */
export interface ZeroOffset {
  readonly amps: number;
  readonly standardError: number;
  /** of the span between the first and the last full charge */
  readonly hours: number;
  readonly fulls: number;
  readonly isWrong: boolean;
}

/**
 * From full to full the charge that went in and out is the same, but for what the battery loses; what the counted current comes
 * to beyond that is its zero, or what flows around the shunt. Full is voltage and small current together, never the monitor's word.
 * @param compensation of the set points at each row [V]
 */
export function zeroOffset(
  rig: Rig,
  { table, reading }: Log,
  compensation: (row: number) => number,
): ZeroOffset | undefined {
  const { voltage, current } = table.values;
  if (!voltage || !current) return undefined;
  const { battery } = rig;
  const kind = battery.chemistry === 'LFP' ? 'LFP' : 'lead';
  const bankAh = battery.capacityAh * battery.count;
  const scale = (battery.nominalV * battery.series) / 12;
  const fullV = battery.charge.absorptionV - FULL_WITHIN_V * scale;
  const tailA = TAIL_C[kind] * bankAh;
  const usualH = reading.time.stepH;
  const best = longestCounted(table.rows, (i) => {
    const amps = current[i]!;
    const pauseH = i > 0 ? (table.timeMs[i]! - table.timeMs[i - 1]!) / HOUR_MS : usualH;
    return {
      amps,
      pauseH,
      isGap: Number.isNaN(amps) || pauseH > LONGEST_GAP_H,
      isFull: voltage[i]! >= fullV + compensation(i) && Math.abs(amps) < tailA,
    };
  });
  if (best.hours < MIN_H || best.fulls < MIN_FULLS) return undefined;
  const lost = LOST[kind];
  const amps = (best.ah - lost.share * best.inAh) / best.hours;
  const standardError = Math.hypot(
    (Math.SQRT2 * FULL_SOC_ERROR[kind] * bankAh) / best.hours,
    (lost.error * best.inAh) / best.hours,
    reading.time.holdH === undefined ? 0 : ON_CHANGE_A,
  );
  const isWrong = Math.abs(amps) > Math.max(USUAL_A, SIGNIFICANT_ERRORS * standardError);
  return { amps, standardError, hours: best.hours, fulls: best.fulls, isWrong };
}

interface CountedRow {
  readonly amps: number;
  readonly pauseH: number;
  readonly isGap: boolean;
  readonly isFull: boolean;
}

/** The longest time between two full charges in which all current was counted. */
function longestCounted(rows: number, rowAt: (i: number) => CountedRow) {
  let best = { ah: 0, inAh: 0, hours: 0, fulls: 0 };
  let run: typeof best | undefined;
  let wasFull = false;
  let amps = Number.NaN;
  for (let i = 0; i < rows; i++) {
    // what a row reads flows until the next
    const { amps: next, pauseH, isGap, isFull } = rowAt(i);
    if (isGap) run = undefined;
    else if (run) {
      run = {
        ah: run.ah + amps * pauseH,
        inAh: run.inAh + Math.max(0, amps) * pauseH,
        hours: run.hours + pauseH,
        fulls: run.fulls + (isFull && !wasFull ? 1 : 0),
      };
      if (isFull && run.hours > best.hours) best = run;
    }
    if (isFull && !run) run = { ah: 0, inAh: 0, hours: 0, fulls: 1 };
    wasFull = isFull;
    amps = next;
  }
  return best;
}
