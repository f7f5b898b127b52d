import { FOOD_AT_0C, FOOD_SLOPES, foodPiece } from '../../load/index.js';
import type { LoopInput } from './loop-columns.js';

// The loop reads and writes few, long arrays: an array costs it more than an index into one. Below is what lies where.

/** Which draws are connected: all, only those ahead of the disconnect, none (the battery is empty). */
export const ALL_ON = 2;
export const LOADS_OFF = 1;
export const ALL_OFF = 0;

/** A row of `LoopState.steps`: the loads on the bus, then each fridge, then each charger. */
export const LOAD_W = 0;
export const LOAD_QUAD = 1;
export const LOAD_CUBE = 2;
export const LOAD_FOURTH = 3;
export const LOAD_A = 4;
export const UNSWITCHED_W = 5;
export const LOAD_WIDTH = 6;
/** of a fridge's room: where its inside tends to, how far below that with the compressor never off, and what is left of a
 * difference after a whole step, all three while its contents are as at its set point; */
export const IDLE_C = 0;
export const COOL_K = 1;
export const KEEP = 2;
export const RUN_W = 3;
/** and from what these are */
export const LOSS_W_PER_K = 4;
export const FOOD_KG_PER_H = 5;
export const INFLOW_W = 6;
export const FRIDGE_STEP_WIDTH = 7;
export const DRIVE = 0;
export const LIMIT_A = 1;
export const SHARE = 2;
export const COMPENSATION_V = 3;
/** Numbers in a step's row for each charger. */
export const CHARGER_STEP_WIDTH = 4;

/** A row of `LoopState.battery`. */
export const OHM_FACTOR = 0;
export const CHARGE_FACTOR = 1;
export const WELL_SHARE = 2;
export const WELL_PER_H = 3;
/** of a whole step: share of a difference between the wells that evens out, and what an ampere leaves in the available one [h] */
export const WELL_EVENS = 4;
export const WELL_GAIN_H = 5;
export const CHARGE_LIMIT_A = 6;
export const COLD = 7;
export const LEAK_A = 8;
/** Numbers in a step's row for the battery. */
export const BATTERY_STEP_WIDTH = 9;

/** A row of `LoopState.table`: the battery's tables over the state of charge, side by side. */
export const OCV_V = 0;
export const ENERGY_WH = 1;
export const OUT_OHM = 2;
export const IN_OHM = 3;
export const IN_STEEP_OHM = 4;
export const IN_STEP_OHM = 5;
export const IN_BEND_V = 6;
export const EFFICIENCY = 7;
export const TABLE_WIDTH = 8;

/** `LoopState.now`: how full the available well is, 0..1; level; of the last phase, into the battery [A] and on the bus [V]. */
export const NOW_SOC = 0;
export const NOW_HEAD = 1;
export const NOW_LEVEL = 2;
export const NOW_AMPS = 3;
export const NOW_BUS_V = 4;
/** within a phase: what the chargers give together [A] and how that falls with the voltage [A/V], */
export const NOW_SUPPLY_A = 5;
export const NOW_FALL = 6;
/** how much of that the battery lets them, and the phase's share of the step */
export const NOW_SCALE = 7;
export const NOW_PART = 8;
/** how full the emptier well was when it could give no more: from there it must recover before the loads return */
export const NOW_DEPLETED_SOC = 9;
/** how long the phase is that is being solved [h] */
export const NOW_DT_H = 10;
/** for how long the bus has stood at the reconnect while the loads were off [h] */
export const NOW_READY_H = 11;
export const NOW_WIDTH = 12;

/** A row of `LoopState.fridges`: what a room is, */
export const FRIDGE_OHM = 0;
export const CUT_OUT_V = 1;
export const CUT_IN_V = 2;
export const SET_C = 3;
export const CONTENT_KG = 4;
export const LINER_WH_PER_K = 5;
/** whether contents at its set point are frozen, freezing or fresh: 0, 1, 2 */
export const HOME = 6;
/** where the row of the room starts that is on the same compressor, or −1 */
export const PARTNER_ROOM = 7;
/** how it stands: whether its own cut-out lets it run, and its inside; */
export const FRIDGE_ON = 8;
export const INSIDE_C = 9;
/** in this phase: inside at its end, and its duty; */
export const END_C = 10;
export const DUTY = 11;
/** the current in its cable while it runs, and the voltage it then sees */
export const RUN_A = 12;
export const TERMINAL_V = 13;
/** inside temperature at which its thermostat switches next: on above it, or off at it */
export const AIM_C = 14;
export const FRIDGE_WIDTH = 15;

/** A row of `LoopState.chargers`: what it is, */
export const KIND = 0;
export const CHARGER_OHM = 1;
export const ABSORPTION_V = 2;
export const FLOAT_V = 3;
export const ABSORPTION_H = 4;
export const TAIL_A = 5;
export const REBULK_V = 6;
/** where the row of the charger starts that shares its limit, or −1 */
export const PARTNER = 7;
export const PWM_OHM = 8;
/** how it stands: its stage, and the hours at its voltage in that stage; */
export const STAGE = 9;
export const STAGE_H = 10;
/** in this step: whether it has something to give, and the voltage it makes for; */
export const LIVE = 11;
export const SET_V = 12;
/** in this phase: its limit, its current while it runs, and whether it holds its voltage */
export const MAX_A = 13;
export const GIVEN_A = 14;
export const HELD = 15;
export const CHARGER_WIDTH = 16;

