import { DAY_MS } from '../../math/index.js';
import type { LogRow, ReasonCode } from '../types.js';
import { createStepLength } from './step-length.js';

const YEAR_MS = 366 * DAY_MS;
/** A clock that shows less has never been set. Assumption: no log of such a monitor is older; common practice, no source. */
export const CLOCK_UNSET_MS = Date.UTC(2005, 0, 1);
/** Rows held back so that late ones can be put in their place. */
const HELD = 64;
/** Rows of a clock that went wrong, kept until it is right again. */
const MAX_PENDING = 100_000;
/** Waits longer than so many steps leave room for other rows; so many of them are remembered. */
const GAP_STEPS = 3;
const MAX_GAPS = 200;
/** A leap forward is believed when so many rows follow it. */
const BELIEVED = 3;

export interface TimeOrder {
  /** UTC of the newest row accepted [ms] */
  newestMs: number;
  /** rows rejected though there is room for them: before the first row, or in a gap. In another order they could be read. */
  readonly unplaced: number;
  /** the latest of them before the first row, and the first row [ms] */
  readonly beforeFirst: { readonly lastMs: number; readonly firstMs: number };
  push(row: LogRow): void;
  end(): void;
}

/**
 * Brings rows into time order with flat memory. A row that goes back begins a run that is judged when time goes on:
 * - the good clock left room for the run: its clock had lost the time, and the run is moved to end where the good clock begins
 *   again (a clock is set while the monitor runs, so the loss lies before the run);
 * - no room: late rows, put in their place if they are not there yet, and rejected if they are.
 * A leap forward is believed when rows follow it, and rejected when time goes on as before it.
 */
