import { mainsInputW } from '../../charge/index.js';
import { type Chemistry, isLead } from '../../rig/index.js';
import {
  type Assembled,
  engineInputW,
  FLOOR_TOLERANCE,
  FULL_SOC,
  type LoopInput,
  type LoopOutput,
  mpptHarvestW,
} from '../../simulate/index.js';
import type { OpenLoop } from './open-loop.js';
import type { End, EndCause, Outcome } from './outcome.js';
import { unservedShare } from './unserved.js';

/** As near to a cut-off that it is what cut. */
const CUT_TOLERANCE = 1e-4;

/** Adds up a run day by day from the loop's output; energies in W summed over steps until `outcome`. */
export class OutcomeSums {
  end: End | undefined;
  private steps = 0;
  private soc = 0;
  private lowestSoc = 0;
  private belowSteps = 0;
  private offSteps = 0;
  private unservedSteps = 0;
  private unservedW = 0;
  private loadW = 0;
  private availableW = 0;
  private harvestW = 0;
  private alternatorW = 0;
  private mainsW = 0;
  private dischargedA = 0;
  private fullDays = 0;
  private atFloor = true;

  constructor(
    private readonly assembled: Assembled,
    private readonly open: OpenLoop,
    private readonly out: LoopOutput,
    /** asked at each step's beginning by loads that look at the state of charge; zeros without such [W] */
    private readonly socAskedW: Float64Array,
  ) {}

  begin(startSoc: number, atFloor: boolean): void {
    this.end = undefined;
    this.soc = this.lowestSoc = startSoc;
    this.steps = this.belowSteps = this.offSteps = this.unservedSteps = this.fullDays = 0;
    this.unservedW = this.loadW = this.availableW = this.harvestW = this.alternatorW = this.mainsW = 0;
    this.dischargedA = 0;
    this.atFloor = atFloor;
    if (atFloor && startSoc < this.assembled.rig.battery.floor - FLOOR_TOLERANCE)
      this.end = { step: 0, afterH: 0, cause: 'floor' };
  }

  /** @param untilEnd leave out what comes after the step in which the run ends */
  addDay(from: number, to: number, untilEnd: boolean): void {
    if (!this.end) this.end = endWithin(this.assembled, this.out, from, to, this.soc, this.steps, this.atFloor);
    const upTo = untilEnd && this.end ? Math.min(to, from + this.end.step - this.steps + 1) : to;
    this.addSupply(from, upTo);
    this.addDemand(from, upTo);
    this.steps += upTo - from;
  }

  outcome(): Outcome {
    const { stepH } = this.assembled.input;
    return {
      hours: this.steps * stepH,
      endSoc: Math.max(0, this.soc), // as a summary
      lowestSoc: Math.max(0, this.lowestSoc),
      hoursBelowFloor: this.belowSteps * stepH,
      hoursOff: this.offSteps * stepH,
      unservedHours: this.unservedSteps * stepH,
      unservedWh: this.unservedW * stepH,
      loadWh: this.loadW * stepH,
      pvAvailableWh: this.availableW * stepH,
      pvHarvestWh: this.harvestW * stepH,
      alternatorWh: this.alternatorW * stepH,
      mainsWh: this.mainsW * stepH,
      equivalentCycles: (this.dischargedA * stepH) / this.assembled.model.capacityAh,
      fullDays: this.fullDays,
      ...(this.end && { firstEnd: this.end }),
    };
  }

  private addSupply(from: number, to: number): void {
    const { assembled, open, out } = this;
    const { solar, engine, mainsShare, rig, input } = assembled;
    const { rows, chargerW, arrayW, arrayAvailableW } = out;
    const firstRow = from % rows;
    let availableW = 0;
    for (let i = from; i < to; i++) availableW += open.availableW[i]!;
    let harvestW = 0;
    for (let j = 0; j < solar.length; j++) {
      const lane = solar[j]!;
      const { converter } = lane;
      const laneAt = j * rows;
      for (let i = from, row = firstRow; i < to; i++, row = row + 1 < rows ? row + 1 : 0) {
        const at = laneAt + row;
        if (!converter) {
          harvestW += arrayW[at]!;
          availableW += arrayAvailableW[at]!;
          continue;
        }
        harvestW += mpptHarvestW(lane, converter, i, chargerW[at]!);
      }
    }
    this.availableW += availableW;
    this.harvestW += harvestW;
    if (engine) {
      const laneAt = solar.length * rows;
      let alternatorW = 0;
      for (let i = from, row = firstRow; i < to; i++, row = row + 1 < rows ? row + 1 : 0)
        alternatorW += engineInputW(engine, i, chargerW[laneAt + row]!);
      this.alternatorW += alternatorW;
    }
    if (rig.mains && mainsShare) {
      const laneAt = (input.chargers - 1) * rows;
      for (let i = from, row = firstRow; i < to; i++, row = row + 1 < rows ? row + 1 : 0)
        this.mainsW += mainsInputW(rig.mains, chargerW[laneAt + row]!);
    }
  }

