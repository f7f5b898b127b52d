import { HOUR_MS } from '../../math/index.js';
import { itineraryFor } from '../../place/index.js';
import { middleVehicle, type Rig, requireSound, type ScheduledLoad, withoutTrip } from '../../rig/index.js';
import {
  assemble,
  CHARGE_LIMITS,
  type ChargeLimit,
  type Conditions,
  FLOOR_TOLERANCE,
  loopOutput,
  loopState,
  type Run,
  runSteps,
} from '../../simulate/index.js';
import { engineMinutesADay } from './engine-a-day.js';

/** From what to what, and in which air. */
export interface RecoverOptions {
  /** 0..1 */
  readonly fromSoc: number;
  /** above fromSoc, 0..1 */
  readonly toSoc: number;
  /** outside air [°C] */
  readonly ambientC: number;
  /** the cabin's, for a battery that stands in it; as outside unless given [°C] */
  readonly cabinC?: number;
  /** on the road, or idling at the camp; driving unless given */
  readonly engine?: 'driving' | 'idling';
  /** mean draw of the loads meanwhile; none unless given [W] */
  readonly loadsW?: number;
}

/** How long the engine takes. */
export interface Recovery {
  /** with the engine running without pause; Infinity when it is not reached within two days [min] */
  readonly minutes: number;
  /** what held the charge back for most of that time */
  readonly limit: ChargeLimit;
}

/** The longest time that is looked at: who runs an engine for two days has another problem. */
const MAX_DAYS = 2;
const STEP_H = 1 / 60;
const STEPS_A_PART = 60;
/** Anywhere will do, as neither sun nor clock changes matter. */
const ANYWHERE = { at: { latDeg: 0, lonDeg: 20 }, from: '2026-03-10', days: MAX_DAYS };

/**
 * How long the engine must run to bring the battery from one state of charge to another: the run's own loop, without
 * sun and mains, minute by minute and straight within the last.
 * Accuracy: that of the alternator's shares of its rating, 20 % and more.
 * @returns undefined without an alternator
 * @throws RangeError unless 0 <= fromSoc < toSoc <= 1, −70 <= ambientC <= 60, −70 <= cabinC <= 90 and loadsW >= 0
 */
export function engineMinutesToRecover(rig: Rig, options: RecoverOptions): Recovery | undefined {
  const { fromSoc, toSoc, ambientC, cabinC = ambientC, engine = 'driving', loadsW = 0 } = options;
  if (!(fromSoc >= 0 && fromSoc < toSoc && toSoc <= 1))
    throw new RangeError(`0 <= fromSoc < toSoc <= 1 is needed, got ${fromSoc} and ${toSoc}`);
  if (!(ambientC >= -70 && ambientC <= 60)) throw new RangeError(`ambientC must be -70 to 60, got ${ambientC}`);
  if (!(cabinC >= -70 && cabinC <= 90)) throw new RangeError(`cabinC must be -70 to 90, got ${cabinC}`);
  if (!(loadsW >= 0 && loadsW < Infinity)) throw new RangeError(`loadsW must be 0 or more, got ${loadsW}`);
  const { solar: _, mains: __, inverter: ___, alternator, ...rest } = rig;
  if (!alternator) return undefined;
  const charging: Rig = {
    ...rest,
    solar: [],
    alternator: engine === 'idling' ? { ...alternator, hotShare: alternator.idleShare } : alternator,
    loads: loadsW > 0 ? [steadyLoad(loadsW)] : [],
  };
  const assembled = assemble(charging, engineOn(ambientC, cabinC), fromSoc);
  const { input } = assembled;
  const out = loopOutput(input.steps, input);
  const state = loopState(input);
  const { soc, limit } = out;
  let reached = -1;
  // In parts, so that nothing is followed beyond the end that is looked for.
  for (let from = 0; from < input.steps && reached < 0; from += STEPS_A_PART) {
    const to = Math.min(input.steps, from + STEPS_A_PART);
    runSteps(assembled, out, state, from, to);
    const found = soc.subarray(from, to).findIndex((value) => value >= toSoc);
    if (found >= 0) reached = from + found;
  }
  const end = reached < 0 ? soc.length : reached + 1;
  const before = reached > 0 ? soc[reached - 1]! : fromSoc;
  const minutes = reached < 0 ? Infinity : 60 * STEP_H * (reached + (toSoc - before) / (soc[reached]! - before));
  return { minutes, limit: longest(limit.subarray(0, end)) };
}

