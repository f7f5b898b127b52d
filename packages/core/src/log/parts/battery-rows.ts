import { HOUR_MS } from '../../math/index.js';
import { flowsOf } from '../read/flows.js';
import type { LogColumnName } from '../types.js';
import type { Training } from './calibrate-training.js';

/** Without a voltage the monitor's word stands in for full. */
const FULL_SOC = 0.99;
/** A battery is full at its absorption voltage, so far below it, per 12 V [V], while it takes less than this of its capacity [1/h]. */
const FULL_WITHIN_V = 0.1;
const FULL_TAIL_C = { LFP: 0.05, lead: 0.03 } as const;
/** Counting is trusted so long after a full charge [h], and across pauses so long [h]. */
const COUNTED_H = 120;
const LONGEST_PAUSE_H = 1.5;

/** The rows of the training days, with what has been taken from the battery since it was last full. NaN = not known. */
export interface BatteryRows {
  readonly count: number;
  readonly timeMs: Float64Array;
  readonly voltV: Float64Array;
  /** into the battery */
  readonly amps: Float64Array;
  readonly soc: Float64Array;
  readonly cellC: Float64Array;
  /** taken since full, what was put in counted with its efficiency [Ah] */
  readonly takenAh: Float64Array;
  /** hours since it was last charged */
  readonly restH: Float64Array;
  /** day of the run */
  readonly day: Int32Array;
}

/** Of a log, the days that are counted. */
export type CountedDays = Pick<Training, 'log' | 'rig' | 'assembled' | 'fromMs' | 'toMs' | 'dayOf' | 'steps'>;

/** @param batteryC the cells' temperature at each step of the run, where the log has none [°C] */
export function batteryRows(
  { log, rig, assembled, fromMs, toMs, dayOf, steps }: CountedDays,
  batteryC: Float64Array,
): BatteryRows {
  const { table, reading } = log;
  const names = Object.keys(table.values) as LogColumnName[];
  const columns = names.map((name) => table.values[name]!);
  const flows = flowsOf(names, reading.solarSide);
  let first = 0;
  while (first < table.rows && table.timeMs[first]! < fromMs) first++;
  let end = first;
  while (end < table.rows && table.timeMs[end]! < toMs) end++;
  const count = end - first;
  const column = () => new Float64Array(count).fill(Number.NaN);
  const at = (name: LogColumnName) => table.values[name]?.subarray(first, end) ?? column();
  const rows = {
    count,
    timeMs: table.timeMs.subarray(first, end),
    voltV: at('voltage'),
    soc: at('soc'),
    amps: column(),
    cellC: Float64Array.from(at('temperature')),
    takenAh: column(),
    restH: column(),
    day: new Int32Array(count),
  };
  const { charge, nominalV, series, capacityAh, count: batteries } = rig.battery;
  const fullV = charge.absorptionV - (FULL_WITHIN_V * nominalV * series) / 12;
  const hasVoltage = rows.voltV.some((volts) => !Number.isNaN(volts));
  const kind = rig.battery.chemistry === 'LFP' ? 'LFP' : 'lead';
  const { chargeEfficiency } = assembled.model;
  const efficiency = chargeEfficiency[Math.floor(chargeEfficiency.length / 2)]!;
  const row = new Float64Array(names.length);
  let [taken, sinceH, rest] = [Number.NaN, 0, Number.NaN];
  const usualH = reading.time.stepH;
  const stepMs = steps.grid.stepH * HOUR_MS;
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < row.length; k++) row[k] = columns[k]![first + i]!;
    const amps = flows.batteryA(row);
    rows.amps[i] = amps;
    const step = Math.min(dayOf.length - 1, Math.max(0, Math.floor((rows.timeMs[i]! - steps.grid.startMs) / stepMs)));
    rows.day[i] = dayOf[step]!;
    if (Number.isNaN(rows.cellC[i]!)) rows.cellC[i] = batteryC[step]!;
    const volts = rows.voltV[i]!;
    const dueV = fullV + charge.perDegreeV * (rows.cellC[i]! - 25);
    const isTail = volts >= dueV && amps >= 0 && amps < FULL_TAIL_C[kind] * capacityAh * batteries;
    if (hasVoltage ? isTail : rows.soc[i]! >= FULL_SOC) [taken, sinceH] = [0, 0];
    rows.takenAh[i] = taken + (amps < 0 ? (-amps * usualH) / 2 : 0);
    rest = amps > 0 ? 0 : rest;
    rows.restH[i] = rest;
    const pauseH = i + 1 < count ? (rows.timeMs[i + 1]! - rows.timeMs[i]!) / HOUR_MS : usualH;
    const forH = Math.min(pauseH, LONGEST_PAUSE_H);
    if (Number.isNaN(amps) || pauseH > LONGEST_PAUSE_H) taken = Number.NaN;
    else taken = Math.max(0, taken - amps * forH * (amps > 0 ? efficiency : 1));
    sinceH += pauseH;
    rest += pauseH;
    if (sinceH > COUNTED_H) taken = Number.NaN;
  }
  return rows;
}
