import { HOUR_MS } from '../math/index.js';
import type { FridgeLoad } from '../rig/index.js';
import type { Grid } from '../sky/index.js';
import { clockMs, type DayInfo, timesUsed } from './day.js';
import {
  compressorElectricW,
  FREEZES_C,
  FREEZING_WH_PER_KG,
  FROZEN_C,
  type FridgeModel,
  ICE_WH_PER_KG_K,
  roomCop,
  WATER_WH_PER_KG_K,
} from './fridge-model.js';
import { addSpan } from './schedule.js';

/** Air: density times specific heat [Wh/(m³ K)], 1.2 kg/m³ · 1.005 kJ/(kg K). */
const AIR_WH_PER_M3_K = (1.2 * 1.005) / 3.6;
/** Humid air that condenses brings two to three times the heat of dry air. Common practice, no source. */
export const DOOR_HUMID_FACTOR = 2.5;
/** Local hours between which doors are opened. Common practice. */
const DOOR_FROM_H = 7;
const DOOR_TO_H = 22;
/** Warm food comes to the box's temperature over this time, a part after the other. Common practice: drinks take some hours. */
export const FOOD_COOLS_H = 3;

/**
 * What one room of a fridge meets and can do, a value a step, before it is known whether the bus can feed it. Heat comes in
 * from the air around, through walls and doors, and from warm food; at an inside temperature T it is
 *   inflowW − lossWPerK · T − foodKgPerH · (h(T)),
 * with h the enthalpy of food [Wh/kg], 0 at 0 °C, so that nothing inside gets warmer than the warmest of them.
 */
export interface FridgeColumns {
  /** heat taken out of it while the compressor runs for it alone [W] */
  readonly coolingW: Float64Array;
  /** electrical power while it runs, electronics not included [W] */
  readonly electricW: Float64Array;
  /** walls and doors together [W/K] */
  readonly lossWPerK: Float64Array;
  /** warm food that comes to the inside temperature [kg/h] */
  readonly foodKgPerH: Float64Array;
  /** what air and food bring to an inside of 0 °C [W] */
  readonly inflowW: Float64Array;
  /** share of the time it must run to stay at the set point, 0..1; of two rooms together at most 1, where they may not hold */
  readonly holdDuty: Float64Array;
}

/**
 * What the rooms of a fridge in air of these temperatures meet and need. All of it is known before the battery is, so it is
 * computed as columns; whether it gets the power is the step loop's matter.
 * @returns of each room of the model; food goes into the first, doors by volume
 */
export function fridgeColumns(
  load: FridgeLoad,
  model: FridgeModel,
  roomC: Float64Array,
  days: readonly DayInfo[],
  grid: Grid,
): FridgeColumns[] {
  const { steps } = grid;
  const { openings, foodKgPerH, foodW } = useColumns(load, roomC, days, grid);
  const coolingW = new Float64Array(steps);
  const electricW = new Float64Array(steps);
  for (let i = 0; i < steps; i++) {
    electricW[i] = compressorElectricW(model, roomC[i]!);
    coolingW[i] = electricW[i]! * roomCop(model, roomC[i]!);
  }
  const none = new Float64Array(steps);
  const rooms = model.rooms.map((room, k) => {
    const [kgPerH, warmW] = k === 0 ? [foodKgPerH, foodW] : [none, none];
    const columns = {
      coolingW,
      electricW,
      lossWPerK: new Float64Array(steps),
      foodKgPerH: kgPerH,
      inflowW: new Float64Array(steps),
      holdDuty: new Float64Array(steps),
    };
    const doorWPerK = doorAirWh(room.volumeL, 1, 0);
    for (let i = 0; i < steps; i++) {
      const humid = roomC[i]! > room.setpointC ? DOOR_HUMID_FACTOR : 1;
      columns.lossWPerK[i] = room.uaWPerK + openings[i]! * humid * doorWPerK;
      columns.inflowW[i] = columns.lossWPerK[i]! * roomC[i]! + warmW[i]!;
      columns.holdDuty[i] = Math.min(1, Math.max(0, heatInW(columns, i, room.setpointC) / coolingW[i]!));
    }
    return columns;
  });
  if (rooms.length > 1)
    for (let i = 0; i < steps; i++) {
      const together = rooms.reduce((sum, { holdDuty }) => sum + holdDuty[i]!, 0);
      if (together > 1) for (const { holdDuty } of rooms) holdDuty[i] = holdDuty[i]! / together;
    }
  return rooms;
}

