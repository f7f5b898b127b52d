import { HOUR_MS, meanAndError } from '../../math/index.js';
import { batteryRows } from '../parts/battery-rows.js';
import { capacityByVoltage } from '../parts/calibrate-capacity.js';
import type { CompareContext } from '../parts/compare-context.js';
import type { LogFinding } from './compare-types.js';

/** A counter that is set so far from the rig's capacity is worth a word. */
const SETTING_OFF = 0.08;
/** Capacity is low when even the upper end of the interval stays below. */
const ENOUGH_CAPACITY = 0.95;
/** Days without a full charge after which a counter has drifted. Common practice, no source: once a week or two. */
const LONG_DAYS = 14;
/** Jumps of the state of charge at full that tell of a wrong counter, and how many of them. */
const JUMP_SOC = 0.04;
const MIN_JUMPS = 3;

/** What the log tells of its own counter of the state of charge. */
export function counterFindings({ rig, log }: Pick<CompareContext, 'rig' | 'log'>): LogFinding[] {
  return [...setting(rig, log), ...drift(log)];
}

/** Less capacity than rated, by the voltage over what was taken since full: the monitor's own counter proves nothing here. */
export function capacityFindings(scene: CompareContext): LogFinding[] {
  const { rig, run, replay } = scene;
  const { startMs, steps, stepH } = replay.conditions.grid;
  const days = { ...scene, fromMs: startMs, toMs: startMs + steps * stepH * HOUR_MS };
  const estimate = capacityByVoltage(rig.battery, batteryRows(days, run.trace.batteryC));
  const bankAh = rig.battery.capacityAh * rig.battery.count * rig.battery.health;
  if (typeof estimate === 'string' || estimate.high > ENOUGH_CAPACITY * bankAh) return [];
  const { ah, low, high, by } = estimate;
  return [
    {
      code: 'capacity_low',
      level: 'caution',
      path: 'battery.capacity',
      text: `The battery holds about ${ah.toFixed(0)} Ah where the rig has ${bankAh.toFixed(0)} Ah: it is worn, was never that large, or one of several has dropped out. What the rig promises for the night is that much too long.`,
      evidence: `${by}; 90 % interval ${low.toFixed(0)} to ${high.toFixed(0)} Ah`,
      confidence: high - low < 0.2 * ah ? 'high' : 'fair',
    },
  ];
}

/** A clock that makes night of day comes before everything else. */
export function clockFindings({ log }: Pick<CompareContext, 'log'>): LogFinding[] {
  return log.reading.warnings.flatMap((note): LogFinding[] => {
    if (note.code !== 'log_night_harvest') return [];
    const { zone, sun } = note.args;
    const right = sun ? `; by the sun it runs at about ${sun.clock}` : '';
    return [
      {
        code: 'log_clock',
        level: 'caution',
        path: 'log',
        text: `The log's clock does not fit the sun: the time zone ${zone} makes night of day${right}.`,
        evidence: "the centre of the day's harvest, over the whole log",
        confidence: 'high',
      },
    ];
  });
}

function setting(rig: CompareContext['rig'], { reading }: CompareContext['log']): LogFinding[] {
  const { counterAh } = reading;
  const bankAh = rig.battery.capacityAh * rig.battery.count;
  if (counterAh === undefined || Math.abs(counterAh / bankAh - 1) < SETTING_OFF) return [];
  return [
    {
      code: 'counter_setting',
      level: 'note',
      path: 'battery.capacity',
      text: `The monitor counts 100 % as ${counterAh.toFixed(0)} Ah, the rig has ${bankAh.toFixed(0)} Ah: one of the two is set wrong, and its percentages do not mean what they say until that is corrected.`,
      evidence: `charge counted against the change of the state of charge over ${reading.daily.length} days`,
      confidence: 'fair',
    },
  ];
}

function drift({ reading }: CompareContext['log']): LogFinding[] {
  const { longestWithoutFullDays } = reading.picture;
  const upward = reading.socResets.filter(({ from, to }) => to >= 0.99 && to - from > 0);
  const { mean } = meanAndError(upward.map(({ from, to }) => to - from));
  if (upward.length >= MIN_JUMPS && mean >= JUMP_SOC)
    return [
      {
        code: 'counter_drift',
        level: 'note',
        path: 'battery',
        text: `The monitor's state of charge runs low: it jumps up to full by ${Math.round(100 * mean)} % each time the battery is full. What it shows before a full charge is that much too low; its charge efficiency or its zero point wants setting.`,
        evidence: `${upward.length} jumps to full`,
        confidence: upward.length >= 5 ? 'high' : 'fair',
      },
    ];
  if (longestWithoutFullDays === undefined || longestWithoutFullDays < LONG_DAYS) return [];
  return [
    {
      code: 'counter_drift',
      level: 'caution',
      path: 'battery',
      text: `The battery was not full for ${Math.round(longestWithoutFullDays)} days on end: by then the monitor's state of charge has drifted and means little; a lead-acid battery suffers from it too. Charge it fully, once a week or two at least.`,
      evidence: `longest time without a full charge in the log, by ${reading.picture.fullBy ?? 'voltage'}`,
      confidence: 'high',
    },
  ];
}
