import { batteryModel } from '../../battery/index.js';
import { Z90 } from '../../math/index.js';
import { daysBetween } from '../../place/index.js';
import type { EnergyRead, Readings, Rig } from '../../rig/index.js';
import { chargeAfter } from '../../study/index.js';
import { isFull, type Shown } from './vehicle-runs.js';

/** A value that was read, how far it may be off, and what a vehicle would have shown in its place. */
export interface Observed {
  /** as its file has it: totals[0].solar */
  readonly path: string;
  /** as it is compared: days full as the logarithm of their odds, which goes on where all days or none are full */
  readonly value: number;
  /** one standard deviation */
  readonly sd: number;
  readonly of: (shown: Shown) => number;
}

/** Common practice, no source: a counter of charge, a display of volts, what is counted as a full day, a thermometer; one standard deviation. */
const SOC_SD = 0.05 / Z90;
const VOLTS_SD = 0.06;
const FULL_SHARE_SD = 0.03;
const CUTS_SD = 0.5;
const FRIDGE_SD_K = 1.5;
/** Of the battery's cells, where volts and amps are turned into a charge. */
const CELLS_C = 20;
/** With fewer rows of days no thirds are made. */
const MIN_ROWS = 9;

/**
 * What readings say, each against what a vehicle would show. Rows of days are compared by what is left when nobody knows which of the
 * days was dull: means, and those of the lowest and highest third.
 * @param dates that are followed
 */
export function observe(readings: Readings, rig: Rig, dates: readonly string[]): Observed[] {
  const at = (date: string) => daysBetween(dates[0]!, date);
  const observed: Observed[] = [];
  const add = (path: string, value: number, sd: number, of: Observed['of']) => observed.push({ path, value, sd, of });
  readings.totals.forEach(({ from, days, solar, used, full, empty, lowest, trust }, k) => {
    const [first, end] = [at(from), at(from) + days];
    const sum = (pick: (shown: Shown) => Float64Array) => (shown: Shown) => total(pick(shown), first, end);
    const energySd = (wh: number) => Math.max(1, (trust / Z90) * wh);
    if (solar)
      add(
        `totals[${k}].solar`,
        whOf(solar, rig),
        energySd(whOf(solar, rig)),
        sum((shown) => shown.solarWh),
      );
    if (used)
      add(
        `totals[${k}].used`,
        whOf(used, rig),
        energySd(whOf(used, rig)),
        sum((shown) => shown.usedWh),
      );
    if (full !== undefined) {
      const sdDays = Math.max(1, FULL_SHARE_SD * days);
      const odds = (n: number) => Math.log((n + 0.5) / (days - n + 0.5));
      const sd = (odds(Math.min(days, full + sdDays)) - odds(Math.max(0, full - sdDays))) / 2;
      add(`totals[${k}].full`, odds(full), sd, (shown) => odds(count(shown.highest, first, end, isFull)));
    }
    if (empty !== undefined)
      add(
        `totals[${k}].empty`,
        empty,
        Math.max(CUTS_SD, 0.2 * empty),
        sum((shown) => shown.cuts),
      );
    if (lowest !== undefined)
      add(`totals[${k}].lowest`, lowest, SOC_SD, (shown) =>
        shown.lowest.subarray(first, end).reduce((a, b) => Math.min(a, b), 1),
      );
  });
  const rows = <T>(pick: (row: Readings['days'][number]) => T | undefined) =>
    readings.days.flatMap((row) => {
      const value = pick(row);
      return value === undefined ? [] : [{ day: at(row.date), value }];
    });
  const addRows = (
    what: string,
    all: { day: number; value: number }[],
    sdOf: (mean: number) => number,
    pick: (shown: Shown) => Float64Array,
  ) => {
    if (all.length === 0) return;
    const shownAt = (shown: Shown) => all.map(({ day }) => pick(shown)[day]!);
    const values = all.map(({ value }) => value);
    const parts = all.length >= MIN_ROWS ? (['mean', 'lowest third', 'highest third'] as const) : (['mean'] as const);
    for (const part of parts)
      add(`days: ${part} of ${what}`, partMean(values, part), sdOf(partMean(values, part)), (shown) =>
        partMean(shownAt(shown), part),
      );
  };
  const energySd = (wh: number) => Math.max(1, 0.03 * wh);
  addRows(
    'solar',
    rows(({ solar }) => solar && whOf(solar, rig)),
    energySd,
    (shown) => shown.solarWh,
  );
  addRows(
    'lowest',
    rows(({ lowest }) => lowest),
    () => SOC_SD,
    (shown) => shown.lowest,
  );
  addRows(
    'highest',
    rows(({ highest }) => highest),
    () => SOC_SD,
    (shown) => shown.highest,
  );
  readings.moments.forEach(({ date, hour, soc, voltageV, currentA, fridgeC }, k) => {
    const step = 24 * at(date) + Math.floor(hour);
    if (soc !== undefined) add(`moments[${k}].soc`, soc, SOC_SD, (shown) => shown.soc[step]!);
    if (voltageV !== undefined && currentA !== undefined) {
      const charge = chargeAfter(batteryModel(rig.battery), { kind: 'voltage', voltageV, currentA }, CELLS_C);
      const sd = Math.max(SOC_SD, (charge(0.84) - charge(0.16)) / 2);
      add(`moments[${k}].volts`, (charge(0.84) + charge(0.16)) / 2, sd, (shown) => shown.soc[step]!);
    } else if (voltageV !== undefined)
      add(
        `moments[${k}].volts`,
        voltageV,
        VOLTS_SD * Math.max(1, (rig.battery.nominalV * rig.battery.series) / 12),
        (shown) => shown.batteryV[step]!,
      );
    if (fridgeC !== undefined) add(`moments[${k}].fridge`, fridgeC, FRIDGE_SD_K, (shown) => shown.fridgeC[step]!);
  });
  return observed;
}

export function whOf(read: EnergyRead, { battery }: Rig): number {
  return read.kind === 'energy'
    ? read.wh
    : read.ah * battery.nominalV * battery.series * (battery.chemistry === 'LFP' ? 13.2 / 12 : 12.6 / 12);
}

function total(column: Float64Array, first: number, end: number): number {
  let sum = 0;
  for (let i = first; i < end; i++) sum += column[i]!;
  return sum;
}

function count(column: Float64Array, first: number, end: number, holds: (value: number) => boolean): number {
  let sum = 0;
  for (let i = first; i < end; i++) if (holds(column[i]!)) sum++;
  return sum;
}

function partMean(values: readonly number[], part: 'mean' | 'lowest third' | 'highest third'): number {
  const third = Math.floor(values.length / 3);
  const sorted = part === 'mean' ? values : values.toSorted((a, b) => a - b);
  const taken = part === 'mean' ? sorted : part === 'lowest third' ? sorted.slice(0, third) : sorted.slice(-third);
  return taken.reduce((a, b) => a + b, 0) / taken.length;
}
