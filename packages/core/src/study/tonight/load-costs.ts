import type { Rig } from '../../rig/index.js';
import type { HeavyLane } from '../../simulate/index.js';
import type { Room, Way } from '../run/course.js';
import type { LoadCost } from './tonight-types.js';

/** The inverter with nothing to do. */
export const IDLE_INVERTER = 'inverter standby';

/**
 * What each load takes from the bus from now to a step's end: of those behind the inverter with their share of its loss, the
 * fridges with what their cables lose [Wh].
 * @param room in which the way was followed last
 */
export function loadCosts({ assembled, from }: Way, { out }: Room, upTo: number): Map<string, number> {
  const { plain, inverter, heavies, fridges, input } = assembled;
  const { stepH, steps } = input;
  const costs = new Map<string, number>();
  const add = (name: string, wh: number) => costs.set(name, (costs.get(name) ?? 0) + wh);
  const sum = (watts: (i: number) => number) => {
    let total = 0;
    for (let i = from; i < from + upTo; i++) total += watts(i);
    return total * stepH;
  };
  const onShareOf = (lane: HeavyLane['of']) => {
    const k = heavies.findIndex(({ of }) => of === lane);
    return k < 0 ? out.onShare : out.heavyOnShare.subarray(k * steps, (k + 1) * steps);
  };
  for (const lane of plain) {
    const { load, meanW, meanA, byStep } = lane;
    const onShare = onShareOf(lane);
    add(
      load.name,
      sum((i) => {
        const watts = byStep
          ? byStep(i, out.soc[Math.max(from, i - 1)]!)
          : meanW
            ? meanW[i]!
            : (meanA?.[i] ?? 0) * out.busV[i]!;
        return onShare[i]! * watts;
      }),
    );
  }
  if (inverter) {
    const { inputW, standbyW } = inverter.columns;
    const onShare = onShareOf(inverter);
    for (const { load, meanW } of inverter.loads)
      add(
        load.name,
        sum((i) => {
          const asked = inverter.askedW[i]!;
          return asked > 0 ? onShare[i]! * (inputW[i]! - standbyW[i]!) * (meanW[i]! / asked) : 0;
        }),
      );
    add(
      IDLE_INVERTER,
      sum((i) => out.onShare[i]! * standbyW[i]!),
    );
  }
  fridges.forEach(({ load, standbyW }, k) => {
    add(
      load.name,
      sum((i) => out.fridgeBusW[k * steps + i]! + standbyW * out.fridgeOnShare[k * steps + i]!),
    );
  });
  return costs;
}

/** What kind of loss it is to be without. */
export function kindOf(rig: Rig, name: string): LoadCost['kind'] {
  if (name === IDLE_INVERTER) return 'idle';
  const load = rig.loads.find((one) => one.name === name);
  if (!load) return 'planned';
  if (load.kind === 'fridge') return 'spoils';
  return load.critical ? 'critical' : 'load';
}

/** In this order one does without: what nobody misses, then what costs most; what matters and what spoils comes last. */
const ORDER: readonly LoadCost['kind'][] = ['idle', 'planned', 'load', 'critical', 'spoils'];

export function cheapestFirst(loads: readonly LoadCost[]): LoadCost[] {
  return loads.toSorted((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind) || b.costWh - a.costWh);
}
