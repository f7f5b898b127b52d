import type { Grid } from '../place/index.js';
import { flowsOf } from './flows.js';
import type { LogTable } from './log-table.js';
import { createStepLength, isGap } from './step-length.js';
import type { LogColumnName } from './types.js';

const HOUR_MS = 3_600_000;
/** A step of the grid is known when rows account for this share of it. */
const LEAST_COVER = 0.5;

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
  readonly irradianceWm2: Float64Array;
  /** share of each step that rows account for, 0..1 */
  readonly cover: Float64Array;
}

/** Brings a log to a regular grid. Each row holds until the next, in a gap only for the log's usual step. */
export function logSteps(table: LogTable, stepH: number, grid: Grid): LogSteps {
  const { timeMs, values, rows } = table;
  const names = Object.keys(values) as LogColumnName[];
  const columns = names.map((name) => values[name]!);
  const flows = flowsOf(names);
  const own = (name: LogColumnName) => {
    const at = names.indexOf(name);
    return (row: Float64Array) => (at < 0 ? Number.NaN : row[at]!);
  };
  const readers = [
    own('voltage'),
    flows.batteryA,
    flows.batteryW,
    own('temperature'),
    flows.harvestW,
    flows.loadW,
    flows.alternatorW,
    own('ambient'),
    own('irradiance'),
  ];
  const sums = readers.map(() => new Float64Array(grid.steps));
  const hours = readers.map(() => new Float64Array(grid.steps));
  const cover = new Float64Array(grid.steps);
  const soc = new Float64Array(grid.steps).fill(Number.NaN);
  const socOf = own('soc');
  const stepMs = grid.stepH * HOUR_MS;
  const length = createStepLength(stepH * HOUR_MS);
  const row = new Float64Array(names.length);
  const read = new Float64Array(readers.length);
  for (let i = 0; i < rows; i++) {
    const from = timeMs[i]!;
    const between = i + 1 < rows ? timeMs[i + 1]! - from : length.usualMs;
    const to = from + (isGap(between, length.usualMs) ? length.usualMs : between);
    length.observe(between);
    const first = Math.max(0, Math.floor((from - grid.startMs) / stepMs));
    const last = Math.min(grid.steps - 1, Math.ceil((to - grid.startMs) / stepMs) - 1);
    if (last < first) continue;
    for (let k = 0; k < row.length; k++) row[k] = columns[k]![i]!;
    for (let k = 0; k < read.length; k++) read[k] = readers[k]!(row);
    const counted = socOf(row);
    for (let step = first; step <= last; step++) {
      const begin = grid.startMs + step * stepMs;
      const forH = (Math.min(to, begin + stepMs) - Math.max(from, begin)) / HOUR_MS;
      if (!(forH > 0)) continue;
      cover[step] = cover[step]! + forH / grid.stepH;
      if (!Number.isNaN(counted)) soc[step] = counted;
      for (let k = 0; k < read.length; k++) {
        const value = read[k]!;
        if (Number.isNaN(value)) continue;
        sums[k]![step] = sums[k]![step]! + value * forH;
        hours[k]![step] = hours[k]![step]! + forH;
      }
    }
  }
  const means = sums.map((sum, k) =>
    sum.map((value, step) => (hours[k]![step]! >= LEAST_COVER * grid.stepH ? value / hours[k]![step]! : Number.NaN)),
  );
  const [voltageV, batteryA, batteryW, batteryC, harvestW, loadW, alternatorW, ambientC, irradianceWm2] = means;
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
    irradianceWm2: irradianceWm2!,
    cover,
  };
}
