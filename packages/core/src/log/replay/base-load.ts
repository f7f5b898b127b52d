import { percentile } from '../../math/index.js';
import type { Assembled, Run } from '../../simulate/index.js';

/** The quietest steps of the nights: loads that come and go are off in them. */
const QUIET_SHARE = 0.1;

/**
 * What a rig as written draws day and night, to be held against the quiet draw of a log's nights: everything on the bus but the
 * fridges' compressors, in the quietest of the night steps [A].
 * @param isNight 1 where neither sun nor engine charges
 */
export function baseLoadA({ input }: Assembled, { trace }: Run, isNight: Uint8Array): number {
  const drawn: number[] = [];
  for (let i = 0; i < isNight.length; i++)
    if (isNight[i] === 1)
      drawn.push(input.plainA[i]! + (input.plainW[i]! + input.unswitchedW[i]!) / trace.batteryV[i]!);
  return drawn.length > 0 ? percentile(drawn, QUIET_SHARE) : 0;
}
