import { type ChangePoint, changePoint, percentile, type Task } from '../../math/index.js';
import type { Rig } from '../../rig/index.js';
import { nightSteps } from '../replay/fit-errors.js';
import type { Log, Replay } from '../replay/replay.js';
import { coverByDay } from '../replay/step-days.js';
import { type CompareContext, compareContextTask } from './compare-context.js';
import { listedDraw } from './listed.js';
import { type Night, nightsOf } from './nights.js';

/** A coarser log mixes what is quiet with what comes and goes [h]. */
export const QUIET_STEP_H = 0.2501;
/** A day counts as covered when the log accounts for this share of it. */
const MIN_COVER = 0.3;

/** A scene of which some days are there to learn from. */
export interface Training extends CompareContext {
  readonly conditions: Replay['conditions'];
  readonly light: Replay['light'];
  readonly hasHarvest: boolean;
  /** 1 in the steps of the days that the fit sees */
  readonly isTrain: Uint8Array;
  /** the same for what draws: the days since its last step */
  readonly isLoadTrain: Uint8Array;
  readonly isNight: Uint8Array;
  /** whether rows are close enough for quiet hours to show */
  readonly isFine: boolean;
  /** quiet draw of each of those nights, as logged */
  readonly nights: readonly { readonly date: string; readonly alwaysOnA: number }[];
  /** the nights with all that is seen in them */
  readonly nightsOwn: readonly Night[];
  readonly drawStep?: ChangePoint;
  /** first and last moment of the training, UTC [ms] */
  readonly fromMs: number;
  readonly toMs: number;
  /** days of the training, in words */
  readonly range: string;
  /** usual voltage of the battery when it is not charged [V] */
  readonly busV: number;
}

/** @param days how many days of the replay, from its beginning, the fit may see */
export function* trainingTask(rig: Rig, log: Log, replay: Replay, days: number): Task<Training> {
  const scene = yield* compareContextTask(rig, log, replay, days);
  const { steps, dates, dayOf, availableW } = scene;
  const listed = yield* listedDraw(scene);
  const nightsOwn = nightsOf(scene, listed).filter(({ day }) => day < days);
  const nights = nightsOwn.flatMap(({ date, floorA, cutShare }) =>
    !Number.isNaN(floorA) && cutShare === 0 ? [{ date, alwaysOnA: floorA }] : [],
  );
  const isFine = log.reading.time.stepH <= QUIET_STEP_H;
  const step = isFine ? changePoint(nights, ({ alwaysOnA }) => alwaysOnA) : undefined;
  const isNight = nightSteps({ ...steps, batteryW: steps.batteryA }, availableW);
  const trains = (from: string) => Uint8Array.from(dayOf, (day) => (day < days && dates[day]! >= from ? 1 : 0));
  const nightV = Array.from(steps.voltageV).filter((volts, i) => isNight[i] === 1 && !Number.isNaN(volts));
  const { itinerary, grid } = replay.conditions;
  return {
    ...scene,
    conditions: replay.conditions,
    light: replay.light,
    hasHarvest: steps.harvestW.some((watts) => !Number.isNaN(watts)),
    isTrain: trains(''),
    isLoadTrain: trains(step?.date ?? ''),
    isNight,
    isFine,
    nightsOwn,
    nights: isFine ? nights.filter(({ date }) => date >= (step?.date ?? '')) : [],
    ...(step && { drawStep: step }),
    fromMs: grid.startMs,
    toMs: itinerary.days[days - 1]!.endMs,
    range: `${dates[0]} to ${dates[days - 1]}`,
    busV: nightV.length > 0 ? percentile(nightV, 0.5) : (rig.battery.nominalV * rig.battery.series * 13) / 12,
  };
}

/** Which days of a replay the log covers, 1 = yes. */
export function coveredDays(
  { steps, conditions }: Pick<Replay, 'steps' | 'conditions'>,
  dayOf: Int32Array,
): Uint8Array {
  const cover = coverByDay(steps.cover, dayOf, conditions.itinerary.days.length);
  return Uint8Array.from(cover, (share) => (share >= MIN_COVER ? 1 : 0));
}
