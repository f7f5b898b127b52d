import type { Coded, NoArgs } from '../message/index.js';

/** A conductor by its section, and by its gauge where its owner gave that. */
export interface ConductorSize {
  readonly sectionMm2: number;
  readonly gaugeAwg?: string;
}

/** What can be wrong with a circuit's cable or fuse, by code. Currents in A, voltages in V, shares 0..1. */
export interface CircuitFaultArgs {
  /** more current than the cable may carry; `fuseProtects`: its fuse opens before it burns */
  readonly cable_overloaded: ConductorSize & {
    readonly currentA: number;
    readonly ampacityA: number;
    readonly ambientC: number;
    readonly fuseProtects: boolean;
  };
  /** no standard fuse is large enough for the current */
  readonly no_fuse_large_enough: { readonly currentA: number; readonly largestFuseA: number };
  /** the smallest fuse that carries the current is more than the cable may carry */
  readonly no_fuse_protects: { readonly currentA: number; readonly fuseA: number; readonly ampacityA: number };
  /** the fitted fuse is more than the cable may carry; `fuseA`: one that suits cable and load, null where none does */
  readonly fuse_too_large: ConductorSize & {
    readonly fittedFuseA: number;
    readonly ampacityA: number;
    readonly fuseA: number | null;
    readonly largestFuseA: number;
  };
  /** the fitted fuse opens at the current that the circuit takes for long */
  readonly fuse_too_small: { readonly fittedFuseA: number; readonly currentA: number };
  /** the fitted fuse may open at the start-up current */
  readonly fuse_opens_at_start: { readonly fittedFuseA: number; readonly surgeA: number };
  /** through this cable the power cannot be delivered at all */
  readonly power_not_delivered: { readonly powerW: number };
  readonly drop_too_large: { readonly dropShare: number; readonly currentA: number; readonly limitShare: number };
  /** too little voltage at the start; `cutOutV`: below that the appliance switches itself off */
  readonly start_voltage_low: {
    readonly arrivesV: number;
    readonly currentA: number;
    readonly cutOutV?: number;
  };
}

/** Something wrong with a circuit's cable or fuse. */
export type CircuitFault = Coded<CircuitFaultArgs> & { readonly level: 'note' | 'caution' | 'danger' };

/** What is to be known of a circuit beside its figures, by code. */
export interface CircuitRemarkArgs {
  readonly fuse_at_battery: NoArgs;
  readonly fuse_at_both_ends: NoArgs;
  readonly on_starter_battery: NoArgs;
  /** what is lost between charger and battery delays absorption */
  readonly drop_delays_absorption: NoArgs;
  /** the panel behind a PWM controller: working voltage of the hot module, its cells, and what charging needs */
  readonly pwm_voltage_to_spare: { readonly hotV: number; readonly hotC: number; readonly neededV: number };
  readonly pwm_voltage_scarce: { readonly hotV: number; readonly hotC: number; readonly neededV: number };
}

/** What is to be known of a circuit beside its figures. */
export type CircuitRemark = Coded<CircuitRemarkArgs>;
