import type { CompareContext } from '../parts/compare-context.js';
import { comparedLoads } from '../replay/fit-errors.js';
import { coverByDay } from '../replay/step-days.js';
import type { CompareDay, CompareHour, SideBySide } from './compare-types.js';

const KEYS = ['Soc', 'V', 'HarvestW', 'LoadW'] as const;

/** Log and model over groups of steps: only where the log has the quantity, so that both stand for the same time. */
function grouped(scene: CompareContext, groups: number, groupOf: (step: number) => number): SideBySide[] {
  const { steps, run } = scene;
  const { trace } = run;
  const load = comparedLoads(steps, run);
  const pairs = [
    [steps.soc, trace.soc],
    [steps.voltageV, trace.batteryV],
    [steps.harvestW, trace.pvHarvestW],
    [load.logW, load.modelW],
  ] as const;
  const sums = pairs.map(() => ({
    log: new Float64Array(groups),
    model: new Float64Array(groups),
    count: new Float64Array(groups),
  }));
  for (let i = 0; i < trace.soc.length; i++) {
    const group = groupOf(i);
    pairs.forEach(([log, model], k) => {
      const value = log[i]!;
      if (Number.isNaN(value) || Number.isNaN(model[i]!)) return;
      const { log: logs, model: models, count } = sums[k]!;
      logs[group] = logs[group]! + value;
      models[group] = models[group]! + model[i]!;
      count[group] = count[group]! + 1;
    });
  }
  return Array.from(
    { length: groups },
    (_, group) =>
      Object.fromEntries(
        KEYS.flatMap((key, k) => {
          const { log, model, count } = sums[k]!;
          return [
            [`log${key}`, log[group]! / count[group]!],
            [`model${key}`, model[group]! / count[group]!],
          ];
        }),
      ) as unknown as SideBySide,
  );
}

export function byHour(scene: CompareContext): CompareHour[] {
  const { localHour } = scene.replay.conditions.itinerary;
  return grouped(scene, 24, (i) => Math.floor(localHour[i]!) % 24).map((row, hour) => ({ hour, ...row }));
}

export function byDay(scene: CompareContext): CompareDay[] {
  const { dayOf, dates, steps } = scene;
  const cover = coverByDay(steps.cover, dayOf, dates.length);
  return grouped(scene, dates.length, (i) => dayOf[i]!).map((row, k) => ({
    date: dates[k]!,
    cover: cover[k]!,
    ...row,
  }));
}
