import { readRig, readTrip } from '@stayput/core';
import { type Assembled, assemble } from '../../../packages/core/src/simulate/inputs/assemble.js';
import { conditionsFor } from '../../../packages/core/src/simulate/inputs/conditions.js';
import { type Ledger, LOSS_PLACES, type LossPlace } from '../../../packages/core/src/simulate/ledger/ledger.js';
import { type LoopOutput, loopOutput } from '../../../packages/core/src/simulate/loop/loop.js';

/** Two stops an hour apart on the clock, so the first day has 23 h; the year's clocks do not change meanwhile. */
export const TWO_DAYS = `
name: invented
startSoc: 50 %
weather: dull
stops:
  - { name: west, at: [41.1, -8.6], zone: Europe/Lisbon, from: 2026-06-10, nights: 1 }
  - { name: east, at: [42.9, -8.5], zone: Europe/Madrid, nights: 1 }
`;

/**
 * A rig laid out for its trip in steps of half an hour, and the columns that the loop would fill: a test writes into them
 * what it is about, so that what is made of them can be said beforehand. Loads are on, the rest is 0.
 */
export function byHand(rigText: string, tripText = TWO_DAYS, stepH = 0.5): { assembled: Assembled; out: LoopOutput } {
  const { rig } = readRig(rigText);
  const { trip } = readTrip(tripText);
  const assembled = assemble(rig, conditionsFor(rig, trip, { stepH }), trip.startSoc);
  const { steps, startSoc } = assembled.input;
  const out = loopOutput(steps, assembled.input);
  out.onShare.fill(1);
  out.alwaysShare.fill(1);
  out.heavyOnShare.fill(1);
  out.soc.fill(startSoc);
  return { assembled, out };
}

/** A ledger in which nothing flows. */
export function emptyLedger(steps: number): Ledger & { readonly loads: Ledger['loads'][number][] } {
  const column = () => new Float64Array(steps);
  return {
    pvAvailableW: column(),
    pvHarvestW: column(),
    alternatorW: column(),
    mainsW: column(),
    lossW: Object.fromEntries(LOSS_PLACES.map((place) => [place, column()])) as Record<LossPlace, Float64Array>,
    loads: [],
    storedChangeWh: column(),
  };
}
