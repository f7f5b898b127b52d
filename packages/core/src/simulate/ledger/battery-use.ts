import { capacityFactor, storedWh } from '../../battery/index.js';
import type { Assembled } from '../inputs/assemble.js';
import type { LoopOutput } from '../loop/loop.js';
import type { BatteryUse } from '../types.js';
import type { Ledger } from './ledger.js';

/** What the battery could give above its floor, what went through it and what that cost. */
export function batteryUseOf(
  { rig, model, batteryC, input }: Assembled,
  out: LoopOutput,
  { storedChangeWh }: Ledger,
): BatteryUse {
  const { steps, stepH } = input;
  let coldestC = Infinity;
  let warmestC = -Infinity;
  let chargedWh = 0;
  let dischargedWh = 0;
  let lossWh = 0;
  const { batteryLossW } = out;
  for (let i = 0; i < steps; i++) {
    const cellC = batteryC[i]!;
    if (cellC < coldestC) coldestC = cellC;
    if (cellC > warmestC) warmestC = cellC;
    const lostWh = batteryLossW[i]! * stepH;
    const terminalWh = storedChangeWh[i]! + lostWh; // mean current times mean voltage would not be, of a step that was split
    if (terminalWh > 0) chargedWh += terminalWh;
    else dischargedWh -= terminalWh;
    lossWh += lostWh;
  }
  const outOfReach = steps > 0 ? Math.max(0, 1 - capacityFactor(rig.battery.chemistry, coldestC)) : 0;
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
