import { storedWh } from '../battery/index.js';
import type { Assembled } from './assemble.js';
import type { LoopOutput } from './loop.js';
import type { BatteryUse } from './types.js';

/** What the battery could give above its floor, what went through it and what that cost. */
export function batteryUseOf({ rig, model, batteryC, input }: Assembled, out: LoopOutput): BatteryUse {
  const { steps, stepH, emptySoc } = input;
  let coldestC = Infinity;
  let warmestC = -Infinity;
  let outOfReach = 0;
  let chargedWh = 0;
  let dischargedWh = 0;
  let lossWh = 0;
  for (let i = 0; i < steps; i++) {
    if (batteryC[i]! < coldestC) coldestC = batteryC[i]!;
    if (batteryC[i]! > warmestC) warmestC = batteryC[i]!;
    if (emptySoc[i]! > outOfReach) outOfReach = emptySoc[i]!;
    const wh = out.batteryA[i]! * out.batteryV[i]! * stepH;
    if (wh > 0) chargedWh += wh;
    else dischargedWh -= wh;
    lossWh += out.batteryLossW[i]! * stepH;
  }
  const least = Math.max(rig.battery.floor, outOfReach);
  return {
    capacityAh: model.capacityAh,
    usableAh: model.capacityAh * (1 - least),
    usableWh: storedWh(model, 1) - storedWh(model, least),
    coldestC,
    warmestC,
    outOfReach,
    chargedWh,
    dischargedWh,
    lossWh,
  };
}
