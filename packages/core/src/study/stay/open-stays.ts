import { finishInSlices, percentile, type Task, type TaskOptions } from '../../math/index.js';
import { middleVehicle, type Rig, requireSound } from '../../rig/index.js';
import { type Conditions, type Memo, partMemo } from '../../simulate/index.js';
import type { EndCause } from '../run/outcome.js';
import { requireStop, type StudyStop, weatherCases } from '../run/weather-cases.js';
import { assembledOnce, darkRun, run, STEP_H, startsIn, stayAsked, stayTaskUnder } from './stay.js';
import { lengthsOf, sharesOf } from './stay-sums.js';
import type { StayLengths, StayOptions, StayStudy } from './stay-types.js';

/** Of a month the lengths alone: the same figures as in `StayMonth`, without what would change them. */
export interface StayGlance extends StayLengths {
  /** 1 = January */
  readonly month: number;
  /** how many stays were followed */
  readonly stays: number;
  /** share of them without an end within the horizon, 0..1 */
  readonly outlasts: number;
  /** autonomy with no charging at all; the median [days] */
  readonly darkDays: number;
  /** of the stays that end, the share by what ends them */
  readonly endedBy: Readonly<Partial<Record<EndCause, number>>>;
  /** weather years that were looked at */
  readonly weatherYears: number;
}

/** What a glance may be given instead of what the stays were opened with. */
export interface GlanceOptions extends TaskOptions {
  /** the first so many of the weather years; all unless given */
  readonly years?: number;
}

/** Stays of any number of rigs at one place. */
export interface Stays {
  /** What `stayStudy` gives. @throws the signal's reason once it is aborted, beside what `stayStudy` throws */
  studyAsync(rig: Rig, options?: TaskOptions & Pick<StayOptions, 'onProgress' | 'months'>): Promise<StayStudy>;
  /**
   * How long stays last that begin in one month, and nothing else: a few milliseconds a weather year for a rig of which a part changed.
   * Over all weather years they are the figures of `studyAsync`, unless that makes more years of a month which those leave open.
   */
  glanceAsync(rig: Rig, month: number, options?: GlanceOptions): Promise<StayGlance>;
}

/** Cabins, or months of the owner's own, whose weather is kept at once. */
const SCENES_KEPT = 2;
/** Columns kept for the next rig: of the last few in the first weather year, which estimates look at, of the last in the others. */
const [FIRST_KEPT, OTHERS_KEPT] = [4, 1];

/**
 * Follows stays of any number of rigs at one place: its weather years are worked out once, and are kept. For what changes while a
 * slider is dragged.
 * @param stop as for `stayStudy`
 * @param options as for `stayStudy`; `months` are those of `studyAsync`
 * @throws TypeError, RangeError or ConfigError for what `stayStudy` would refuse
 * @example
 * ```ts
 * import { readRig } from '@stayput/core';
 * import { openStays } from '@stayput/core/model';
 *
 * const text = `
 * battery: { chemistry: LFP, capacity: 100 Ah }
 * solar: [{ power: 175 W, mount: bonded }]
 * loads: [{ name: fridge, kind: fridge, volume: 45 L, setpoint: 4 degC }]
 * `;
 * const stays = openStays({ place: 'Porto' }, { years: 2 });
 * for (const ah of [50, 100, 200]) {
 *   const { rig } = readRig(text, { set: { 'battery.capacity': `${ah} Ah` } });
 *   const { parkedDaysP10 } = await stays.glanceAsync(rig, 10);
 *   console.log(ah, parkedDaysP10.toFixed(1));
 * }
 * ```
 */
export function openStays(stop: StudyStop, options: StayOptions = {}): Stays {
  requireStop('openStays', stop);
  const { fromSoc, endAt, horizonDays } = stayAsked(options);
  const scenes = partMemo(SCENES_KEPT);
  const sceneOf = (rig: Rig) => scenes('scene', [rig.cabin, rig.months], () => new KeptWeather(rig, stop, options));

  function* glanceTask(written: Rig, month: number, { years }: GlanceOptions): Task<StayGlance> {
    if (!(Number.isInteger(month) && month >= 1 && month <= 12))
      throw new RangeError(`glanceAsync: month must be 1 to 12, got ${month}`);
    const rig = middleVehicle(written);
    const scene = sceneOf(rig);
    const count = Math.min(years ?? scene.count, scene.count);
    if (!(Number.isInteger(count) && count >= 1))
      throw new RangeError(`glanceAsync: years must be a whole number from 1, got ${years}`);
    const [days, causes, dark]: [number[], number[], number[]] = [[], [], []];
    for (let year = 0; year < count; year++) {
      const conditions = yield* scene.conditionsTask(year);
      const starts = startsIn(conditions.itinerary.days, [month]);
      const how = { starts, startSoc: fromSoc, endAt, horizonDays };
      const once = yield* assembledOnce(rig, conditions, scene.memo(year));
      const parked = yield* run(once, how);
      days.push(...parked.days);
      causes.push(...parked.cause);
      dark.push(...(yield* darkRun(once, how)).days);
    }
    return {
      month,
      stays: days.length,
      outlasts: causes.filter((cause) => cause < 0).length / causes.length,
      darkDays: percentile(dark, 0.5),
      ...lengthsOf(days, horizonDays),
      endedBy: sharesOf(causes),
      weatherYears: count,
    };
  }

  return {
    studyAsync: async (rig, { signal, ...more } = {}) => {
      requireSound('studyAsync', 'rig', rig);
      return finishInSlices(stayTaskUnder(rig, { ...options, ...more }, sceneOf(rig)), signal);
    },
    glanceAsync: async (rig, month, { signal, ...more } = {}) => {
      requireSound('glanceAsync', 'rig', rig);
      return finishInSlices(glanceTask(rig, month, more), signal);
    },
  };
}

/** The weather years of one place, and of one kind of cabin. */
class KeptWeather {
  readonly count: number;
  private readonly cases;
  private readonly kept = new Map<number, Conditions>();
  private readonly memos = new Map<number, Memo>();

  constructor(rig: Rig, stop: StudyStop, options: StayOptions) {
    this.cases = weatherCases(rig, stop, { stepH: STEP_H, ...options });
    this.count = this.cases.count;
  }

  *conditionsTask(year: number): Task<Conditions> {
    const known = this.kept.get(year) ?? (yield* this.cases.conditionsTask(year));
    this.kept.set(year, known);
    return known;
  }

  /** what follows from a year's weather, kept from rig to rig */
  memo(year: number): Memo {
    const known = this.memos.get(year) ?? partMemo(year === 0 ? FIRST_KEPT : OTHERS_KEPT);
    this.memos.set(year, known);
    return known;
  }
}
