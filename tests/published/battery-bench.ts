/** A battery on the bench by itself, through the step loop: a charger of any current, which no management system or maker limits. */
import { assemble, type LoopInput, loopOutput, loopState } from '../../packages/core/src/simulate/index.js';
import { runLoop } from '../../packages/core/src/simulate/loop/loop.js';
import { bank, conditionsOf, rigOf } from './bench.js';

export interface Charging {
  readonly chemistry: string;
  readonly currentA: number;
  readonly limitV: number;
  readonly fromSoc: number;
  readonly airC?: number;
  readonly hours?: number;
  readonly stepH?: number;
  /** of the bank; 100 Ah unless said */
  readonly capacityAh?: number;
}

/** What was measured, a value a step: at the end of it, and means over it. */
export interface Charged {
  readonly stepH: number;
  readonly soc: Float64Array;
  readonly amps: Float64Array;
  readonly volts: Float64Array;
}

/** Constant current, then constant voltage at the terminals for good. */
export function charged(test: Charging): Charged {
  const { chemistry, currentA, limitV, fromSoc, airC = 25, hours = 48, stepH = 1 / 60, capacityAh = 100 } = test;
  const rig = rigOf(`${bank(chemistry).replace('100 Ah', `${capacityAh} Ah`)}
mains: { current: ${currentA} A, charge: { absorption: ${limitV} V, float: ${limitV} V, perDegree: 0 mV/K } }`);
  const { input } = assemble(rig, conditionsOf({ days: Math.ceil(hours / 24), stepH, airC, mains: 1 }), fromSoc);
  const own: LoopInput = { ...input, chargeLimitA: new Float64Array(input.steps).fill(1e6), mainOhm: 0 };
  const out = loopOutput(own.steps, own);
  runLoop(own, out, loopState(own));
  return { stepH, soc: out.soc, amps: out.batteryA, volts: out.batteryV };
}

/** Hours until `isReached` at the end of a step; without end if it never is. */
export function hoursTo({ stepH, soc }: Charged, isReached: (step: number) => boolean): number {
  const step = soc.findIndex((_, i) => isReached(i));
  return step < 0 ? Infinity : (step + 1) * stepH;
}
