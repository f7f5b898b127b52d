import { itineraryFor } from '../place/index.js';
import { type Rig, withoutTrip } from '../rig/index.js';
import { CHARGE_LIMITS, type ChargeLimit, type Conditions, simulateUnder } from '../simulate/index.js';

export interface RecoverOptions {
  /** 0..1 */
  readonly fromSoc: number;
  /** above fromSoc, 0..1 */
  readonly toSoc: number;
  /** outside air; the cabin is taken as warm [°C] */
  readonly ambientC: number;
  /** on the road, or idling at the camp; driving unless given */
  readonly engine?: 'driving' | 'idling';
  /** whether the rig's loads draw meanwhile, by their timetable from 10:00 on; off unless given */
  readonly loads?: 'on' | 'off';
}

export interface Recovery {
  /** with the engine running without pause; Infinity when it is not reached within two days [min] */
  readonly minutes: number;
  /** what held the charge back for most of that time, and at its end */
  readonly limit: ChargeLimit;
  readonly limitAtEnd: ChargeLimit;
}

/** The longest time that is looked at: who runs an engine for two days has another problem. */
const MOST_DAYS = 2;
const STEP_H = 1 / 60;
const START_H = 10;

/**
 * How long the engine must run to bring the battery from one state of charge to another: the run's own loop, without
 * sun and mains, by the minute and straight between minutes.
 * Accuracy: within what the alternator's shares are known, 20 % and more; a cold battery is taken at the air's
 * temperature from the beginning.
 * @returns undefined without an alternator
 * @throws RangeError unless 0 <= fromSoc < toSoc <= 1 and ambientC is a temperature on Earth
 */
export function engineMinutesToRecover(rig: Rig, options: RecoverOptions): Recovery | undefined {
  const { fromSoc, toSoc, ambientC, engine = 'driving', loads = 'off' } = options;
  if (!(fromSoc >= 0 && fromSoc < toSoc && toSoc <= 1))
    throw new RangeError(`0 <= fromSoc < toSoc <= 1 is needed, got ${fromSoc} and ${toSoc}`);
  if (!(ambientC >= -70 && ambientC <= 60)) throw new RangeError(`ambientC must be -70 to 60, got ${ambientC}`);
  const { alternator } = rig;
  if (!alternator) return undefined;
  const { solar, mains, inverter, ...kept } = rig;
  const charging: Rig = {
    ...kept,
    solar: [],
    alternator: engine === 'idling' ? { ...alternator, hotShare: alternator.idleShare } : alternator,
    ...(loads === 'on' && inverter && { inverter }),
    loads: loads === 'on' ? rig.loads : [],
  };
  const { trace } = simulateUnder(charging, engineOn(ambientC), fromSoc);
  const { soc, limit } = trace;
  const first = Math.round(START_H / STEP_H);
  // Until the engine starts nothing draws; what the battery loses by itself in ten hours is made good here.
  const reached = soc.findIndex((value, i) => i >= first && value >= toSoc);
  const end = reached < 0 ? soc.length : reached + 1;
  const before = reached > first ? soc[reached - 1]! : fromSoc;
  const part = reached < 0 ? 0 : (toSoc - before) / (soc[reached]! - before);
  return {
    minutes: reached < 0 ? Infinity : (reached - first + part) * STEP_H * 60,
    limit: most(limit.subarray(first, end)),
    limitAtEnd: CHARGE_LIMITS[limit[end - 1]!]!,
  };
}
