import type { Task } from '../../math/index.js';
import { type BatteryRows, batteryRows } from '../parts/battery-rows.js';
import { capacityByVoltage } from '../parts/calibrate-capacity.js';
import type { CompareContext } from '../parts/compare-context.js';
import { listedDraw } from '../parts/listed.js';
import { type Night, nightsOf } from '../parts/nights.js';
import { judgeCharge } from './charge.js';
import { judgeCuts } from './cuts.js';
import { type DrawVerdict, judgeDraw } from './draw.js';
import { judgeEngine } from './engine.js';
import type { LogFinding } from './finding.js';
import { judgeFridge } from './fridge.js';
import { isNightHarvest, judgeMonitor } from './monitor.js';
import { judgePanel, type PanelVerdict, panelFindings } from './panel.js';
import { judgeMainPath } from './wires.js';

/** Capacity is low when even the upper end of the interval stays below. */
const ENOUGH_CAPACITY = 0.9;

/** What each part of a rig does by itself, judged by what is measured around it. */
export interface Judgement {
  readonly panel?: PanelVerdict;
  readonly draw: DrawVerdict;
  readonly nights: readonly Night[];
  readonly rows: BatteryRows;
  readonly findings: readonly LogFinding[];
}

/** Judges panels, charge, engine, main path, battery, fridge and draw, each against nothing and against what is innocent. */
export function* judgeTask(context: CompareContext): Task<Judgement> {
  const panel = isNightHarvest(context.log.reading) ? undefined : judgePanel(context);
  yield;
  const nights = nightsOf(context, yield* listedDraw(context));
  yield;
  const draw = judgeDraw(nights);
  const fridge = judgeFridge(context, nights);
  yield;
  const { startMs, steps, stepH } = context.replay.conditions.grid;
  const rows = batteryRows(
    { ...context, log: context.replay.log, fromMs: startMs, toMs: startMs + steps * stepH * 3_600_000 },
    context.run.trace.batteryC,
  );
  yield;
  return {
    ...(panel && { panel }),
    draw,
    nights,
    rows,
    findings: [
      ...judgeMonitor(context),
      ...(panel ? panelFindings(context, panel) : []),
      ...judgeCharge(context),
      ...judgeEngine(context),
      ...judgeMainPath(context, rows),
      ...capacityFindings(context, rows),
      ...draw.findings,
      ...fridge,
      ...judgeCuts(context, nights),
    ],
  };
}

function capacityFindings({ rig }: CompareContext, rows: BatteryRows): LogFinding[] {
  const estimate = capacityByVoltage(rig.battery, rows);
  const bankAh = rig.battery.capacityAh * rig.battery.count * rig.battery.health;
  if (typeof estimate === 'string' || estimate.high > ENOUGH_CAPACITY * bankAh) return [];
  const { ah, low, high } = estimate;
  return [
    {
      code: 'capacity_low',
      level: 'caution',
      path: 'battery.capacity',
      confidence: high - low < 0.2 * ah ? 'high' : 'fair',
      size: { value: ah / bankAh, low: low / bankAh, high: high / bankAh, unit: '' },
      args: { ah, low, high, bankAh },
    },
  ];
}
