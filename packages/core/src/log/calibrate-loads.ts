import { heatLeakW } from '../load/index.js';
import type { Load, Rig, ScheduledLoad } from '../rig/index.js';
import { percentile } from '../study/index.js';
import type { Training } from './calibrate-training.js';
import { type Findings, type FitName, type Found, isFound, isUntold, type UntoldValue } from './calibrate-types.js';
import { fitWithin, halfWidth90 } from './fit-numbers.js';
import { fridgeWrites, mostLeak, withFridgeLeak } from './fridge-leak.js';

/** Standard errors that no log can tell: of the quiet draw, read from a histogram of 20 mA … [A] */
const QUIET_ERROR_A = 0.012;
/** … and of the heat leak, as set point, doors and the air around the fridge are not logged (common practice, no source). */
const LEAK_ERROR = 0.07;
const STANDBY_ERROR = 0.1;
const MOST_A = 20;
const LEAST_LEAK = 0.25;
const MOST_STANDBY_W = 60;
/** Nights needed. */
const LEAST_NIGHTS = 4;
/** Two values whose errors go together so closely cannot be told apart. */
const TOGETHER = 0.95;
const WIDEST = 0.6;
/** Widest interval of a draw that is next to nothing [A]. */
const WIDEST_A = 0.2;
/** Share of the nights in which nothing of the timetable runs, for these hours to be enough. */
const LEAST_CLEAN = 0.25;
/** A timetable's loads are off below this [W], and a load is on all the time above this share. */
const OFF_W = 1;
const ON_SHARE = 0.98;
/** A load is added for a draw above this [A]. */
const LEAST_ADDED_A = 0.005;
/** A fridge that hardly stops has no quiet hours. */
const MOST_DUTY = 0.85;
/** Scatter before the data say: of a night's quiet draw, and of the mean of one hour, in which a fridge starts or not [A]. */
const SIGMA_A = { quiet: 0.02, hour: 0.8 };
/** The scatter that the data show is believed between these multiples of it. */
const SCATTER = [0.3, 5] as const;
/** Means are taken over so many hours, so that a fridge's starts even out and outliers can be told from them. */
const BLOCK_H = 6;

interface Drawn {
  /** what the rig draws all the time, loads of the timetable that are on included, compressors not: amps a step */
  readonly quietA: Float64Array;
  /** the same of all that is not a compressor */
  readonly plainA: Float64Array;
  /** of it what comes and goes [W] */
  readonly timedW: Float64Array;
  readonly busV: Float64Array;
}

