import { finish, finishInSlices, type Task, type TaskOptions } from '../../math/index.js';
import { type OptionName, type OptionNamed, option } from '../../message/index.js';
import { ConfigError, InternalError, type Rig, readRig, readTrip, type Trip } from '../../rig/index.js';
import { type ConditionOptions, overloads, weatherSeriesOf } from '../../simulate/index.js';
import type { WeatherSeries } from '../../weather/index.js';
import type { Outcome } from '../run/outcome.js';
import { MAX_WEATHER_YEARS, tripYears } from '../run/weather-cases.js';
import { SweepBench } from './sweep-bench.js';
import { answerColumns, answersOf, type SweepColumn } from './sweep-figures.js';
import { planSweep, type SweepPlan } from './sweep-plan.js';

/** A file's text, and its name for messages. */
export interface NamedText {
  readonly text: string;
  readonly file?: string;
}

/** All that a sweep's answers depend on; plain data, so that it can be sent to a worker. */
export interface SweepRequest extends Omit<ConditionOptions, 'year' | 'ownLoads'> {
  readonly rig: NamedText;
  readonly trip: NamedText;
  /** `path=value` for every variant, of the rig or the trip */
  readonly set?: readonly string[];
  /** `path=values`, one a quantity: see `parseVary` */
  readonly vary: readonly string[];
  /** variants to draw of the grid, by `seed`; absent = all */
  readonly sample?: number;
  /** weather years: of the climate 1 unless given; of weather files all that hold the trip's days of the year, or so many at most */
  readonly years?: number;
}

/** One variant's answer. */
export interface SweepRow {
  /** from 1, in the whole sweep */
  readonly variant: number;
  /** of each varied quantity: the number in its unit, or the text as given */
  readonly values: readonly (number | string)[];
  /** in the order of `Sweep.columns`; empty when it failed */
  readonly answers: readonly number[];
  readonly failed?: {
    readonly text: string /** a fault of this program, not of the values */;
    readonly isOurs: boolean;
  };
}

/** All combinations of some values, any of which can be asked for by its number. */
export interface Sweep {
  readonly plan: SweepPlan;
  readonly columns: readonly SweepColumn[];
  readonly years: number;
  /** The rig and the trip of a variant, from 0. @throws ConfigError when its values contradict each other */
  variant(index: number): { readonly rig: Rig; readonly trip: Trip };
  /** The rows of some variants, from 0, `to` not included; always the same, whatever was asked before. */
  rows(from: number, to: number, options?: SweepRowOptions): SweepRow[];
  /** The same in slices, between which the event loop turns. @throws the signal's reason once it is aborted */
  rowsAsync(from: number, to: number, options?: SweepRowOptions): Promise<SweepRow[]>;
}

/** How the caller of a sweep hears and stops it. */
export interface SweepRowOptions extends TaskOptions {
  /** called after each run with the share that is done, 0..1 */
  readonly onProgress?: (done: number) => void;
}

/** A step takes about 400 bytes; a longer run would not fit in an ordinary machine's memory. */
const MAX_STEPS = 1.5e6;
/** Values of a list that are tried before the sweep begins. */
const MAX_TRIED = 100;

/**
 * Makes a sweep ready: every value of a list and both ends of a range are tried in the files, so that a misspelt path or
 * a wrong unit is found before the work. Values that only contradict others fail by row.
 * @param isTried the values were tried before, by whoever sent the request to this worker
 * @throws ConfigError
 */
export function openSweep(request: SweepRequest, isTried = false): Sweep {
  const { years: asked = 1, weatherFile } = request;
  if (!(Number.isInteger(asked) && asked >= 1 && asked <= MAX_WEATHER_YEARS))
    throw new RangeError(`years must be a whole number from 1 to ${MAX_WEATHER_YEARS}, got ${asked}`);
  const plan = planSweep(request.vary, request);
  const read = variantReader(request, plan);
  if (!isTried) tryValues(plan, read);
  const series = weatherFile ? weatherSeriesOf(weatherFile) : [];
  const years = series.length > 0 ? yearsOfFiles(request, plan, read, series) : asked;
  const bench = new SweepBench(request, series);
  return {
    plan,
    years,
    columns: answerColumns(years),
    variant: (index) => read(plan.indexes(index)),
    rows: (from, to, options = {}) => finish(rowsTask({ plan, read, bench, years }, from, to, options), options.signal),
    rowsAsync: async (from, to, options = {}) =>
      finishInSlices(rowsTask({ plan, read, bench, years }, from, to, options), options.signal),
  };
}

/** How many weather years the files hold of the first variant whose values go together; at most as many as asked for. */
function yearsOfFiles(
  { years = MAX_WEATHER_YEARS }: SweepRequest,
  { variants, indexes }: SweepPlan,
  read: Read,
  series: readonly WeatherSeries[],
): number {
  for (let index = 0; index < Math.min(MAX_TRIED, variants); index++)
    try {
      const { trip } = read(indexes(index));
      return trip.weather.kind === 'file' ? Math.min(years, tripYears(trip, series).length) : 1;
    } catch (error) {
      if (!(error instanceof ConfigError)) throw error;
    }
  return 1;
}

interface Variant {
  readonly rig: Rig;
  readonly trip: Trip;
}
type Read = (indexes: readonly number[]) => Variant;

/** Settings of a trip begin with one of its keys; any other path is the rig's. */
export function isTripSetting(setting: string): boolean {
  return /^\s*(stops|startSoc|start|weather)\b/.test(setting);
}

