import { expect, test } from 'vitest';
import { loopState } from '../../../packages/core/src/simulate/loop/loop.js';
import { BATTERY_STEP_WIDTH } from '../../../packages/core/src/simulate/loop/loop-rows.js';
import { warmUp } from '../../../packages/core/src/simulate/loop/warm-up.js';
import { assembleCase, LOOP_CASES } from '../../bench/cases.js';

/** The steps whose battery a rehearsal looks at. */
function rehearsedSteps(days: number): { steps: number; seen: Set<number> } {
  const { input } = assembleCase(LOOP_CASES[6]!, days);
  const { steps, battery } = loopState(input);
  const seen = new Set<number>();
  const watched = new Proxy(battery, {
    get(column, at) {
      seen.add(Math.floor(Number(at) / BATTERY_STEP_WIDTH));
      return Reflect.get(column, at);
    },
  });
  warmUp(input, { steps, battery: watched });
  return { steps: input.steps, seen };
}

test('a long run is rehearsed in pieces from all over it, some twentieth of it in all', () => {
  const { steps, seen } = rehearsedSteps(90);
  const pieces = [...seen].filter((step) => !seen.has(step - 1)).sort((a, b) => a - b);
  expect(pieces).toHaveLength(24);
  pieces.forEach((from, k) => {
    expect(from).toBe(Math.floor((k * steps) / 24));
  });
  expect(seen.size).toBe(24 * 24);
  expect(seen.size).toBeLessThan(steps / 20);
  expect(Math.max(...seen)).toBeLessThan(steps);
});

test('a run of a month is not: the loop is then not compiled at all', () => {
  expect(rehearsedSteps(30).seen.size).toBe(0);
});
