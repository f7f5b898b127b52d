import { wear } from '../../battery/index.js';
import type { Assembled } from '../inputs/assemble.js';
import type { LoopOutput } from '../loop/loop.js';
import type { RunWear, Summary } from '../types.js';
import { FULL_SOC } from './summarise.js';

/** What the run cost the battery. */
export function wearOfRun({ rig, batteryC, input }: Assembled, out: LoopOutput, summary: Summary): RunWear {
  const { cycleShare, calendarShare, yearsTo80 } = wear(out.soc, input.stepH, batteryC, rig.battery.chemistry);
  return {
    equivalentFullCycles: summary.equivalentCycles,
    cycleShare,
    calendarShare,
    yearsTo80,
    longestWithoutFullH: longestWithoutFullH(out.soc, input.stepH),
  };
}

function longestWithoutFullH(soc: Float64Array, stepH: number): number {
  let longest = 0;
  let steps = 0;
  for (let i = 0; i < soc.length; i++) {
    steps = soc[i]! >= FULL_SOC ? 0 : steps + 1;
    if (steps > longest) longest = steps;
  }
  return longest * stepH;
}
