import { dcdcInputA } from '../../charge/index.js';
import { type ConverterCoefficients, harvestFromOutputW } from '../../solar/index.js';
import type { EngineLane } from '../inputs/assemble-chargers.js';
import type { SolarLane } from '../inputs/assemble-solar.js';

// What sun and engine gave for what their chargers put out in a step: the ledger of a run and the sums of a study alike.

/** What an array gives at its terminals for what its MPPT puts out [W]. */
export function mpptHarvestW(
  { columns, maxOutputW, cableOhm }: SolarLane,
  converter: ConverterCoefficients,
  step: number,
  outputW: number,
): number {
  if (!(outputW > 0)) return 0;
  const availableW = columns.availableW[step]!;
  if (outputW >= maxOutputW[step]! * (1 - 1e-12)) return availableW;
  return Math.min(availableW, harvestFromOutputW(outputW, columns.voltageV[step]!, cableOhm, converter));
}

/** What the alternator gives at its terminals for what its charger, DC-DC or relay, puts out [W]. */
export function engineInputW(
  { charger, share, terminalV, inputOhm }: EngineLane,
  step: number,
  outputW: number,
): number {
  if (!(outputW > 0)) return 0;
  if (charger.kind === 'relay') return outputW;
  // While it runs it gives this, with the loss of that current; then the step's mean.
  const runA = dcdcInputA(outputW / share[step]!, charger.efficiency, terminalV[step]!, inputOhm);
  return terminalV[step]! * runA * share[step]!;
}
