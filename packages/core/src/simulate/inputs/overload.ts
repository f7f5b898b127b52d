import { batteryModel, ocvAt, tableAt } from '../../battery/index.js';
import { inverterInputW, peakDraw } from '../../load/index.js';
import type { Coded } from '../../message/index.js';
import type { ClockPoint, DayWindow, Load, Rig } from '../../rig/index.js';
import { CONDUCTOR_C, circuitLoopOhm } from '../../wire/index.js';
import type { OverloadArgs } from '../types.js';

/** A part that the loads overload. */
export type Overload = Coded<OverloadArgs>;

/** A load at its full power: what it takes of the battery directly, or behind the inverter. */
interface FullPower {
  readonly name: string;
  readonly dcW: number;
  readonly acW: number;
  /** while it starts, behind the inverter */
  readonly startW: number;
  readonly spans: readonly (readonly [fromH: number, toH: number])[];
}

/**
 * Where loads ask for more than inverter and battery can give. A load's hours say how long it runs, not at what power: while it
 * runs it takes all of its power, whatever its mean over a day or a step. Loads may run at the same time wherever their
 * windows meet; those without windows at any time. Windows by the sun count at their widest.
 */
export function overloads(rig: Rig): Overload[] {
  const running = rig.loads.filter((load) => !load.starterSide && isUsed(load)).map((load) => fullPower(load, rig));
  const alone = running.flatMap((load) => overloadOf(rig, [load]));
  const single = new Set(alone.flatMap(({ args }) => args.names));
  const rest = running.filter(({ name }) => !single.has(name));
  return [...alone, ...together(rig, rest)];
}

/**
 * What each load takes while it runs, as `overloads` judges it: of an inverter at its outlet [W]. Loads that never run are left out, as
 * are those of the starter battery.
 */
export function fullPowers(
  rig: Rig,
): { readonly name: string; readonly watts: number; readonly isBehindInverter: boolean }[] {
  return rig.loads
    .filter((load) => !load.starterSide && isUsed(load))
    .map((load) => fullPower(load, rig))
    .map(({ name, dcW, acW }) => ({ name, watts: dcW + acW, isBehindInverter: acW > 0 }));
}

const isUsed = (load: Load) =>
  load.kind === 'fridge' || (load.share > 0 && load.hoursPerDay !== 0 && load.timesPerDay !== 0 && load.lastsH !== 0);

function fullPower(load: Load, { battery }: Rig): FullPower {
  const { name } = load;
  if (load.kind === 'fridge') return { name, dcW: load.compressorW + load.standbyW, acW: 0, startW: 0, spans: ALL_DAY };
  const { kind, value } = peakDraw(load);
  const watts = kind === 'power' ? value : value * battery.nominalV * battery.series;
  const spans = load.when.length === 0 ? ALL_DAY : load.when.flatMap(widest);
  return load.inverter
    ? { name, dcW: 0, acW: watts, startW: Math.max(watts, load.startW ?? 0), spans }
    : { name, dcW: watts, acW: 0, startW: 0, spans };
}

const ALL_DAY: readonly (readonly [number, number])[] = [[0, 24]];
/** Hours between which the sun rises and sets wherever people live; as in the reading of windows. */
const SUN_H = { sunrise: [3, 12], sunset: [12, 24] } as const;

/** A window on the clock, a sunset one at its widest; in two parts where it crosses midnight. */
function widest({ from, to }: DayWindow): (readonly [number, number])[] {
  const fromH = hourOf(from, 0);
  const toH = hourOf(to, 1);
  if (toH - fromH >= 24) return [[0, 24]];
  const [a, b] = [((fromH % 24) + 24) % 24, toH === 24 ? 24 : ((toH % 24) + 24) % 24];
  return a < b
    ? [[a, b]]
    : [
        [a, 24],
        [0, b],
      ];
}

function hourOf(point: ClockPoint, end: 0 | 1): number {
  return point.kind === 'clock' ? point.hour : SUN_H[point.kind][end] + point.offsetH;
}

