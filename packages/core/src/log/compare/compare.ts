import { finish, finishInSlices, HOUR_MS, meanOfPresent, type Task, type TaskOptions } from '../../math/index.js';
import { type Rig, requireSound } from '../../rig/index.js';
import { judgeTask } from '../judge/judge.js';
import { compareContextTask } from '../parts/compare-context.js';
import { fitErrors } from '../replay/fit-errors.js';
import { type Log, type ReplayOptions, replayTask, requireLog } from '../replay/replay.js';
import type { Comparison } from './compare-types.js';
import { panelShare, untold } from './panel-share.js';
import { byDay, byHour } from './side-by-side.js';

/** Where and over which days a log is compared, and how its caller hears and stops that. */
export interface CompareOptions extends ReplayOptions, TaskOptions {
  /** called with the share that is done, 0..1 */
  readonly onProgress?: (done: number) => void;
}

/**
 * Holds a rig's model against the log of the same days: the model runs once from the log's first state of charge, under the
 * light and air that were there, and is not set right afterwards. Findings come from the log itself against what the model
 * offers or asks in the same moment, each with its own test; where the log cannot tell, nothing is found and `untold` says why.
 * @throws ConfigError when log, trip and weather file do not overlap, or nothing says where it was
 */
export function compareLog(rig: Rig, log: Log, options: CompareOptions = {}): Comparison {
  return finish(compareTask(rig, log, options), options.signal);
}

/**
 * The same in slices, between which the event loop turns: a page stays alive meanwhile, and an abort is heard.
 * @throws the reason of `options.signal` once that is aborted, beside what `compareLog` throws
 */
export async function compareLogAsync(rig: Rig, log: Log, options: CompareOptions = {}): Promise<Comparison> {
  return finishInSlices(compareTask(rig, log, options), options.signal);
}

function* compareTask(rig: Rig, log: Log, options: CompareOptions): Task<Comparison> {
  requireSound('compareLog', 'rig', rig);
  requireLog('compareLog', log);
  const { onProgress = () => {} } = options;
  const replay = yield* replayTask(rig, log, options);
  onProgress(0.3);
  const scene = yield* compareContextTask(rig, log, replay);
  onProgress(0.7);
  yield;
  const { steps, run } = scene;
  const judged = yield* judgeTask(scene);
  const panel = panelShare(scene, judged);
  yield;
  const difference = (model: Float64Array, measured: Float64Array) =>
    meanOfPresent(model.map((value, i) => value - measured[i]!));
  const [socBias, voltageBias] = [difference(run.trace.soc, steps.soc), difference(run.trace.batteryV, steps.voltageV)];
  const [hours, daily] = [byHour(scene), byDay(scene)];
  yield;
  return {
    from: replay.from,
    to: replay.to,
    days: replay.days,
    cover: steps.cover.reduce((sum, share) => sum + Math.min(1, share), 0) / steps.cover.length,
    light: replay.light,
    sources: replay.sources,
    startSoc: replay.startSoc,
    startSocBy: replay.startSocBy,
    fit: {
      ...fitErrors(steps, run),
      ...(!Number.isNaN(socBias) && { socBias }),
      ...(!Number.isNaN(voltageBias) && { voltageBias }),
    },
    hours,
    daily,
    ...(panel && { panel }),
    findings: judged.findings,
    rows: replay.evidence,
    untold: untold(scene, judged),
    traces: {
      days: replay.conditions.itinerary.days,
      timeMs: Float64Array.from(
        { length: replay.conditions.grid.steps },
        (_, i) => replay.conditions.grid.startMs + i * replay.conditions.grid.stepH * HOUR_MS,
      ),
      logSoc: steps.soc,
      modelSoc: run.trace.soc,
      logHarvestW: steps.harvestW,
      modelHarvestW: run.trace.pvHarvestW,
    },
  };
}
