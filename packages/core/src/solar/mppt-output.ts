import type { SolarController } from '../rig/index.js';
import { type ConverterCoefficients, converterCoefficients, inputFromOutputW, outputFromInputW } from './controller.js';
import type { ArrayColumns } from './types.js';

/**
 * Loss terms of an MPPT of a current rating on a battery of a nominal voltage. Its rating in watts is taken at 14 V for
 * each 12 V. The controller's `standbyW` flows day and night and is a load of its own, so it is not in p0.
 */
export function mpptConverter(controller: SolarController, nominalV: number): ConverterCoefficients {
  return converterCoefficients({
    efficiency: controller.efficiency,
    ratingW: (controller.currentA * 14 * nominalV) / 12,
  });
}

/**
 * What reaches the end of a cable of loop resistance R when a source at voltage V feeds P into it:  P − (P/V)²·R,
 * up to the most that the cable can carry, V²/(4·R).
 * @param voltageV > 0 where powerW > 0 [V]
 */
export function inputFromArrayW(powerW: number, voltageV: number, cableOhm: number): number {
  if (!(powerW > 0)) return 0;
  const currentA = powerW / voltageV;
  if (2 * currentA * cableOhm > voltageV) return (voltageV * voltageV) / (4 * cableOhm);
  return powerW - currentA * currentA * cableOhm;
}

/**
 * What the array must give so that `inputW` reaches the end of the cable: P − (P/V)²·R = P_in solved for P, the smaller
 * root. Held at V²/(2·R), where the cable carries its most. Inverse of `inputFromArrayW`.
 * A curtailed array works between Vmp and Voc; V is held at Vmp, which overstates the small cable loss.
 */
export function arrayPowerForInputW(inputW: number, voltageV: number, cableOhm: number): number {
  if (!(inputW > 0)) return 0;
  const root = 1 - (4 * cableOhm * inputW) / (voltageV * voltageV);
  return (2 * inputW) / (1 + Math.sqrt(Math.max(root, 0)));
}

/** Power the array must give for an output of its controller [W]; 0 when nothing is asked of it. */
export function harvestFromOutputW(
  outputW: number,
  voltageV: number,
  cableOhm: number,
  converter: ConverterCoefficients,
): number {
  return outputW > 0 ? arrayPowerForInputW(inputFromOutputW(converter, outputW), voltageV, cableOhm) : 0;
}

/**
 * Output of an MPPT in each step with the array at maximum power [W]: cable loss taken off, then the converter's.
 * The step loop lowers it to the current limit (currentA · battery voltage) and to what the battery takes, and to
 * nothing while `voltageV` is not above battery voltage + startMarginV; `harvestFromOutputW` then gives what was harvested.
 */
export function mpptMaxOutputW(
  columns: ArrayColumns,
  cableOhm: number,
  converter: ConverterCoefficients,
): Float64Array {
  const { availableW, voltageV } = columns;
  const maxOutputW = new Float64Array(availableW.length);
  for (let i = 0; i < maxOutputW.length; i++) {
    const powerW = availableW[i]!;
    if (powerW > 0) maxOutputW[i] = outputFromInputW(converter, inputFromArrayW(powerW, voltageV[i]!, cableOhm));
  }
  return maxOutputW;
}