function variantReader({ rig, trip, set = [], years = 1, stepH = 1 / 6 }: SweepRequest, plan: SweepPlan): Read {
  const ofRig = set.filter((setting) => !isTripSetting(setting));
  const ofTrip = set.filter(isTripSetting);
  const varied = plan.varied.map((vary) => ({ vary, isTrip: isTripSetting(vary.path) }));
  const named = (file: string | undefined) => (file === undefined ? {} : { file });
  const variesWeather = plan.varied.some(({ path }) => /^weather\b/.test(path));
  let last: { readonly key: string; readonly trip: Trip } | undefined;
  const tripWith = (settings: readonly string[], loads: readonly string[], arrays: readonly string[]): Trip => {
    const key = JSON.stringify([settings, loads, arrays]);
    if (last?.key !== key) {
      const read = readTrip(trip.text, { ...named(trip.file), set: [...ofTrip, ...settings], loads, arrays });
      last = { key, trip: read.trip };
    }
    return last.trip;
  };
  return (indexes) => {
    const settings = varied.map(({ vary, isTrip }, k) => ({
      isTrip,
      text: `${vary.path}=${vary.textAt(indexes[k]!)}`,
    }));
    const texts = (wanted: boolean) => settings.flatMap(({ isTrip, text }) => (isTrip === wanted ? [text] : []));
    return asVary(plan, () => {
      const read = readRig(rig.text, { ...named(rig.file), set: [...ofRig, ...texts(false)] }).rig;
      const whole = tripWith(
        texts(true),
        read.loads.map(({ name }) => name),
        read.solar.map(({ name }) => name),
      );
      checkTrip(whole, years, stepH, variesWeather);
      return { rig: read, trip: whole };
    });
  };
}

function checkTrip({ weather, stops }: Trip, years: number, stepH: number, variesWeather: boolean): void {
  const refuse = (path: string, message: string, hint: string, of?: OptionName) =>
    new ConfigError([{ code: 'out_of_range', path, message, hint, ...(of && { option: option(of) }) }]);
  if (years > 1 && weather.kind !== 'climate' && weather.kind !== 'file')
    throw refuse(
      'years',
      `the weather is ${weather.kind}, which is one year`,
      'take weather: climate, weather files of several years, or one year',
      'years',
    );
  if (weather.kind === 'file' && variesWeather)
    throw refuse('weather', 'a weather file cannot be varied', 'run one sweep a file');
  const days = stops.reduce((sum, { nights }) => sum + nights, 0);
  if ((days * 24) / stepH > MAX_STEPS)
    throw refuse('', `${days} days are too many for so short a step`, 'take a longer step or fewer days');
}

/** Faults of a varied value name the option that it came from. */
function asVary<T>(plan: SweepPlan, run: () => T): T {
  try {
    return run();
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    const isVaried = ({ name, value = '' }: OptionNamed) =>
      name === 'set' && plan.varied.some(({ path }) => value.startsWith(`${path}=`));
    throw new ConfigError(
      error.issues.map((issue) =>
        issue.option && isVaried(issue.option) ? { ...issue, option: { ...issue.option, name: 'vary' } } : issue,
      ),
    );
  }
}

function tryValues({ varied, variants, indexes }: SweepPlan, read: Read): void {
  const first = varied.map(() => 0);
  const tried = varied.flatMap(({ count }, k) => {
    const places = count <= MAX_TRIED ? Array.from({ length: count }, (_, i) => i) : [0, count - 1];
    return places.map((place) => first.with(k, place));
  });
  for (const places of variants > 0 ? [...tried, indexes(0)] : tried)
    try {
      read(places);
    } catch (error) {
      if (!(error instanceof ConfigError)) throw error;
      const faults = error.issues.filter(({ code }) => code !== 'contradiction');
      if (faults.length > 0) throw new ConfigError(faults);
    }
}

interface Opened {
  readonly plan: SweepPlan;
  readonly read: Read;
  readonly bench: SweepBench;
  readonly years: number;
}

function* rowsTask(
  { plan, read, bench, years }: Opened,
  from: number,
  to: number,
  { onProgress = () => {} }: SweepRowOptions,
): Task<SweepRow[]> {
  const runs: (Attempt<Variant> & Omit<SweepRow, 'answers'> & { readonly outcomes: Outcome[] })[] = [];
  for (let index = from; index < to; index++) {
    const indexes = plan.indexes(index);
    const values = plan.varied.map((vary, k) => vary.cellAt(indexes[k]!));
    runs.push({ variant: index + 1, values, outcomes: [], ...(yield* attempt(readTask(read, indexes))) });
  }
  // Year by year, so that one year's columns serve all of these variants.
  for (let year = 0; year < years; year++)
    for (const [k, run] of runs.entries()) {
      const { made } = run;
      if (!made || run.failed) continue;
      const { made: outcome, failed } = yield* attempt(bench.outcomeTask(made.rig, made.trip, year));
      if (outcome) run.outcomes.push(outcome);
      else run.failed = failed!;
      onProgress((year * runs.length + k + 1) / (years * runs.length));
      yield;
    }
  return runs.map(({ variant, values, made, outcomes, failed }) =>
    failed
      ? { variant, values, answers: [], failed }
      : { variant, values, answers: answersOf(outcomes, overloads(made!.rig).length) },
  );
}

function* readTask(read: Read, indexes: readonly number[]): Task<Variant> {
  yield;
  return read(indexes);
}

interface Attempt<T> {
  readonly made?: T;
  failed?: NonNullable<SweepRow['failed']>;
}

/** What fails fails for this variant alone. */
function* attempt<T>(task: Task<T>): Task<Attempt<T>> {
  try {
    return { made: yield* task };
  } catch (error) {
    if (error instanceof ConfigError) return { failed: { text: error.message.split('\n').join('; '), isOurs: false } };
    if (!(error instanceof RangeError) && !(error instanceof InternalError)) throw error;
    return { failed: { text: `${error.name}: ${error.message}`, isOurs: true } };
  }
}
