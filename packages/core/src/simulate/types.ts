import type { Spread } from '../battery/index.js';
import type { Coded } from '../message/index.js';
import type { CivilDay, Itinerary } from '../place/index.js';
import type { Grid, SunColumns, WeatherColumns } from '../sky/index.js';
import type { WeatherNote } from '../weather/index.js';

/**
 * Loads that ask for more than a part can give, at their full power: one alone, or the fewest of those that may run at the
 * same time. Powers in W, currents in A, voltages in V.
 */
export interface OverloadArgs {
  readonly inverter_overload: { readonly names: readonly string[]; readonly askedW: number; readonly ratingW: number };
  /** the first of them as it starts, while the others run, against what the inverter gives for a second or two */
  readonly inverter_surge: { readonly names: readonly string[]; readonly startW: number; readonly surgeW: number };
  /** above the current that the battery may give, or so much that its voltage falls below the disconnect; absent = no such limit */
  readonly battery_overload: {
    readonly names: readonly string[];
    /** at the battery, the inverter's loss included */
    readonly askedW: number;
    readonly currentA: number;
    readonly maxDischargeA?: number;
    readonly voltageV: number;
    readonly disconnectV?: number;
    /** it happens at this state of charge and below; 1 = even when full */
    readonly fromSoc: number;
  };
}

/** How often something switched itself off, `byDrop` of the times by the drop in its cable alone, and the charge then, 0..1. */
export interface CutOuts {
  readonly name: string;
  readonly cutOuts: number;
  readonly byDrop: number;
  readonly lowestSoc: number;
  readonly highestSoc: number;
}

/** Arguments of each warning by its code, in the library's units: h, °C, shares 0..1. */
export interface WarningArgs extends OverloadArgs {
  /** `firstAt`: local civil time */
  readonly loads_off: { readonly hours: number; readonly firstAt: string };
  readonly fridge_cut_out: {
    readonly name: string;
    readonly cutOuts: number;
    /** of them by the drop in its cable alone */
    readonly byDrop: number;
    readonly lowestSoc: number;
    readonly highestSoc: number;
  };
  /** a load's or the inverter's own cut-out, or a cable that brought a load's power at no current */
  readonly load_cut_out: CutOuts;
  readonly food_warm: {
    readonly name: string;
    readonly hours: number;
    readonly warmestC: number;
    readonly warmAboveC: number;
  };
  /** contents of what is to chill were below `freezesC`, where they begin to freeze */
  readonly food_frozen: { readonly name: string; readonly hours: number; readonly freezesC: number };
  readonly fridge_cannot_hold: { readonly name: string; readonly hours: number; readonly setpointC: number };
  readonly inverter_overloaded: { readonly hours: number };
  readonly cold_charge: { readonly hours: number };
  readonly rarely_full: { readonly days: number };
  readonly mains_without_charger: { readonly hours: number };
  readonly drive_without_alternator: { readonly hours: number };
  /** the cabin was colder than it is to be kept: no power, no fuel, or too small a heater */
  readonly cabin_not_warm: { readonly heatedC: number; readonly hours: number; readonly coldestC: number };
  readonly cabin_not_heated: { readonly meanC: number };
  readonly weather_shift: { readonly text: string };
  readonly starter_side: { readonly name: string };
}

/** A limit that the model met, or something the user should know about a run. */
export type Warning = Coded<WarningArgs> & {
  /** the part it concerns: a load's or an array's name, 'battery', 'weather' … */
  readonly component: string;
  readonly firstMs?: number;
  readonly count?: number;
};

