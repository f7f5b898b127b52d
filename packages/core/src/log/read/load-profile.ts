import { DAY_MS, HOUR_MS } from '../../math/index.js';
import { utcOffsetH } from '../../place/index.js';
import { ConfigError } from '../../rig/index.js';
import type { LoadMoment } from '../../simulate/index.js';
import type { LogOptions } from '../types.js';
import { readLogTable } from './log-table.js';

const BINS_PER_HOUR = 6;
const BINS = 24 * BINS_PER_HOUR;
/** A day counts when rows cover this share of it. */
const MIN_COVER = 0.5;
/** A row stands for no longer than this [ms]. */
const MAX_HOLD_MS = 2 * HOUR_MS;

/**
 * A load from a measured profile: a CSV with the time and the power of what was drawn, read as logs are. Its days, each at its own
 * local clock, are drawn again and again, the first on the first day of a run; a time that was not measured takes the mean of the
 * other days at that time. Steps of ten minutes.
 * @param options which column and zone, where the file does not say: `{ columns: { loadPower: 'my heading' } }`
 * @returns power at a moment, for `ownLoads` of `simulate` and the like [W]
 * @throws ConfigError when there is no column of a load's power, or no day of which half is there
 * @example
 * ```ts
 * import { readLoadProfile, readRig, simulate, withoutTrip } from '@stayput/core';
 *
 * const rows = Array.from({ length: 48 }, (_, i) => `2026-05-01 ${String(i >> 1).padStart(2, '0')}:${i % 2 ? '30' : '00'},${i < 24 ? 5 : 40}`);
 * const powerW = readLoadProfile(['time,load power (W)', ...rows, ''].join('\n'), { zone: 'Europe/Lisbon' });
 * const { rig } = readRig('battery: { chemistry: LFP, capacity: 100 Ah }\nsolar: [{ power: 175 W }]');
 * const trip = withoutTrip({ place: 'Porto', from: '2026-07-02', days: 2 });
 * const { loads } = simulate(rig, trip, { ownLoads: [{ name: 'measured', powerW }] });
 * console.log(loads[0]?.name, Math.round(loads[0]!.servedWh)); // → measured 1080
 * ```
 */
export function readLoadProfile(
  text: string,
  options: LogOptions = {},
): (at: Pick<LoadMoment, 'dayNumber' | 'localHour' | 'stepH'>) => number {
  const { table, reading } = readLogTable(text, options);
  const { loadPower } = table.values;
  const refuse = (code: string, message: string, hint: string): never => {
    throw new ConfigError([{ code, path: '', file: options.file ?? 'load profile', message, hint }]);
  };
  if (!loadPower)
    return refuse(
      'profile_no_power',
      'no column of a load’s power was found',
      `name it as columns.loadPower; the headings are ${[...reading.time.headings, ...reading.unused].join(', ')}`,
    );
  const { zone } = reading.time;
  const offsetOf = (ms: number) => (zone === 'UTC' ? 0 : utcOffsetH(ms, zone));
  const firstDay = Math.floor((table.timeMs[0]! + offsetOf(table.timeMs[0]!) * HOUR_MS) / DAY_MS);
  const lastMs = table.timeMs[table.rows - 1]!;
  const days = Math.floor((lastMs + offsetOf(lastMs) * HOUR_MS) / DAY_MS) - firstDay + 1;
  const sums = new Float64Array(days * BINS);
  const weight = new Float64Array(days * BINS);
  const binMs = HOUR_MS / BINS_PER_HOUR;
  for (let row = 0; row < table.rows; row++) {
    const watts = loadPower[row]!;
    if (Number.isNaN(watts)) continue;
    const fromMs = table.timeMs[row]!;
    const holdMs = Math.min(reading.time.stepH * HOUR_MS, MAX_HOLD_MS);
    const untilMs = Math.min(table.timeMs[row + 1] ?? fromMs + holdMs, fromMs + MAX_HOLD_MS);
    const clockMs = fromMs + offsetOf(fromMs) * HOUR_MS - firstDay * DAY_MS;
    for (let ms = clockMs; ms < clockMs + untilMs - fromMs; ) {
      const bin = Math.floor(ms / binMs);
      const end = Math.min((bin + 1) * binMs, clockMs + untilMs - fromMs);
      if (bin < sums.length) {
        sums[bin] = sums[bin]! + Math.max(0, watts) * (end - ms);
        weight[bin] = weight[bin]! + (end - ms);
      }
      ms = end;
    }
  }
  const usual = Float64Array.from({ length: BINS }, (_, at) => meanAt(sums, weight, at));
  const all = meanOf(sums, weight);
  const kept = Array.from({ length: days }, (_, day) => day).filter((day) => {
    const covered = weight.subarray(day * BINS, (day + 1) * BINS).reduce((n, ms) => n + (ms > 0 ? 1 : 0), 0);
    return covered >= MIN_COVER * BINS;
  });
  if (kept.length === 0)
    refuse(
      'profile_short',
      'no day of the profile is covered by half',
      'a whole day is the least that can be repeated',
    );
  const powerOf = (day: number, bin: number) => {
    const at = day * BINS + bin;
    if (weight[at]! > 0) return sums[at]! / weight[at]!;
    return Number.isNaN(usual[bin]!) ? all : usual[bin]!;
  };
  return ({ dayNumber, localHour, stepH }) => {
    const day = kept[dayNumber % kept.length]!;
    // A step longer than a bin takes the mean of those it spans.
    const span = Math.max(1, Math.round(stepH * BINS_PER_HOUR));
    const first = Math.floor(localHour * BINS_PER_HOUR - (span - 1) / 2);
    let sum = 0;
    for (let bin = first; bin < first + span; bin++) sum += powerOf(day, Math.min(BINS - 1, Math.max(0, bin)));
    return sum / span;
  };
}

/** Mean over the days of one time of day; NaN where none has it. */
function meanAt(sums: Float64Array, weight: Float64Array, at: number): number {
  let [sum, days] = [0, 0];
  for (let bin = at; bin < sums.length; bin += BINS)
    if (weight[bin]! > 0) {
      sum += sums[bin]! / weight[bin]!;
      days++;
    }
  return days > 0 ? sum / days : Number.NaN;
}

function meanOf(sums: Float64Array, weight: Float64Array): number {
  const [sum, ms] = [sums, weight].map((column) => column.reduce((a, b) => a + b, 0));
  return ms! > 0 ? sum! / ms! : 0;
}
