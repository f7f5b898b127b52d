import { percentilesOf, type Task } from '../../math/index.js';
import { lit, type PartsList, type Rig, shaded, someVehicles, type VehicleDraw, vehicleOf } from '../../rig/index.js';
import type { Shortage } from './size-follow.js';
import type { Combination } from './size-list.js';
import { Runner, type SizeRun, type Target } from './size-runs.js';
import type { SizeSpread } from './size-types.js';
import { SizeYear } from './size-year.js';

/** Vehicles of an ensemble that are followed. */
const VEHICLES = 16;

/**
 * What a vehicle makes of the parts that could be bought: its light and its shade. A battery that is bought holds what is printed on it.
 * @param rig of that vehicle, whose shade an array of the list takes over that has none of its own (see `arrayOf`)
 */
export function partsOn(parts: PartsList, rig: Rig, { harvest, shade }: VehicleDraw): PartsList {
  return {
    ...parts,
    panels: parts.panels.map((panel) => {
      const bright = lit(panel.array, harvest);
      const takesOver = bright.shade.length === 0 && rig.solar.length > 0;
      return { ...panel, array: takesOver ? bright : shaded(bright, shade) };
    }),
  };
}

/** What some choices come to in the vehicles of the rig's ensemble, each in a pair of the weather years of every case. */
export function* spreadTask(
  rig: Rig,
  ensemble: readonly VehicleDraw[],
  parts: PartsList,
  runs: readonly SizeRun[],
  target: Target,
  choices: readonly Combination[],
): Task<SizeSpread[]> {
  const vehicles = someVehicles(ensemble, VEHICLES);
  const pairs = Math.ceil(Math.max(...runs.map(({ yearIndex }) => yearIndex + 1)) / 2);
  const shortages = choices.map((): Shortage[] => []);
  for (const [k, vehicle] of vehicles.entries()) {
    const own = vehicleOf(rig, vehicle);
    const years: SizeRun[] = [];
    for (const run of runs) {
      if (run.yearIndex >> 1 !== k % pairs) continue;
      years.push({ ...run, year: new SizeYear(own, run.year.conditions) });
      yield;
    }
    const runner = new Runner(own, partsOn(parts, own, vehicle), years, target);
    for (const [c, choice] of choices.entries()) {
      const variant = runner.variant(choice);
      for (const at of years.keys()) {
        shortages[c]!.push(runner.run(variant, at));
        yield;
      }
    }
  }
  return shortages.map((all) => ({
    vehicles: vehicles.length,
    unservedHoursYear: percentilesOf(all.map(({ hours }) => hours)),
    nightsWithout: percentilesOf(all.map(({ nights }) => nights)),
    lowestSoc: percentilesOf(all.map(({ lowestSoc }) => Math.max(0, lowestSoc))),
    meets: all.filter(({ hours }) => !target.fails(hours)).length / all.length,
  }));
}
