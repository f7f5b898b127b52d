import type { Cable } from '../rig/index.js';

/**
 * Maximum DC resistance at 20 °C of flexible copper conductors [Ω/km], by nominal section [mm²], ascending.
 * Source: IEC 60228:2004, class 5, plain wires; 1 to 25 mm² re-read in two public reprints, the others from memory.
 * A nominal section is a name, not an area: resistance times section is 5 to 20 % above pure copper.
 */
export const CLASS5_OHM_PER_KM: readonly (readonly [sectionMm2: number, ohmPerKm: number])[] = [
  [0.5, 39.0],
  [0.75, 26.0],
  [1, 19.5],
  [1.5, 13.3],
  [2.5, 7.98],
  [4, 4.95],
  [6, 3.3],
  [10, 1.91],
  [16, 1.21],
  [25, 0.78],
  [35, 0.554],
  [50, 0.386],
  [70, 0.272],
  [95, 0.206],
  [120, 0.161],
  [150, 0.129],
  [185, 0.106],
  [240, 0.0801],
  [300, 0.0641],
];

/** Resistivity of annealed copper at 20 °C [Ω mm²/m]. Source: IEC 60028 (100 % IACS), from memory. */
export const COPPER_OHM_MM2_PER_M = 0.017241;

/**
 * Stranded conductors of a gauge are a little longer than their cable: 2 % more resistance than the solid wire.
 * Source: ASTM B8 lay allowance, from memory; the stranded column of NEC chapter 9 table 8 agrees within 0.8 %.
 */
export const STRANDING_FACTOR = 1.02;

/** Conductors in a run are taken at this temperature: warm, not at their limit [°C]. */
export const CONDUCTOR_C = 30;

/**
 * Fuse, fuse holder and lugs of one circuit [Ω]: what remains when no cable is given or the cable is a stub.
 * Common practice, no source: a bolted fuse about 0.3 mΩ, each crimped and bolted joint 0.1 to 0.2 mΩ.
 */
export const TERMINAL_OHM = 0.001;

/**
 * Resistance of copper relative to 20 °C: (234.5 + T) / 254.5.
 * Source: IEC 60228, annex on temperature correction; the same as 1 + 0.00393 (T − 20).
 */
export function copperFactor(conductorC: number): number {
  return (234.5 + conductorC) / 254.5;
}

/** Solid annealed copper at 20 °C, by its true area [Ω/km]. */
export function solidOhmPerKm(areaMm2: number): number {
  return (1000 * COPPER_OHM_MM2_PER_M) / areaMm2;
}

/**
 * Flexible conductor at 20 °C, by nominal section: the standard's limit for its own sizes, between them a straight
 * line in logarithms, beyond them the same material [Ω/km].
 */
export function class5OhmPerKm(sectionMm2: number): number {
  return logInterpolated(CLASS5_OHM_PER_KM, sectionMm2, -1);
}

/**
 * Resistance of a two-wire copper run, out and back: R = 2 · L · r20 · (234.5 + T) / 254.5.
 * Source: metric sections IEC 60228 class 5 (the standard's maximum, an upper bound); gauges ASTM B258 with
 * STRANDING_FACTOR. Terminals and fuse not included, see circuitLoopOhm.
 * @param conductorC of the conductor, not the air, −60 to 200 [°C]
 * @returns loop resistance, >= 0 [Ω]
 * @throws RangeError for a length outside 0 to 1000 m, a section <= 0, a temperature out of range, or NaN
 */
export function cableLoopOhm(cable: Cable, conductorC: number): number {
  const { lengthM, sectionMm2 } = cable;
  if (!(lengthM >= 0 && lengthM <= 1000)) throw new RangeError(`lengthM must be 0 to 1000, got ${lengthM}`);
  if (!(sectionMm2 > 0 && sectionMm2 < Infinity)) throw new RangeError(`sectionMm2 must be above 0, got ${sectionMm2}`);
  if (!(conductorC >= -60 && conductorC <= 200))
    throw new RangeError(`conductorC must be -60 to 200, got ${conductorC}`);
  const ohmPerKm =
    cable.gaugeAwg === undefined ? class5OhmPerKm(sectionMm2) : solidOhmPerKm(sectionMm2) * STRANDING_FACTOR;
  return ((2 * lengthM * ohmPerKm) / 1000) * copperFactor(conductorC);
}

/** What a circuit's current meets: its cable, never less than its terminals and fuse; terminals alone without a cable. */
export function circuitLoopOhm(cable: Cable | undefined, conductorC: number): number {
  return cable === undefined ? TERMINAL_OHM : Math.max(TERMINAL_OHM, cableLoopOhm(cable, conductorC));
}

/**
 * Straight line between the logarithms of a table's rows; beyond its ends y follows x to the power `slope`.
 * @param table rows [x, y], x ascending, all above 0
 */
export function logInterpolated(table: readonly (readonly [number, number])[], x: number, slope: number): number {
  let i = 0;
  while (i < table.length && table[i]![0] < x) i++;
  const after = table[Math.min(i, table.length - 1)]!;
  if (after[0] === x) return after[1];
  if (i === 0 || i === table.length) return after[1] * (x / after[0]) ** slope;
  const before = table[i - 1]!;
  const share = Math.log(x / before[0]) / Math.log(after[0] / before[0]);
  return before[1] * (after[1] / before[1]) ** share;
}
