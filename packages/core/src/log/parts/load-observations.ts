import { meanOf, percentile } from '../../math/index.js';
import { firstSteps } from '../replay/step-days.js';
import type { Training } from './calibrate-training.js';

/** Share of the nights in which nothing of the timetable runs, for these hours to be enough. */
const MIN_CLEAN = 0.25;
/** A timetable's loads are off below this [W], and a load is on all the time above this share. */
export const OFF_W = 1;
const ON_SHARE = 0.98;
/** A fridge that hardly stops has no quiet hours. */
const MAX_DUTY = 0.85;
/** Scatter before the data say: of a night's quiet draw, and of the mean of one hour, in which a fridge starts or not [A]. */
const SIGMA_A = { quiet: 0.02, hour: 0.8 };
/** Means are taken over so many hours, so that a fridge's starts even out and outliers can be told from them. */
const BLOCK_H = 6;

/** What the rig as written draws, a value a step. */
export interface Drawn {
  /** what the rig draws all the time, loads of the timetable that are on included, compressors not: amps a step */
  readonly quietA: Float64Array;
  /** the same of all that is not a compressor */
  readonly plainA: Float64Array;
  /** of it what comes and goes [W] */
  readonly timedW: Float64Array;
  readonly busV: Float64Array;
}

/** What the rig asks for at each step beside its compressors. */
export function drawnBy({ assembled, steps, busV: usualV }: Training): Drawn {
  const { plain, inverter, fridges, standbyW, heaterW, input } = assembled;
  const electronicsW = standbyW + fridges.reduce((sum, lane) => sum + lane.standbyW, 0);
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

/** What the log shows of the draw, and where. */
export interface Observations {
  readonly observed: Float64Array;
  readonly sigma: Float64Array;
  readonly cluster: readonly number[];
  /** of each observation: its steps and whether it is of quiet hours */
  readonly steps: readonly (readonly number[])[];
  readonly isQuiet: readonly boolean[];
}

export function observationsOf(training: Training, drawn: Drawn): Observations {
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
  const first = firstSteps(dayOf, dates.length);
  return nights.flatMap(({ date, alwaysOnA }) => {
    const day = dates.indexOf(date);
    if (day < 0) return [];
    const at = indexes(first[day]!, first[day + 1]!, (i) => isNight[i] === 1);
    if (at.length === 0) return [];
    const duty = assembled.fridges.map(({ columns }) => meanOf(at.map((i) => columns.holdDuty[i]!)));
    if (duty.some((one) => one > MAX_DUTY)) return [];
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
  const all = indexes(0, dayOf.length, (i) => isLoadTrain[i] === 1 && !Number.isNaN(ampsAt(i)));
  const clean = all.filter((i) => timedW[i]! < OFF_W);
  const blocks = 24 / BLOCK_H;
  const groups = new Map<number, number[]>();
  for (const i of clean.length >= MIN_CLEAN * all.length ? clean : all) {
    const key = dayOf[i]! * blocks + Math.floor(conditions.itinerary.localHour[i]! / BLOCK_H);
    const group = groups.get(key);
    if (group) group.push(i);
    else groups.set(key, [i]);
  }
  const { stepH } = steps.grid;
  return [...groups].map(([key, at]) => ({
    day: Math.floor(key / blocks),
    amps: meanOf(at.map(ampsAt)),
    sigma: SIGMA_A.hour / Math.sqrt(at.length * stepH),
    at,
    isQuiet: false,
  }));
}

/** What the rig draws at its quietest, over the nights that are fitted [A]. */
export function nightQuiet(training: Training, { quietA }: Drawn): number {
  const { isNight, isLoadTrain, dayOf } = training;
  const at = indexes(0, dayOf.length, (i) => isLoadTrain[i] === 1 && isNight[i] === 1);
  return percentile(
    (at.length > 0 ? at : indexes(0, dayOf.length, () => true)).map((i) => quietA[i]!),
    0.05,
  );
}

function indexes(from: number, end: number, isWanted: (i: number) => boolean): number[] {
  const wanted: number[] = [];
  for (let i = from; i < end; i++) if (isWanted(i)) wanted.push(i);
  return wanted;
}
