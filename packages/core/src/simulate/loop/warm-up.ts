import { type LoopInput, type LoopState, loopOutput, loopState, runLoop } from './loop.js';

/** So many pieces of so many steps. */
const PIECES = 24;
const STEPS_A_PIECE = 24;
/** For fewer steps the loop is not compiled at all. */
const FEWEST_STEPS = 10_000;

/**
 * Leads the loop through short pieces of a long run, with the battery empty, half full and full in turn, and throws away what
 * comes of it. The loop is compiled for the branches that it has been through, and anew whenever it meets another: after this
 * once or twice instead of four to seven times, which takes a third off what the loop costs in the first year of a process.
 */
export function warmUp(input: LoopInput, { steps, battery }: Pick<LoopState, 'steps' | 'battery'>): void {
  if (input.steps < FEWEST_STEPS) return;
  const out = loopOutput(STEPS_A_PIECE, input);
  for (let piece = 0; piece < PIECES; piece++) {
    const from = Math.floor((piece * input.steps) / PIECES);
    const state = loopState({ ...input, startSoc: (piece % 3) / 2 }, steps, battery);
    runLoop(input, out, state, from, from + STEPS_A_PIECE);
  }
}
