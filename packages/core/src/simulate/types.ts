import type { CivilDay, Grid, Itinerary, SunColumns, WeatherColumns, WeatherNote } from '../place/index.js';

/** A limit that the model met, or something the user should know about a run. */
export interface Warning {
  readonly code: string;
  /** the part it concerns: a load's or an array's name, 'battery', 'weather' … */
  readonly component: string;
  readonly text: string;
  readonly firstMs?: number;
  readonly count?: number;
}

/** Everything the rig meets from outside, on one grid. Pure functions of place, time, weather and the cabin. */
export interface Conditions {
  readonly itinerary: Itinerary;
  readonly grid: Grid;
  readonly sun: SunColumns;
  readonly weather: WeatherColumns;
  /** share of the beam left by the stop's trees and its skyline, 0..1 */
  readonly beamKeeps: Float64Array;
  readonly cabinC: Float64Array;
  readonly notes: readonly WeatherNote[];
}

/** What held the charge back in a step. */
export const CHARGE_LIMITS = ['none', 'source', 'rating', 'voltage', 'cold', 'full'] as const;
export type ChargeLimit = (typeof CHARGE_LIMITS)[number];

/**
 * One column per quantity, one value per step: means over the step, except `soc` and `fridgeC`, the state at its end.
 * Powers in W; currents and powers into the battery are positive.
 */
export interface Trace {
  readonly grid: Grid;
  readonly soc: Float64Array;
  readonly batteryV: Float64Array;
  readonly batteryA: Float64Array;
  readonly batteryC: Float64Array;
  readonly pvAvailableW: Float64Array;
  readonly pvHarvestW: Float64Array;
  readonly alternatorW: Float64Array;
  readonly mainsW: Float64Array;
  readonly loadW: Float64Array;
  readonly unservedW: Float64Array;
  readonly ambientC: Float64Array;
  readonly cabinC: Float64Array;
  readonly ghiWm2: Float64Array;
  /** of the first array; zeros without one */
  readonly poaWm2: Float64Array;
  readonly loads: readonly { readonly name: string; readonly servedW: Float64Array; readonly insideC?: Float64Array }[];
}

export interface Summary {
  readonly days: number;
  readonly startSoc: number;
  readonly endSoc: number;
  readonly lowestSoc: number;
  /** local civil date and time with offset, ISO 8601 */
  readonly lowestAt: string;
  readonly hoursBelowFloor: number;
  /** hours in which the low-voltage disconnect or an empty battery kept the loads off */
  readonly hoursOff: number;
  readonly pvAvailableWh: number;
  readonly pvHarvestWh: number;
  readonly pvSpilledWh: number;
  readonly alternatorWh: number;
  readonly mainsWh: number;
  readonly loadWh: number;
  readonly unservedWh: number;
  /** by where it is lost */
  readonly lossWh: Readonly<Record<string, number>>;
  readonly storedChangeWh: number;
  /** ins − outs − losses − storage change */
  readonly ledgerErrorWh: number;
  /** days on which the battery was full at some moment */
  readonly fullDays: number;
  readonly equivalentCycles: number;
}

export interface DailyRow {
  readonly date: string;
  readonly stop: string;
  readonly pvAvailableWh: number;
  readonly pvHarvestWh: number;
  readonly pvSpilledWh: number;
  readonly alternatorWh: number;
  readonly mainsWh: number;
  readonly loadWh: number;
  readonly unservedWh: number;
  readonly lossWh: number;
  readonly storedChangeWh: number;
  readonly lowestSoc: number;
  readonly highestSoc: number;
  readonly ambientMeanC: number;
  readonly ghiKwhM2: number;
  /** hours in the day by what held the charge back */
  readonly limitH: Readonly<Record<ChargeLimit, number>>;
}

export interface LoadRow {
  readonly name: string;
  readonly servedWh: number;
  readonly unservedWh: number;
  /** share of the run that it was on; of the compressor for a fridge */
  readonly dutyCycle: number;
  /** how often its own cut-out switched it off, and how often that was the cable's drop alone */
  readonly cutOuts?: number;
  readonly cutOutsByDrop?: number;
  /** lowest and highest state of charge at which its own cut-out acted */
  readonly cutOutLowestSoc?: number;
  readonly cutOutHighestSoc?: number;
  /** fridge: hours its contents were warmer than food should be kept, and the warmest */
  readonly warmHours?: number;
  readonly warmestC?: number;
  /** lowest voltage at its terminals while on [V]; absent when it never was */
  readonly lowestV?: number;
}

export interface Run {
  readonly conditions: Conditions;
  readonly days: readonly CivilDay[];
  readonly summary: Summary;
  readonly daily: readonly DailyRow[];
  readonly loads: readonly LoadRow[];
  readonly warnings: readonly Warning[];
  readonly trace: Trace;
}
