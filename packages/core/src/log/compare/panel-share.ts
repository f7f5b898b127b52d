import { Z90 } from '../../math/index.js';
import type { Judgement } from '../judge/judge.js';
import { isNightHarvest } from '../judge/monitor.js';
import { MODEL_ERROR } from '../judge/panel.js';
import type { CompareContext } from '../parts/compare-context.js';
import { panelHours } from '../replay/panel-hours.js';
import type { PanelShare } from './compare-types.js';

/** Nothing is said of a panel whose share is not known within this. */
const WIDEST = 0.3;

/** How much of the rig's promise arrives, whole and by hour, losses included. */
export function panelShare(
  { replay, expectedW, comparable }: CompareContext,
  judged: Judgement,
): PanelShare | undefined {
  if (!judged.panel) return undefined;
  const found = panelHours(replay, expectedW, comparable);
  if (!found || found.wholeDay.standardError * Z90 > WIDEST) return undefined;
  const { ratio, standardError } = found.wholeDay;
  const wide = Math.hypot(Z90 * standardError, MODEL_ERROR[replay.light] * ratio);
  return { share: ratio, low: Math.max(0, ratio - wide), high: ratio + wide, judged: found.judged, hours: found.hours };
}

/** What was looked at and cannot be told by this log, and what would tell it. */
export function untold({ rig, steps, replay }: CompareContext, { panel, nights, rows }: Judgement): string[] {
  const texts: string[] = [];
  if (rig.solar.length > 0 && !panel)
    texts.push(
      isNightHarvest(replay.log.reading)
        ? "what the panel gives: the log's clock has to be set right first"
        : steps.harvestW.every(Number.isNaN)
          ? 'what the panel gives: the log has no solar power or current'
          : 'what the panel gives: on too few days did the battery take all that it had to give; a log of days that begin with a lower battery would tell',
    );
  if (nights.length === 0)
    texts.push(
      replay.log.reading.time.stepH > 0.25
        ? 'what draws at night: the rows are too far apart to tell a steady draw from what comes and goes; rows 15 min apart or closer would tell'
        : 'what draws at night: too few nights are logged with their current',
    );
  if (rows.takenAh.every((ah) => !(ah > 0.8 * rig.battery.capacityAh * rig.battery.count * rig.battery.health)))
    texts.push(
      `the capacity of the battery: it takes a full charge and then a discharge to the knee of its voltage${rig.battery.chemistry === 'LFP' ? ', below 12.8 V at rest' : ''}, and the log has none`,
    );
  return texts;
}
