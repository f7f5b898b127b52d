import { finish, finishInSlices, type Task, type TaskOptions } from '../../math/index.js';
import { InternalError, middleVehicle, type Rig, requireSound, type Trip } from '../../rig/index.js';
import { type Assembled, assembleTask } from '../inputs/assemble.js';
import { type ConditionOptions, cabinAir, conditionsTask, requireConditions } from '../inputs/conditions.js';
import { batteryUseOf } from '../ledger/battery-use.js';
import { type Ledger, ledgerTask } from '../ledger/ledger.js';
import { CURRENT_TOLERANCE_A, type LoopOutput, loopOutput, loopState } from '../loop/loop.js';
import { warmUp } from '../loop/warm-up.js';
import { chargeReportOf } from '../report/charge-report.js';
import { fridgeReportsOf } from '../report/fridge-report.js';
import { dailyOf, loadRowsOf, shownSoc, summaryOf } from '../report/summarise.js';
import { troublesOf } from '../report/troubles.js';
import { warningsOf } from '../report/warnings.js';
import { wearOfRun } from '../report/wear-of-run.js';
import type { Conditions, Run, Trace } from '../types.js';
import { runSteps } from './run-steps.js';

/**
 * The ledger must close to this share of what went through, and to what the loop may leave unsolved of each step's current;
 * above it the run is a fault of ours.
 */
const LEDGER_TOLERANCE = 1e-6;
/** Steps followed between two pauses, and the share of a run that following takes, roughly. */
const STEPS_A_PAUSE = 20 * 144;
const LOOP_SHARE = 0.7;
/** No bank of nominal 12 V stands higher [V]. Common practice, no source. */
const HIGHEST_V = 16;

/** On which grid and in which weather a rig is followed, and how its caller hears and stops that. */
export interface SimulateOptions extends ConditionOptions, TaskOptions {
  /** called with the share that is done, 0..1 */
  readonly onProgress?: (done: number) => void;
}

/**
 * Follows a rig through a trip: of one with an ensemble the vehicle in its middle (`spreadOf` gives the spread).
 * @throws ConfigError when rig, trip and weather do not fit together
 * @throws InternalError when the ledger does not close
 * @example
 * ```ts
 * import { readRig, simulate, withoutTrip } from '@stayput/core';
 *
 * const { rig } = readRig(`
 * battery: { chemistry: LFP, capacity: 100 Ah }
 * solar: [{ power: 175 W, mount: bonded }]
 * loads: [{ name: fridge, kind: fridge, volume: 45 L, setpoint: 4 degC }]
 * `);
 * const trip = withoutTrip({ place: 'Porto', from: '2026-10-03', days: 7 });
 * const { summary, daily, trace } = simulate(rig, trip, { seed: 1 });
 * console.log(summary.hoursOff, daily.map((day) => Math.round(day.pvHarvestWh)));
 * // Columns of the trace hold a value a step: here the battery's voltage at noon UTC of the first day, or near it.
 * console.log(trace.batteryV[Math.round(12 / trace.grid.stepH)]);
 * ```
 */
export function simulate(rig: Rig, trip: Trip, options: SimulateOptions = {}): Run {
  return finish(simulateTask(rig, trip, options), options.signal);
}

/**
 * The same in slices, between which the event loop turns: a page stays alive meanwhile, and an abort is heard.
 * @throws the reason of `options.signal` once that is aborted, beside what `simulate` throws
 */
export async function simulateAsync(rig: Rig, trip: Trip, options: SimulateOptions = {}): Promise<Run> {
  return finishInSlices(simulateTask(rig, trip, options), options.signal);
}

function* simulateTask(rig: Rig, trip: Trip, options: SimulateOptions): Task<Run> {
  requireSound('simulate', 'rig', rig);
  requireSound('simulate', 'trip', trip);
  const conditions = yield* conditionsTask(rig, trip, options);
  const run = yield* underTask(rig, conditions, trip.startSoc, options.onProgress);
  options.onProgress?.(1);
  return run;
}

/** A cabin that is cut off from its heater draws otherwise, and is cut off at other times: so often it is looked at again. */
const MAX_PASSES = 4;

/**
 * The same under conditions computed before, which variants of a rig can share. Where the cabin's heater needs power, its air is
 * worked out again for the times when loads were off.
 */
export function simulateUnder(rig: Rig, conditions: Conditions, startSoc: number): Run {
  requireSound('simulateUnder', 'rig', rig);
  requireConditions('simulateUnder', conditions);
  if (!(startSoc >= 0 && startSoc <= 1))
    throw new RangeError(`simulateUnder: startSoc must be 0 to 1, got ${startSoc}`);
  return finish(underTask(rig, conditions, startSoc));
}

