import type { Assembled } from '../inputs/assemble.js';
import { type LoopInput, type LoopOutput, runLoop } from '../loop/loop.js';
import {
  CHARGER_STEP_WIDTH,
  FRIDGE_STEP_WIDTH,
  LOAD_W,
  LOAD_WIDTH,
  type LoopState,
  NOW_SOC,
  SHARE,
} from '../loop/loop-state.js';

/**
 * Follows a part of a run from where `state` stands; its columns are left as they were, so that they serve again.
 * @param askedW receives what loads ask that look at the state of charge, at row step modulo rows; left alone without such [W]
 */
export function runPart(
  { input, socDraw }: Pick<Assembled, 'input' | 'socDraw'>,
  out: LoopOutput,
  state: LoopState,
  from: number,
  to: number,
  askedW: Float64Array,
): void {
  if (!socDraw) {
    runLoop(input, out, state, from, to);
    return;
  }
  const width = state.steps.length / input.steps;
  for (let i = from; i < to; i++) {
    const at = i * width + LOAD_W;
    const before = state.steps[at]!;
    const watts = socDraw(i, state.now[NOW_SOC]!);
    state.steps[at] = before + watts;
    runLoop(input, out, state, i, i + 1);
    state.steps[at] = before;
    askedW[i % out.rows] = watts;
  }
}

/** In rows as `layOutSteps` gives them, lets a charger run for another share of each step; 0 = never. */
export function setChargerShare(
  rows: Float64Array,
  { steps, fridges, chargers }: Pick<LoopInput, 'steps' | 'fridges' | 'chargers'>,
  lane: number,
  share: Float64Array | 0,
): void {
  const firstCharger = LOAD_WIDTH + fridges * FRIDGE_STEP_WIDTH;
  const width = firstCharger + chargers * CHARGER_STEP_WIDTH;
  for (let i = 0, at = firstCharger + lane * CHARGER_STEP_WIDTH + SHARE; i < steps; i++, at += width)
    rows[at] = share === 0 ? 0 : share[i]!;
}
