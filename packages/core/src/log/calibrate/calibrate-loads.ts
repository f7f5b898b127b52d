import { heatInW } from '../../load/index.js';
import { fitWithin, percentile, type Task } from '../../math/index.js';
import { judgeDraw } from '../judge/draw.js';
import type { Training } from '../parts/calibrate-training.js';
import { type Findings, type FitName, isFound, isUntold, type NotIdentifiable } from '../parts/calibrate-types.js';
import { maxLeak } from '../parts/fridge-leak.js';
import { type Drawn, drawnBy, type Observations, OFF_W, observationsOf } from '../parts/load-observations.js';
import { alwaysLoad, type Parameter, toldOf } from './told-loads.js';

const MAX_A = 20;
const MIN_LEAK = 0.25;
const MAX_STANDBY_W = 60;
/** Nights needed. */
const MIN_NIGHTS = 4;
/** Two values whose errors go together so closely cannot be told apart. */
const TOGETHER = 0.95;
/** The scatter that the data show is believed between these multiples of it. */
const SCATTER = [0.3, 5] as const;

/**
 * Fits what is always on, the fridge's heat leak and the inverter's standby to the quiet draw of each night and to the mean draw
 * of the hours in which nothing of the timetable runs. Fitted over the days since the draw's last step.
 */
export function* calibrateLoads(training: Training, wanted: readonly FitName[]): Task<Findings> {
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
  });
  // The form of a fridge's draw is not known well enough to tell it from a constant by its mean alone.
  if (!data.isQuiet.includes(true) && training.assembled.fridges.length > 0)
    return noData(
      `no night shows its quiet hours, without which what is always on cannot be told apart from the fridge${training.isFine ? '' : ': rows 15 min apart or closer would show them'}`,
    );
  if (nights < MIN_NIGHTS) return noData(`only ${nights} nights show what is drawn; ${MIN_NIGHTS} are needed`);
  let parameters = asked.parameters;
  const untold: NotIdentifiable[] = [...first];
  if (parameters.length === 0) return { ...noData(''), untold };
  const fit = () => fitOf(training, drawn, data, parameters);
  yield;
  const isSeen = seenBy(training, drawn, data, parameters);
  for (const [k, { fit: which, name }] of parameters.entries())
    if (!isSeen[k]) untold.push({ fit: which, name, why: 'nothing that the log shows by night depends on it' });
  parameters = parameters.filter((_, k) => isSeen[k]);
  if (parameters.length === 0) return { ...noData(''), untold };
  let outcome = yield* fit();
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
    outcome = yield* fit();
  }
  // what is always on is read from the quiet hours alone; it stands in the common fit only so that the rest is right
  const draw = judgeDraw(training.nightsOwn);
  const results = parameters.map((parameter, k) =>
    parameter.fit === 'always-on' && draw.beyondA !== undefined
      ? toldOf(training, drawn, parameter, draw.beyondA, draw.standardError!, draw.nights)
      : toldOf(training, drawn, parameter, outcome.values[k]!, Math.sqrt(outcome.clustered[k]![k]!), nights),
  );
  const fitted = results.filter(isFound);
  const { drawStep: step } = training;
  return {
    fitted,
    untold: [...untold, ...results.filter(isUntold)],
    notes: [
      ...(step
        ? [
            `The quiet draw went from ${step.before.toFixed(2)} to ${step.after.toFixed(2)} A on ${step.date}; what draws is fitted on the days since.`,
          ]
        : []),
      ...(rig.loads.some(
        (load) => load.kind === 'scheduled' && load.draw.kind === 'expression' && /\bsoc\b/.test(load.draw.text),
      )
        ? ['Loads whose power depends on soc are left out of the fit.']
        : []),
    ],
  };
}

function parametersFor(
  training: Training,
  wanted: readonly FitName[],
): { parameters: Parameter[]; untold: NotIdentifiable[] } {
  const { rig } = training;
  const parameters: Parameter[] = [];
  const untold: NotIdentifiable[] = [];
  const has = (fit: FitName) => wanted.includes(fit);
  if (has('always-on')) {
    const own = alwaysLoad(rig);
    parameters.push({ fit: 'always-on', name: 'always-on draw', start: 0, low: own ? -own.currentA : 0, high: MAX_A });
  }
  if (has('fridge')) {
    const name = 'fridge heat leak';
    if (training.assembled.fridges.length === 0) untold.push({ fit: 'fridge', name, why: 'the rig has no fridge' });
    else parameters.push({ fit: 'fridge', name, start: 1, low: MIN_LEAK, high: maxLeak(rig) });
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
    else parameters.push({ fit: 'inverter', name, start: inverter.standbyW, low: 0, high: MAX_STANDBY_W });
  }
  return { parameters, untold };
}

function* fitOf(
  training: Training,
  drawn: Drawn,
  data: Observations,
  parameters: readonly Parameter[],
): Task<ReturnType<typeof fitWithin>> {
  const model = modelOf(training, drawn, data, parameters);
  const at = (pick: (one: Parameter) => number) => parameters.map(pick);
  const bounds = { start: at(({ start }) => start), low: at(({ low }) => low), high: at(({ high }) => high), model };
  yield;
  const first = fitWithin({ ...data, ...bounds });
  yield;
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

/** The observations as the rig would give them with such values. */
function modelOf(training: Training, drawn: Drawn, data: Observations, parameters: readonly Parameter[]) {
  return (values: readonly number[]) => {
    const amps = drawWith(training, drawn, parameters, values);
    return Float64Array.from(data.steps, (at, k) => {
      const drawAt = data.isQuiet[k] ? amps.quietAt : amps.allAt;
      let sum = 0;
      for (const i of at) sum += drawAt(i);
      return sum / at.length;
    });
  };
}

/** Whether some observation changes with each value. */
function seenBy(training: Training, drawn: Drawn, data: Observations, parameters: readonly Parameter[]): boolean[] {
  const model = modelOf(training, drawn, data, parameters);
  const start = parameters.map((one) => one.start);
  const from = model(start);
  return parameters.map((_, k) =>
    model(start.map((value, j) => (j === k ? value + 0.5 : value))).some((amps, i) => Math.abs(amps - from[i]!) > 1e-6),
  );
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
  for (const { room, columns, roomC } of fridges) {
    const moreW = (leak - 1) * room.uaWPerK * (roomC[i]! - room.setpointC);
    const heatW = heatInW(columns, i, room.setpointC) + moreW;
    sum += Math.min(1, Math.max(0, heatW / columns.coolingW[i]!)) * columns.electricW[i]!;
  }
  return sum;
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
