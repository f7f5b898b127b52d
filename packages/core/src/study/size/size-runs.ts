import type { Task } from '../../math/index.js';
import type { PartsList, Rig, SolarArray } from '../../rig/index.js';
import { type Shortage, shortageOf } from './size-follow.js';
import type { Combination } from './size-list.js';
import { arrayOf } from './size-rig.js';
import { Scratch, Variant } from './size-variant.js';
import type { SizeYear } from './size-year.js';

/** A weather year of a case. */
export interface SizeRun {
  readonly caseIndex: number;
  /** from 0 */
  readonly yearIndex: number;
  readonly year: SizeYear;
  readonly startSoc: number;
}

/** Hours above those allowed that still count as rounding. */
const ROUNDING_H = 1e-6;

/** What the target makes of the hours in each run. */
export class Target {
  /** weather years of a case that may fail */
  readonly mayFail: number;

  constructor(
    readonly allowedHours: number,
    readonly cases: number,
    weatherYears: number,
    share: number,
  ) {
    this.mayFail = Math.floor(weatherYears * (1 - share) + 1e-9);
  }

  fails(hours: number): boolean {
    return hours > this.allowedHours + ROUNDING_H;
  }

  /** the least hours at which a run fails for certain */
  get failingHours(): number {
    return this.allowedHours + 2 * ROUNDING_H;
  }
}

/** A choice as far as it was followed. */
export class Followed {
  readonly shortages: (Shortage | undefined)[];
  /** sum of all runs [h] */
  hours = 0;
  /** years failed, of each case */
  readonly failedOf: Float64Array;

  constructor(
    readonly combination: Combination,
    private readonly target: Target,
    runs: number,
  ) {
    this.shortages = new Array<Shortage | undefined>(runs).fill(undefined);
    this.failedOf = new Float64Array(target.cases);
  }

  add(at: number, { caseIndex }: SizeRun, shortage: Shortage): void {
    this.shortages[at] = shortage;
    this.hours += shortage.hours;
    if (this.target.fails(shortage.hours)) this.failedOf[caseIndex] = this.failedOf[caseIndex]! + 1;
  }

  /** in the case with the most */
  get failed(): number {
    return Math.max(...this.failedOf);
  }

  get isWhole(): boolean {
    return this.shortages.every((shortage) => shortage?.isWhole);
  }

  /** known even before the end */
  get cannotMeet(): boolean {
    return this.failed > this.target.mayFail;
  }

  get meets(): boolean {
    return this.isWhole && this.failed <= this.target.mayFail;
  }
}

/** Runs choices through the weather years, and keeps count of what it took and which years are hard. */
export class Runner {
  made = 0;
  /** hours without power in each run, summed over choices: the hardest come first */
  private readonly hardness: Float64Array;
  private readonly scratch = new Scratch();
  private readonly lines: readonly SolarArray[];

  constructor(
    private readonly rig: Rig,
    private readonly parts: PartsList,
    readonly runs: readonly SizeRun[],
    readonly target: Target,
  ) {
    this.hardness = new Float64Array(runs.length);
    this.lines = parts.panels.map((panel) => arrayOf(rig, panel, 1));
  }

  variant(combination: Omit<Combination, 'bill'>): Variant {
    return new Variant(this.rig, this.parts, this.lines, combination, this.runs[0]!.year);
  }

  /** of all runs together [h] */
  get totalHours(): number {
    return this.runs.reduce((sum, { year }) => sum + year.steps * year.conditions.grid.stepH, 0);
  }

  /** hardest first; equally hard ones as they come */
  order(): number[] {
    return [...this.runs.keys()].sort((a, b) => this.hardness[b]! - this.hardness[a]! || a - b);
  }

  run(variant: Variant, at: number, enoughHours?: number, loadFactor?: number): Shortage {
    const { year, startSoc } = this.runs[at]!;
    this.made++;
    const shortage = shortageOf(year, variant.under(year, startSoc, this.scratch, loadFactor), enoughHours);
    if (loadFactor === undefined) this.hardness[at] = this.hardness[at]! + shortage.hours;
    return shortage;
  }

  /** Whether the target is met, with all loads drawing so many times as much; stops as soon as that is known. */
  *meets(variant: Variant, loadFactor?: number): Task<boolean> {
    const failed = new Float64Array(this.target.cases);
    for (const at of this.order()) {
      const { caseIndex } = this.runs[at]!;
      const { hours } = this.run(variant, at, this.target.failingHours, loadFactor);
      yield;
      if (!this.target.fails(hours)) continue;
      failed[caseIndex] = failed[caseIndex]! + 1;
      if (failed[caseIndex]! > this.target.mayFail) return false;
    }
    return true;
  }
}
