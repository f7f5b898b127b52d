import type { CurrentAtVoltage } from './pwm.js';

/** What falls on an array, one value a step, all of one length. */
export interface ArrayInput {
  /** on the plane after shade and after reflection at the glass: what reaches the cells of a clean panel, as a mean over the panel [W/m²] */
  readonly effectiveWm2: Float64Array;
  /** on the plane before reflection: what heats it [W/m²] */
  readonly poaWm2: Float64Array;
  readonly ambientC: Float64Array;
  /** at 10 m [m/s] */
  readonly windMs: Float64Array;
  /** share of the panel that a hard shadow covers, 0..1, for the electrical penalty; its light is already missing above */
  readonly beamShade?: Float64Array;
  /** the beam that is left on the plane, before reflection, as a mean over the panel [W/m²]; needed with `beamShade` */
  readonly beamWm2?: Float64Array;
}

/** What an array is connected to. */
export interface ArrayOptions {
  /** nominal voltage of the battery bank [V]; 12 unless given */
  readonly nominalV?: number;
}

/** What an array can give, open loop, one value a step. */
export interface ArrayColumns {
  /** at the array's terminals at maximum power, after temperature, low light, dirt, mismatch, age and part shade [W]; 0 at night */
  readonly availableW: Float64Array;
  /** at that point, whole strings [V]; 0 at night. An MPPT works only while this is above battery voltage + startMarginV */
  readonly voltageV: Float64Array;
  readonly cellC: Float64Array;
  /** of an array on a PWM controller only */
  readonly currentAtV?: CurrentAtVoltage;
}