  private addDemand(from: number, to: number): void {
    const { open, out, socAskedW } = this;
    const { rows, soc, batteryA, busV, onShare, fridgeW, fridgeOnShare, heavyOnShare } = out;
    const { askedW, askedA, askedDropW, heavyAskedW, heavyServedW, holdW } = open;
    const floor = this.assembled.rig.battery.floor - FLOOR_TOLERANCE;
    const fridges = holdW.length;
    const heavies = heavyAskedW.length;
    let now = this.soc;
    let highest = now;
    let lowest = this.lowestSoc;
    let below = 0;
    let off = 0;
    let dischargedA = 0;
    let loadW = 0;
    let unservedW = 0;
    let unservedSteps = 0;
    for (let i = from, row = from % rows; i < to; i++, row = row + 1 < rows ? row + 1 : 0) {
      now = soc[row]!;
      if (now > highest) highest = now;
      if (now < lowest) lowest = now;
      if (now < floor) below++;
      const amps = batteryA[row]!;
      if (amps < 0) dischargedA -= amps;
      const on = onShare[row]!;
      off += 1 - on;
      const socW = socAskedW[row]!;
      const directW = askedW[i]! + busV[row]! * askedA[i]! - askedDropW[i]! + socW;
      loadW += on * directW;
      unservedW += (1 - on) * directW;
      for (let k = 0, at = row; k < heavies; k++, at += rows) {
        const servedW = heavyOnShare[at]! * heavyServedW[k]![i]!;
        loadW += servedW;
        unservedW += heavyAskedW[k]![i]! - servedW;
      }
      unservedSteps += unservedShare(open, out, socW, i, row);
      for (let k = 0, at = row; k < fridges; k++, at += rows) {
        const offShare = 1 - fridgeOnShare[at]!;
        loadW += fridgeW[at]!;
        if (offShare !== 0) unservedW += offShare * holdW[k]![i]!;
      }
    }
    this.soc = now;
    this.lowestSoc = lowest;
    this.belowSteps += below;
    this.offSteps += off;
    this.dischargedA += dischargedA;
    this.loadW += loadW;
    this.unservedW += unservedW;
    this.unservedSteps += unservedSteps;
    if (highest >= FULL_SOC) this.fullDays++;
  }
}

/**
 * The first end in steps `from` to `to` of a run, as they stand in its output.
 * @param before     state of charge at the beginning of step `from`
 * @param stepsSoFar followed before it
 * @param atFloor    whether the owner's floor is an end too
 */
export function endWithin(
  { input, rig }: Pick<Assembled, 'input' | 'rig'>,
  { rows, soc, onShare, fridgeCut, heavyCut }: LoopOutput,
  from: number,
  to: number,
  before: number,
  stepsSoFar: number,
  atFloor: boolean,
): End | undefined {
  const floor = atFloor ? rig.battery.floor - FLOOR_TOLERANCE : -1;
  let soFar = before;
  for (let i = from, row = from % rows; i < to; i++, row = row + 1 < rows ? row + 1 : 0) {
    const now = soc[row]!;
    const step = stepsSoFar + i - from;
    if (now < floor) return endIn(input, step, Math.min(1, Math.max(0, (soFar - floor) / (soFar - now))), 'floor');
    if (onShare[row]! < 1) return endIn(input, step, onShare[row]!, cutCause(input, rig.battery.chemistry, now));
    for (let at = row; at < fridgeCut.length; at += rows)
      if (fridgeCut[at]! > 0) return endIn(input, step, 0, 'fridge cut-out');
    for (let at = row; at < heavyCut.length; at += rows)
      if (heavyCut[at]! > 0)
        return endIn(input, step, 0, input.heavyCutOutV[(at - row) / rows]! > 0 ? 'inverter' : 'thin cable');
    soFar = now;
  }
  return undefined;
}

function endIn({ stepH }: LoopInput, step: number, share: number, cause: EndCause): End {
  return { step, afterH: (step + share) * stepH, cause };
}

function cutCause(input: LoopInput, chemistry: Chemistry, soc: number): EndCause {
  if (input.disconnectV > 0 || isLead(chemistry)) return 'disconnect';
  return soc <= Math.max(input.disconnectSoc, 0) + CUT_TOLERANCE ? 'disconnect' : 'overload';
}
