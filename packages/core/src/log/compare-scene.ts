import type { Rig } from '../rig/index.js';
import { type Assembled, assemble, type Run, runOf } from '../simulate/index.js';
import { freeSteps } from './free-steps.js';
import type { LogSteps } from './log-steps.js';
import type { Log, Replay } from './replay.js';
import { stepDays } from './step-days.js';

/** What findings are drawn from: the log and the model of the same days on one grid. */
export interface Scene {
  readonly rig: Rig;
  readonly log: Log;
  readonly replay: Replay;
  readonly steps: LogSteps;
  readonly run: Run;
  readonly assembled: Assembled;
  /** 1 where nothing but sun and panel held the harvest back */
  readonly free: Uint8Array;
  /** at the arrays' terminals, open loop [W] */
  readonly availableW: Float64Array;
  /** of it, what the controllers can take at the battery's usual voltage [W] */
  readonly offeredW: Float64Array;
  /** day of the run, from 0 */
  readonly dayOf: Int32Array;
  readonly dates: readonly string[];
}

export function sceneOf(rig: Rig, log: Log, replay: Replay): Scene {
  const { conditions, steps, startSoc } = replay;
  const { itinerary } = conditions;
  const assembled = assemble(rig, conditions, startSoc);
  const run = runOf(assembled);
  const { availableW, offeredW } = offerOf(assembled, run);
  const dates = itinerary.days.map(({ date }) => date);
  return {
    rig,
    log,
    replay,
    steps,
    run,
    assembled,
    free: freeSteps(rig, steps),
    availableW,
    offeredW,
    dayOf: stepDays(conditions),
    dates,
  };
}

/** What the arrays offer of the light, and of it what their controllers can take. */
export function offerOf({ rig, solar, input }: Assembled, run: Run): Pick<Scene, 'availableW' | 'offeredW'> {
  const availableW = run.trace.pvAvailableW;
  const nominalV = (rig.battery.nominalV * rig.battery.series * 13.3) / 12;
  const offeredW = new Float64Array(input.steps);
  for (const { array, columns, converter } of solar) {
    const mostW = converter ? (array.controller.currentA * nominalV) / array.controller.efficiency : Infinity;
    for (let i = 0; i < offeredW.length; i++) offeredW[i] = offeredW[i]! + Math.min(columns.availableW[i]!, mostW);
  }
  return {
    availableW,
    offeredW: offeredW.map((watts, i) => Math.min(watts, availableW[i]!)),
  };
}
