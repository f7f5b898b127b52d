import {
  type Assembled,
  copyState,
  type LoopOutput,
  type LoopState,
  loopOutput,
  loopState,
  runSteps,
} from '../../simulate/index.js';
import { type OpenLoop, openLoopOf } from './open-loop.js';

/** One way it may go: a vehicle under a draw of the weather, ready to be followed from now on. */
export interface Way {
  readonly assembled: Assembled;
  readonly open: OpenLoop;
  readonly startSoc: number;
  /** first step followed */
  readonly from: number;
  /** the loop's state now, copied for each time it is followed */
  readonly begun: LoopState;
}

/** How the battery fares from now on; step 0 is now, and each other one the end of a step. */
export interface Course {
  /** state of charge */
  readonly soc: Float64Array;
  /** asked and not served so far [Wh] */
  readonly unservedWh: Float64Array;
}

/** Room for what the loop puts out: one serves all ways of a rig, one after the other. */
export interface Room {
  readonly out: LoopOutput;
  /** asked at each step by loads that look at the state of charge [W] */
  readonly socAskedW: Float64Array;
}

export function roomFor({ input }: Assembled): Room {
  return { out: loopOutput(input.steps, input), socAskedW: new Float64Array(input.steps) };
}

export function wayOf(assembled: Assembled, startSoc: number, from: number): Way {
  const open = openLoopOf(assembled);
  return { assembled, open, startSoc, from, begun: loopState({ ...assembled.input, startSoc }, open.laidOut) };
}

/**
 * @param room whose columns hold, from now on, what the loop put out, until it serves again
 * @param rows of the loop's steps, where they are not those of the rig and its plans
 * @param upTo steps to follow, counted from now; to the end of the grid unless given
 */
export function follow(way: Way, room: Room, rows = way.open.laidOut, upTo?: number): Course {
  const { assembled, open, startSoc, from, begun } = way;
  const { steps, stepH, fridges, heavies } = assembled.input;
  const { out, socAskedW } = room;
  const to = upTo === undefined ? steps : from + upTo;
  runSteps(assembled, out, { ...copyState(begun), steps: rows }, from, to, socAskedW);
  const soc = new Float64Array(to - from + 1);
  soc[0] = startSoc;
  soc.set(out.soc.subarray(from, to), 1);
  const unservedWh = new Float64Array(to - from + 1);
  let sum = 0;
  for (let i = from; i < to; i++) {
    const off = 1 - out.onShare[i]!;
    if (off > 0) sum += off * (open.askedW[i]! + socAskedW[i]!) * stepH;
    for (let k = 0; k < fridges; k++) {
      const fridgeOff = 1 - out.fridgeOnShare[k * steps + i]!;
      if (fridgeOff > 0) sum += fridgeOff * open.holdW[k]![i]! * stepH;
    }
    for (let k = 0; k < heavies; k++) {
      const heavyOff = 1 - out.heavyOnShare[k * steps + i]!;
      if (heavyOff > 0) sum += heavyOff * open.heavyAskedW[k]![i]! * stepH;
    }
    unservedWh[i - from + 1] = sum;
  }
  return { soc, unservedWh };
}
