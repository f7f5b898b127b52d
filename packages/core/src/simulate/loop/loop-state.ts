import { FOOD_AT_0C, FOOD_PIECES_C, FOOD_SLOPES, foodPiece } from '../../load/index.js';
import type { LoopInput } from './loop-columns.js';
import {
  ABSORPTION_H,
  ABSORPTION_V,
  AIM_C,
  ALL_ON,
  BACK_A,
  BATTERY_STEP_WIDTH,
  CHARGE_FACTOR,
  CHARGE_LIMIT_A,
  CHARGER_OHM,
  CHARGER_STEP_WIDTH,
  CHARGER_WIDTH,
  COLD,
  COMPENSATION_V,
  COOL_K,
  CUT_IN_V,
  CUT_OUT_V,
  DRAW_A,
  DRIVE,
  EFFICIENCY,
  ENERGY_WH,
  FLOAT_V,
  FRIDGE_OHM,
  FRIDGE_ON,
  FRIDGE_STEP_WIDTH,
  FRIDGE_WIDTH,
  HEAVY_IN_V,
  HEAVY_OHM,
  HEAVY_ON,
  HEAVY_OUT_V,
  HEAVY_SHARE,
  HEAVY_STEP_WIDTH,
  HEAVY_W,
  HEAVY_WIDTH,
  HOME,
  HOME_HIGH_C,
  HOME_LOW_C,
  IDLE_C,
  IN_BEND_V,
  IN_OHM,
  IN_STEEP_OHM,
  IN_STEP_OHM,
  INSIDE_C,
  JOIN_V,
  KEEP,
  KIND,
  LEAK_A,
  LIMIT_A,
  LOAD_A,
  LOAD_CUBE,
  LOAD_FOURTH,
  LOAD_QUAD,
  LOAD_W,
  LOAD_WIDTH,
  NOW_BUS_V,
  NOW_HEAD,
  NOW_LEVEL,
  NOW_SOC,
  NOW_WIDTH,
  OCV_V,
  OHM_FACTOR,
  OUT_OHM,
  PART_V,
  PARTNER,
  PARTNER_ROOM,
  PWM_OHM,
  RESTART_BELOW_V,
  RUN_W,
  SET_C,
  SHARE,
  TABLE_WIDTH,
  TAIL_A,
  UNSWITCHED_W,
  WELL_EVENS,
  WELL_GAIN_H,
  WELL_PER_H,
  WELL_SHARE,
} from './loop-rows.js';

/** Where a run stands between two steps, with all that the loop works in, so that nothing is allocated while stepping. */
export interface LoopState {
  readonly steps: Float64Array;
  readonly battery: Float64Array;
  readonly table: Float64Array;
  readonly now: Float64Array;
  readonly fridges: Float64Array;
  readonly heavies: Float64Array;
  readonly chargers: Float64Array;
}

/**
 * The state at the start of a run.
 * @param steps   the loads, fridges and chargers laid out by `layOutSteps`: runs that differ in the battery can share it
 * @param battery what the battery's temperature makes of it, from another run's state: runs that begin otherwise can share it
 */
