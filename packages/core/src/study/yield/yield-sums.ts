import { percentile } from '../../math/index.js';
import type { Place } from '../../place/index.js';
import type { Range, SolarArray } from '../../rig/index.js';
import type { WeatherNote } from '../../weather/index.js';
import type { ArrayYearFlow } from './array-year.js';
import { combined, type RangeEffect } from './yield-range.js';
import {
  type ArrayMonth,
  type ArrayYield,
  type Waterfall,
  YIELD_LOSSES,
  type YieldMonth,
  type YieldSetup,
  type YieldStudy,
} from './yield-types.js';

const MONTHS = Array.from({ length: 12 }, (_, month) => month);

export function addInto(sums: Float64Array, more: Float64Array): void {
  for (let i = 0; i < sums.length; i++) sums[i] = sums[i]! + more[i]!;
}

/** One array, gathered over the weather years. */
export class ArraySums {
  readonly poaWhM2 = new Float64Array(12);
  readonly availableWh = new Float64Array(12);
  readonly yieldWh = new Float64Array(12);
  readonly levelsWh = new Float64Array(YIELD_LOSSES.length + 1);
  /** by month, one entry a year */
  readonly years: Float64Array[] = [];
  last!: ArrayYearFlow;

  constructor(readonly array: SolarArray) {}

  add(year: ArrayYearFlow): void {
    addInto(this.poaWhM2, year.poaWhM2);
    addInto(this.availableWh, year.availableWh);
    addInto(this.yieldWh, year.yieldWh);
    addInto(this.levelsWh, year.levelsWh);
    this.years.push(year.yieldWh);
    this.last = year;
  }
}

export interface SetupSums {
  readonly how: Pick<YieldSetup, 'setup' | 'tiltDeg' | 'timesPerDay'>;
  readonly arrays: readonly SolarArray[];
  /** by month, over all years */
  readonly wh: Float64Array;
}

export interface YieldSums {
  readonly place: Place;
  readonly notes: readonly WeatherNote[];
  readonly years: number;
  /** in each month, over all years */
  readonly days: Float64Array;
  readonly arrays: readonly ArraySums[];
  readonly setups: readonly SetupSums[];
  readonly effects: readonly RangeEffect[];
  readonly best: { readonly yearDeg: number; readonly monthDeg: readonly (number | undefined)[] };
}

