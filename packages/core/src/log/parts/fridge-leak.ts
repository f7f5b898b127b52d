import { compressorElectricW, DEFAULT_INSULATION_MM, heatLeakWPerK } from '../../load/index.js';
import type { FridgeLoad, Rig, WrittenValue } from '../../rig/index.js';

/** Bounds of a wall and of a rated consumption in a rig file [mm, Wh/day]. */
const WALL_MM = [5, 300] as const;
const MAX_WH = 20_000;
const MAX_LEAK = 4;

const fridgesOf = ({ loads }: Rig) =>
  loads.flatMap((load, index) => (load.kind === 'fridge' && !load.starterSide ? [{ load, index }] : []));

/** How many times its heat leak each fridge of the rig could be written with. */
export function maxLeak(rig: Rig): number {
  return Math.min(MAX_LEAK, ...fridgesOf(rig).map(({ load }) => maxLeakOf(load)));
}

function maxLeakOf(load: FridgeLoad): number {
  const { volumeL, rated, standbyW } = load;
  if (!rated)
    return heatLeakWPerK(volumeL, WALL_MM[0]) / heatLeakWPerK(volumeL, load.insulationMm ?? DEFAULT_INSULATION_MM);
  const runW = compressorElectricW(load, rated.ambientC);
  return Math.min(0.999 * runW, MAX_WH / 24 - standbyW) / (rated.energyWhPerDay / 24 - standbyW);
}

/** A fridge into which heat leaks so many times as fast: by its rated consumption if it has one, else by its wall. */
function withLeak(load: FridgeLoad, times: number): FridgeLoad {
  const { rated, standbyW } = load;
  if (rated) {
    const leaking = <T extends { readonly energyWhPerDay: number }>(point: T): T => ({
      ...point,
      energyWhPerDay: 24 * (standbyW + times * (point.energyWhPerDay / 24 - standbyW)),
    });
    return { ...load, rated: { ...leaking(rated), ...(rated.also && { also: rated.also.map(leaking) }) } };
  }
  const volumeL = load.volumeL + (load.secondZone?.volumeL ?? 0);
  const wanted = times * heatLeakWPerK(volumeL, load.insulationMm ?? DEFAULT_INSULATION_MM);
  let [thin, thick] = [...WALL_MM] as [number, number];
  for (let turn = 0; turn < 50; turn++) {
    const middle = (thin + thick) / 2;
    if (heatLeakWPerK(volumeL, middle) > wanted) thin = middle;
    else thick = middle;
  }
  return { ...load, insulationMm: (thin + thick) / 2 };
}

/** The rig with all its fridges so. */
export function withFridgeLeak(rig: Rig, times: number): Rig {
  const loads = rig.loads.map((load) => (load.kind === 'fridge' && !load.starterSide ? withLeak(load, times) : load));
  return { ...rig, loads };
}

/** What the leak comes to in the rig file. */
export function fridgeWrites(rig: Rig, times: number, comment: string): WrittenValue[] {
  return fridgesOf(rig).flatMap(({ load, index }) => {
    const { rated, insulationMm } = withLeak(load, times);
    if (!rated) return [{ path: ['loads', index, 'insulation'], value: `${insulationMm!.toFixed(1)} mm`, comment }];
    const energy = (wh: number) => `${(wh / 1000).toFixed(4)} kWh/day`;
    return [
      { path: ['loads', index, 'rated', 'energy'], value: energy(rated.energyWhPerDay), comment },
      ...(rated.also ?? []).map(({ energyWhPerDay }, k) => ({
        path: ['loads', index, 'rated', 'also', k, 'energy'],
        value: energy(energyWhPerDay),
        comment,
      })),
      { path: ['loads', index, 'rated', 'ambient'], value: `${rated.ambientC} degC`, unlessThere: true },
    ];
  });
}
