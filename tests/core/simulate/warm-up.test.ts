import { expect, test } from 'vitest';
import { loopOutput, loopState, runLoop } from '../../../packages/core/src/simulate/loop/loop.js';
import { warmUp } from '../../../packages/core/src/simulate/loop/warm-up.js';
import { assembleCase, LOOP_CASES } from '../../bench/cases.js';

const sameBytes = (a: Float64Array, b: Float64Array) => Buffer.from(a.buffer).equals(Buffer.from(b.buffer));

test.each(LOOP_CASES)('a rehearsed run is the same to the last bit: $name', (one) => {
  const { input } = assembleCase(one, 90);
  const state = loopState(input);
  const again = loopState(input);
  warmUp(input, again);
  const [all, allAgain] = [state, again].map((from) => {
    const out = loopOutput(input.steps, input);
    runLoop(input, out, from);
    return out.all;
  });
  expect(sameBytes(all!, allAgain!)).toBe(true);
  expect(sameBytes(state.steps, again.steps) && sameBytes(state.battery, again.battery)).toBe(true);
});