/** Sums over years turned into means a day and a year. */
export function yieldResult({ place, notes, years, days, arrays, setups, effects, best }: YieldSums): YieldStudy {
  const powerW = total(arrays.map(arrayPowerW));
  const whole = MONTHS.map((month): ArrayMonth => {
    const poaWh = total(arrays.map((sums) => (sums.poaWhM2[month]! * arrayPowerW(sums)) / powerW));
    const sum = (pick: (sums: ArraySums) => Float64Array) => total(arrays.map((sums) => pick(sums)[month]!));
    return monthRow(
      month,
      days,
      poaWh,
      sum(({ availableWh }) => availableWh),
      sum(({ yieldWh }) => yieldWh),
    );
  });
  const yearly = Array.from({ length: years }, (_, year) =>
    MONTHS.map((month) => total(arrays.map((sums) => sums.years[year]![month]!))),
  );
  const daysAYear = MONTHS.map((month) => days[month]! / years);
  const months = whole.map((row, month): YieldMonth => {
    const range = combined(effects, month);
    const bestTiltDeg = best.monthDeg[month];
    const spread = spreadOf(yearly.map((year) => year[month]! / daysAYear[month]!));
    return {
      ...row,
      ...(spread && { yieldWhDayP10: spread[0], yieldWhDayP50: spread[1], yieldWhDayP90: spread[2] }),
      yieldWhDayLow: row.yieldWhDay * range.low,
      yieldWhDayHigh: row.yieldWhDay * range.high,
      ...(bestTiltDeg !== undefined && { bestTiltDeg }),
    };
  });
  const annualOf = (wh: readonly number[]) => total(wh) / 1000;
  const yieldWhYear = MONTHS.map((month) => whole[month]!.yieldWhDay * daysAYear[month]!);
  const annualKwh = annualOf(yieldWhYear);
  const ranges = effects.map(({ what, assumed, low, high }) => ({
    what,
    assumed,
    annualKwh: {
      low: annualOf(yieldWhYear.map((wh, month) => wh * low[month]!)),
      high: annualOf(yieldWhYear.map((wh, month) => wh * high[month]!)),
    },
  }));
  const off = (end: keyof Range) => Math.hypot(...ranges.map((range) => range.annualKwh[end] - annualKwh));
  const annualSpread = spreadOf(yearly.map(annualOf));
  const sunKwh = (powerW / 1000) * total(MONTHS.map((month) => whole[month]!.poaKwhM2Day * daysAYear[month]!));
  const asFitted: SetupSums = { how: { setup: 'as fitted' }, arrays: [], wh: summed(arrays.map((a) => a.yieldWh)) };
  return {
    place,
    weatherYears: years,
    powerW,
    months,
    annualKwh,
    ...(annualSpread && {
      annualKwhP10: annualSpread[0],
      annualKwhP50: annualSpread[1],
      annualKwhP90: annualSpread[2],
    }),
    annualKwhLow: Math.max(0, annualKwh - off('low')),
    annualKwhHigh: annualKwh + off('high'),
    ...(sunKwh > 0 && { performanceRatio: annualKwh / sunKwh }),
    bestTiltDeg: best.yearDeg,
    arrays: arrays.map((sums) => arrayResult(sums, days, years)),
    waterfall: waterfallOf(summed(arrays.map(({ levelsWh }) => levelsWh)), years),
    setups: [asFitted, ...setups].map(({ how, wh }) => ({
      ...how,
      annualKwh: annualOf([...wh]) / years,
      yieldWhDay: MONTHS.map((month) => wh[month]! / days[month]!),
    })),
    ranges,
    notes,
  };
}

function arrayResult(sums: ArraySums, days: Float64Array, years: number): ArrayYield {
  return {
    name: sums.array.name,
    powerW: arrayPowerW(sums),
    months: MONTHS.map((month) =>
      monthRow(month, days, sums.poaWhM2[month]!, sums.availableWh[month]!, sums.yieldWh[month]!),
    ),
    annualKwh: total([...sums.yieldWh]) / years / 1000,
    waterfall: waterfallOf(sums.levelsWh, years),
  };
}

function monthRow(
  month: number,
  days: Float64Array,
  poaWhM2: number,
  availableWh: number,
  yieldWh: number,
): ArrayMonth {
  const poaKwhM2Day = poaWhM2 / days[month]! / 1000;
  return {
    month: month + 1,
    poaKwhM2Day,
    peakSunHours: poaKwhM2Day,
    availableWhDay: availableWh / days[month]!,
    yieldWhDay: yieldWh / days[month]!,
  };
}

function waterfallOf(levelsWh: Float64Array, years: number): Waterfall {
  const kwh = Array.from(levelsWh, (wh) => wh / years / 1000);
  const lightKwh = kwh[0]!;
  const losses = YIELD_LOSSES.map((where, k) => {
    const lost = kwh[k]! - kwh[k + 1]!;
    return { where, kwh: lost, share: lightKwh > 0 ? lost / lightKwh : 0 };
  });
  return { lightKwh, losses, yieldKwh: kwh.at(-1)! };
}

/** P10, P50 and P90 over weather years; undefined with a single one, which has no spread. */
function spreadOf(values: readonly number[]): [number, number, number] | undefined {
  if (values.length < 2) return undefined;
  return [percentile(values, 0.1), percentile(values, 0.5), percentile(values, 0.9)];
}

function arrayPowerW({ array }: ArraySums): number {
  return array.powerW * array.count;
}

function summed(columns: readonly Float64Array[]): Float64Array {
  const sums = new Float64Array(columns[0]!.length);
  for (const column of columns) addInto(sums, column);
  return sums;
}

function total(values: readonly number[]): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
}
