import { FOOD_AT_0C, FOOD_PIECES_C, FOOD_SLOPES, foodPiece } from '../../load/index.js';
import type { LoopInput } from './loop-columns.js';
import { AIM_C, DUTY, END_C, FRIDGE_WIDTH, HOME, INSIDE_C, PARTNER_ROOM, SET_C } from './loop-rows.js';
import type { LoopState } from './loop-state.js';

// The rarer part of what fridges do in the step loop. A room's heat balance is linear while its contents stay frozen, freezing or
// fresh, and then solved exactly; over more than one of these piece by piece. Room `lane` is the one whose row is `f`.

/** Of a duty that is searched for: halvings until it is exact. */
const HALVINGS = 52;
/** Through three pieces of the enthalpy, with a turn at each joint. */
const MAX_PIECES = 6;

/** Share of a temperature difference that is left after a phase, while contents are as at the set point. */
export function fridgeKeep(input: LoopInput, { fridges }: LoopState, f: number, step: number, dtH: number): number {
  const lane = f / FRIDGE_WIDTH;
  const at = lane * input.steps + step;
  const slope = FOOD_SLOPES[fridges[f + HOME]!]!;
  const lossWPerK = input.fridgeLossWPerK[at]! + input.fridgeFoodKgPerH[at]! * slope;
  return Math.exp((-dtH * lossWPerK) / (input.fridgeContentKg[lane]! * slope + input.fridgeLinerWhPerK[lane]!));
}

/** Duty and end of a phase of a room whose contents are, or come to be, in another state than at its set point. */
export function fridgeElsewhere(
  input: LoopInput,
  state: LoopState,
  f: number,
  step: number,
  dtH: number,
  mayRun: boolean,
): void {
  const { fridges } = state;
  const swingK = input.fridgeSwingK;
  const setC = fridges[f + SET_C]!;
  const coastC = after(input, state, f, step, 0, dtH);
  const aimC = coastC > setC + swingK ? setC - swingK : fridges[f + AIM_C]!;
  const duty = mayRun && coastC > aimC ? dutyFor(input, state, f, step, aimC, dtH) : 0;
  fridges[f + DUTY] = duty;
  fridges[f + END_C] = duty > 0 ? after(input, state, f, step, duty, dtH) : coastC;
}

/** Two rooms on one compressor: what is too much for it is shared, once both are known. */
export function shareCompressor(input: LoopInput, state: LoopState, f: number, step: number, dtH: number): void {
  const { fridges } = state;
  const partner = fridges[f + PARTNER_ROOM]!;
  const together = fridges[f + DUTY]! + fridges[partner + DUTY]!;
  if (partner > f || !(together > 1)) return;
  for (const room of [partner, f]) {
    fridges[room + DUTY] = fridges[room + DUTY]! / together;
    fridges[room + END_C] = after(input, state, room, step, fridges[room + DUTY]!, dtH);
  }
}

/** Share of a phase that ends it at a temperature, at most all of it; 0 where there is no cooling. */
function dutyFor(input: LoopInput, state: LoopState, f: number, step: number, aimC: number, dtH: number): number {
  if (!(input.fridgeCoolingW[(f / FRIDGE_WIDTH) * input.steps + step]! > 0)) return 0;
  if (after(input, state, f, step, 1, dtH) >= aimC) return 1;
  let low = 0;
  let high = 1;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = 0.5 * (low + high);
    if (after(input, state, f, step, middle, dtH) > aimC) low = middle;
    else high = middle;
  }
  return high;
}

/** Inside of a room after a phase in which its compressor runs for that share of it [°C]. */
function after(input: LoopInput, { fridges }: LoopState, f: number, step: number, duty: number, dtH: number): number {
  const lane = f / FRIDGE_WIDTH;
  const at = lane * input.steps + step;
  const foodKgPerH = input.fridgeFoodKgPerH[at]!;
  const inflowW = input.fridgeInflowW[at]! - duty * input.fridgeCoolingW[at]!;
  let insideC = fridges[f + INSIDE_C]!;
  let leftH = dtH;
  let piece = foodPiece(insideC);
  for (let k = 0; k < MAX_PIECES; k++) {
    const slope = FOOD_SLOPES[piece]!;
    const lossWPerK = input.fridgeLossWPerK[at]! + foodKgPerH * slope;
    const idleC = (inflowW - foodKgPerH * FOOD_AT_0C[piece]!) / lossWPerK;
    const [lowC, highC] = FOOD_PIECES_C[piece]!;
    // Down from a joint it is the piece below that it goes through.
    if (insideC === lowC && idleC < insideC) {
      piece = (piece - 1) as 0 | 1;
      continue;
    }
    const capacityWhPerK = input.fridgeContentKg[lane]! * slope + input.fridgeLinerWhPerK[lane]!;
    const endC = idleC + (insideC - idleC) * Math.exp((-leftH * lossWPerK) / capacityWhPerK);
    const jointC = idleC > insideC ? highC : lowC;
    if (idleC > insideC ? endC < jointC : endC >= jointC) return endC;
    leftH -= (capacityWhPerK / lossWPerK) * Math.log((insideC - idleC) / (jointC - idleC));
    insideC = jointC;
    if (!(leftH > 0)) return insideC;
    if (idleC > jointC) piece = (piece + 1) as 1 | 2;
  }
  return insideC;
}
