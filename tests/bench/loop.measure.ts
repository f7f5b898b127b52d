import { loopOutput, loopState, runLoop } from '../../packages/core/src/simulate/loop/loop.js';
import { layOutSteps } from '../../packages/core/src/simulate/loop/loop-state.js';
import { buildCLoop, hasGcc } from './c-loop.js';
import { assembleCase, LOOP_CASES } from './cases.js';
import type { Measure } from './report.js';

const DAYS = 365;
const STEPS_A_CALL = 144;
const REPEATS = 60;

/**
 * A year at 10 min in both languages. They take turns, so that what else the machine does meets both, and the fastest
 * of many repeats counts.
 */
export function benchLoop(): Measure[] {
  const measures: Measure[] = [];
  const twin = hasGcc ? buildCLoop() : undefined;
  const perStep = (work: () => void, steps: number) => {
    const start = performance.now();
    work();
    return ((performance.now() - start) * 1e6) / steps;
  };
  for (const [place, one] of LOOP_CASES.entries()) {
    const { input } = assembleCase(one, DAYS);
    const { steps } = input;
    const shared = layOutSteps(input);
    const whole = loopOutput(steps, input);
    const day = loopOutput(STEPS_A_CALL, input);
    const follow = (out: typeof whole, state = loopState(input, shared)) => {
      for (let from = 0; from < steps; from += STEPS_A_CALL)
        runLoop(input, out, state, from, Math.min(steps, from + STEPS_A_CALL));
    };
    const first = perStep(() => follow(whole), steps);
    let js = Infinity;
    let lean = Infinity;
    let c = Infinity;
    for (let turn = 0; turn < 3; turn++) {
      if (twin) c = Math.min(c, twin.run(input, REPEATS / 3).nsPerStep);
      for (let r = 0; r < REPEATS / 3; r++) {
        const state = loopState(input, shared); // laid out before the clock runs, as the twin's input is
        js = Math.min(
          js,
          perStep(() => follow(whole, state), steps),
        );
        lean = Math.min(
          lean,
          perStep(() => follow(day), steps),
        );
      }
    }
    if (!(whole.soc[steps - 1]! >= input.emptySoc)) throw new Error(`${one.name} went astray`);
    const name = `loop ${place + 1}`;
    if (place === 0) measures.push({ name: `${name}: first year in a fresh process`, value: first, unit: 'ns/step' });
    measures.push({ name: `${name}: ${one.name}`, value: js, unit: 'ns/step' });
    if (twin) {
      measures.push({ name: `${name}: the same in C`, value: c, unit: 'ns/step' });
      measures.push({ name: `${name}: ratio to C`, value: js / c, unit: '', goal: 1.2 });
    }
    measures.push({
      name: `${name}: a year, only the battery changed`,
      value: (lean * steps) / 1e6,
      unit: 'ms',
      goal: 2,
    });
    measures.push({ name: `${name}: throughput`, value: 1e3 / js, unit: 'M steps/s', more: true });
  }
  twin?.remove();
  return measures;
}