/** Where a run stands between two steps, with all that the loop works in, so that nothing is allocated while stepping. */
export interface LoopState {
  readonly steps: Float64Array;
  readonly battery: Float64Array;
  readonly table: Float64Array;
  readonly now: Float64Array;
  readonly fridges: Float64Array;
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
  battery: Float64Array = layOutBattery(input),
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
  layOut(fridges, FRIDGE_WIDTH, CONTENT_KG, input.fridgeContentKg);
  layOut(fridges, FRIDGE_WIDTH, LINER_WH_PER_K, input.fridgeLinerWhPerK);
  layOut(fridges, FRIDGE_WIDTH, HOME, input.fridgeSetC.map(foodPiece));
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
  const chargers = new Float64Array(input.chargers * CHARGER_WIDTH);
  layOut(chargers, CHARGER_WIDTH, KIND, input.chargerKind);
  layOut(chargers, CHARGER_WIDTH, CHARGER_OHM, input.chargerOhm);
  layOut(chargers, CHARGER_WIDTH, ABSORPTION_V, input.absorptionV);
  layOut(chargers, CHARGER_WIDTH, FLOAT_V, input.floatV);
  layOut(chargers, CHARGER_WIDTH, ABSORPTION_H, input.absorptionH);
  layOut(chargers, CHARGER_WIDTH, TAIL_A, input.tailA);
  layOut(chargers, CHARGER_WIDTH, REBULK_V, input.rebulkV);
  layOut(
    chargers,
    CHARGER_WIDTH,
    PARTNER,
    input.sharesWith.map((lane) => (lane < 0 ? -1 : lane * CHARGER_WIDTH)),
  );
  layOut(chargers, CHARGER_WIDTH, PWM_OHM, input.pwmOhm);
  return { steps, battery, table, now, fridges, chargers };
}

/** A state that moves on by itself, over the same rows. */
export function copyState({ steps, battery, table, now, fridges, chargers }: LoopState): LoopState {
  return { steps, battery, table, now: now.slice(), fridges: fridges.slice(), chargers: chargers.slice() };
}

/** What the battery's temperature makes of it, each step as one row. */
function layOutBattery(input: LoopInput): Float64Array {
  const { steps, stepH, wellPerH, wellShare } = input;
  const rows = new Float64Array(steps * BATTERY_STEP_WIDTH);
  layOut(rows, BATTERY_STEP_WIDTH, OHM_FACTOR, input.resistanceFactor);
  layOut(rows, BATTERY_STEP_WIDTH, CHARGE_FACTOR, input.chargeFactor);
  layOut(rows, BATTERY_STEP_WIDTH, WELL_SHARE, input.wellShare);
  layOut(rows, BATTERY_STEP_WIDTH, WELL_PER_H, wellPerH);
  layOut(rows, BATTERY_STEP_WIDTH, CHARGE_LIMIT_A, input.chargeLimitA);
  layOut(rows, BATTERY_STEP_WIDTH, COLD, input.coldLimited);
  layOut(rows, BATTERY_STEP_WIDTH, LEAK_A, input.selfDischargeA);
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
  return rows;
}

/** Loads, fridges and chargers of each step as one row. */
export function layOutSteps(input: LoopInput): Float64Array {
  const { steps, fridges, chargers } = input;
  const firstCharger = LOAD_WIDTH + fridges * FRIDGE_STEP_WIDTH;
  const width = firstCharger + chargers * CHARGER_STEP_WIDTH;
  const rows = new Float64Array(steps * width);
  layOut(rows, width, LOAD_W, input.plainW);
  layOut(rows, width, LOAD_QUAD, input.plainQuad);
  layOut(rows, width, LOAD_CUBE, input.plainCube);
  layOut(rows, width, LOAD_FOURTH, input.plainFourth);
  layOut(rows, width, LOAD_A, input.plainA);
  layOut(rows, width, UNSWITCHED_W, input.unswitchedW);
  for (let k = 0; k < fridges; k++) layOutRoom(rows, width, LOAD_WIDTH + k * FRIDGE_STEP_WIDTH, input, k);
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
    rows[to + LOSS_W_PER_K] = input.fridgeLossWPerK[from]!;
    rows[to + FOOD_KG_PER_H] = foodKgPerH;
    rows[to + INFLOW_W] = inflowW;
  }
}

function lane(column: Float64Array, index: number, steps: number): Float64Array {
  return column.subarray(index * steps, (index + 1) * steps);
}

function layOut(rows: Float64Array, width: number, at: number, column: Float64Array): void {
  for (let i = 0, to = at; i < column.length; i++, to += width) rows[to] = column[i]!;
}
