import { finish, finishInSlices, type Task } from '../../math/index.js';
import { ConfigError, type Rig, requireSound } from '../../rig/index.js';
import { type Run, underTask } from '../../simulate/index.js';
import { batteryRows } from '../parts/battery-rows.js';
import { calibrateCapacity } from '../parts/calibrate-capacity.js';
import { coveredDays, type Training, trainingTask } from '../parts/calibrate-training.js';
import {
  type CalibrateOptions,
  type Calibration,
  FIT_NAMES,
  type Findings,
  type FitName,
  isFound,
  isUntold,
} from '../parts/calibrate-types.js';
import { type FitErrors, fitErrors } from '../replay/fit-errors.js';
import { type Log, type Replay, type ReplayOptions, replayTask, requireLog } from '../replay/replay.js';
import { stepDays } from '../replay/step-days.js';
import { calibrateLoads } from './calibrate-loads.js';
import { calibrateResistance } from './calibrate-resistance.js';
import { calibrateSolar } from './calibrate-solar.js';

const CHECK_SHARE = 1 / 3;
const MAX_CHECK = 0.8;
/** Days with rows that a fit and its check need at least. */
const MIN_DAYS = 6;
const MIN_TRAINED = 4;
/** A counter that takes so much more or less than the rig's capacity for 100 % is set wrong. */
const WRONG_COUNTER = 0.1;
/** An error that grows by more than this is told. */
const WORSE = 1.1;

/**
 * Makes a rig its owner's own: fits what the log can tell of it, with intervals, leaves what it cannot tell as it is and says why.
 * How far such a fit can be trusted is shown by one of the first days alone, held against the days that it did not see. No
 * randomness: the same log gives the same rig.
 * @throws ConfigError when the log covers fewer than six days or is that of another voltage, or log, trip and weather file do
 * not overlap
 * @example
 * ```ts
 * import { calibrate, fittedRigText, readLogTable, readRig } from '@stayput/core';
 *
 * function mine(rigText: string, logText: string): string {
 *   const { rig } = readRig(rigText);
 *   const log = readLogTable(logText, { at: { latDeg: 40.1, lonDeg: 18.4 } });
 *   const calibration = calibrate(rig, log, { where: { at: '40.1,18.4' } });
 *   for (const { name, value, low, high, unit } of calibration.fitted) console.log(name, value, low, high, unit);
 *   return fittedRigText(rigText, calibration.fitted);
 * }
 * console.log(typeof mine); // → function
 * ```
 */
export function calibrate(rig: Rig, log: Log, options: CalibrateOptions = {}): Calibration {
  return finish(calibrateTask(rig, log, options), options.signal);
}

/**
 * The same in slices, between which the event loop turns: a page stays alive meanwhile, and an abort is heard.
 * @throws the reason of `options.signal` once that is aborted, beside what `calibrate` throws
 */
export async function calibrateAsync(rig: Rig, log: Log, options: CalibrateOptions = {}): Promise<Calibration> {
  return finishInSlices(calibrateTask(rig, log, options), options.signal);
}

function* calibrateTask(rig: Rig, log: Log, options: CalibrateOptions): Task<Calibration> {
  requireSound('calibrate', 'rig', rig);
  requireLog('calibrate', log);
  const { fit: wanted = fitsOf(rig), checkShare = CHECK_SHARE, onProgress = () => {}, ...replaying } = options;
  if (!(checkShare >= 0 && checkShare <= MAX_CHECK))
    throw new RangeError(`checkShare must be from 0 to ${MAX_CHECK}, got ${checkShare}`);
  refuseOtherVoltage(rig, log);
  const replay = yield* replayTask(rig, log, replaying);
  onProgress(0.2);
  const { dates, trainDays, covered } = splitDays(replay, checkShare);
  const training = yield* trainingTask(rig, log, replay, dates.length);
  onProgress(0.4);
  yield;
  const found = yield* findingsOf(training, wanted);
  onProgress(0.6);
  const withAll = ({ fitted }: Findings) => fitted.reduce((one, { applyTo }) => applyTo(one), rig);
  const fittedRig = withAll(found);
  // the same fit by the first days alone, held against the rest
  const early =
    trainDays < dates.length ? yield* findingsOf(yield* trainingTask(rig, log, replay, trainDays), wanted) : found;
  onProgress(0.8);
  const daysIn = (from: number, to: number) => covered.subarray(from, to).reduce((sum, one) => sum + one, 0);
  const checkFrom = dates[trainDays];
  const checked =
    checkFrom === undefined ? undefined : yield* checkOf(rig, withAll(early), log, replaying, replay, checkFrom);
  return {
    fitted: found.fitted.map(({ applyTo: _, ...value }) => value),
    untold: found.untold,
    notes: [...found.notes, ...(checked ? worseSince(checked) : [])],
    rig: fittedRig,
    trained: { from: dates[0]!, to: dates.at(-1)!, days: daysIn(0, dates.length) },
    ...(checkFrom !== undefined && {
      checked: { from: checkFrom, to: dates.at(-1)!, days: daysIn(trainDays, dates.length) },
    }),
    before: checked?.before ?? {},
    after: checked?.after ?? {},
    sources: replay.sources,
  };
}

