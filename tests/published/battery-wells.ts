/** The step loop with two wells of a check's own constants, on a battery without a knee in its voltage. */
import { assemble, type LoopInput, loopOutput, loopState } from '../../packages/core/src/simulate/index.js';
import { runLoop } from '../../packages/core/src/simulate/loop/loop.js';
import { NOW_HEAD } from '../../packages/core/src/simulate/loop/loop-rows.js';
import { conditionsOf, rigOf } from './bench.js';

export interface Wells {
  readonly qmaxAh: number;
  /** at rest, both wells together [Ah] */
  readonly startAh: number;
  readonly c: number;
  readonly kPerH: number;
  /** into the battery [A] */
  readonly currentA: number;
  readonly hours: number;
  readonly stepH?: number;
}

/** @returns charge in the available well at the end [Ah], hours until the loads went off */
export function wellsRun({ qmaxAh, startAh, c, kPerH, currentA, hours, stepH = 1 / 60 }: Wells) {
  const rig = rigOf(`
battery: { chemistry: LFP, capacity: ${qmaxAh} Ah, selfDischarge: 0 %, disconnect: 0 %, reconnect: 99 %, maxCharge: 1000 A, maxDischarge: 1000 A }
${currentA > 0 ? `mains: { current: ${currentA} A, charge: { absorption: 14.6 V } }` : ''}
loads: [{ name: draw, current: ${Math.max(0, -currentA)} A }]`);
  const days = Math.ceil(hours / 24);
  const { input } = assemble(rig, conditionsOf({ days, stepH, mains: 1 }), startAh / qmaxAh);
  const own: LoopInput = {
    ...input,
    wellShare: new Float64Array(input.steps).fill(c),
    wellPerH: new Float64Array(input.steps).fill(kPerH),
    wellReserveAh: 0,
    lowestV: 0,
    chargeEfficiency: new Float64Array(input.points).fill(1),
  };
  const steps = Math.round(hours / stepH);
  const out = loopOutput(own.steps, own);
  const state = loopState(own);
  runLoop(own, out, state, 0, steps);
  let onH = 0;
  for (let i = 0; i < steps; i++) {
    onH += out.onShare[i]! * stepH;
    if (out.onShare[i]! < 1) break;
  }
  return { availableAh: state.now[NOW_HEAD]! * c * qmaxAh, onH };
}
