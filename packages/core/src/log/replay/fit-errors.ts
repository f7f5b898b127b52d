import type { Run } from '../../simulate/index.js';
import type { LogSteps } from './log-steps.js';

/** How far a run is from the log of the same days; absent = the log does not have it. */
export interface FitErrors {
  /** root mean square of the difference of the states of charge, 0..1 */
  readonly socRmse?: number;
  /** root mean square of the difference of the battery's voltages [V] */
  readonly voltageRmse?: number;
  /** modelled over measured energy from the panels, less 1 */
  readonly harvestBias?: number;
  /** the same of the loads: the log's load column, else what leaves the battery at night */
  readonly loadBias?: number;
}

/** Sun and engine give no more than this at night [W]. */
const DARK_W = 1;

/** A run held against the log on the same grid, each quantity over the steps in which it was measured. */
export function fitErrors(steps: LogSteps, run: Run): FitErrors {
  const { trace } = run;
  const { logW, modelW } = comparedLoads(steps, run);
  const errors = {
    socRmse: rootMeanSquare(steps.soc, trace.soc),
    voltageRmse: rootMeanSquare(steps.voltageV, trace.batteryV),
    harvestBias: bias(steps.harvestW, trace.pvHarvestW),
    loadBias: bias(logW, modelW),
  };
  return Object.fromEntries(Object.entries(errors).filter(([, value]) => Number.isFinite(value)));
}

/** Loads of log and model in the steps in which they can be compared, else NaN [W]: the load column, or the night's draw. */
export function comparedLoads(steps: LogSteps, { trace }: Run): { logW: Float64Array; modelW: Float64Array } {
  if (steps.loadW.some((watts) => !Number.isNaN(watts))) return { logW: steps.loadW, modelW: trace.loadW };
  const isNight = nightSteps(steps, trace.pvAvailableW);
  return {
    logW: steps.batteryW.map((watts, i) => (isNight[i] === 1 ? -watts : Number.NaN)),
    modelW: trace.batteryV.map((volts, i) => -volts * trace.batteryA[i]!),
  };
}

/**
 * 1 where neither sun nor engine charges, by the log where it shows it and by the light, and the battery's power is known.
 * @param availableW at the arrays' terminals, by the model
 */
export function nightSteps(
  { harvestW, alternatorW, batteryW }: Pick<LogSteps, 'harvestW' | 'alternatorW' | 'batteryW'>,
  availableW: Float64Array,
): Uint8Array {
  return Uint8Array.from(availableW, (watts, i) => {
    const isDark = watts < DARK_W / 2 && !(harvestW[i]! > DARK_W) && !(alternatorW[i]! > DARK_W);
    return isDark && batteryW[i]! < 0 ? 1 : 0;
  });
}

function rootMeanSquare(log: Float64Array, model: Float64Array): number {
  let [squares, count] = [0, 0];
  for (let i = 0; i < log.length; i++) {
    const difference = model[i]! - log[i]!;
    if (Number.isNaN(difference)) continue;
    squares += difference * difference;
    count++;
  }
  return count > 0 ? Math.sqrt(squares / count) : Number.NaN;
}

function bias(logW: Float64Array, modelW: Float64Array): number {
  let [measured, modelled] = [0, 0];
  for (let i = 0; i < logW.length; i++) {
    if (Number.isNaN(logW[i]!)) continue;
    measured += logW[i]!;
    modelled += modelW[i]!;
  }
  return measured > 0 ? modelled / measured - 1 : Number.NaN;
}
