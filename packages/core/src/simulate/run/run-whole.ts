import type { SocDraw } from '../inputs/assemble-loads.js';
import { type LoopInput, type LoopOutput, loopState, runLoop } from '../loop/loop.js';
import { LOAD_W, NOW_SOC } from '../loop/loop-state.js';
import { warmUp } from '../loop/warm-up.js';

/** The loop is called anew this often, so that it goes on in compiled code soon after it is compiled. */
const STEPS_A_CALL = 144;

/**
 * Follows the whole run.
 * @param socDraw  watts that depend on the state of charge; the loop itself calls nothing, so it is then led step by step
 * @param socDrawW receives what was drawn of them, means over the step [W]
 */
export function runWhole(input: LoopInput, out: LoopOutput, socDraw?: SocDraw, socDrawW?: Float64Array): void {
  const { steps } = input;
  const state = loopState(input);
  warmUp(input, state);
  if (!socDraw || !socDrawW) {
    for (let from = 0; from < steps; from += STEPS_A_CALL)
      runLoop(input, out, state, from, Math.min(steps, from + STEPS_A_CALL));
    return;
  }
  const width = state.steps.length / steps;
  for (let i = 0; i < steps; i++) {
    const at = i * width + LOAD_W;
    const watts = socDraw(i, state.now[NOW_SOC]!);
    state.steps[at] = state.steps[at]! + watts;
    runLoop(input, out, state, i, i + 1);
    socDrawW[i] = watts * out.onShare[i % out.rows]!;
  }
}
