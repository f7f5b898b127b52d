import {
  AHEAD_W,
  BATTERY_STEP_WIDTH,
  CHARGE_LIMIT_A,
  CHARGER_STEP_WIDTH,
  COMPENSATION_V,
  DRIVE,
  FRIDGE_STEP_WIDTH,
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
} from './loop-state.js';

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
 * Fills the rows of `LoopState.steps`.
 * @param loadRows as `layOutSteps` gives them for the same loads without a charger
 * @param aheadW   drawn ahead of the disconnect, instead of what is in those rows [W]
 */
export function fillStepRows(
  rows: Float64Array,
  loadRows: Float64Array,
  aheadW: Float64Array | number,
  chargers: readonly ChargerColumns[],
  steps: number,
): void {
  const from = loadRows.length / steps;
  const width = from + chargers.length * CHARGER_STEP_WIDTH;
  for (let i = 0, at = 0, read = 0; i < steps; i++, at += width)
    for (let k = 0; k < from; k++) rows[at + k] = loadRows[read++]!;
  fill(rows, width, AHEAD_W, aheadW, steps);
  chargers.forEach(({ drive, limitA, share, compensationV }, lane) => {
    const at = from + lane * CHARGER_STEP_WIDTH;
    fill(rows, width, at + DRIVE, drive, steps);
    fill(rows, width, at + LIMIT_A, limitA, steps);
    fill(rows, width, at + SHARE, share, steps);
    fill(rows, width, at + COMPENSATION_V, compensationV, steps);
  });
}

function fill(rows: Float64Array, width: number, at: number, values: Float64Array | number, steps: number): void {
  const end = at + width * steps;
  if (typeof values === 'number') for (let r = at; r < end; r += width) rows[r] = values;
  else for (let r = at, i = 0; r < end; r += width) rows[r] = values[i++]!;
}

/**
 * Fills the rows of `LoopState.battery` for a bank `times` as large as that of `unitRows`, with all of its limits so
 * many times as large too.
 */
export function fillBatteryRows(rows: Float64Array, unitRows: Float64Array, times: number): void {
  rows.set(unitRows);
  for (let at = 0; at < rows.length; at += BATTERY_STEP_WIDTH) {
    rows[at + CHARGE_LIMIT_A] = times * rows[at + CHARGE_LIMIT_A]!;
    rows[at + LEAK_A] = times * rows[at + LEAK_A]!;
  }
}

/** The same loads drawing `times` as much while they run: powers, currents, and the loss that follows in their cables. */
export function scaleLoadRows(loadRows: Float64Array, steps: number, times: number): Float64Array {
  const rows = Float64Array.from(loadRows);
  const width = rows.length / steps;
  for (let at = 0; at < rows.length; at += width) {
    rows[at + LOAD_W] = rows[at + LOAD_W]! * times;
    rows[at + LOAD_A] = rows[at + LOAD_A]! * times;
    rows[at + LOAD_QUAD] = rows[at + LOAD_QUAD]! * times ** 2;
    rows[at + LOAD_CUBE] = rows[at + LOAD_CUBE]! * times ** 3;
    rows[at + LOAD_FOURTH] = rows[at + LOAD_FOURTH]! * times ** 4;
    for (let f = at + LOAD_WIDTH; f < at + width; f += FRIDGE_STEP_WIDTH) rows[f + RUN_W] = rows[f + RUN_W]! * times;
  }
  return rows;
}
