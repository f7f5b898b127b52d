import { FOOD_AT_0C, FOOD_SLOPES, FREEZES_C, FROZEN_C, foodPiece } from '../../load/index.js';
import type { LoopInput } from './loop-columns.js';
import {
  AIM_C,
  CONTENT_KG,
  COOL_K,
  DUTY,
  END_C,
  FOOD_KG_PER_H,
  FRIDGE_ON,
  FRIDGE_STEP_WIDTH,
  FRIDGE_WIDTH,
  HOME,
  IDLE_C,
  INFLOW_W,
  INSIDE_C,
  KEEP,
  LINER_WH_PER_K,
  LOAD_WIDTH,
  LOSS_W_PER_K,
  type LoopState,
  NOW_DT_H,
  PARTNER_ROOM,
  SET_C,
} from './loop-state.js';

// The fridges' part of the step loop: how long a compressor runs for each room of its box in a phase, and where that ends.
// A room's heat balance is linear while its contents stay frozen, freezing or fresh, and then solved exactly; over more than one
// of these piece by piece. Numbers go in and out by the state: as arguments each would be an allocation.

/** Upper ends of the pieces of the enthalpy of food: frozen, freezing, fresh [°C]. */
const PIECE_TOP_C = [FROZEN_C, FREEZES_C, Infinity] as const;
const PIECE_BOTTOM_C = [-Infinity, FROZEN_C, FREEZES_C] as const;
/** Of a duty that is searched for: halvings until it is exact. */
const HALVINGS = 52;
/** Through three pieces of the enthalpy, with a turn at each joint. */
const MAX_PIECES = 6;

/**
 * Share of a phase that each room's compressor runs for it, and its inside at the phase's end.
 * @param isFed whether loads are connected
 */
export function fridgeDuties(input: LoopInput, state: LoopState, stepAt: number, isFed: boolean): void {
  const { fridges, steps, now } = state;
  const { stepH, fridgeSwingK: swingK } = input;
  const dtH = now[NOW_DT_H]!;
  for (let f = 0, sf = stepAt + LOAD_WIDTH; f < fridges.length; f += FRIDGE_WIDTH, sf += FRIDGE_STEP_WIDTH) {
    const home = fridges[f + HOME]!;
    const fromC = fridges[f + INSIDE_C]!;
    const idleC = steps[sf + IDLE_C]!;
    let keep = steps[sf + KEEP]!;
    if (dtH !== stepH) {
      const slope = FOOD_SLOPES[home]!;
      const lossWPerK = steps[sf + LOSS_W_PER_K]! + steps[sf + FOOD_KG_PER_H]! * slope;
      keep = Math.exp((-dtH * lossWPerK) / (fridges[f + CONTENT_KG]! * slope + fridges[f + LINER_WH_PER_K]!));
    }
    let coastC = idleC + (fromC - idleC) * keep;
    const setC = fridges[f + SET_C]!;
    const bottomC = PIECE_BOTTOM_C[home]!;
    const topC = PIECE_TOP_C[home]!;
    const isAtHome =
      fromC >= bottomC && fromC <= topC && coastC >= bottomC && coastC <= topC && setC - swingK >= bottomC;
    if (!isAtHome) coastC = after(state, f, sf, 0, dtH);
    const aimC = coastC > setC + swingK ? setC - swingK : fridges[f + AIM_C]!;
    const coolK = steps[sf + COOL_K]!;
    let duty = 0;
    let endC = coastC;
    if (isFed && fridges[f + FRIDGE_ON]! > 0 && coastC > aimC && coolK > 0) {
      if (isAtHome && aimC <= topC) {
        const coolingK = coolK * (1 - keep);
        const tooWarmK = coastC - aimC;
        duty = tooWarmK < coolingK ? tooWarmK / coolingK : 1;
        endC = coastC - duty * coolingK;
      } else {
        duty = dutyFor(state, f, sf, aimC, dtH);
        endC = after(state, f, sf, duty, dtH);
      }
    }
    fridges[f + DUTY] = duty;
    fridges[f + END_C] = endC;
    const partner = fridges[f + PARTNER_ROOM]!;
    if (partner < 0 || partner > f) continue;
    // Two rooms on one compressor: what is too much for it is shared.
    const together = duty + fridges[partner + DUTY]!;
    if (!(together > 1)) continue;
    fridges[f + DUTY] = duty / together;
    fridges[partner + DUTY] = fridges[partner + DUTY]! / together;
    fridges[f + END_C] = after(state, f, sf, fridges[f + DUTY]!, dtH);
    fridges[partner + END_C] = after(state, partner, sf - FRIDGE_STEP_WIDTH, fridges[partner + DUTY]!, dtH);
  }
}

/** Share of a phase that ends it at a temperature, at most all of it. */
function dutyFor(state: LoopState, f: number, sf: number, aimC: number, dtH: number): number {
  if (after(state, f, sf, 1, dtH) >= aimC) return 1;
  let low = 0;
  let high = 1;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = 0.5 * (low + high);
    if (after(state, f, sf, middle, dtH) > aimC) low = middle;
    else high = middle;
  }
  return high;
}

/** Inside of a room after a phase in which its compressor runs for that share of it [°C]. */
function after({ fridges, steps }: LoopState, f: number, sf: number, duty: number, dtH: number): number {
  const home = FOOD_SLOPES[fridges[f + HOME]!]!;
  const foodKgPerH = steps[sf + FOOD_KG_PER_H]!;
  const wallsWPerK = steps[sf + LOSS_W_PER_K]!;
  const coolingW = steps[sf + COOL_K]! * (wallsWPerK + foodKgPerH * home);
  const inflowW = steps[sf + INFLOW_W]! - duty * coolingW;
  let insideC = fridges[f + INSIDE_C]!;
  let leftH = dtH;
  let piece = foodPiece(insideC);
  for (let k = 0; k < MAX_PIECES; k++) {
    const slope = FOOD_SLOPES[piece]!;
    const lossWPerK = wallsWPerK + foodKgPerH * slope;
    const idleC = (inflowW - foodKgPerH * FOOD_AT_0C[piece]!) / lossWPerK;
    // Down from a joint it is the piece below that it goes through.
    if (insideC === PIECE_BOTTOM_C[piece] && idleC < insideC) {
      piece = (piece - 1) as 0 | 1;
      continue;
    }
    const capacityWhPerK = fridges[f + CONTENT_KG]! * slope + fridges[f + LINER_WH_PER_K]!;
    const endC = idleC + (insideC - idleC) * Math.exp((-leftH * lossWPerK) / capacityWhPerK);
    const jointC = idleC > insideC ? PIECE_TOP_C[piece]! : PIECE_BOTTOM_C[piece]!;
    if (idleC > insideC ? endC < jointC : endC >= jointC) return endC;
    leftH -= (capacityWhPerK / lossWPerK) * Math.log((insideC - idleC) / (jointC - idleC));
    insideC = jointC;
    if (!(leftH > 0)) return insideC;
    if (idleC > jointC) piece = (piece + 1) as 1 | 2;
  }
  return insideC;
}
