import type { LoopInput } from './loop-columns.js';

/** Which draws are connected: all, only those ahead of the disconnect, none (the battery is empty). */
export const ALL_ON = 2;
export const LOADS_OFF = 1;
export const ALL_OFF = 0;

/** Places in `LoopState.now`. */
export const NOW_SOC = 0;
/** charge in the available well [Ah] */
export const NOW_AVAILABLE = 1;
export const NOW_LEVEL = 2;
/** of the last phase: into the battery [A], and on the bus [V] */
export const NOW_AMPS = 3;
export const NOW_BUS_V = 4;

/** The battery's tables side by side: columns of a row of `LoopState.table`. */
export const TABLE_WIDTH = 5;
export const TABLE_OCV = 0;
export const TABLE_ENERGY = 1;
export const TABLE_OUT_OHM = 2;
export const TABLE_IN_OHM = 3;
export const TABLE_EFFICIENCY = 4;

/** Where a run stands between two steps, and the lanes the loop works in, so that nothing is allocated while stepping. */
export interface LoopState {
  readonly now: Float64Array;
  /** rows of TABLE_WIDTH over the state of charge */
  readonly table: Float64Array;
  /** stage of each charger, and hours at its voltage in that stage */
  readonly stage: Float64Array;
  readonly stageH: Float64Array;
  /** current of each charger while it runs; 0 when it has nothing to give */
  readonly chargerA: Float64Array;
  /** whether a fridge's own cut-out lets it run, and its inside */
  readonly fridgeOn: Float64Array;
  readonly fridgeNowC: Float64Array;
  /** share of a temperature difference that is left after a whole step */
  readonly fridgeKeep: Float64Array;
  /** this phase's fridges: inside at its end without the compressor, and what a running one takes off that */
  readonly fridgeFreeC: Float64Array;
  readonly fridgePullK: Float64Array;
  readonly fridgeDuty: Float64Array;
  /** fridges that may run in this phase, what they take, and the current that is in their cable while they do */
  readonly running: Int32Array;
  readonly runW: Float64Array;
  readonly runA: Float64Array;
  /** chargers that have something to give in this step, and what the solver needs of them */
  readonly live: Int32Array;
  readonly liveSetV: Float64Array;
  readonly liveHeld: Float64Array;
  readonly liveMostA: Float64Array;
}

/** The state at the start of a run. */
export function loopState(input: LoopInput): LoopState {
  const { points, capacityAh, wellShare, wellReserveAh, startSoc, fridges, chargers, stepH } = input;
  const table = new Float64Array(points * TABLE_WIDTH);
  for (let n = 0; n < points; n++) {
    table[n * TABLE_WIDTH + TABLE_OCV] = input.ocvV[n]!;
    table[n * TABLE_WIDTH + TABLE_ENERGY] = input.energyWh[n]!;
    table[n * TABLE_WIDTH + TABLE_OUT_OHM] = input.dischargeOhm[n]!;
    table[n * TABLE_WIDTH + TABLE_IN_OHM] = input.chargeOhm[n]!;
    table[n * TABLE_WIDTH + TABLE_EFFICIENCY] = input.chargeEfficiency[n]!;
  }
  const now = new Float64Array(5);
  now[NOW_SOC] = startSoc;
  now[NOW_AVAILABLE] = wellShare * (startSoc * capacityAh + wellReserveAh);
  now[NOW_LEVEL] = ALL_ON;
  now[NOW_BUS_V] = input.ocvV[Math.round(startSoc * (points - 1))]!;
  return {
    now,
    table,
    stage: new Float64Array(chargers),
    stageH: new Float64Array(chargers),
    chargerA: new Float64Array(chargers),
    fridgeOn: new Float64Array(fridges).fill(1),
    fridgeNowC: Float64Array.from(input.fridgeStartC),
    fridgeKeep: input.fridgePerH.map((perH) => Math.exp(-stepH * perH)),
    fridgeFreeC: new Float64Array(fridges),
    fridgePullK: new Float64Array(fridges),
    fridgeDuty: new Float64Array(fridges),
    running: new Int32Array(fridges),
    runW: new Float64Array(fridges),
    runA: new Float64Array(fridges),
    live: new Int32Array(chargers),
    liveSetV: new Float64Array(chargers),
    liveHeld: new Float64Array(chargers),
    liveMostA: new Float64Array(chargers),
  };
}
