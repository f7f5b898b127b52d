import {
  type Assembled,
  dayBounds,
  type LoopInput,
  type LoopOutput,
  layOutSteps,
  loopOutput,
} from '../../simulate/index.js';

/** What an outcome needs of a run beside the loop: the same for every battery under the same sun and loads. */
export interface OpenLoop {
  /** loads, fridges and chargers as the loop reads them */
  readonly laidOut: Float64Array;
  /** asked by loads on the bus, fridges' electronics included: watts, amps, and what the amps lose in their cables */
  readonly askedW: Float64Array;
  readonly askedA: Float64Array;
  readonly askedDropW: Float64Array;
  /** of the heavy loads, one column each: asked, and what they get while they are on, an inverter up to its rating */
  readonly heavyAskedW: readonly Float64Array[];
  readonly heavyServedW: readonly Float64Array[];
  /** 1 where some load beside the compressors asks for power, else 0 */
  readonly asks: Float64Array;
  /** 1 where the inverter's rating does not do for what is asked behind it, else 0 */
  readonly fallsShort: Float64Array;
  /** a fridge's compressor at its set point, one column each */
  readonly holdW: readonly Float64Array[];
  /** at the terminals of the arrays with an MPPT; a PWM's depends on the battery */
  readonly availableW: Float64Array;
  /** first step of each civil day, and the number of steps at the end */
  readonly dayFrom: readonly number[];
}

/** Of what is asked behind the inverter, less than this is not short. */
const ROUNDING = 1e-9;

/** What all loads ask for and all arrays offer at each step, as if the battery never emptied nor filled. */
export function openLoopOf(assembled: Assembled): OpenLoop {
  const { input, plain, heavies, fridges, solar } = assembled;
  const { steps } = input;
  const column = () => new Float64Array(steps);
  const askedW = column().fill(fridges.reduce((sum, lane) => sum + lane.standbyW, 0));
  const askedA = column();
  const askedDropW = column();
  for (const { meanW, meanA, runA = 0, ohm, isHeavy } of plain) {
    if (isHeavy) continue;
    if (meanW) add(askedW, meanW, 1);
    else if (meanA) {
      add(askedA, meanA, 1);
      add(askedDropW, meanA, runA * ohm);
    }
  }
  const heavyAskedW = heavies.map(({ of }) => ('askedW' in of ? of.askedW : of.meanW!));
  const heavyServedW = heavies.map(({ of }) => ('askedW' in of ? of.columns.servedW : of.meanW!));
  const availableW = column();
  for (const { converter, columns } of solar) if (converter) add(availableW, columns.availableW, 1);
  return {
    laidOut: layOutSteps(input),
    askedW,
    askedA,
    askedDropW,
    heavyAskedW,
    heavyServedW,
    asks: askedW.map((watts, i) =>
      watts > 0 || askedA[i]! > 0 || heavyAskedW.some((heavyW) => heavyW[i]! > 0) ? 1 : 0,
    ),
    fallsShort: askedW.map((_, i) =>
      heavyAskedW.some((heavyW, k) => heavyW[i]! - heavyServedW[k]![i]! > ROUNDING * heavyW[i]!) ? 1 : 0,
    ),
    holdW: fridges.map(({ columns }) => columns.holdDuty.map((duty, i) => duty * columns.electricW[i]!)),
    availableW,
    dayFrom: dayStarts(assembled),
  };
}

/** First step of each civil day, and the number of steps at the end. */
export function dayStarts(assembled: Assembled): readonly number[] {
  return [...dayBounds(assembled).map(({ from }) => from), assembled.input.steps];
}

/** What a run leaves that is followed a day at a time, with what loads asked that look at the state of charge [W]. */
export interface DayOutput {
  readonly out: LoopOutput;
  /** zeros without such loads */
  readonly socAskedW: Float64Array;
}

/** Room for the longest of the civil days. @param dayFrom as `dayStarts` gives it */
export function dayOutput(input: LoopInput, dayFrom: readonly number[]): DayOutput {
  const longest = dayFrom.reduce((most, from, k) => Math.max(most, (dayFrom[k + 1] ?? from) - from), 1);
  return { out: loopOutput(longest, input), socAskedW: new Float64Array(longest) };
}

function add(sums: Float64Array, column: Float64Array, factor: number): void {
  for (let i = 0; i < sums.length; i++) sums[i] = sums[i]! + factor * column[i]!;
}
