import type { Cable } from '../rig/index.js';
import { logInterpolated } from './conductor.js';

/**
 * Current that a flexible single-core copper conductor with 70 °C insulation carries for good, alone in free air at
 * 30 °C [A], by section [mm²]. Source: DIN VDE 0298-4 table 11, from memory.
 */
export const AMPACITY_A: readonly (readonly [sectionMm2: number, ampacityA: number])[] = [
  [0.75, 15],
  [1, 19],
  [1.5, 24],
  [2.5, 32],
  [4, 42],
  [6, 54],
  [10, 73],
  [16, 98],
  [25, 129],
  [35, 158],
  [50, 198],
  [70, 245],
  [95, 292],
  [120, 344],
];
const TABLE_INSULATION_C = 70;
const TABLE_AMBIENT_C = 30;

/** Share left when conductors lie in a bundle, by their number. Source: DIN VDE 0298-4 table 21, from memory. */
const BUNDLE_FACTORS: readonly number[] = [1, 0.8, 0.7, 0.65, 0.6, 0.57, 0.54, 0.52, 0.5, 0.48];

/**
 * Share of the tabulated current that is left in warmer air: sqrt((Tmax − Ta) / (Tmax − Tref)).
 * Source: IEC 60364-5-52 annex. 0 where the air is as hot as the insulation may be.
 */
export function ambientFactor(insulationC: number, ambientC: number, referenceC = TABLE_AMBIENT_C): number {
  return Math.sqrt(Math.max(0, insulationC - ambientC) / (insulationC - referenceC));
}

/** Share left for wires bundled together; beyond ten they follow n^(−0.3), the table's own course. */
export function bundleFactor(bundled: number): number {
  const last = BUNDLE_FACTORS.length;
  if (!(bundled > 1)) return 1;
  return bundled <= last
    ? BUNDLE_FACTORS[Math.ceil(bundled) - 1]!
    : BUNDLE_FACTORS[last - 1]! * (bundled / last) ** -0.3;
}

/**
 * Current a cable carries for good [A]. Hotter insulation than the table's 70 °C is credited in warm surroundings
 * only, not with more current at 30 °C, because lugs, fuse holders and switches are seldom rated for more.
 * Accuracy: the table is from memory; every gauge stays below the small-craft figures for 105 °C insulation.
 * Gauges are taken by their area; outside the table's sizes the current follows section^0.6.
 */
export function ampacityA(cable: Pick<Cable, 'sectionMm2' | 'bundled' | 'insulationC'>, ambientC: number): number {
  const { sectionMm2, insulationC } = cable;
  if (!(insulationC > TABLE_AMBIENT_C)) throw new RangeError(`insulationC must be above 30, got ${insulationC}`);
  if (!(sectionMm2 > 0)) throw new RangeError(`sectionMm2 must be above 0, got ${sectionMm2}`);
  const aloneA = logInterpolated(AMPACITY_A, sectionMm2, 0.6);
  const insulation = Math.min(1, Math.sqrt((insulationC - TABLE_AMBIENT_C) / (TABLE_INSULATION_C - TABLE_AMBIENT_C)));
  return aloneA * insulation * ambientFactor(insulationC, ambientC) * bundleFactor(cable.bundled);
}

/**
 * Temperature of a conductor under load: the rise goes with the square of the current and reaches the insulation's
 * limit at the ampacity. Common practice (Joule heat against a constant film), no source.
 * @returns between ambientC and insulationC; above the ampacity it stays at the limit, where the model ends [°C]
 */
export function conductorC(
  cable: Pick<Cable, 'sectionMm2' | 'bundled' | 'insulationC'>,
  ambientC: number,
  currentA: number,
): number {
  const limitA = ampacityA(cable, ambientC);
  if (limitA <= 0) return ambientC;
  const top = Math.max(ambientC, Math.min(cable.insulationC, TABLE_INSULATION_C));
  return ambientC + (top - ambientC) * Math.min(1, currentA / limitA) ** 2;
}
