import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { loopOutput, loopState, runLoop } from '../../../packages/core/src/simulate/loop.js';
import { buildCLoop, type CLoop, hasGcc } from '../../bench/c-loop.js';
import { assembleCase, LOOP_CASES } from '../../bench/cases.js';

/**
 * Both stop their search for the bus within 1e-5 A; rounding may end one a round earlier or later. Of the largest value
 * in the column, as small differences of large numbers carry no more digits.
 */
const AGREES_TO = 1e-9;

describe.skipIf(!hasGcc)('the loop and its C twin, written apart (skipped without gcc)', () => {
  let twin: CLoop;
  beforeAll(() => {
    twin = buildCLoop();
  });
  afterAll(() => twin?.remove());

  test.each(LOOP_CASES)('agree number by number: $name', (one) => {
    const { input } = assembleCase(one, 90);
    const out = loopOutput(input.steps, input.fridges, input.chargers);
    runLoop(input, out, loopState(input));
    const { all } = twin.run(input);
    expect(all).toHaveLength(out.all.length);
    for (let from = 0; from < all.length; from += input.steps) {
      let largest = 1e-3;
      let worst = 0;
      for (let i = from; i < from + input.steps; i++) {
        largest = Math.max(largest, all[i] === 1e9 ? 0 : Math.abs(all[i]!));
        const error = Math.abs(all[i]! - out.all[i]!);
        if (!(error <= worst)) worst = error;
      }
      expect(worst / largest, `column ${from / input.steps}`).toBeLessThanOrEqual(AGREES_TO);
    }
  });

  test('the cases lead through the branches that matter', () => {
    const seen = new Set<string>();
    for (const one of LOOP_CASES) {
      const { input } = assembleCase(one, 90);
      const out = loopOutput(input.steps, input.fridges, input.chargers);
      runLoop(input, out, loopState(input));
      for (const limit of out.limit) seen.add(`limit ${limit}`);
      if (out.onShare.some((share) => share > 0 && share < 1)) seen.add('split');
      if (out.onShare.some((share) => share === 0)) seen.add('off');
      if (out.alwaysShare.some((share) => share < 1)) seen.add('empty');
      if (out.fridgeCut.some((cut) => cut > 0)) seen.add('fridge cut out');
      if (out.arrayW.some((watts) => watts > 0)) seen.add('PWM');
      if (input.chargerShare.some((share) => share > 0 && share < 1)) seen.add('part of a step');
    }
    const limits = [0, 1, 2, 3, 4, 5].map((limit) => `limit ${limit}`);
    expect([...seen].sort()).toEqual(
      [...limits, 'PWM', 'empty', 'fridge cut out', 'off', 'part of a step', 'split'].sort(),
    );
  });
});
