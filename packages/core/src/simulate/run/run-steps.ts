import type { Assembled } from '../inputs/assemble.js';
import { type LoopOutput, runLoop } from '../loop/loop.js';
import { LOAD_W, NOW_SOC } from '../loop/loop-rows.js';
import type { LoopState } from '../loop/loop-state.js';

/** The loop is called anew this often, so that it goes on in compiled code soon after it is compiled. */
const STEPS_A_CALL = 144;

/**
 * Follows steps of a run from where `state` stands; its columns are left as they were, so that they serve again. The loop
 * itself calls nothing: with loads that look at the state of charge it is led step by step.
 * @param askedW receives what such loads ask, at row step modulo rows; left alone without them [W]
 */
export function runSteps(
  { input, socDraw }: Pick<Assembled, 'input' | 'socDraw'>,
  out: LoopOutput,
  state: LoopState,
  from: number,
  to: number,
  askedW?: Float64Array,
): void {
  if (!socDraw) {
    for (let at = from; at < to; at += STEPS_A_CALL) runLoop(input, out, state, at, Math.min(to, at + STEPS_A_CALL));
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
    if (askedW) askedW[i % out.rows] = watts;
  }
}
