import type { CompareContext } from '../parts/compare-context.js';
import { type LogFinding, sizeOf } from './finding.js';

/** A counter that is set so far from the rig's capacity counts wrongly; nearer than the first nothing is said. */
const SETTING_NOTE = 0.1;
const SETTING_OFF = 0.2;
/** Jumps of the state of charge at full that tell of a wrong counter, and how many of them. */
const JUMP_SOC = 0.04;
const MIN_JUMPS = 3;
const LONG_DAYS = 14;

/** A clock that makes night of day: nothing of the sun can be judged by it. */
export const isNightHarvest = ({ warnings }: CompareContext['log']['reading']): boolean =>
  warnings.some(({ code }) => code === 'log_night_harvest');

/** What the log tells of the monitor: clock, zero, setting of its counter. */
export function judgeMonitor({ rig, replay }: CompareContext): LogFinding[] {
  const { clock, zero } = replay.evidence;
  const { counterAh, socResets, picture, harvestCentre } = replay.log.reading;
  const findings: LogFinding[] = [];
  if (clock)
    findings.push({
      code: 'log_clock',
      level: 'caution',
      path: 'log',
      confidence: clock.best > 0.95 ? 'high' : 'fair',
      size: sizeOf(clock.aheadMin, clock.standardError, 'min'),
      args: { aheadMin: clock.aheadMin, asIs: clock.asIs, best: clock.best, days: clock.days },
    });
  else if (isNightHarvest(replay.log.reading))
    findings.push({
      code: 'log_clock',
      level: 'caution',
      path: 'log',
      confidence: 'high',
      args: { centreH: harvestCentre?.dayH ?? Number.NaN },
    });
  if (zero?.isWrong)
    findings.push({
      code: 'monitor_zero',
      level: 'caution',
      path: 'log',
      confidence: zero.fulls >= 5 ? 'high' : 'fair',
      size: sizeOf(zero.amps, Math.max(zero.standardError, 0.02), 'A'),
      args: { amps: zero.amps, ahDay: 24 * zero.amps, fulls: zero.fulls, days: zero.hours / 24 },
    });
  const bankAh = rig.battery.capacityAh * rig.battery.count;
  if (counterAh !== undefined && Math.abs(counterAh / bankAh - 1) >= SETTING_NOTE)
    findings.push({
      code: 'counter_setting',
      level: Math.abs(Math.log(counterAh / bankAh)) >= SETTING_OFF ? 'caution' : 'note',
      path: 'battery.capacity',
      confidence: 'high',
      size: sizeOf(counterAh, 0.03 * counterAh, 'Ah'),
      args: { counterAh, bankAh },
    });
  const upward = socResets.filter(({ from, to }) => to >= 0.99 && to - from > 0);
  const mean = upward.reduce((sum, { from, to }) => sum + to - from, 0) / Math.max(1, upward.length);
  if (upward.length >= MIN_JUMPS && mean >= JUMP_SOC)
    findings.push({
      code: 'counter_drift',
      level: 'note',
      path: 'battery',
      confidence: upward.length >= 5 ? 'high' : 'fair',
      args: { jumps: upward.length, mean },
    });
  else if (picture.longestWithoutFullDays !== undefined && picture.longestWithoutFullDays >= LONG_DAYS)
    findings.push({
      code: 'counter_drift',
      level: 'note',
      path: 'battery',
      confidence: 'high',
      args: { days: picture.longestWithoutFullDays, by: picture.fullBy ?? 'voltage' },
    });
  return findings;
}