interface Parameter {
  readonly fit: FitName;
  readonly name: string;
  readonly start: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Fits what is always on, the fridge's heat leak and the inverter's standby to the quiet draw of each night and to the mean draw
 * of the hours in which nothing of the timetable runs. Fitted over the days since the draw's last step.
 * @returns what was found, and what all loads take with it at each step [W]
 */
export function calibrateLoads(
  training: Training,
  wanted: readonly FitName[],
): Findings & { readonly loadsW: Float64Array } {
  const { rig } = training;
  const drawn = drawnBy(training);
  const asked = parametersFor(training, wanted);
  const data = observationsOf(training, drawn);
  const nights = new Set(data.cluster).size;
  const first = asked.untold;
  const noData = (why: string) => ({
    fitted: [],
    untold: [...first, ...asked.parameters.map(({ fit, name }) => ({ fit, name, why }))],
    notes: [],
    loadsW: loadsOf(
      training,
      drawn,
      asked.parameters,
      asked.parameters.map(({ start }) => start),
    ),
  });
  // The form of a fridge's draw is not known well enough to tell it from a constant by its mean alone.
  if (!data.isQuiet.includes(true) && training.assembled.fridges.length > 0)
    return noData(
      `no night shows its quiet hours, without which what is always on cannot be told apart from the fridge${training.isFine ? '' : ': rows 15 min apart or closer would show them'}`,
    );
  if (nights < LEAST_NIGHTS) return noData(`only ${nights} nights show what is drawn; ${LEAST_NIGHTS} are needed`);
  let parameters = asked.parameters;
  const untold: UntoldValue[] = [...first];
  if (parameters.length === 0) return { ...noData(''), untold };
  const fit = () => fitOf(training, drawn, data, parameters);
  let outcome = fit();
  const inseparable = togetherOf(parameters, outcome.covariance);
  if (inseparable.length > 0) {
    const names = inseparable.map(({ name }) => name).join(' and the ');
    for (const { fit: which, name } of inseparable)
      untold.push({
        fit: which,
        name,
        why: `the ${names} cannot be told apart in this log: the nights were all about equally warm, and no quiet hours show one without the other`,
      });
    parameters = parameters.filter((one) => !inseparable.includes(one));
    if (parameters.length === 0) return { ...noData(''), untold };
    outcome = fit();
  }
  const told = parameters.map((parameter, k) =>
    toldOf(training, drawn, parameter, outcome.values[k]!, Math.sqrt(outcome.clustered[k]![k]!), nights),
  );
  const fitted = told.filter(isFound);
  const { drawStep: step } = training;
  return {
    fitted,
    untold: [...untold, ...told.filter(isUntold)],
    notes: [
      ...(step
        ? [
            `The quiet draw went from ${step.beforeA.toFixed(2)} to ${step.afterA.toFixed(2)} A on ${step.date}; what draws is fitted on the days since.`,
          ]
        : []),
      ...(rig.loads.some(
        (load) => load.kind === 'scheduled' && load.draw.kind === 'expression' && /\bsoc\b/.test(load.draw.text),
      )
        ? ['Loads whose power depends on soc are left out of the fit.']
        : []),
    ],
    loadsW: loadsOf(
      training,
      drawn,
      parameters,
      parameters.map((one, k) => (fitted.some((value) => value.fit === one.fit) ? outcome.values[k]! : one.start)),
    ),
  };
}

function parametersFor(
  training: Training,
  wanted: readonly FitName[],
): { parameters: Parameter[]; untold: UntoldValue[] } {
  const { rig } = training;
  const parameters: Parameter[] = [];
  const untold: UntoldValue[] = [];
  const has = (fit: FitName) => wanted.includes(fit);
  if (has('always-on')) {
    const own = alwaysLoad(rig);
    parameters.push({ fit: 'always-on', name: 'always-on draw', start: 0, low: own ? -own.currentA : 0, high: MOST_A });
  }
  if (has('fridge')) {
    const name = 'fridge heat leak';
    if (training.assembled.fridges.length === 0) untold.push({ fit: 'fridge', name, why: 'the rig has no fridge' });
    else parameters.push({ fit: 'fridge', name, start: 1, low: LEAST_LEAK, high: mostLeak(rig) });
  }
  if (has('inverter')) {
    const name = 'inverter standby';
    const { inverter } = rig;
    if (!inverter) untold.push({ fit: 'inverter', name, why: 'the rig has no inverter' });
    else if (inverter.on === 'always' && has('always-on'))
      untold.push({
        fit: 'inverter',
        name,
        why: 'it flows at all hours, as the always-on draw does, so the two cannot be told apart: what it takes more than the rig says is in the always-on draw',
      });
    else parameters.push({ fit: 'inverter', name, start: inverter.standbyW, low: 0, high: MOST_STANDBY_W });
  }
  return { parameters, untold };
}

/** The one load that draws a constant current all day, when there is just one. */
export function alwaysLoad(
  rig: Rig,
): { readonly index: number; readonly name: string; readonly currentA: number } | undefined {
  const constant = rig.loads.flatMap((load, index) =>
    load.kind === 'scheduled' && !load.starterSide && isConstant(load) && load.draw.kind === 'current'
      ? [{ index, name: load.name, currentA: load.draw.currentA }]
      : [],
  );
  return constant.length === 1 ? constant[0] : undefined;
}

function isConstant({ when, hoursPerDay, timesPerDay, everyDays, share, inverter }: ScheduledLoad): boolean {
  return (
    when.length === 0 &&
    hoursPerDay === undefined &&
    timesPerDay === undefined &&
    everyDays === 1 &&
    share === 1 &&
    !inverter
  );
}

/** What the rig asks for at each step beside its compressors. */
function drawnBy({ assembled, steps, busV: usualV }: Training): Drawn {
  const { plain, inverter, fridges, standbyW, heaterW, input } = assembled;
  const electronicsW = standbyW + fridges.reduce((sum, { model }) => sum + model.standbyW, 0);
  const column = () => new Float64Array(input.steps);
  const [quietA, plainA, timedW] = [column(), column(), column()];
  const busV = steps.voltageV.map((volts) => (Number.isNaN(volts) ? usualV : volts));
  for (let i = 0; i < input.steps; i++) {
    const volts = busV[i]!;
    let [quiet, all, timed] = [electronicsW / volts, electronicsW / volts, 0];
    for (const { meanW, meanA, onShare } of plain) {
      const amps = meanW ? meanW[i]! / volts : meanA ? meanA[i]! : 0;
      all += amps;
      if (onShare[i]! >= ON_SHARE) quiet += amps;
      else timed += amps * volts;
    }
    if (inverter) {
      const amps = inverter.columns.inputW[i]! / volts;
      all += amps;
      quiet += inverter.askedW[i]! > OFF_W ? 0 : amps;
      timed += inverter.askedW[i]!;
    }
    if (heaterW) {
      all += heaterW[i]! / volts;
      timed += heaterW[i]!;
    }
    quietA[i] = quiet;
    plainA[i] = all;
    timedW[i] = timed;
  }
  return { quietA, plainA, timedW, busV };
}

interface Observations {
  readonly observed: Float64Array;
  readonly sigma: Float64Array;
  readonly cluster: readonly number[];
  /** of each observation: its steps and whether it is of quiet hours */
  readonly steps: readonly (readonly number[])[];
  readonly isQuiet: readonly boolean[];
}

function observationsOf(training: Training, drawn: Drawn): Observations {
  const rows = [...quietRows(training, drawn), ...meanRows(training, drawn)];
  return {
    observed: Float64Array.from(rows, ({ amps }) => amps),
    sigma: Float64Array.from(rows, ({ sigma }) => sigma),
    cluster: rows.map(({ day }) => day),
    steps: rows.map(({ at }) => at),
    isQuiet: rows.map(({ isQuiet }) => isQuiet),
  };
}

interface Row {
  readonly day: number;
  readonly amps: number;
  readonly sigma: number;
  readonly at: readonly number[];
  readonly isQuiet: boolean;
}

/** A night's quiet draw is held against the quietest hours of the model's night. */
function quietRows({ nights, dates, dayOf, isNight, assembled }: Training, { quietA }: Drawn): Row[] {
  return nights.flatMap(({ date, alwaysOnA }) => {
    const day = dates.indexOf(date);
    const at = indexes(dayOf.length, (i) => dayOf[i] === day && isNight[i] === 1);
    if (at.length === 0) return [];
    const duty = assembled.fridges.map(({ columns }) => mean(at.map((i) => columns.holdDuty[i]!)));
    if (duty.some((one) => one > MOST_DUTY)) return [];
    const least = percentile(
      at.map((i) => quietA[i]!),
      0.05,
    );
    return [
      { day, amps: alwaysOnA, sigma: SIGMA_A.quiet, at: at.filter((i) => quietA[i]! <= least + 1e-9), isQuiet: true },
    ];
  });
}

/** Means of parts of a day: at night, or at all hours of a load column; where the timetable is off if there is enough of that. */
function meanRows(training: Training, { timedW, busV }: Drawn): Row[] {
  const { steps, isNight, isLoadTrain, dayOf, conditions } = training;
  const hasLoads = steps.loadW.some((watts) => !Number.isNaN(watts));
  const ampsAt = (i: number) =>
    isNight[i] === 1 ? -steps.batteryA[i]! : hasLoads ? steps.loadW[i]! / busV[i]! : Number.NaN;
  const all = indexes(dayOf.length, (i) => isLoadTrain[i] === 1 && !Number.isNaN(ampsAt(i)));
  const clean = all.filter((i) => timedW[i]! < OFF_W);
  const blocks = 24 / BLOCK_H;
  const groups = new Map<number, number[]>();
  for (const i of clean.length >= LEAST_CLEAN * all.length ? clean : all) {
    const key = dayOf[i]! * blocks + Math.floor(conditions.itinerary.localHour[i]! / BLOCK_H);
    const group = groups.get(key);
    if (group) group.push(i);
    else groups.set(key, [i]);
  }
  const { stepH } = steps.grid;
  return [...groups].map(([key, at]) => ({
    day: Math.floor(key / blocks),
    amps: mean(at.map(ampsAt)),
    sigma: SIGMA_A.hour / Math.sqrt(at.length * stepH),
    at,
    isQuiet: false,
  }));
}

function fitOf(training: Training, drawn: Drawn, data: Observations, parameters: readonly Parameter[]) {
  const model = (values: readonly number[]) => {
    const amps = drawWith(training, drawn, parameters, values);
    return Float64Array.from(data.steps, (at, k) => {
      const drawAt = data.isQuiet[k] ? amps.quietAt : amps.allAt;
      let sum = 0;
      for (const i of at) sum += drawAt(i);
      return sum / at.length;
    });
  };
  const at = (pick: (one: Parameter) => number) => parameters.map(pick);
  const bounds = { start: at(({ start }) => start), low: at(({ low }) => low), high: at(({ high }) => high), model };
  const first = fitWithin({ ...data, ...bounds });
  const modelled = model(first.values);
  const scatter = (isQuiet: boolean) => {
    const off = Array.from(data.observed, (amps, k) => Math.abs(amps - modelled[k]!) / data.sigma[k]!);
    const own = off.filter((_, k) => data.isQuiet[k] === isQuiet);
    return own.length === 0 ? 1 : Math.min(SCATTER[1], Math.max(SCATTER[0], 1.4826 * percentile(own, 0.5)));
  };
  const [quiet, other] = [scatter(true), scatter(false)];
  const sigma = data.sigma.map((one, k) => one * (data.isQuiet[k] ? quiet : other));
  return fitWithin({ ...data, ...bounds, sigma, start: first.values });
}

/** What the rig draws at a step with such values: at its quietest, and on the whole [A]. */
function drawWith(
  { assembled, rig }: Training,
  { quietA, plainA, busV }: Drawn,
  parameters: readonly Parameter[],
  values: readonly number[],
) {
  const valueFor = (fit: FitName, otherwise: number) => {
    const k = parameters.findIndex((one) => one.fit === fit);
    return k < 0 ? otherwise : values[k]!;
  };
  const more = valueFor('always-on', 0);
  const leak = valueFor('fridge', 1);
  const hadW = rig.inverter?.standbyW ?? 0;
  const standbyW = valueFor('inverter', hadW) - hadW;
  const isAlways = rig.inverter?.on === 'always';
  const askedW = assembled.inverter?.askedW;
  const asks = (i: number) => isAlways || (askedW !== undefined && askedW[i]! > OFF_W);
  return {
    quietAt: (i: number) => quietA[i]! + more + (isAlways ? standbyW / busV[i]! : 0),
    allAt: (i: number) => plainA[i]! + more + ((asks(i) ? standbyW : 0) + compressorW(assembled, leak, i)) / busV[i]!,
  };
}

/** Mean power of the compressors at a step when heat leaks in so many times as fast [W]. */
function compressorW({ fridges }: Training['assembled'], leak: number, i: number): number {
  let sum = 0;
  for (const { model, columns, roomC } of fridges) {
    const heatW = leak * heatLeakW(model, roomC[i]!, model.setpointC) + columns.heatGainW[i]!;
    sum += Math.min(1, Math.max(0, heatW / columns.coolingW[i]!)) * columns.electricW[i]!;
  }
  return sum;
}

function loadsOf(
  training: Training,
  drawn: Drawn,
  parameters: readonly Parameter[],
  values: readonly number[],
): Float64Array {
  const { allAt } = drawWith(training, drawn, parameters, values);
  return drawn.busV.map((volts, i) => volts * allAt(i));
}

/** Parameters of a pair whose errors go together. */
function togetherOf(parameters: readonly Parameter[], covariance: readonly (readonly number[])[]): Parameter[] {
  return parameters.filter((_, a) =>
    parameters.some((_one, b) => {
      const both = Math.sqrt(covariance[a]![a]! * covariance[b]![b]!);
      return a !== b && !(Math.abs(covariance[a]![b]!) < TOGETHER * both);
    }),
  );
}

function toldOf(
  training: Training,
  drawn: Drawn,
  { fit, name, low: least, high: most }: Parameter,
  value: number,
  standardError: number,
  nights: number,
): Found | UntoldValue {
  const { rig, range, drawStep: step } = training;
  const t = halfWidth90(nights - 1);
  const since = step ? `, on the days since ${step.date}` : '';
  const by =
    training.nights.length > 0 ? `draw of ${nights} nights, their quiet hours apart` : `mean draw of ${nights} nights`;
  if (fit === 'always-on') {
    const own = alwaysLoad(rig);
    const quiet = nightQuiet(training, drawn);
    const half = Math.hypot(t * standardError, 1.645 * QUIET_ERROR_A);
    const total = quiet + value;
    if (2 * half > Math.max(WIDEST * total, WIDEST_A)) return { fit, name, why: wide(total, half, 'A') };
    const set = Math.max(0, (own?.currentA ?? 0) + value);
    const electronicsA = quiet - (own?.currentA ?? 0);
    const rest =
      electronicsA > 0.005
        ? ` The rig's own electronics and what else is always on take ${electronicsA.toFixed(2)} A of it.`
        : '';
    const comment = `Found in the log of ${range}: ${total.toFixed(2)} A (${(total - half).toFixed(2)} to ${(total + half).toFixed(2)}) flow at all hours${since}.${rest}`;
    return {
      fit,
      name,
      path: own ? `loads[${own.index}].current` : `loads[${rig.loads.length}]`,
      value: total,
      low: Math.max(0, total - half),
      high: total + half,
      unit: 'A',
      before: quiet,
      by,
      text: `${total.toFixed(2)} A flow at all hours${since}; the rig has ${quiet.toFixed(2)} A.${rest}`,
      applyTo: (one) => ({
        ...one,
        loads: own
          ? one.loads.map((load, k) => (k === own.index ? withCurrent(load, set) : load))
          : [...one.loads, ...added(freeName(rig), value)],
      }),
      writes: own
        ? [{ path: ['loads', own.index, 'current'], value: `${set.toFixed(3)} A`, comment }]
        : value < LEAST_ADDED_A
          ? []
          : [
              {
                path: ['loads', rig.loads.length],
                value: { name: freeName(rig), current: `${value.toFixed(3)} A` },
                comment,
              },
            ],
    };
  }
  if (fit === 'fridge') {
    const half = Math.hypot(t * standardError, 1.645 * LEAK_ERROR * value);
    if (2 * half > WIDEST * Math.max(value, 0.5) || value <= least * 1.01)
      return { fit, name, why: wide(value, half, 'times what the rig has') };
    return {
      fit,
      name,
      path: 'loads.fridge',
      value,
      low: value - half,
      high: value + half,
      unit: 'times',
      before: 1,
      by,
      text: `Heat leaks into the fridge ${value.toFixed(2)} times as fast as the rig says; what else comes and goes unlisted at night is in it.`,
      applyTo: (one) => withFridgeLeak(one, value),
      writes: fridgeWrites(
        rig,
        value,
        `Found in the log of ${range}: its heat leak is ${value.toFixed(2)} times (${(value - half).toFixed(2)} to ${(value + half).toFixed(2)}) what the file had${since}.`,
      ),
    };
  }
  const half = Math.hypot(t * standardError, 1.645 * STANDBY_ERROR * value);
  if (2 * half > Math.max(WIDEST * value, 2) || value >= most * 0.99) return { fit, name, why: wide(value, half, 'W') };
  return {
    fit,
    name,
    path: 'inverter.standby',
    value,
    low: Math.max(0, value - half),
    high: value + half,
    unit: 'W',
    before: rig.inverter!.standbyW,
    by,
    applyTo: (one) => ({ ...one, ...(one.inverter && { inverter: { ...one.inverter, standbyW: value } }) }),
    text: `The inverter takes ${value.toFixed(1)} W with nothing connected.`,
    writes: [
      {
        path: ['inverter', 'standby'],
        value: `${value.toFixed(1)} W`,
        comment: `Found in the log of ${range}: ${Math.max(0, value - half).toFixed(1)} to ${(value + half).toFixed(1)} W${since}.`,
      },
    ],
  };
}

const withCurrent = (load: Load, currentA: number): Load =>
  load.kind === 'scheduled' ? { ...load, draw: { kind: 'current', currentA } } : load;

/** A load that draws such a current day and night, as `readRig` would read it. */
function added(name: string, currentA: number): ScheduledLoad[] {
  if (currentA < LEAST_ADDED_A) return [];
  const always = { when: [], everyDays: 1, share: 1, inverter: false, critical: false, starterSide: false } as const;
  return [{ kind: 'scheduled', name, draw: { kind: 'current', currentA }, ...always }];
}

const wide = (value: number, half: number, unit: string) =>
  `the nights leave it too open: ${value.toFixed(2)} ${unit}, but from ${(value - half).toFixed(2)} to ${(value + half).toFixed(2)}`;

/** What the rig draws at its quietest, over the nights that are fitted [A]. */
function nightQuiet(training: Training, { quietA }: Drawn): number {
  const { isNight, isLoadTrain, dayOf } = training;
  const at = indexes(dayOf.length, (i) => isLoadTrain[i] === 1 && isNight[i] === 1);
  return percentile(
    (at.length > 0 ? at : indexes(dayOf.length, () => true)).map((i) => quietA[i]!),
    0.05,
  );
}

function freeName({ loads }: Rig): string {
  const names = new Set(loads.map(({ name }) => name));
  for (let k = 1; ; k++) {
    const name = k === 1 ? 'found by the log' : `found by the log ${k}`;
    if (!names.has(name)) return name;
  }
}

function indexes(length: number, isWanted: (i: number) => boolean): number[] {
  const wanted: number[] = [];
  for (let i = 0; i < length; i++) if (isWanted(i)) wanted.push(i);
  return wanted;
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