/** Heat that comes into a room at a step with its inside at a temperature, negative where it goes out [W]. */
export function heatInW(
  { inflowW, lossWPerK, foodKgPerH }: Pick<FridgeColumns, 'inflowW' | 'lossWPerK' | 'foodKgPerH'>,
  step: number,
  insideC: number,
): number {
  return inflowW[step]! - lossWPerK[step]! * insideC - foodKgPerH[step]! * enthalpyWhPerKg(insideC);
}

/** Heat of one exchange of the box's air, dry [Wh]: ρ · cp · V · ΔT. */
export function doorAirWh(volumeL: number, roomC: number, insideC: number): number {
  return AIR_WH_PER_M3_K * (volumeL / 1000) * Math.max(0, roomC - insideC);
}

/** Heat to bring food, counted as water, from one temperature to another; freezing included, between −1 and −2 °C [Wh]. */
export function foodHeatWh(massKg: number, fromC: number, toC: number): number {
  return massKg * (enthalpyWhPerKg(fromC) - enthalpyWhPerKg(toC));
}

/**
 * Enthalpy of food in three straight pieces: frozen, freezing, fresh [Wh/kg]: slope over temperature, and what the
 * piece's line would have at 0 °C; the last is 0 there.
 */
export const FOOD_SLOPES = [ICE_WH_PER_KG_K, FREEZING_WH_PER_KG / (FREEZES_C - FROZEN_C), WATER_WH_PER_KG_K] as const;
export const FOOD_AT_0C = [
  FREEZES_C * (WATER_WH_PER_KG_K - FOOD_SLOPES[1]) + FROZEN_C * (FOOD_SLOPES[1] - ICE_WH_PER_KG_K),
  FREEZES_C * (WATER_WH_PER_KG_K - FOOD_SLOPES[1]),
  0,
] as const;

/** From where to where each piece goes [°C]. */
export const FOOD_PIECES_C = [
  [-Infinity, FROZEN_C],
  [FROZEN_C, FREEZES_C],
  [FREEZES_C, Infinity],
] as const;

/** The piece in which a temperature lies; at a joint the upper one. */
export function foodPiece(temperatureC: number): 0 | 1 | 2 {
  return temperatureC >= FREEZES_C ? 2 : temperatureC >= FROZEN_C ? 1 : 0;
}

function enthalpyWhPerKg(temperatureC: number): number {
  const piece = foodPiece(temperatureC);
  return FOOD_AT_0C[piece] + FOOD_SLOPES[piece] * temperatureC;
}

/** Door openings an hour, and warm food: how much comes in [kg/h] and what it brings above 0 °C [W]. */
function useColumns(load: FridgeLoad, roomC: Float64Array, days: readonly DayInfo[], grid: Grid) {
  const openings = new Float64Array(grid.steps);
  const foodKgPerH = new Float64Array(grid.steps);
  const foodW = new Float64Array(grid.steps);
  for (const day of days) {
    const use = timesUsed(day, load.name);
    const doors = { fromMs: clockMs(day, DOOR_FROM_H), toMs: clockMs(day, DOOR_TO_H) };
    const openH = (doors.toMs - doors.fromMs) / HOUR_MS;
    if (openH > 0) addSpan(openings, grid, doors, (use * load.openingsPerDay) / openH);
    for (const food of load.warmFood) {
      const fromMs = clockMs(day, food.atH);
      const atStep = Math.floor((fromMs - grid.startMs) / (grid.stepH * HOUR_MS));
      if (!(atStep >= 0 && atStep < grid.steps)) continue;
      const span = { fromMs, toMs: fromMs + FOOD_COOLS_H * HOUR_MS };
      const kgPerH = (use * food.massKg) / FOOD_COOLS_H;
      addSpan(foodKgPerH, grid, span, kgPerH);
      addSpan(foodW, grid, span, kgPerH * enthalpyWhPerKg(food.temperatureC ?? roomC[atStep]!));
    }
  }
  return { openings, foodKgPerH, foodW };
}
