import { HOUR_MS } from '../math/index.js';
import type { FridgeLoad } from '../rig/index.js';
import type { Grid } from '../sky/index.js';
import { clockMs, type DayInfo, timesUsed } from './day.js';
import {
  compressorElectricW,
  FREEZING_WH_PER_KG,
  type FridgeModel,
  heatLeakW,
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
/** Warm food gives its heat to the box over this time, evenly. Common practice: drinks take some hours in a fridge. */
export const FOOD_COOLS_H = 3;

/** What a fridge needs and can do, a value a step, before it is known whether the bus can feed it. */
export interface FridgeColumns {
  /** heat taken out while the compressor runs [W] */
  readonly coolingW: Float64Array;
  /** electrical power while it runs, electronics not included [W] */
  readonly electricW: Float64Array;
  /** heat from warm food and opened doors [W] */
  readonly heatGainW: Float64Array;
  /** share of the time it must run to stay at the set point, 0..1; at 1 it may not hold */
  readonly holdDuty: Float64Array;
  /** electrical power, electronics included, of a fridge that is held at its set point [W] */
  readonly meanPowerW: Float64Array;
}

/**
 * What a fridge in a room of these temperatures meets and needs. All of it is known before the battery is, so it is
 * computed as columns; whether it gets the power is the step loop's matter.
 */
export function fridgeColumns(
  load: FridgeLoad,
  model: FridgeModel,
  roomC: Float64Array,
  days: readonly DayInfo[],
  grid: Grid,
): FridgeColumns {
  const heatGainW = heatGainColumn(load, model, roomC, days, grid);
  const steps = grid.steps;
  const coolingW = new Float64Array(steps);
  const electricW = new Float64Array(steps);
  const holdDuty = new Float64Array(steps);
  const meanPowerW = new Float64Array(steps);
  for (let i = 0; i < steps; i++) {
    const room = roomC[i]!;
    const electric = compressorElectricW(model, room);
    const cooling = electric * roomCop(model, room);
    const heat = heatLeakW(model, room, model.setpointC) + heatGainW[i]!;
    const duty = Math.min(1, Math.max(0, heat / cooling));
    coolingW[i] = cooling;
    electricW[i] = electric;
    holdDuty[i] = duty;
    meanPowerW[i] = duty * electric + model.standbyW;
  }
  return { coolingW, electricW, heatGainW, holdDuty, meanPowerW };
}

/** Heat of one exchange of the box's air, dry [Wh]: ρ · cp · V · ΔT. */
export function doorAirWh(volumeL: number, roomC: number, insideC: number): number {
  return AIR_WH_PER_M3_K * (volumeL / 1000) * Math.max(0, roomC - insideC);
}

/** Heat to bring food, counted as water, from one temperature to another; freezing included at −1 °C [Wh]. */
export function foodHeatWh(massKg: number, fromC: number, toC: number): number {
  return massKg * (enthalpyWhPerKg(fromC) - enthalpyWhPerKg(toC));
}

function enthalpyWhPerKg(temperatureC: number): number {
  return temperatureC < -1
    ? ICE_WH_PER_KG_K * (temperatureC + 1) - WATER_WH_PER_KG_K
    : WATER_WH_PER_KG_K * temperatureC + FREEZING_WH_PER_KG;
}

function heatGainColumn(
  load: FridgeLoad,
  model: FridgeModel,
  roomC: Float64Array,
  days: readonly DayInfo[],
  grid: Grid,
): Float64Array {
  const { setpointC, volumeL } = model;
  const openings = new Float64Array(grid.steps); // door openings an hour
  const gainW = new Float64Array(grid.steps);
  for (const day of days) {
    const use = timesUsed(day, load.name);
    const doors = { fromMs: clockMs(day, DOOR_FROM_H), toMs: clockMs(day, DOOR_TO_H) };
    const openH = (doors.toMs - doors.fromMs) / HOUR_MS;
    if (openH > 0) addSpan(openings, grid, doors, (use * load.openingsPerDay) / openH);
    for (const food of load.warmFood) {
      const fromMs = clockMs(day, food.atH);
      const atStep = Math.floor((fromMs - grid.startMs) / (grid.stepH * HOUR_MS));
      if (!(atStep >= 0 && atStep < grid.steps)) continue;
      const heatWh = foodHeatWh(use * food.massKg, food.temperatureC ?? roomC[atStep]!, setpointC);
      addSpan(gainW, grid, { fromMs, toMs: fromMs + FOOD_COOLS_H * HOUR_MS }, heatWh / FOOD_COOLS_H);
    }
  }
  for (let i = 0; i < grid.steps; i++)
    gainW[i] = gainW[i]! + openings[i]! * DOOR_HUMID_FACTOR * doorAirWh(volumeL, roomC[i]!, setpointC);
  return gainW;
}