/** What the engine would have had to do after the lowest point of a run. */
export interface RunRecovery {
  readonly fromSoc: number;
  readonly toSoc: number;
  readonly ambientC: number;
  readonly cabinC: number;
  /** the loads draw meanwhile what they drew in the mean of the run [W] */
  readonly loadsW: number;
  readonly driving: Recovery;
  readonly idling: Recovery;
  /** what every morning would have taken, see `engineMinutesADay`; absent for runs longer than a month [min] */
  readonly minutesADay?: number;
}

/** Longer runs are not run again and again [days]. */
const MAX_DAYS_AGAIN = 31;

/**
 * From the lowest point of a run back to the floor, at the mean air of its worst day, outside and in the cabin.
 * @returns undefined when it was never below the floor, or the rig has no alternator
 */
export function recoveryOf(written: Rig, run: Run): RunRecovery | undefined {
  requireSound('recoveryOf', 'rig', written);
  const rig = middleVehicle(written);
  const { summary, daily, charging } = run;
  const { floor } = rig.battery;
  if (!(summary.lowestSoc < floor - FLOOR_TOLERANCE)) return undefined;
  const day = daily.find((row) => row.date === charging.worstDay.date)!;
  const options = {
    fromSoc: summary.lowestSoc,
    toSoc: floor,
    ambientC: day.ambientMeanC,
    cabinC: cabinMeanC(run, day.date),
    loadsW: summary.loadWh / (24 * summary.days),
  };
  const driving = engineMinutesToRecover(rig, options);
  const idling = engineMinutesToRecover(rig, { ...options, engine: 'idling' });
  if (!driving || !idling) return undefined;
  const isShort = summary.days <= MAX_DAYS_AGAIN;
  return { ...options, driving, idling, ...(isShort && { minutesADay: engineMinutesADay(rig, run) }) };
}

/** Mean of the cabin's air on a civil day of a run [°C]. */
function cabinMeanC({ trace: { grid, cabinC }, days }: Run, date: string): number {
  const day = days.find((one) => one.date === date)!;
  const stepMs = grid.stepH * HOUR_MS;
  const ofDay = cabinC.subarray(
    Math.max(0, Math.round((day.startMs - grid.startMs) / stepMs)),
    Math.round((day.endMs - grid.startMs) / stepMs),
  );
  return ofDay.reduce((sum, c) => sum + c, 0) / ofDay.length;
}

function steadyLoad(powerW: number): ScheduledLoad {
  return {
    kind: 'scheduled',
    name: 'loads',
    draw: { kind: 'power', powerW },
    when: [],
    everyDays: 1,
    share: 1,
    inverter: false,
    critical: false,
    starterSide: false,
  };
}

/** Night, one temperature, the engine on all the time. */
function engineOn(ambientC: number, airC: number): Conditions {
  const trip = withoutTrip(ANYWHERE);
  const stops = trip.stops.map((stop) => ({ ...stop, driveH: 24 * MAX_DAYS, driveFromH: 0 }));
  const itinerary = itineraryFor({ ...trip, stops }, STEP_H);
  const { grid } = itinerary;
  const column = (value = 0) => new Float64Array(grid.steps).fill(value);
  return {
    itinerary,
    grid,
    sun: { cosZenith: column(-1), azimuthDeg: column(), extraNormalWm2: column() },
    weather: {
      ghiWm2: column(),
      dniWm2: column(),
      dhiWm2: column(),
      ambientC: column(ambientC),
      windMs: column(),
    },
    cabinC: column(airC),
    notes: [],
  };
}

function longest(limit: Float64Array): ChargeLimit {
  const steps = CHARGE_LIMITS.map((_, k) => limit.reduce((sum, value) => sum + (value === k ? 1 : 0), 0));
  return CHARGE_LIMITS[steps.indexOf(Math.max(...steps))]!;
}
