import type { Rig } from '../../rig/index.js';
import type { LogSteps } from './log-steps.js';

/** Above this the battery may hold the charge back; a day's harvest says nothing more until it has fallen below again. */
const FREE_BELOW_SOC = 0.9;
/** Without a state of charge: so far below the absorption voltage, per 12 V. Common practice, no source. */
const FREE_BELOW_ABSORPTION_V = 0.25;

/**
 * 1 where nothing but sun and panel held the harvest back, as far as the log shows: the state of charge stood below 90 %, or
 * without one the voltage well below absorption, and not since the battery was last full.
 */
export function uncurtailedSteps(rig: Rig, { voltageV, soc }: LogSteps): Uint8Array {
  const { charge, nominalV, series } = rig.battery;
  const lowV = charge.absorptionV - (FREE_BELOW_ABSORPTION_V * nominalV * series) / 12;
  const free = new Uint8Array(voltageV.length);
  const hasSoc = soc.some((value) => !Number.isNaN(value));
  const hasVoltage = voltageV.some((value) => !Number.isNaN(value));
  for (let i = 0; i < free.length; i++) {
    const isLow = !hasVoltage || voltageV[i]! < lowV;
    const isFree = hasSoc ? soc[i]! < FREE_BELOW_SOC && isLow : hasVoltage && isLow;
    free[i] = isFree ? 1 : 0;
  }
  return free;
}