/** The fewest loads that may run at the same time and are too many, for inverter and battery each. */
function together(rig: Rig, loads: readonly FullPower[]): Overload[] {
  const found = new Map<Overload['code'], Overload>();
  const starts = [...new Set(loads.flatMap(({ spans }) => spans.map(([fromH]) => fromH)))];
  for (const hour of starts) {
    const running = loads.filter(({ spans }) => spans.some(([fromH, toH]) => fromH <= hour && hour < toH));
    const behind = [...running].sort((a, b) => b.acW - a.acW).filter(({ acW }) => acW > 0);
    const starting = [...behind].sort((a, b) => b.startW - b.acW - (a.startW - a.acW));
    const largest = [...running].sort((a, b) => b.dcW + b.acW - (a.dcW + a.acW));
    for (const [code, ordered] of [
      ['inverter_overload', behind],
      ['inverter_surge', starting],
      ['battery_overload', largest],
    ] as const)
      for (let count = 2; count <= ordered.length; count++) {
        const one = overloadOf(rig, ordered.slice(0, count)).find((overload) => overload.code === code);
        if (!one) continue;
        const known = found.get(code);
        if (!known || one.args.names.length < known.args.names.length) found.set(code, one);
        break;
      }
  }
  return [...found.values()];
}

function overloadOf(rig: Rig, loads: readonly FullPower[]): Overload[] {
  const { inverter } = rig;
  const names = loads.map(({ name }) => name);
  const acW = loads.reduce((sum, load) => sum + load.acW, 0);
  const ratingW = inverter?.ratingW ?? 0;
  const over: Overload[] = [];
  if (inverter && acW > ratingW * (1 + 1e-9))
    over.push({ code: 'inverter_overload', args: { names, askedW: acW, ratingW } });
  // The one that takes most more than its power starts last.
  const extraW = Math.max(...loads.map((load) => load.startW - load.acW));
  if (inverter && extraW > 0 && acW + extraW > inverter.surgeW * (1 + 1e-9))
    over.push({ code: 'inverter_surge', args: { names, startW: acW + extraW, surgeW: inverter.surgeW } });
  const dcW = loads.reduce((sum, load) => sum + load.dcW, 0);
  const askedW = dcW + (inverter && acW > 0 ? inverterInputW(inverter, acW) : 0);
  const limit = batteryLimit(rig, askedW);
  if (limit) over.push({ code: 'battery_overload', args: { names, askedW, ...limit } });
  return over;
}

/** Where the battery cannot give a power: from the highest state of charge at which it cannot; undefined = it can down to the floor. */
function batteryLimit(
  { battery }: Rig,
  powerW: number,
): Omit<OverloadArgs['battery_overload'], 'names' | 'askedW'> | undefined {
  const model = batteryModel(battery);
  const mainOhm = circuitLoopOhm(battery.cable, CONDUCTOR_C);
  const { maxDischargeA, disconnect, floor } = battery;
  const disconnectV = disconnect.kind === 'voltage' ? disconnect.voltageV : undefined;
  for (let percent = 100; percent >= Math.ceil(100 * floor); percent--) {
    const soc = percent / 100;
    const ohm = tableAt(model.dischargeOhm, soc) + mainOhm;
    const ocvV = ocvAt(model, soc);
    // The smaller root of I · (OCV − I · R) = P; past its most power the current of that power stands for it.
    const square = ocvV * ocvV - 4 * ohm * powerW;
    const currentA = (ocvV - Math.sqrt(Math.max(0, square))) / (2 * ohm);
    const voltageV = ocvV - currentA * ohm;
    if (
      square < 0 ||
      currentA > (maxDischargeA ?? Infinity) * (1 + 1e-9) ||
      (disconnectV !== undefined && voltageV < disconnectV)
    )
      return {
        currentA,
        ...(maxDischargeA !== undefined && { maxDischargeA }),
        voltageV,
        ...(disconnectV !== undefined && { disconnectV }),
        fromSoc: soc,
      };
  }
  return undefined;
}
