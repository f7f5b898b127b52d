import type { Task } from '../../math/index.js';
import type { Rig } from '../../rig/index.js';
import { type Assembled, assembleTask, type Run, runTask } from '../../simulate/index.js';
import { type Clipping, clippingOf } from '../replay/clipping.js';
import type { HarvestSide } from '../replay/harvest-side.js';
import type { LogSteps } from '../replay/log-steps.js';
import type { Log, Replay } from '../replay/replay.js';
import { stepDays } from '../replay/step-days.js';

/** What findings are drawn from: the log and the model of the same days on one grid. */
export interface CompareContext {
  readonly rig: Rig;
  readonly log: Log;
  readonly replay: Replay;
  readonly steps: LogSteps;
  readonly run: Run;
  readonly assembled: Assembled;
  /** 1 where nothing but sun and panel held the harvest back */
  readonly free: Uint8Array;
  /** what caps the harvest, if something does */
  readonly top?: Clipping;
  /** 1 where harvest and offer may be held against each other: free, not held back, below the cap */
  readonly comparable: Uint8Array;
  /** at the arrays' terminals, open loop [W] */
  readonly availableW: Float64Array;
  /** of it, what the controllers can take at the battery's usual voltage [W] */
  readonly offeredW: Float64Array;
  /** the same on the side of the controller where the harvest is measured [W] */
  readonly expectedW: Float64Array;
  /** day of the run, from 0 */
  readonly dayOf: Int32Array;
  readonly dates: readonly string[];
}

/** @param days how many days, from the beginning, are judged; all unless given */
export function* compareContextTask(rig: Rig, log: Log, replay: Replay, days = Infinity): Task<CompareContext> {
  const { conditions, steps, startSoc } = replay;
  const { itinerary } = conditions;
  const assembled = yield* assembleTask(rig, conditions, startSoc);
  const run = yield* runTask(assembled);
  const { availableW, offeredW } = offerOf(assembled, run);
  const dayOf = stepDays(conditions);
  const seen = seenSteps(steps, dayOf, days);
  const expectedW = expectedAt(replay.evidence.side, assembled, offeredW);
  const free = replay.stages.free.map((one, i) => (dayOf[i]! < days ? one : 0));
  const top = clippingOf(seen, free, availableW, dayOf);
  const comparable = top ? free.map((one, i) => (one === 1 && offeredW[i]! * top.ratio < top.topW ? 1 : 0)) : free;
  const dates = itinerary.days.map(({ date }) => date);
  return {
    rig,
    log,
    replay,
    steps,
    run,
    assembled,
    free,
    ...(top && { top }),
    comparable,
    availableW,
    offeredW,
    expectedW,
    dayOf,
    dates,
  };
}

/** What should be measured of an offer: before the controller, after it by its own efficiency at that power, or between the two. */
function expectedAt({ side }: HarvestSide, { solar, rig }: Assembled, offeredW: Float64Array): Float64Array {
  if (side === 'panel') return offeredW;
  const usualV = chargingV(rig);
  const outputW = new Float64Array(offeredW.length);
  for (const { array, columns, converter, maxOutputW } of solar) {
    const maxW = array.controller.currentA * usualV;
    // A tracker that by the rig's voltages never runs, and yet is measured: nothing is known of what it takes.
    const isKnown = converter !== undefined && maxOutputW.some((watts) => watts > 0);
    for (let i = 0; i < outputW.length; i++)
      outputW[i] = outputW[i]! + (isKnown ? Math.min(maxOutputW[i]!, maxW) : columns.availableW[i]!);
  }
  return side === 'battery' ? outputW : outputW.map((watts, i) => (watts + offeredW[i]!) / 2);
}

/** The same log as if it ended with a day: what is judged of it and its panel must not come from later. */
function seenSteps(steps: LogSteps, dayOf: Int32Array, days: number): LogSteps {
  if (days === Infinity) return steps;
  const until = (column: Float64Array) => column.map((value, i) => (dayOf[i]! < days ? value : Number.NaN));
  const { voltageV, soc, harvestW, batteryC } = steps;
  return { ...steps, voltageV: until(voltageV), soc: until(soc), harvestW: until(harvestW), batteryC: until(batteryC) };
}

/** Usual voltage of a battery that is being charged. Common practice, no source [V]. */
export const chargingV = ({ battery }: Rig) => (battery.nominalV * battery.series * 13.3) / 12;

/** What the arrays offer of the light, and of it what their controllers can take. */
export function offerOf({ rig, solar, input }: Assembled, run: Run): Pick<CompareContext, 'availableW' | 'offeredW'> {
  const availableW = run.trace.pvAvailableW;
  const usualV = chargingV(rig);
  const offeredW = new Float64Array(input.steps);
  for (const { array, columns, converter } of solar) {
    const maxW = converter ? (array.controller.currentA * usualV) / array.controller.efficiency : Infinity;
    for (let i = 0; i < offeredW.length; i++) offeredW[i] = offeredW[i]! + Math.min(columns.availableW[i]!, maxW);
  }
  return {
    availableW,
    offeredW: offeredW.map((watts, i) => Math.min(watts, availableW[i]!)),
  };
}
