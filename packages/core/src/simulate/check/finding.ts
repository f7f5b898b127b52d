import type { Coded, NoArgs } from '../../message/index.js';
import type { Air, Chemistry } from '../../rig/index.js';
import type { Circuit, CircuitFault, CircuitFaultArgs } from '../../wire/index.js';
import type { OverloadArgs } from '../types.js';

/** A circuit whose cable or fuse is at fault, with what would do. */
export interface CircuitFindingArgs
  extends Pick<Circuit, 'name' | 'sectionMm2' | 'adviseMm2' | 'adviseAwg' | 'remark'> {
  readonly faults: readonly CircuitFault[];
}

/** The panels' highest voltage against what their controller is made for; `series` modules, nothing drawn. */
export interface ColdVoltageArgs {
  readonly series: number;
  readonly coldV: number;
  /** at which coldV is met [°C] */
  readonly coldC: number;
  /** more for each 10 K colder [V] */
  readonly tenKelvinV: number;
  readonly maxInputV: number;
  /** above `touchV` live parts are dangerous to touch */
  readonly isLive: boolean;
  readonly touchV: number;
}

/**
 * Arguments of each finding by its code, in the library's units: A, V, W, Wh, °C, shares 0..1. A circuit's findings
 * have the code of its gravest fault.
 */
export type FindingArgs = { readonly [Fault in keyof CircuitFaultArgs]: CircuitFindingArgs } & OverloadArgs & {
    readonly no_cable_given: { readonly circuits: readonly string[] };
    readonly charge_below_freezing: { readonly chemistry: Chemistry; readonly chargeMinC?: number };
    readonly battery_in_weather: { readonly mounted: Air };
    readonly battery_in_engine_bay: NoArgs;
    readonly hydrogen: NoArgs;
    readonly hydrogen_when_overcharged: NoArgs;
    readonly floor_low_for_lead: { readonly floor: number };
    readonly disconnect_above_floor: { readonly disconnect: number; readonly floor: number };
    readonly reconnect_close: { readonly aboveV: number; readonly nominalV: number };
    readonly battery_fuse_not_named: NoArgs;
    readonly no_loads: NoArgs;
    readonly absorption_high: AbsorptionArgs;
    readonly absorption_low: AbsorptionArgs;
    readonly controller_clips: { readonly currentA: number; readonly maxW: number; readonly arrayW: number };
    readonly datasheet_differs: { readonly sheetW: number; readonly powerW: number };
    readonly pwm_wastes_voltage: { readonly vmpV: number; readonly lostShare: number };
    readonly cells_assumed: { readonly powerW: number; readonly cells: number; readonly largeCells: number };
    readonly azimuth_of_flat: { readonly azimuthDeg: number; readonly tiltDeg: number };
    readonly absorption_late: { readonly dropV: number };
    readonly chargers_above_battery: { readonly chargersA: number; readonly maxChargeA: number };
    readonly mains_above_battery: { readonly currentA: number; readonly maxChargeA: number };
    readonly relay_with_lithium: NoArgs;
    readonly relay_feeds_vehicle: { readonly lowVoltageV: number; readonly restedV: number; readonly vehicleA: number };
    readonly relay_above_battery: { readonly currentA: number; readonly maxChargeA: number; readonly ohm: number };
    readonly alternator_short_when_hot: { readonly leftA: number; readonly currentA: number };
    readonly nothing_charges: NoArgs;
    readonly rarely_filled: { readonly chargersA: number; readonly capacityAh: number; readonly minShare: number };
    readonly array_voltage_unknown: {
      readonly series: number;
      readonly coldV: number;
      readonly isLive: boolean;
      readonly touchV: number;
    };
    readonly array_voltage_destroys: ColdVoltageArgs & { readonly neededV: number };
    readonly array_voltage_scarce: ColdVoltageArgs & { readonly marginShare: number; readonly reachedC?: number };
    readonly array_voltage_enough: ColdVoltageArgs & { readonly reachedC?: number };
    readonly pwm_current_high: { readonly shortA: number; readonly brightA: number; readonly currentA: number };
    readonly fridge_cut_out_early: {
      readonly name: string;
      readonly soc: number;
      readonly dropV: number;
      readonly cutOutV: number;
      /** section that keeps it running; absent where no cable does */
      readonly sectionMm2?: number;
    };
    /** its rated consumption against all that its compressor and electronics can take at that ambient [Wh a day] */
    readonly fridge_rated_beyond_compressor: {
      readonly name: string;
      readonly ratedWh: number;
      readonly maxWh: number;
      readonly ambientC: number;
      readonly compressorW: number;
    };
    /** two points of its data sheet, of which the warmer takes less [Wh a day] */
    readonly fridge_rated_falls: {
      readonly name: string;
      readonly coolC: number;
      readonly coolWh: number;
      readonly warmC: number;
      readonly warmWh: number;
    };
    /** rated far from its set point: as rated, and what that makes of it as it is set [Wh a day] */
    readonly fridge_rated_elsewhere: {
      readonly name: string;
      readonly ratedWh: number;
      readonly ambientC: number;
      readonly insideC: number;
      readonly setpointC: number;
      readonly setWh: number;
      /** with its compressor never off; setWh may be more, which it then does not reach */
      readonly maxWh: number;
    };
    readonly fridge_two_zones: {
      readonly name: string;
      readonly firstL: number;
      readonly firstC: number;
      readonly secondL: number;
      readonly secondC: number;
    };
    readonly inverter_above_battery: { readonly fullA: number; readonly maxDischargeA: number };
    readonly inverter_mains_voltage: NoArgs;
    readonly inverter_without_loads: { readonly whPerDay: number };
    readonly inverter_always_on: { readonly whPerDay: number };
    readonly mains_without_charger: NoArgs;
    readonly drive_without_alternator: NoArgs;
  };

/** An absorption voltage against what is usual for the chemistry [V]. */
export interface AbsorptionArgs {
  readonly absorptionV: number;
  readonly lowV: number;
  readonly highV: number;
  readonly chemistry: Chemistry;
}

/** Something to know about a rig before it is built or driven. */
export type Finding = Coded<FindingArgs> & {
  readonly level: 'note' | 'caution' | 'danger';
  /** as written in the rig's file, or in the trip's where it begins with `stops` */
  readonly path: string;
};
