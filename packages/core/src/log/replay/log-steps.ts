import { HOUR_MS } from '../../math/index.js';
import type { Grid } from '../../sky/index.js';
import { createStepLength, isGap } from '../clock/step-length.js';
import { flowsOf } from '../read/flows.js';
import type { LogColumnName } from '../types.js';
import type { Log } from './replay.js';

/** A step of the grid is known when rows account for this share of it. */
const MIN_COVER = 0.5;

/** What the log shows in each step of a grid: means over the step, `soc` at its end. NaN = not measured there. */
export interface LogSteps {
  readonly grid: Grid;
  readonly voltageV: Float64Array;
  /** into the battery */
  readonly batteryA: Float64Array;
  readonly batteryW: Float64Array;
  readonly soc: Float64Array;
  readonly batteryC: Float64Array;
  readonly harvestW: Float64Array;
  readonly loadW: Float64Array;
  readonly alternatorW: Float64Array;
  readonly ambientC: Float64Array;
  readonly cabinC: Float64Array;
  readonly irradianceWm2: Float64Array;
  /** share of each step that rows account for, 0..1 */
  readonly cover: Float64Array;
}

type Reader = (row: Float64Array) => number;

/** Brings a log to a regular grid. Each row holds until the next, in a gap only for the log's usual step. */
export function logSteps({ table, reading }: Log, grid: Grid): LogSteps {
  const { timeMs, values, rows } = table;
  const { stepH, holdH } = reading.time;
  const names = Object.keys(values) as LogColumnName[];
  const columns = names.map((name) => values[name]!);
  const flows = flowsOf(names, reading.solarSide);
  const own = (name: LogColumnName): Reader | undefined => {
    const at = names.indexOf(name);
    return at < 0 ? undefined : (row) => row[at]!;
  };
  const means = [
    own('voltage'),
    flows.hasBattery ? flows.batteryA : undefined,
    flows.hasBattery ? flows.batteryW : undefined,
    own('temperature'),
    flows.hasHarvest ? flows.harvestW : undefined,
    flows.hasLoad ? flows.loadW : undefined,
    flows.hasAlternator ? flows.alternatorW : undefined,
    own('ambient'),
    own('cabin'),
    own('irradiance'),
  ].map((read) => ({ read, sum: new Float64Array(grid.steps), hours: new Float64Array(grid.steps) }));
  const measured = means.flatMap(({ read, ...rest }) => (read ? [{ read, ...rest }] : []));
  const cover = new Float64Array(grid.steps);
  const soc = new Float64Array(grid.steps).fill(Number.NaN);
  const socAt = names.indexOf('soc');
  const stepMs = grid.stepH * HOUR_MS;
  const length = createStepLength(stepH * HOUR_MS);
  const row = new Float64Array(names.length);
  for (let i = 0; i < rows; i++) {
    const from = timeMs[i]!;
    const between = i + 1 < rows ? timeMs[i + 1]! - from : length.usualMs;
    const hasGap = holdH === undefined ? isGap(between, length.usualMs) : between > holdH * HOUR_MS;
    const to = from + (hasGap ? Math.min(length.usualMs, between) : between);
    length.observe(between);
    const first = Math.max(0, Math.floor((from - grid.startMs) / stepMs));
    const last = Math.min(grid.steps - 1, Math.ceil((to - grid.startMs) / stepMs) - 1);
    if (last < first) continue;
    for (let k = 0; k < row.length; k++) row[k] = columns[k]![i]!;
    const counted = socAt < 0 ? Number.NaN : row[socAt]!;
    for (let step = first; step <= last; step++) {
      const begin = grid.startMs + step * stepMs;
      const forH = (Math.min(to, begin + stepMs) - Math.max(from, begin)) / HOUR_MS;
      if (!(forH > 0)) continue;
      cover[step] = cover[step]! + forH / grid.stepH;
      if (!Number.isNaN(counted)) soc[step] = counted;
      for (let k = 0; k < measured.length; k++) {
        const { read, sum, hours } = measured[k]!;
        const value = read(row);
        if (Number.isNaN(value)) continue;
        sum[step] = sum[step]! + value * forH;
        hours[step] = hours[step]! + forH;
      }
    }
  }
  const [voltageV, batteryA, batteryW, batteryC, harvestW, loadW, alternatorW, ambientC, cabinC, irradianceWm2] =
    means.map(({ sum, hours }) =>
      sum.map((value, step) => (hours[step]! >= MIN_COVER * grid.stepH ? value / hours[step]! : Number.NaN)),
    );
  return {
    grid,
    voltageV: voltageV!,
    batteryA: batteryA!,
    batteryW: batteryW!,
    soc,
    batteryC: batteryC!,
    harvestW: harvestW!,
    loadW: loadW!,
    alternatorW: alternatorW!,
    ambientC: ambientC!,
    cabinC: cabinC!,
    irradianceWm2: irradianceWm2!,
    cover,
  };
}