/** Arguments of each trouble by its code: shares 0..1, °C, Wh, V; `loads` are the names of those that went without. */
export interface TroubleArgs extends OverloadArgs {
  /** the battery was at its disconnect or empty; `refusedWh`: it had refused so much charge as it was too cold, enough to prevent it */
  readonly ran_flat: { readonly soc: number; readonly loads: readonly string[]; readonly refusedWh?: number };
  /** loads cut off though the battery was not empty: more was asked than it can give, or its voltage fell to the disconnect */
  readonly cut_off: { readonly soc: number; readonly loads: readonly string[]; readonly disconnectV?: number };
  /** the same by a battery too cold to give it */
  readonly cold_cut_off: { readonly soc: number; readonly loads: readonly string[]; readonly batteryC: number };
  /** a fridge's own cut-out switched it off, `byDrop` of the times by the drop in its cable alone */
  readonly fridge_off: {
    readonly name: string;
    readonly cutOuts: number;
    readonly byDrop: number;
    readonly lowestSoc: number;
    readonly highestSoc: number;
  };
  /** the inverter's own cut-out switched the loads behind it off: `loads` are those that went without */
  readonly inverter_off: Omit<CutOuts, 'name'> & { readonly loads: readonly string[] };
  /** no current brought a load's power through its cable */
  readonly load_off: CutOuts;
  /** loads behind the inverter got less than they asked for while there was power */
  readonly inverter_limit: { readonly loads: readonly string[] };
  /** a fridge that would have had to run without pause, and did not reach its set point */
  readonly too_hot: { readonly name: string; readonly setpointC: number; readonly warmestC: number };
  readonly food_too_warm: { readonly name: string; readonly warmestC: number; readonly warmAboveC: number };
  readonly food_freezes: { readonly name: string; readonly freezesC: number };
  readonly too_cold_to_charge: { readonly refusedWh: number };
  readonly cabin_too_cold: { readonly heatedC: number; readonly coldestC: number };
  readonly below_floor: { readonly floor: number; readonly lowestSoc: number };
}

/** Something that went wrong in a run, by its cause. */
export type Trouble = Coded<TroubleArgs> & {
  /** `bad`: loads without power, or food that spoils; `careful`: not that, or not for certain */
  readonly level: 'bad' | 'careful';
  /** when it began, as UTC and as local civil time, and how long it lasted in all [ms, ISO 8601, h]; absent = the run does not show it */
  readonly firstMs?: number;
  readonly firstAt?: string;
  readonly hours?: number;
};

/** Everything the rig meets from outside, on one grid. Pure functions of place, time, weather and the cabin. */
export interface Conditions {
  readonly itinerary: Itinerary;
  readonly grid: Grid;
  readonly sun: SunColumns;
  readonly weather: WeatherColumns;
  readonly cabinC: Float64Array;
  readonly notes: readonly WeatherNote[];
  /** loads with hours or times a day run at random moments, drawn with this; absent = spread evenly */
  readonly loadDraw?: { readonly seed: number; readonly year: number };
  /** loads of the caller's own making, means over each step [W] */
  readonly ownLoads?: readonly { readonly name: string; readonly powerW: Float64Array }[];
}

/** What held the charge back in a step. */
export const CHARGE_LIMITS = ['none', 'source', 'rating', 'voltage', 'cold', 'full'] as const;
/** What held a charge back at a step. */
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
  /** what held the charge back, as a place in CHARGE_LIMITS */
  readonly limit: Float64Array;
  /** of a fridge the inside too, and that of its second zone */
  readonly loads: readonly {
    readonly name: string;
    readonly servedW: Float64Array;
    readonly insideC?: Float64Array;
    readonly secondInsideC?: Float64Array;
  }[];
}

/** A run in a few numbers. */
export interface Summary {
  /** civil days; the first by its part where the run starts at a clock time */
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

/** A civil day of a run; energies at the terminals of the part named. */
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

/** A load over a run; energies at the appliance. */
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
  /** fridge: hours its contents were warmer than food should be kept [°C], and the warmest; of two rooms the worse */
  readonly warmAboveC?: number;
  readonly warmHours?: number;
  readonly warmestC?: number;
  /** of a fridge that is to chill, not to freeze: hours its contents were freezing or frozen */
  readonly frozenHours?: number;
  /** lowest voltage at its terminals while on [V]; absent when it never was */
  readonly lowestV?: number;
}

/** A fridge in one calendar month of the run. */
export interface FridgeMonth {
  /** 2026-07 */
  readonly month: string;
  /** of the run in this month */
  readonly hours: number;
  /** air around it */
  readonly roomMeanC: number;
  /** share of the time that its compressor ran */
  readonly dutyCycle: number;
  /** the same if it had never lacked power, and stayed at its set point */
  readonly holdDutyCycle: number;
  readonly whPerDay: number;
  /** hours its contents were above `warmAboveC`, and the warmest */
  readonly warmHours: number;
  readonly warmestC: number;
}

