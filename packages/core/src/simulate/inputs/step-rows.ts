import type { LoopInput } from '../loop/loop-columns.js';
import {
  BATTERY_STEP_WIDTH,
  CHARGE_LIMIT_A,
  CHARGER_STEP_WIDTH,
  COMPENSATION_V,
  DRIVE,
  FRIDGE_STEP_WIDTH,
  HEAVY_STEP_WIDTH,
  HEAVY_W,
  LEAK_A,
  LIMIT_A,
  LOAD_A,
  LOAD_CUBE,
  LOAD_FOURTH,
  LOAD_QUAD,
  LOAD_W,
  LOAD_WIDTH,
  RUN_W,
  SHARE,
  UNSWITCHED_W,
} from '../loop/loop-rows.js';
import { firstChargerAt, firstHeavyAt } from '../loop/loop-state.js';

export { BATTERY_STEP_WIDTH, CHARGER_STEP_WIDTH };

// The loop's rows put together from parts that were laid out before, for many variants of a rig under the same weather.

/** What one charger has to give: columns of the grid, or one value for all of it. */
export interface ChargerColumns {
  readonly drive: Float64Array;
  readonly limitA: Float64Array | number;
  readonly share: Float64Array | number;
  readonly compensationV: Float64Array | number;
}

/**
 * Fills the rows of `LoopState.steps` from one step to before another: a day at a time they are still at hand when the
 * loop reads them.
 * @param loadRows as `layOutSteps` gives them for the same loads without a charger
 * @param width    of a row of `loadRows`
 * @param aheadW   drawn ahead of the disconnect, instead of what is in those rows [W]
 */
export function fillStepRows(
  rows: Float64Array,
  loadRows: Float64Array,
  width: number,
  aheadW: Float64Array | number,
  chargers: readonly ChargerColumns[],
  from: number,
  to: number,
): void {
  const wide = width + chargers.length * CHARGER_STEP_WIDTH;
  for (let i = from, at = from * wide, read = from * width; i < to; i++, at += wide)
    for (let k = 0; k < width; k++) rows[at + k] = loadRows[read++]!;
  fill(rows, wide, UNSWITCHED_W, aheadW, from, to);
  for (let lane = 0; lane < chargers.length; lane++) {
    const { drive, limitA, share, compensationV } = chargers[lane]!;
    const at = width + lane * CHARGER_STEP_WIDTH;
    fill(rows, wide, at + DRIVE, drive, from, to);
    fill(rows, wide, at + LIMIT_A, limitA, from, to);
    fill(rows, wide, at + SHARE, share, from, to);
    fill(rows, wide, at + COMPENSATION_V, compensationV, from, to);
  }
}

function fill(
  rows: Float64Array,
  wide: number,
  at: number,
  values: Float64Array | number,
  from: number,
  to: number,
): void {
  const end = at + wide * to;
  if (typeof values === 'number') for (let r = at + wide * from; r < end; r += wide) rows[r] = values;
  else for (let r = at + wide * from, i = from; r < end; r += wide) rows[r] = values[i++]!;
}

/**
 * Fills the rows of `LoopState.battery` for a bank `times` as large as that of `unitRows`, with all of its limits so
 * many times as large too.
 */
export function fillBatteryRows(
  rows: Float64Array,
  unitRows: Float64Array,
  times: number,
  from: number,
  to: number,
): void {
  const end = to * BATTERY_STEP_WIDTH;
  for (let at = from * BATTERY_STEP_WIDTH; at < end; at++) rows[at] = unitRows[at]!;
  for (let at = from * BATTERY_STEP_WIDTH; at < end; at += BATTERY_STEP_WIDTH) {
    rows[at + CHARGE_LIMIT_A] = times * rows[at + CHARGE_LIMIT_A]!;
    rows[at + LEAK_A] = times * rows[at + LEAK_A]!;
  }
}

/** The same loads, without chargers, drawing `times` as much while they run: powers, currents, and the loss that follows in their cables. */
export function scaleLoadRows(
  loadRows: Float64Array,
  input: Pick<LoopInput, 'steps' | 'fridges' | 'heavies'>,
  times: number,
): Float64Array {
  const rows = Float64Array.from(loadRows);
  const width = rows.length / input.steps;
  const firstHeavy = firstHeavyAt(input);
  for (let at = 0; at < rows.length; at += width) {
    rows[at + LOAD_W] = rows[at + LOAD_W]! * times;
    rows[at + LOAD_A] = rows[at + LOAD_A]! * times;
    rows[at + LOAD_QUAD] = rows[at + LOAD_QUAD]! * times ** 2;
    rows[at + LOAD_CUBE] = rows[at + LOAD_CUBE]! * times ** 3;
    rows[at + LOAD_FOURTH] = rows[at + LOAD_FOURTH]! * times ** 4;
    for (let f = at + LOAD_WIDTH; f < at + firstHeavy; f += FRIDGE_STEP_WIDTH)
      rows[f + RUN_W] = rows[f + RUN_W]! * times;
    for (let h = at + firstHeavy; h < at + width; h += HEAVY_STEP_WIDTH) rows[h + HEAVY_W] = rows[h + HEAVY_W]! * times;
  }
  return rows;
}

/** In rows as `layOutSteps` gives them, lets a charger run for another share of each step; 0 = never. */
export function setChargerShare(
  rows: Float64Array,
  input: Pick<LoopInput, 'steps' | 'fridges' | 'heavies' | 'chargers'>,
  lane: number,
  share: Float64Array | 0,
): void {
  const firstCharger = firstChargerAt(input);
  const width = firstCharger + input.chargers * CHARGER_STEP_WIDTH;
  for (let i = 0, at = firstCharger + lane * CHARGER_STEP_WIDTH + SHARE; i < input.steps; i++, at += width)
    rows[at] = share === 0 ? 0 : share[i]!;
}

/** In rows as `layOutSteps` gives them, lets the bus draw so much more from one step to before another [W]. */
export function addLoadW(rows: Float64Array, steps: number, watts: number, from: number, to: number): void {
  const width = rows.length / steps;
  for (let i = from, at = from * width + LOAD_W; i < to; i++, at += width) rows[at] = rows[at]! + watts;
}

/** In rows as `layOutSteps` gives them, lets a solar converter offer so many times its power. */
export function scaleChargerDrive(
  rows: Float64Array,
  input: Pick<LoopInput, 'steps' | 'fridges' | 'heavies' | 'chargers'>,
  lane: number,
  times: number,
): void {
  const firstCharger = firstChargerAt(input);
  const width = firstCharger + input.chargers * CHARGER_STEP_WIDTH;
  for (let i = 0, at = firstCharger + lane * CHARGER_STEP_WIDTH + DRIVE; i < input.steps; i++, at += width)
    rows[at] = rows[at]! * times;
}
