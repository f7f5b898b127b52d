import type { MainsCharger } from '../rig/index.js';

/** A mains charger, per step. As with the alternator, the limit holds while it is on; the share turns it into a mean. */
export interface MainsColumns {
  /** largest output current while connected; 0 when not [A] */
  readonly availableA: Float64Array;
  /** share of the step on mains, 0..1 */
  readonly onShare: Float64Array;
}

/**
 * A mains charger on the grid of a run: its rated current in every step in which it is plugged in.
 * @param onShare share of each step on mains, 0..1
 */
export function mainsColumns(mains: MainsCharger, onShare: Float64Array): MainsColumns {
  return { availableA: onShare.map((share) => (share > 0 ? mains.currentA : 0)), onShare };
}

/** Power from the socket for a power at the charger's output [W]. */
export function mainsInputW(mains: MainsCharger, outputW: number): number {
  return outputW / mains.efficiency;
}