export function loopState(
  input: LoopInput,
  steps: Float64Array = layOutSteps(input),
  battery: Float64Array = batteryRows(input).rows,
): LoopState {
  const { points, capacityAh, wellReserveAh, startSoc } = input;
  const now = new Float64Array(NOW_WIDTH);
  now[NOW_SOC] = startSoc;
  now[NOW_HEAD] = (startSoc * capacityAh + wellReserveAh) / (capacityAh + wellReserveAh);
  now[NOW_LEVEL] = ALL_ON;
  now[NOW_BUS_V] = input.ocvV[Math.round(startSoc * (points - 1))]!;
  const table = new Float64Array(points * TABLE_WIDTH);
  layOut(table, TABLE_WIDTH, OCV_V, input.ocvV);
  layOut(table, TABLE_WIDTH, ENERGY_WH, input.energyWh);
  layOut(table, TABLE_WIDTH, OUT_OHM, input.dischargeOhm);
  layOut(table, TABLE_WIDTH, IN_OHM, input.chargeOhm);
  layOut(table, TABLE_WIDTH, IN_STEEP_OHM, input.chargeSteepOhm);
  layOut(table, TABLE_WIDTH, IN_STEP_OHM, input.chargeStepOhm);
  layOut(table, TABLE_WIDTH, IN_BEND_V, input.chargeBendV);
  layOut(table, TABLE_WIDTH, EFFICIENCY, input.chargeEfficiency);
  const fridges = new Float64Array(input.fridges * FRIDGE_WIDTH);
  layOut(fridges, FRIDGE_WIDTH, FRIDGE_OHM, input.fridgeOhm);
  layOut(fridges, FRIDGE_WIDTH, CUT_OUT_V, input.fridgeCutOutV);
  layOut(fridges, FRIDGE_WIDTH, CUT_IN_V, input.fridgeCutInV);
  layOut(fridges, FRIDGE_WIDTH, SET_C, input.fridgeSetC);
  for (let k = 0, f = 0; k < input.fridges; k++, f += FRIDGE_WIDTH) {
    const setC = input.fridgeSetC[k]!;
    const home = foodPiece(setC);
    const [lowC, highC] = FOOD_PIECES_C[home];
    const stays = setC - input.fridgeSwingK >= lowC && setC + input.fridgeSwingK <= highC;
    fridges[f + HOME] = home;
    fridges[f + HOME_LOW_C] = stays ? lowC : Infinity;
    fridges[f + HOME_HIGH_C] = highC;
  }
  layOut(
    fridges,
    FRIDGE_WIDTH,
    PARTNER_ROOM,
    input.fridgePartner.map((lane) => (lane < 0 ? -1 : lane * FRIDGE_WIDTH)),
  );
  layOut(fridges, FRIDGE_WIDTH, FRIDGE_ON, new Float64Array(input.fridges).fill(1));
  layOut(fridges, FRIDGE_WIDTH, INSIDE_C, input.fridgeStartC);
  layOut(
    fridges,
    FRIDGE_WIDTH,
    AIM_C,
    input.fridgeSetC.map((setC) => setC + input.fridgeSwingK),
  );
  const heavies = new Float64Array(input.heavies * HEAVY_WIDTH);
  layOut(heavies, HEAVY_WIDTH, HEAVY_OHM, input.heavyOhm);
  layOut(heavies, HEAVY_WIDTH, HEAVY_OUT_V, input.heavyCutOutV);
  layOut(heavies, HEAVY_WIDTH, HEAVY_IN_V, input.heavyCutInV);
  layOut(heavies, HEAVY_WIDTH, HEAVY_ON, new Float64Array(input.heavies).fill(1));
  const chargers = new Float64Array(input.chargers * CHARGER_WIDTH);
  layOut(chargers, CHARGER_WIDTH, KIND, input.chargerKind);
  layOut(chargers, CHARGER_WIDTH, CHARGER_OHM, input.chargerOhm);
  layOut(chargers, CHARGER_WIDTH, ABSORPTION_V, input.absorptionV);
  layOut(chargers, CHARGER_WIDTH, FLOAT_V, input.floatV);
  layOut(chargers, CHARGER_WIDTH, ABSORPTION_H, input.holdH);
  layOut(chargers, CHARGER_WIDTH, TAIL_A, input.tailA);
  layOut(chargers, CHARGER_WIDTH, RESTART_BELOW_V, input.restartBelowV);
  layOut(
    chargers,
    CHARGER_WIDTH,
    PARTNER,
    input.sharesWith.map((lane) => (lane < 0 ? -1 : lane * CHARGER_WIDTH)),
  );
  layOut(chargers, CHARGER_WIDTH, PWM_OHM, input.pwmOhm);
  layOut(chargers, CHARGER_WIDTH, BACK_A, input.relayBackA);
  layOut(chargers, CHARGER_WIDTH, JOIN_V, input.relayJoinV);
  layOut(chargers, CHARGER_WIDTH, PART_V, input.relayPartV);
  layOut(chargers, CHARGER_WIDTH, DRAW_A, input.relayDrawA);
  return { steps, battery, table, now, fridges, heavies, chargers };
}

/** A state that moves on by itself, over the same rows. */
export function copyState({ steps, battery, table, now, fridges, heavies, chargers }: LoopState): LoopState {
  return {
    steps,
    battery,
    table,
    now: now.slice(),
    fridges: fridges.slice(),
    heavies: heavies.slice(),
    chargers: chargers.slice(),
  };
}

/** What the battery's temperature makes of it, each step as one row. */
export interface BatteryRows {
  readonly of: LoopInput;
  readonly rows: Float64Array;
}