/** The same with pauses, of what is known to be right. */
export function* underTask(
  written: Rig,
  conditions: Conditions,
  startSoc: number,
  onProgress: (done: number) => void = () => {},
): Task<Run> {
  const rig = middleVehicle(written);
  let around = conditions;
  let powered: Float64Array | undefined;
  for (let pass = 1; ; pass++) {
    const assembled = yield* assembleTask(rig, around, startSoc);
    const out = yield* followed(assembled, onProgress);
    if (pass === MAX_PASSES || !isOtherwisePowered(rig, out, powered))
      return { ...(yield* runFrom(assembled, out)), conditions };
    powered = out.onShare;
    around = { ...conditions, cabinC: cabinAir(rig, conditions, powered) };
    yield;
  }
}

function isOtherwisePowered({ cabin }: Rig, { onShare }: LoopOutput, before: Float64Array | undefined): boolean {
  if (cabin.heatedC === undefined || !cabin.heater?.needsPower) return false;
  return onShare.some((share, i) => share !== (before ? before[i] : 1));
}

/** The run of a rig that was assembled before. */
export function runOf(assembled: Assembled): Run {
  return finish(runTask(assembled));
}

/** The same with pauses. */
export function* runTask(assembled: Assembled): Task<Run> {
  return yield* runFrom(assembled, yield* followed(assembled, () => {}));
}

function* followed(assembled: Assembled, onProgress: (done: number) => void): Task<LoopOutput> {
  const { input } = assembled;
  const out = loopOutput(input.steps, input);
  const state = loopState(input);
  warmUp(input, state);
  for (let from = 0; from < input.steps; from += STEPS_A_PAUSE) {
    const to = Math.min(input.steps, from + STEPS_A_PAUSE);
    runSteps(assembled, out, state, from, to);
    onProgress((LOOP_SHARE * to) / input.steps);
    yield;
  }
  return out;
}

function* runFrom(assembled: Assembled, out: LoopOutput): Task<Run> {
  const { conditions, input } = assembled;
  const ledger = yield* ledgerTask(assembled, out);
  yield;
  const daily = dailyOf(assembled, out, ledger);
  yield;
  const summary = summaryOf(assembled, out, ledger, daily);
  const throughputWh =
    summary.pvHarvestWh + summary.alternatorWh + summary.mainsWh + summary.loadWh + Math.abs(summary.storedChangeWh);
  const { nominalV, series } = assembled.rig.battery;
  const unsolvedW = (CURRENT_TOLERANCE_A * HIGHEST_V * nominalV * series) / 12;
  const unsolvedWh = unsolvedW * input.steps * input.stepH;
  if (!(Math.abs(summary.ledgerErrorWh) <= LEDGER_TOLERANCE * throughputWh + unsolvedWh))
    throw new InternalError(`the ledger does not close: ${summary.ledgerErrorWh} Wh of ${throughputWh} Wh`);
  const loads = loadRowsOf(assembled, out, ledger);
  yield;
  const fridges = fridgeReportsOf(assembled, ledger);
  yield;
  const charging = chargeReportOf(assembled, out, ledger, daily);
  yield;
  const battery = batteryUseOf(assembled, out, ledger);
  const wear = wearOfRun(assembled, out, summary);
  yield;
  const troubles = troublesOf(assembled, out, ledger, summary, loads);
  yield;
  const warnings = warningsOf(assembled, out, summary, daily, loads);
  const trace = traceOf(assembled, out, ledger);
  const { days } = conditions.itinerary;
  return { conditions, days, summary, daily, loads, fridges, charging, battery, wear, troubles, warnings, trace };
}

function traceOf(assembled: Assembled, out: LoopOutput, ledger: Ledger): Trace {
  const { conditions, batteryC, solar } = assembled;
  const steps = conditions.grid.steps;
  const loadW = new Float64Array(steps);
  const unservedW = new Float64Array(steps);
  for (const load of ledger.loads)
    for (let i = 0; i < steps; i++) {
      loadW[i] = loadW[i]! + load.servedW[i]!;
      unservedW[i] = unservedW[i]! + load.unservedW[i]!;
    }
  return {
    grid: conditions.grid,
    soc: out.soc.map(shownSoc),
    batteryV: out.batteryV,
    batteryA: out.batteryA,
    batteryC,
    pvAvailableW: ledger.pvAvailableW,
    pvHarvestW: ledger.pvHarvestW,
    alternatorW: ledger.alternatorW,
    mainsW: ledger.mainsW,
    loadW,
    unservedW,
    ambientC: conditions.weather.ambientC,
    cabinC: conditions.cabinC,
    ghiWm2: conditions.weather.ghiWm2,
    poaWm2: solar[0]?.plane.poaWm2 ?? new Float64Array(steps),
    limit: out.limit,
    loads: ledger.loads.map(({ name, servedW, rooms: [first, second] = [] }) => ({
      name,
      servedW,
      ...(first && { insideC: first.insideC }),
      ...(second && { secondInsideC: second.insideC }),
    })),
  };
}