/** How a fridge fared; of one with a second zone each room by itself. */
export interface FridgeReport {
  readonly name: string;
  /** of a second zone: what its compressor does for the first is not in it */
  readonly isSecondZone?: true;
  readonly setpointC: number;
  /** contents above this count as too warm, and where that is from */
  readonly warmAboveC: number;
  readonly warmSource: string;
  readonly months: readonly FridgeMonth[];
  /** each day of the run: the mean of the air around it, the share of the time that its compressor ran, and how long it went without power [h] */
  readonly days: readonly {
    readonly date: string;
    readonly roomMeanC: number;
    readonly dutyCycle: number;
    readonly hoursWithout: number;
  }[];
}

/** `CHARGE_LIMITS` told apart further: which source gave all it had, and a relay's voltages from the battery's acceptance. */
export const CHARGE_CAUSES = ['sun', 'engine', 'mains', 'rating', 'relay', 'acceptance', 'cold', 'full'] as const;
/** Why a charge was held back, as it is recorded. */
export type ChargeCause = (typeof CHARGE_CAUSES)[number];

/** What held the charge back: hours by cause; hours without a source to charge from are left out. */
export interface ChargeReport {
  readonly hours: Readonly<Record<ChargeCause, number>>;
  /** the same for the hours in which the engine ran */
  readonly engineHours: Readonly<Record<ChargeCause, number>>;
  /** sun that was there and not taken, by what held it back; its sum is the summary's `pvSpilledWh` [Wh] */
  readonly spilledWh: Readonly<Record<ChargeCause, number>>;
  /** lowest state of charge at which the battery's acceptance held a charger back; absent when it never did */
  readonly acceptanceFromSoc?: number;
  /** the day of the lowest state of charge; of several, the one with the most unserved */
  readonly worstDay: {
    readonly date: string;
    readonly lowestSoc: number;
    readonly hours: Readonly<Record<ChargeCause, number>>;
    /** hours of it in which nothing was there to charge from */
    readonly idleHours: number;
  };
}

/** What the battery had to offer in this run, and what it kept for itself. */
export interface BatteryUse {
  /** what is left of the rated capacity of the whole bank [Ah] */
  readonly capacityAh: number;
  /** of it, above the floor and within reach at the coldest [Ah], and as energy at its rested voltage [Wh] */
  readonly usableAh: number;
  readonly usableWh: number;
  /** cells, coldest and warmest of the run [°C] */
  readonly coldestC: number;
  readonly warmestC: number;
  /**
   * share of the capacity that could not be drawn at the coldest in the hours that it is rated for (20 h lead-acid, 5 h LFP), 0..1;
   * drawn slowly, nearly all of it can
   */
  readonly outOfReach: number;
  /** at its terminals, in and out [Wh] */
  readonly chargedWh: number;
  readonly dischargedWh: number;
  /** lost inside it: resistance, charge reaction, self-discharge [Wh] */
  readonly lossWh: number;
}

/** Wear of the battery, as in `wear`: a factor of two either way, as the spreads say. */
export interface RunWear {
  /** the summary's `equivalentCycles` */
  readonly equivalentFullCycles: number;
  /** share of the life to 80 % of the capacity that the run used up by cycling, and by time and temperature */
  readonly cycleShare: Spread;
  readonly calendarShare: Spread;
  /** to 80 % of the capacity if all time were like this run: a short run says nothing of other seasons [years] */
  readonly yearsTo80: Spread;
  /** longest time without a full charge [h]; the run's ends count as they stand, so it is a least value at them */
  readonly longestWithoutFullH: number;
}

/** A rig followed through a trip: what `simulate` gives. */
export interface Run {
  /** as they were given; the cabin of a heater that lost its power is in `trace.cabinC` */
  readonly conditions: Conditions;
  readonly days: readonly CivilDay[];
  readonly summary: Summary;
  readonly daily: readonly DailyRow[];
  readonly loads: readonly LoadRow[];
  readonly fridges: readonly FridgeReport[];
  readonly charging: ChargeReport;
  readonly battery: BatteryUse;
  readonly wear: RunWear;
  /** what went wrong, by its cause, gravest first */
  readonly troubles: readonly Trouble[];
  readonly warnings: readonly Warning[];
  readonly trace: Trace;
}
