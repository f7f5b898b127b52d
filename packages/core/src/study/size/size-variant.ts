import type { ChargeProfile, PartsList, Rig, SolarArray } from '../../rig/index.js';
import {
  type Assembled,
  assemble,
  BATTERY_STEP_WIDTH,
  CHARGER_STEP_WIDTH,
  compensation,
  fillBatteryRows,
  fillStepRows,
  type LoopInput,
  type LoopState,
  loopState,
  scaleLoadRows,
} from '../../simulate/index.js';
import type { Combination } from './size-list.js';
import { rigWith } from './size-rig.js';
import { type SizeYear, withoutSteps } from './size-year.js';

/** Buffers that one run after the other works in, by length. */
export class Scratch {
  private readonly buffers = new Map<string, Float64Array>();

  /** what is in it is of no account */
  take(name: string, length: number): Float64Array {
    const key = `${name} ${length}`;
    const buffer = this.buffers.get(key) ?? new Float64Array(length);
    this.buffers.set(key, buffer);
    return buffer;
  }
}

/** A run that can begin. */
export interface Prepared {
  readonly input: LoopInput;
  /** at the start; its rows are filled by `fill` */
  readonly state: LoopState;
  /** the rows of these steps: before the loop comes to them */
  readonly fill: (from: number, to: number) => void;
}

/** A choice ready to be run through any weather year: all of it but the columns. */
export class Variant {
  readonly rig: Rig;
  /** each array of the rig as one line of the list, by which its columns are shared */
  private readonly modules: readonly SolarArray[];
  private readonly empty: Assembled;

  /** @param lines each line of the list's panels as one string on the rig */
  constructor(
    rig: Rig,
    parts: PartsList,
    lines: readonly SolarArray[],
    combination: Omit<Combination, 'bill'>,
    year: SizeYear,
  ) {
    this.rig = rigWith(rig, parts, combination);
    this.modules = parts.panels.length === 0 ? this.rig.solar : lines.filter((_, k) => combination.panels[k]! > 0);
    this.empty = assemble(this.rig, withoutSteps(year.conditions), 1);
  }

  /** Made ready for a year, in the scratch's buffers. @param loadFactor of all loads' draw */
  under(year: SizeYear, startSoc: number, scratch: Scratch, loadFactor = 1): Prepared {
    const { rig, modules, empty } = this;
    const { steps } = year;
    const { battery } = rig;
    const nominalV = battery.nominalV * battery.series;
    const { batteryC, heaterW, rows: unitRows, times } = year.battery(rig);
    const batteryRows = scratch.take('battery', steps * BATTERY_STEP_WIDTH);
    const correction = (own: Partial<ChargeProfile> | undefined) =>
      compensation({ ...battery.charge, ...own }, batteryC, nominalV);

    const arrays = rig.solar.map((array, j) => ({ array, ...year.solar(array, modules[j]!, nominalV) }));
    const solar = arrays.map(({ array, maxOutputW }) => ({
      drive: maxOutputW,
      limitA: array.controller.currentA,
      share: 1,
      compensationV: correction(array.controller.charge),
    }));
    const { alternator, mains } = rig;
    const profiles = [
      ...(alternator ? [alternator.charger.kind === 'dcdc' ? alternator.charger.charge : undefined] : []),
      ...(mains ? [mains.charge] : []),
    ];
    const chargers = [
      ...solar,
      ...year.others(rig).map((lane, k) => ({ ...lane, compensationV: correction(profiles[k]) })),
    ];
    const standbyW = empty.standbyW;
    const aheadW = heaterW ? heaterW.map((watts) => watts + standbyW) : standbyW;
    const loadRows = loadFactor === 1 ? year.loadRows : scaleLoadRows(year.loadRows, year.lanes, loadFactor);
    const stepRows = scratch.take('steps', loadRows.length + steps * CHARGER_STEP_WIDTH * chargers.length);
    const width = loadRows.length / steps;
    const fill = (from: number, to: number) => {
      fillStepRows(stepRows, loadRows, width, aheadW, chargers, from, to);
      fillBatteryRows(batteryRows, unitRows, times, from, to);
    };

    const noTable = new Float64Array(0);
    const input: LoopInput = {
      ...empty.input,
      ...year.rooms,
      steps,
      startSoc,
      pwmA: chargers.map((_, j) => arrays[j]?.currentA ?? noTable),
    };
    return { input, state: loopState(input, stepRows, batteryRows), fill };
  }
}
