import type { PanelTechnology } from '../rig/index.js';
import type { DiodeCurve } from './single-diode.js';

/** Boltzmann's constant over the elementary charge [V/K]: 8.617333e-5, exact by the SI of 2019, here to 10 digits. */
export const THERMAL_VOLT_PER_K = 8.617333262e-5;
/** Standard test conditions: 1000 W/m², cell at 25 °C. Source: IEC 60904-3. */
export const STC_WM2 = 1000;
export const STC_C = 25;
const ZERO_C_K = 273.15;
const STC_K = STC_C + ZERO_C_K;

/** A module's five parameters at standard test conditions and what carries them to other conditions. */
export interface ModuleParameters extends DiodeCurve {
  /** in series */
  readonly cells: number;
  /** of short-circuit current [A/K] */
  readonly iscTempAPerK: number;
  /** of silicon or of the absorber, at 25 °C [eV], and its relative change [1/K] */
  readonly bandGapEv: number;
  readonly bandGapPerK: number;
}

/** Band gap at 25 °C and its relative temperature coefficient, for the diode's saturation current. */
export const BAND_GAP: Readonly<Record<PanelTechnology, { readonly ev: number; readonly perK: number }>> = {
  /** Silicon: De Soto, Klein & Beckman 2006, eq. 10. */
  mono: { ev: 1.121, perK: -0.0002677 },
  poly: { ev: 1.121, perK: -0.0002677 },
  /** Copper indium gallium selenide at a usual gallium share; from memory. */
  'thin film': { ev: 1.15, perK: -0.0001 },
};

/** Current that the light frees [A]: De Soto 2006, eq. 11, without the air-mass modifier. */
export function photoA(module: ModuleParameters, irradianceWm2: number, cellC: number): number {
  return (irradianceWm2 / STC_WM2) * (module.photoA + module.iscTempAPerK * (cellC - STC_C));
}

/**
 * The curve at other conditions:  a ∝ T,  Iph = G/G0 · (Iph0 + µ·(T − T0)),  Rsh ∝ 1/G,  Rs constant,
 *   I0 = I00 · (T/T0)³ · exp((Eg0/T0 − Eg/T) / k).
 * Source: De Soto, Klein & Beckman, Solar Energy 80, 2006, p. 78, eq. 8 to 13; the air-mass modifier is left out.
 * @param irradianceWm2 that reaches the cells, ≥ 0 [W/m²]
 */
export function curveAt(module: ModuleParameters, irradianceWm2: number, cellC: number): DiodeCurve {
  const kelvin = cellC + ZERO_C_K;
  const ratio = kelvin / STC_K;
  const sun = irradianceWm2 / STC_WM2;
  const gapEv = module.bandGapEv * (1 + module.bandGapPerK * (cellC - STC_C));
  const exponent = module.bandGapEv / (THERMAL_VOLT_PER_K * STC_K) - gapEv / (THERMAL_VOLT_PER_K * kelvin);
  return {
    aV: module.aV * ratio,
    photoA: photoA(module, irradianceWm2, cellC),
    saturationA: module.saturationA * ratio ** 3 * Math.exp(exponent),
    seriesOhm: module.seriesOhm,
    shuntOhm: module.shuntOhm / sun,
  };
}