/** A log of another system than the rig's tells nothing of it. */
function refuseOtherVoltage({ battery }: Rig, { reading }: Log): void {
  const { nominalV } = reading.picture;
  const ratio = nominalV === undefined ? 1 : (battery.nominalV * battery.series) / nominalV;
  if (ratio > 0.7 && ratio < 1.4) return;
  throw new ConfigError([
    {
      code: 'log_other_voltage',
      path: 'battery.nominal',
      message: `the log is that of a ${nominalV} V battery, and the rig has ${battery.nominalV * battery.series} V`,
      hint: 'is it the log of this rig? else set nominal: or series: of its battery',
    },
  ]);
}

/** What there is to fit of a rig. */
function fitsOf({ solar, loads, inverter }: Rig): FitName[] {
  const hasFridge = loads.some(({ kind, starterSide }) => kind === 'fridge' && !starterSide);
  const isThere = {
    solar: solar.length > 0,
    shade: solar.length > 0,
    fridge: hasFridge,
    inverter: inverter !== undefined,
  };
  return FIT_NAMES.filter((name) => ({ 'always-on': true, resistance: true, capacity: true, ...isThere })[name]);
}

/** How many days, from the first, the fit sees: so that the share to be checked is one of days that the log covers. */
function splitDays(replay: Replay, checkShare: number): { dates: string[]; trainDays: number; covered: Uint8Array } {
  const dates = replay.conditions.itinerary.days.map(({ date }) => date);
  const covered = coveredDays(replay, stepDays(replay.conditions));
  const count = covered.reduce((sum, one) => sum + one, 0);
  if (count < MIN_DAYS)
    throw new ConfigError([
      {
        code: 'log_too_short',
        path: '',
        message: `the log covers ${count} ${count === 1 ? 'day' : 'days'} of those asked for, and a fit with its check needs ${MIN_DAYS}`,
        hint: 'two weeks or more tell most',
      },
    ]);
  const wanted = Math.max(MIN_TRAINED, Math.round((1 - checkShare) * count));
  let [trainDays, seen] = [0, 0];
  while (seen < wanted && trainDays < dates.length) seen += covered[trainDays++]!;
  return { dates, trainDays, covered };
}

function* findingsOf(training: Training, wanted: readonly FitName[]): Task<Findings> {
  const has = (fit: FitName) => wanted.includes(fit);
  const loads = yield* calibrateLoads(training, wanted);
  yield;
  const solar = calibrateSolar(training, { solar: has('solar'), shade: has('shade') });
  yield;
  const battery =
    has('resistance') || has('capacity') ? batteryFindings(training, has) : { fitted: [], untold: [], notes: [] };
  return {
    fitted: [...solar.fitted, ...loads.fitted, ...battery.fitted],
    untold: [...solar.untold, ...loads.untold, ...battery.untold],
    notes: [...solar.notes, ...loads.notes, ...battery.notes],
  };
}

function batteryFindings(training: Training, has: (fit: FitName) => boolean): Findings {
  const { rig, assembled, range } = training;
  const rows = batteryRows({ ...training, log: training.replay.log }, assembled.batteryC);
  const resistance = calibrateResistance(rig.battery, rows, range);
  const battery = isFound(resistance) ? { ...rig.battery, resistanceOhm: resistance.value / 1000 } : rig.battery;
  const capacity = calibrateCapacity(battery, rows, range);
  const all = [...(has('resistance') ? [resistance] : []), ...(has('capacity') ? [capacity] : [])];
  return { fitted: all.filter(isFound), untold: all.filter(isUntold), notes: [] };
}

/** What agrees less well on the days kept back than before the fit, said plainly. */
function worseSince({ before, after }: { before: FitErrors; after: FitErrors }): string[] {
  const names = {
    socRmse: 'state of charge',
    voltageRmse: 'voltage',
    harvestBias: 'harvest',
    loadBias: 'loads',
  } as const;
  const keys = Object.keys(names) as (keyof typeof names)[];
  const worse = keys.filter((key) => Math.abs(after[key] ?? 0) > WORSE * Math.abs(before[key] ?? Infinity));
  if (worse.length === 0) return [];
  const list = worse.map((key) => names[key]).join(', ');
  return [
    `On the days kept back the fitted rig agrees less well than the rig as written in: ${list}. Something changed between the two parts of the log (season, habits, an empty battery), or the model's form does not carry over: look at stayput compare before you rely on it.`,
  ];
}

/** Both rigs over the days that were kept back, from the state of charge that the log has there. */
function* checkOf(
  rig: Rig,
  fittedRig: Rig,
  log: Log,
  options: ReplayOptions,
  { to }: Replay,
  from: string,
): Task<{ before: FitErrors; after: FitErrors }> {
  const { conditions, steps, startSoc, evidence } = yield* replayTask(rig, log, { ...options, from, to });
  const runs: Run[] = [];
  for (const one of [rig, fittedRig]) runs.push(yield* underTask(one, conditions, startSoc));
  const [before, after] = runs.map((run) => fitErrors(steps, run));
  return isCounterWrong(rig, log, evidence)
    ? { before: withoutSoc(before!), after: withoutSoc(after!) }
    : { before: before!, after: after! };
}

/** A counter that is set wrong, or fed with a wrong zero, measures no fit. */
function isCounterWrong({ battery }: Rig, { reading }: Log, { zero }: Replay['evidence']): boolean {
  const { counterAh } = reading;
  const bankAh = battery.capacityAh * battery.count;
  return zero?.isWrong === true || (counterAh !== undefined && Math.abs(counterAh / bankAh - 1) > WRONG_COUNTER);
}

const withoutSoc = ({ socRmse: _, ...errors }: FitErrors): FitErrors => errors;
