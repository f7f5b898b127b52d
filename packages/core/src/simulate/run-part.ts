import type { Assembled } from './assemble.js';
import { type LoopOutput, runLoop } from './loop.js';
import { LOAD_W, type LoopState, NOW_SOC } from './loop-state.js';

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
