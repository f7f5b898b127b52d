import { expect, test } from 'vitest';
import { loopOutput, loopState, runLoop } from '../../../packages/core/src/simulate/loop.js';
import { rehearse } from '../../../packages/core/src/simulate/rehearse.js';
import { assembleCase, LOOP_CASES } from '../../bench/cases.js';

test.each(LOOP_CASES)('a rehearsed run is the same to the last bit: $name', (one) => {
  const { input } = assembleCase(one, 90);
  const run = (rehearsed: boolean) => {
    const out = loopOutput(input.steps, input.fridges, input.chargers);
    const state = loopState(input);
    if (rehearsed) rehearse(input, state);
    runLoop(input, out, state);
    return out.all;
  };
  const before = structuredClone(input);
  expect(run(true)).toStrictEqual(run(false));
  expect(input).toStrictEqual(before);
});