/** @param kept of a run that is over, whose rows are written over: where the cells are as warm and of one kind, only with what a bank's size changes */
export function batteryRows(input: LoopInput, kept?: BatteryRows): BatteryRows {
  const { steps, stepH, resistanceFactor, wellPerH, wellShare } = input;
  const fits = kept?.rows.length === steps * BATTERY_STEP_WIDTH;
  const rows = kept && fits ? kept.rows : new Float64Array(steps * BATTERY_STEP_WIDTH);
  layOut(rows, BATTERY_STEP_WIDTH, CHARGE_LIMIT_A, input.chargeLimitA);
  layOut(rows, BATTERY_STEP_WIDTH, COLD, input.coldLimited);
  layOut(rows, BATTERY_STEP_WIDTH, LEAK_A, input.selfDischargeA);
  // These columns are made together, of the same cells.
  if (fits && kept.of.stepH === stepH && kept.of.resistanceFactor === resistanceFactor) return { of: input, rows };
  layOut(rows, BATTERY_STEP_WIDTH, OHM_FACTOR, resistanceFactor);
  layOut(rows, BATTERY_STEP_WIDTH, CHARGE_FACTOR, input.chargeFactor);
  layOut(rows, BATTERY_STEP_WIDTH, WELL_SHARE, wellShare);
  layOut(rows, BATTERY_STEP_WIDTH, WELL_PER_H, wellPerH);
  let perH = Number.NaN;
  let evens = 0;
  for (let i = 0, at = 0; i < steps; i++, at += BATTERY_STEP_WIDTH) {
    if (wellPerH[i] !== perH) {
      perH = wellPerH[i]!;
      evens = -Math.expm1(-perH * stepH);
    }
    rows[at + WELL_EVENS] = evens;
    rows[at + WELL_GAIN_H] = (evens + wellShare[i]! * (perH * stepH - evens)) / perH;
  }
  return { of: input, rows };
}

/** Where the first heavy load and the first charger lie in a row of `LoopState.steps`. */
export const firstHeavyAt = ({ fridges }: Pick<LoopInput, 'fridges'>) => LOAD_WIDTH + fridges * FRIDGE_STEP_WIDTH;
export const firstChargerAt = (input: Pick<LoopInput, 'fridges' | 'heavies'>) =>
  firstHeavyAt(input) + input.heavies * HEAVY_STEP_WIDTH;

/** Loads, fridges and chargers of each step as one row. */
export function layOutSteps(input: LoopInput): Float64Array {
  const { steps, fridges, heavies, chargers } = input;
  const firstCharger = firstChargerAt(input);
  const width = firstCharger + chargers * CHARGER_STEP_WIDTH;
  const rows = new Float64Array(steps * width);
  layOut(rows, width, LOAD_W, input.plainW);
  layOut(rows, width, LOAD_QUAD, input.plainQuad);
  layOut(rows, width, LOAD_CUBE, input.plainCube);
  layOut(rows, width, LOAD_FOURTH, input.plainFourth);
  layOut(rows, width, LOAD_A, input.plainA);
  layOut(rows, width, UNSWITCHED_W, input.unswitchedW);
  for (let k = 0; k < fridges; k++) layOutRoom(rows, width, LOAD_WIDTH + k * FRIDGE_STEP_WIDTH, input, k);
  for (let k = 0; k < heavies; k++) {
    const at = firstHeavyAt(input) + k * HEAVY_STEP_WIDTH;
    layOut(rows, width, at + HEAVY_W, lane(input.heavyW, k, steps));
    layOut(rows, width, at + HEAVY_SHARE, lane(input.heavyRuns, k, steps));
  }
  for (let j = 0; j < chargers; j++) {
    const at = firstCharger + j * CHARGER_STEP_WIDTH;
    layOut(rows, width, at + DRIVE, lane(input.drive, j, steps));
    layOut(rows, width, at + LIMIT_A, lane(input.limitA, j, steps));
    layOut(rows, width, at + SHARE, lane(input.chargerShare, j, steps));
    layOut(rows, width, at + COMPENSATION_V, lane(input.compensationV, j, steps));
  }
  return rows;
}

function layOutRoom(rows: Float64Array, width: number, at: number, input: LoopInput, k: number): void {
  const { steps, stepH } = input;
  const slope = FOOD_SLOPES[foodPiece(input.fridgeSetC[k]!)];
  const at0C = FOOD_AT_0C[foodPiece(input.fridgeSetC[k]!)];
  const capacityWhPerK = input.fridgeContentKg[k]! * slope + input.fridgeLinerWhPerK[k]!;
  for (let i = 0, from = k * steps, to = at; i < steps; i++, from++, to += width) {
    const foodKgPerH = input.fridgeFoodKgPerH[from]!;
    const inflowW = input.fridgeInflowW[from]!;
    const lossWPerK = input.fridgeLossWPerK[from]! + foodKgPerH * slope;
    rows[to + IDLE_C] = (inflowW - foodKgPerH * at0C) / lossWPerK;
    rows[to + COOL_K] = input.fridgeCoolingW[from]! / lossWPerK;
    rows[to + KEEP] = Math.exp((-stepH * lossWPerK) / capacityWhPerK);
    rows[to + RUN_W] = input.fridgeRunW[from]!;
  }
}

function lane(column: Float64Array, index: number, steps: number): Float64Array {
  return column.subarray(index * steps, (index + 1) * steps);
}

function layOut(rows: Float64Array, width: number, at: number, column: Float64Array): void {
  for (let i = 0, to = at; i < column.length; i++, to += width) rows[to] = column[i]!;
}
