import { expect, test } from 'vitest';
import { setChargerShare } from '../../../packages/core/src/simulate/inputs/step-rows.js';
import { layOutSteps, loopOutput, loopState, runLoop } from '../../../packages/core/src/simulate/loop/loop.js';
import {
  CHARGER_STEP_WIDTH,
  FRIDGE_STEP_WIDTH,
  LOAD_WIDTH,
  SHARE,
} from '../../../packages/core/src/simulate/loop/loop-rows.js';
import { runSteps } from '../../../packages/core/src/simulate/run/run-steps.js';
import { assembledFor } from './made-hours.js';
import { randomLoop } from './random-loop.js';

const RIG = `
battery: { chemistry: LFP, capacity: 2000 Ah, selfDischarge: 0 %, disconnect: 1 %, reconnect: 6 %, floor: 1 % }
loads: [{ name: lamp, power: 10 W }, { name: wise, power: "100 * soc" }]`;

test('a load that looks at the charge draws by what is there when each step begins; its columns serve again', () => {
  const assembled = assembledFor(RIG, {}, 0.8);
  const state = loopState(assembled.input);
  const before = state.steps.slice();
  const rows = 7;
  const out = loopOutput(rows, assembled.input);
  const askedW = new Float64Array(rows).fill(-1);
  let soc = 0.8;
  for (const [from, to] of [
    [0, 5],
    [5, 6],
    [6, 12],
  ] as const) {
    runSteps(assembled, out, state, from, to, askedW);
    for (let i = from; i < to; i++) {
      expect(askedW[i % rows]!).toBeCloseTo(100 * soc, 9);
      // lamp and wise one together, from the bus
      expect(-out.batteryA[i % rows]! * out.busV[i % rows]!).toBeCloseTo(10 + 100 * soc, 1);
      soc = out.soc[i % rows]!;
    }
  }
  expect(soc).toBeLessThan(0.8);
  expect([...state.steps]).toEqual([...before]);
});

test('without such a load a part is the loop’s, and nothing is asked', () => {
  const { input } = assembledFor(RIG.replace(', { name: wise, power: "100 * soc" }', ''), {}, 0.8);
  const [out, plain] = [loopOutput(24, input), loopOutput(24, input)];
  const askedW = new Float64Array(24).fill(-1);
  runSteps({ input }, out, loopState(input), 0, 24, askedW);
  runLoop(input, plain, loopState(input));
  expect(out.all).toEqual(plain.all);
  expect([...askedW]).toEqual(Array(24).fill(-1));
});

test('a charger is let run for another share of each step, or never, and nothing else is touched', () => {
  const lot = Array.from({ length: 200 }, (_, k) => k).find((k) => {
    const { chargers, fridges } = randomLoop(k);
    return chargers === 3 && fridges === 2;
  })!;
  const input = randomLoop(lot);
  const shares = Float64Array.from({ length: input.steps }, (_, i) => i / input.steps);
  const before = layOutSteps(input);
  const width = before.length / input.steps;
  const first = LOAD_WIDTH + 2 * FRIDGE_STEP_WIDTH;
  for (const lane of [0, 1, 2])
    for (const share of [shares, 0] as const) {
      const rows = before.slice();
      setChargerShare(rows, input, lane, share);
      rows.forEach((value, at) => {
        const [step, place] = [Math.floor(at / width), at % width];
        const isShare = place === first + lane * CHARGER_STEP_WIDTH + SHARE;
        expect(value).toBe(isShare ? (share === 0 ? 0 : shares[step]!) : before[at]!);
      });
    }
});
