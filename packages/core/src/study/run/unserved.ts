import type { LoopOutput } from '../../simulate/index.js';
import type { OpenLoop } from './open-loop.js';

/** Less of a step than this is rounding. */
const ROUNDING = 1e-9;

/**
 * Share of a step in which some load that asks for power does not get all of it: cut off, beyond the inverter's rating, or
 * a fridge or a heavy load by its own cut-out. Of several at once the longest counts.
 * @param socAskedW asked by loads that look at the state of charge [W]
 * @param row       of the output, where the step stands
 */
export function unservedShare(
  { asks, fallsShort, holdW, heavyAskedW }: Pick<OpenLoop, 'asks' | 'fallsShort' | 'holdW' | 'heavyAskedW'>,
  { rows, onShare, fridgeOnShare, heavyOnShare }: LoopOutput,
  socAskedW: number,
  step: number,
  row: number,
): number {
  let share = asks[step]! > 0 || socAskedW > 0 ? 1 - onShare[row]! * (1 - fallsShort[step]!) : 0;
  for (let k = 0, at = row; k < holdW.length; k++, at += rows) {
    const offShare = 1 - fridgeOnShare[at]!;
    if (offShare > share && holdW[k]![step]! !== 0) share = offShare;
  }
  for (let k = 0, at = row; k < heavyAskedW.length; k++, at += rows) {
    const offShare = 1 - heavyOnShare[at]!;
    if (offShare > share && heavyAskedW[k]![step]! > 0) share = offShare;
  }
  return share > ROUNDING ? share : 0;
}