export function createTimeOrder(
  usualMs: number,
  emit: (row: LogRow) => void,
  reject: (row: LogRow, code: ReasonCode) => void,
): TimeOrder {
  const step = createStepLength(usualMs);
  const held: LogRow[] = [];
  /** held rows before this one have gone on: taking each off would move all others every time */
  let first = 0;
  let pending: LogRow[] = [];
  let ahead: LogRow[] = [];
  let emittedMs = -Infinity;
  let firstMs = Number.NaN;
  let unplaced = 0;
  let lastBeforeMs = -Infinity;
  /** gaps between rows that have gone on: begin and end [ms], the latest */
  const gaps: [fromMs: number, toMs: number][] = [];
  const stepMs = () => (!Number.isNaN(step.usualMs) ? step.usualMs : 0);

  const count = () => held.length - first;
  const release = () => {
    const row = held[first++]!;
    if (first === HELD) {
      held.splice(0, first);
      first = 0;
    }
    if (Number.isNaN(firstMs)) firstMs = row.timeMs;
    else if (row.timeMs - emittedMs > GAP_STEPS * stepMs() && gaps.length < MAX_GAPS)
      gaps.push([emittedMs, row.timeMs]);
    emittedMs = row.timeMs;
    emit(row);
  };
  const accept = (row: LogRow) => {
    if (count() > 0) step.observe(row.timeMs - order.newestMs);
    held.push(row);
    order.newestMs = row.timeMs;
    if (count() > HELD) release();
  };
  const insertLate = (row: LogRow) => {
    // a clock that was never set tells no time, however much room there is before the first row
    if (row.timeMs < CLOCK_UNSET_MS) return reject(row, 'clock lost');
    if (row.timeMs <= emittedMs) {
      if (row.timeMs < firstMs) {
        unplaced++;
        if (row.timeMs > lastBeforeMs) lastBeforeMs = row.timeMs;
      } else if (gaps.some(([from, to]) => row.timeMs > from && row.timeMs < to)) unplaced++;
      return reject(row, 'covered');
    }
    let at = held.length;
    while (at > first && held[at - 1]!.timeMs > row.timeMs) at--;
    const twin = at > first ? held[at - 1] : undefined;
    if (twin !== undefined && twin.timeMs === row.timeMs) return meet(twin, row);
    row.corrected ??= 'out of order';
    held.splice(at, 0, row);
    if (count() > HELD) release();
  };
  const settlePending = (nextMs: number) => {
    const run = pending;
    pending = [];
    const last = run.at(-1)!.timeMs;
    const shift = nextMs - stepMs() - last;
    const isSmooth = nextMs - last <= Math.max(3 * stepMs(), 1);
    if (run[0]!.timeMs < CLOCK_UNSET_MS || (!isSmooth && run[0]!.timeMs + shift > order.newestMs)) {
      // a run whose true time would lie before rows already read cannot be placed
      for (const row of run) {
        if (row.timeMs + shift <= order.newestMs || row.timeMs + shift >= nextMs) reject(row, 'clock lost');
        else {
          row.timeMs += shift;
          row.corrected ??= 'clock reset';
          accept(row);
        }
      }
      return;
    }
    for (const row of run) insertLate(row);
  };

  const order: TimeOrder = {
    newestMs: -Infinity,
    get unplaced() {
      return unplaced;
    },
    get beforeFirst() {
      return { lastMs: lastBeforeMs, firstMs };
    },
    push(row) {
      const t = row.timeMs;
      if (ahead.length > 0) {
        if (t >= ahead.at(-1)!.timeMs) {
          ahead.push(row);
          if (ahead.length > BELIEVED) {
            const run = ahead;
            ahead = [];
            for (const one of run) acceptNew(one);
          }
          return;
        }
        const run = ahead;
        ahead = [];
        for (const one of run) reject(one, 'stamp out of line');
      }
      if (pending.length > 0) {
        const last = pending.at(-1)!.timeMs;
        if (t < CLOCK_UNSET_MS || t <= order.newestMs) {
          if (t < last && (last < CLOCK_UNSET_MS || t <= emittedMs)) {
            // went back a second time: where the first run belongs cannot be known
            for (const one of pending) insertLate(one);
            pending = [];
          }
          pending.push(row);
          if (isFalseStart(row)) {
            const [wrong, run] = [held.splice(first), pending];
            pending = [];
            order.newestMs = -Infinity;
            for (const one of wrong) reject(one, 'stamp out of line');
            for (const one of run) order.push(one);
          } else if (pending.length > MAX_PENDING) {
            const run = pending;
            pending = [row];
            for (const one of run.slice(0, -1)) reject(one, one.timeMs < CLOCK_UNSET_MS ? 'clock lost' : 'covered');
          }
          return;
        }
        settlePending(t);
        if (t > order.newestMs) accept(row);
        else insertLate(row);
        return;
      }
      if (t === order.newestMs) return sameTime(row);
      if (t < order.newestMs || t < CLOCK_UNSET_MS) {
        pending.push(row);
        return;
      }
      if (order.newestMs > -Infinity && t - order.newestMs > Math.max(2 * DAY_MS, 200 * stepMs())) {
        ahead.push(row);
        return;
      }
      accept(row);
    },
    end() {
      const run = ahead;
      ahead = [];
      for (const row of run)
        if (run.length > 1 || row.timeMs - order.newestMs < YEAR_MS) acceptNew(row);
        else reject(row, 'stamp out of line');
      for (const row of pending) insertLate(row);
      pending = [];
      const last = count() > 0 ? held.at(-1) : undefined;
      const before = count() > 1 ? held.at(-2)!.timeMs : emittedMs;
      if (last !== undefined && last.timeMs - before > YEAR_MS && before > -Infinity) {
        held.pop();
        reject(last, 'stamp out of line');
      }
      while (count() > 0) release();
    },
  };
  /** The first stamps were far ahead of all that follow: it is they that were wrong. */
  function isFalseStart(row: LogRow): boolean {
    return (
      emittedMs === -Infinity &&
      row.timeMs >= CLOCK_UNSET_MS &&
      pending.length > 10 + 2 * count() &&
      held[first]!.timeMs - row.timeMs > YEAR_MS
    );
  }
  function acceptNew(row: LogRow) {
    if (row.timeMs === order.newestMs) sameTime(row);
    else accept(row);
  }
  function sameTime(row: LogRow) {
    const twin = held.at(-1);
    if (twin === undefined) reject(row, 'same time');
    else meet(twin, row);
  }
  /** Two rows of one time: one is enough if they are alike, and they are one if each fills what the other leaves empty. */
  function meet(twin: LogRow, row: LogRow) {
    if (isSame(twin, row)) return reject(row, 'duplicate');
    if (!isComplement(twin, row)) return reject(row, 'same time');
    for (let k = 0; k < row.cells.length; k++) if (Number.isNaN(twin.cells[k]!)) twin.cells[k] = row.cells[k]!;
    reject(row, 'joined');
  }
  return order;
}

function isSame(a: LogRow, b: LogRow): boolean {
  for (let k = 0; k < a.cells.length; k++) if (!Object.is(a.cells[k], b.cells[k])) return false;
  return true;
}

/** No cell is filled in both with different values, and the second fills one that the first does not. */
function isComplement(a: LogRow, b: LogRow): boolean {
  let adds = false;
  for (let k = 0; k < a.cells.length; k++) {
    if (Number.isNaN(b.cells[k]!)) continue;
    if (Number.isNaN(a.cells[k]!)) adds = true;
    else if (a.cells[k] !== b.cells[k]) return false;
  }
  return adds;
}
