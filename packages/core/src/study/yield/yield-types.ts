import type { Place } from '../../place/index.js';
import type { Range } from '../../rig/index.js';
import type { WeatherNote } from '../../weather/index.js';

/** Where light is lost on its way to the battery, in the order in which the factors are switched on. */
export const YIELD_LOSSES = [
  'reflection',
  'shade',
  'heat',
  'lowLight',
  'soiling',
  'mismatch',
  'ageing',
  'other',
  'snow',
  'cable',
  'controller',
] as const;
/** Where light or power is lost between sky and controller. */
export type YieldLoss = (typeof YIELD_LOSSES)[number];

/** One month of an array, or of all: means over the weather years. */
export interface ArrayMonth {
  /** 1 = January */
  readonly month: number;
  /** on the panel's plane, shade taken off, before reflection at the glass; of several arrays the mean by nameplate [kWh/m²/day] */
  readonly poaKwhM2Day: number;
  /** hours a day of 1000 W/m² that would bring the same light to the plane: the same number as `poaKwhM2Day` [h] */
  readonly peakSunHours: number;
  /** at the arrays' terminals: at maximum power with an MPPT, at the voltage a PWM holds the array to [Wh/day] */
  readonly availableWhDay: number;
  /** at the controllers' output, into a battery that takes everything: what can be counted on at best [Wh/day] */
  readonly yieldWhDay: number;
}

export interface YieldMonth extends ArrayMonth {
  /** one weather year in ten gives less, half do, nine in ten do; absent with a single year [Wh/day] */
  readonly yieldWhDayP10?: number;
  readonly yieldWhDayP50?: number;
  readonly yieldWhDayP90?: number;
  /** between what and what the mean lies for all that nobody knows (see `ranges`), with about 90 % confidence [Wh/day] */
  readonly yieldWhDayLow: number;
  readonly yieldWhDayHigh: number;
  /** fixed tilt toward the equator that gives most in this month; absent in polar night [deg] */
  readonly bestTiltDeg?: number;
}

/** One part of the loss waterfall. */
export interface WaterfallStep {
  readonly where: YieldLoss;
  /** lost here in a year; negative is a gain, as cold makes one [kWh] */
  readonly kwh: number;
  /** of the light on the plane, 0..1 */
  readonly share: number;
}

/**
 * Where a year's light goes. `lightKwh` is the light on the planes with nothing in its way, turned to power at nameplate
 * efficiency; it is the sum of the losses and `yieldKwh`. Each loss is the difference that its factor makes when it is
 * switched on after those before it. With PWM, `controller` holds what is lost by holding the array at the battery's voltage.
 */
export interface Waterfall {
  readonly lightKwh: number;
  readonly losses: readonly WaterfallStep[];
  readonly yieldKwh: number;
}

/** What one array gives, month by month. */
export interface ArrayYield {
  readonly name: string;
  /** nameplate of the whole array [W] */
  readonly powerW: number;
  readonly months: readonly ArrayMonth[];
  readonly annualKwh: number;
  readonly waterfall: Waterfall;
}

/** The same arrays set up another way; mount, shade and controller stay. */
export interface YieldSetup {
  readonly setup: 'as fitted' | 'flat' | 'best tilt' | 're-aimed';
  /** of `flat` and `best tilt` [deg] */
  readonly tiltDeg?: number;
  readonly timesPerDay?: number;
  readonly annualKwh: number;
  /** January first [Wh/day] */
  readonly yieldWhDay: readonly number[];
}

/** What nobody can know, between what and what it is taken to lie, and what follows for the year. */
export interface YieldRange {
  readonly what: 'soiling' | 'irradiation' | 'turbidity';
  /** soiling: share of the light; irradiation and turbidity: times the value used */
  readonly assumed: Range;
  readonly annualKwh: Range;
}

/** What `yieldStudy` gives. */
export interface YieldStudy {
  readonly place: Place;
  readonly weatherYears: number;
  /** nameplate of all arrays [W] */
  readonly powerW: number;
  /** twelve, January first */
  readonly months: readonly YieldMonth[];
  /** at the controllers' output, mean over the weather years [kWh] */
  readonly annualKwh: number;
  readonly annualKwhP10?: number;
  readonly annualKwhP50?: number;
  readonly annualKwhP90?: number;
  /** as `yieldWhDayLow` [kWh] */
  readonly annualKwhLow: number;
  readonly annualKwhHigh: number;
  /** yield over nameplate times peak sun hours, 0..1; absent without any sun */
  readonly performanceRatio?: number;
  /** fixed tilt toward the equator that gives most in the year, all arrays together [deg] */
  readonly bestTiltDeg: number;
  readonly arrays: readonly ArrayYield[];
  readonly waterfall: Waterfall;
  readonly setups: readonly YieldSetup[];
  readonly ranges: readonly YieldRange[];
  readonly notes: readonly WeatherNote[];
}
