import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type LoopInput, loopOutput, loopState, runLoop } from '../../../packages/core/src/simulate/loop/loop.js';
import { buildCLoop, type CLoop, hasGcc } from '../../bench/c-loop.js';
import { assembleCase, LOOP_CASES } from '../../bench/cases.js';
import { randomLoop } from './random-loop.js';

/**
 * Both stop their search for the bus within 1e-5 A; rounding may end one a round earlier or later. Of the largest value
 * in the column, as small differences of large numbers carry no more digits.
 */
const AGREES_TO = 1e-9;
/** Where limits bend the way to the bus it is found less well: within those 1e-5 A of some 10 A. */
const AGREES_TO_ANYWAY = 1e-6;

describe.skipIf(!hasGcc)('the loop and its C twin, written apart (skipped without gcc)', () => {
  let twin: CLoop;
  beforeAll(() => {
    twin = buildCLoop();
  });
  afterAll(() => twin?.remove());

  function expectAgreement(input: LoopInput, all: Float64Array, to: number, name: string): void {
    const out = loopOutput(input.steps, input);
    runLoop(input, out, loopState(input));
    expect(all).toHaveLength(out.all.length);
    for (let from = 0; from < all.length; from += input.steps) {
      let largest = 1e-3;
      let worst = 0;
      for (let i = from; i < from + input.steps; i++) {
        largest = Math.max(largest, all[i] === 1e9 ? 0 : Math.abs(all[i]!));
        const error = Math.abs(all[i]! - out.all[i]!);
        if (!(error <= worst)) worst = error;
      }
      expect(worst / largest, `${name}, column ${from / input.steps}`).toBeLessThanOrEqual(to);
    }
  }

  test('agree number by number on what no rig would join', () => {
    const inputs = Array.from({ length: 250 }, (_, lot) => randomLoop(lot));
    twin.runEach(inputs).forEach((all, lot) => {
      expectAgreement(inputs[lot]!, all, AGREES_TO_ANYWAY, `lot ${lot}`);
    });
  });

  test.each(LOOP_CASES)('agree number by number: $name', (one) => {
    const { input } = assembleCase(one, 90);
    expectAgreement(input, twin.run(input).all, AGREES_TO, one.name);
  });

  test('the cases lead through the branches that matter', () => {
    const seen = new Set<string>();
    for (const one of LOOP_CASES) {
      const { input } = assembleCase(one, 90);
      const out = loopOutput(input.steps, input);
      runLoop(input, out, loopState(input));
      for (const limit of out.limit) seen.add(`limit ${limit}`);
      if (out.onShare.some((share) => share > 0 && share < 1)) seen.add('split');
      if (out.onShare.some((share) => share === 0)) seen.add('off');
      if (out.alwaysShare.some((share) => share < 1)) seen.add('empty');
      if (out.fridgeCut.some((cut) => cut > 0)) seen.add('fridge cut out');
      if (out.heavyCut.some((cut) => cut > 0)) seen.add('inverter cut out');
      if (out.arrayW.some((watts) => watts > 0)) seen.add('PWM');
      if (input.chargerShare.some((share) => share > 0 && share < 1)) seen.add('part of a step');
    }
    const limits = [0, 1, 2, 3, 4, 5].map((limit) => `limit ${limit}`);
    expect([...seen].sort()).toEqual(
      [...limits, 'PWM', 'empty', 'fridge cut out', 'inverter cut out', 'off', 'part of a step', 'split'].sort(),
    );
  });
});
