import { percentile } from '../../math/index.js';
import type { Rig } from '../../rig/index.js';
import { flowsOf } from '../read/flows.js';
import type { LogColumnName } from '../types.js';
import type { LogSteps } from './log-steps.js';
import type { Log } from './replay.js';

/** Rows with this share of the nameplate and above are looked at, in bins of the harvest. */
const MIN_SHARE = 0.1;
const BINS = 8;
const MIN_ROWS = 15;
const MIN_BINS = 4;
/** The quietest rows: what comes and goes is off in them. */
const QUIET = 0.1;
/** What the lowest draw grows by with the harvest, as a share of it: none on the battery's side, the controller's loss on the panels'. */
const BATTERY_BELOW = 0.015;
const PANEL_ABOVE = 0.03;

/** On which side of the controller the harvest is measured. */
export interface HarvestSide {
  readonly side: 'panel' | 'battery' | 'either';
  readonly by: 'columns' | 'balance' | 'assumed';
  /** standard error of it, as a share */
  readonly error: number;
}

/**
 * Harvest less what flows into the battery is what loads take and, if the harvest is measured before the controller, its loss.
 * At its quietest the loads' part does not grow with the sun; the loss does.
 */
export function harvestSide(rig: Rig, { table, reading }: Log, steps: LogSteps, offeredW: Float64Array): HarvestSide {
  const array = rig.solar[0];
  const converted = array?.controller.kind === 'MPPT' ? array.controller.efficiency : 1;
  const as = (side: HarvestSide['side'], by: HarvestSide['by']): HarvestSide => ({
    side,
    by,
    error: side === 'either' ? (1 - converted) / 4 : 0.01,
  });
  const { values } = table;
  if (steps.harvestW.every(Number.isNaN) || !array) return as('either', 'assumed');
  if (!values.solarPower)
    return as(values.solarVoltage && reading.solarSide !== 'battery' ? 'panel' : 'battery', 'columns');
  const mostW = offeredW.reduce((most, one) => Math.max(most, one), -Infinity);
  const slope = lowestDrawSlope(rig, { table, reading }, mostW);
  if (slope === undefined || (slope >= BATTERY_BELOW && slope < PANEL_ABOVE)) return as('either', 'assumed');
  if (slope < BATTERY_BELOW) return as('battery', 'balance');
  // loads that go with the warmth of the day grow with the sun as well
  const goWithWarmth = rig.loads.some((load) => load.kind === 'scheduled' && load.draw.kind === 'expression');
  return goWithWarmth ? as('either', 'assumed') : as('panel', 'balance');
}

/** Of harvest less battery power, the lowest tenth in bins of the harvest: how it grows with the harvest. */
function lowestDrawSlope(rig: Rig, { table, reading }: Log, mostW: number): number | undefined {
  const names = Object.keys(table.values) as LogColumnName[];
  const columns = names.map((name) => table.values[name]!);
  const flows = flowsOf(names, reading.solarSide);
  const row = new Float64Array(names.length);
  const nameplateW = rig.solar.reduce((sum, { powerW, count }) => sum + powerW * count, 0);
  const topW = Math.min(mostW, nameplateW);
  const bins: { harvest: number; draw: number }[][] = Array.from({ length: BINS }, () => []);
  for (let i = 0; i < table.rows; i++) {
    for (let k = 0; k < row.length; k++) row[k] = columns[k]![i]!;
    const harvest = flows.harvestW(row);
    const draw = harvest - flows.batteryW(row);
    const bin = Math.floor(((harvest / topW - MIN_SHARE) / (1 - MIN_SHARE)) * BINS);
    if (bin >= 0 && bin < BINS && !Number.isNaN(draw)) bins[bin]!.push({ harvest, draw });
  }
  const points = bins
    .filter((rows) => rows.length >= MIN_ROWS)
    .map((rows) => ({
      x: rows.reduce((sum, { harvest }) => sum + harvest, 0) / rows.length,
      y: percentile(
        rows.map(({ draw }) => draw),
        QUIET,
      ),
    }));
  if (points.length < MIN_BINS) return undefined;
  const mean = (of: (point: (typeof points)[number]) => number) =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [x, y] = [mean((point) => point.x), mean((point) => point.y)];
  return (
    points.reduce((sum, point) => sum + (point.x - x) * (point.y - y), 0) /
    points.reduce((sum, point) => sum + (point.x - x) ** 2, 0)
  );
}
