import { curveAt, type ModuleParameters } from './module.js';
import { locate, type PerformanceTable, type TablePlace, tableValue } from './performance-table.js';
import { currentAtVoltageA } from './single-diode.js';

/** Forward drop of a bypass diode [V]. Common practice, no source: 0.4 to 0.7 V by type. */
export const BYPASS_DROP_V = 0.5;

/**
 * Part shade on a series string. A share `s` of the panel has lost its beam, the rest has all of it. The shadow is
 * taken as compact, from one end of the string, so that it touches ⌈s·N⌉ of the N bypass groups (half a 36-cell module,
 * a third of a 60-cell one), and a group gives what its worst cell allows. The tracker has two choices:
 * - bypass the shaded groups: full current, voltage less by those groups and a diode drop each;
 * - keep all groups: full voltage, current of the shaded ones (diffuse light only);
 * and takes the better that the controller can use. Power thus falls in steps, not in proportion to the shaded share.
 * Every parallel string is taken to have the same share in shade. Thin film is taken as proportional: its cells are
 * strips as long as the panel, and a shadow seldom covers one alone.
 * Source of the behaviour: Quaschning & Hanitsch, Solar Energy 56, 1996; the two-choice form is this project's.
 */
export interface PartShade {
  /** power over that of the table's module for the whole array [W] */
  powerW: number;
  /** of the string [V] */
  voltageV: number;
}

/**
 * Power of one table's module and voltage of its string in part shade, into `result`.
 * @param litWm2 irradiance on cells in the sun; dimWm2 on cells in the shadow [W/m²]
 * @param share of the panel in shadow, between 0 and 1
 * @param groups bypass groups in one module; `series` modules to the string
 * @param minV lowest string voltage that the controller can use [V]
 */
export function partShadePower(
  table: PerformanceTable,
  place: TablePlace,
  litWm2: number,
  dimWm2: number,
  cellC: number,
  share: number,
  groups: number,
  series: number,
  minV: number,
  result: PartShade,
): void {
  const all = groups * series;
  const bypassed = shadedGroups(share, all);
  locate(place, dimWm2, cellC);
  result.powerW = tableValue(table.powerPerWm2, place) * dimWm2;
  result.voltageV = tableValue(table.voltageV, place) * series;
  if (bypassed >= all) return;
  locate(place, litWm2, cellC);
  const wholeV = tableValue(table.voltageV, place) * series;
  const voltageV = (wholeV * (all - bypassed)) / all - bypassed * BYPASS_DROP_V;
  const powerW = (tableValue(table.powerPerWm2, place) * litWm2 * voltageV) / wholeV;
  if (voltageV >= minV && powerW > result.powerW) {
    result.powerW = powerW;
    result.voltageV = voltageV;
  }
}

/**
 * Current of one module's string in part shade at a fixed string voltage [A]: the larger of what the sunlit groups
 * give alone, at the higher voltage asked of each, and what all groups give in diffuse light.
 * Solved directly: part shade with a PWM controller is rare enough.
 */
export function partShadeCurrentA(
  module: ModuleParameters,
  litWm2: number,
  dimWm2: number,
  cellC: number,
  share: number,
  groups: number,
  series: number,
  voltageV: number,
): number {
  const all = groups * series;
  const bypassed = shadedGroups(share, all);
  const allA = dimWm2 > 0 ? currentAtVoltageA(curveAt(module, dimWm2, cellC), voltageV / series) : 0;
  if (bypassed >= all) return Math.max(0, allA);
  const groupsV = ((voltageV + bypassed * BYPASS_DROP_V) * all) / (all - bypassed);
  return Math.max(0, allA, currentAtVoltageA(curveAt(module, litWm2, cellC), groupsV / series));
}

function shadedGroups(share: number, all: number): number {
  return Math.min(all, Math.ceil(share * all - 1e-9));
}

/** Beam on the sunlit cells, from the mean that shade left; dirt and glass are taken to dim it as they dim the whole. */
export function fullBeamWm2(leftWm2: number, share: number, sunWm2: number, poaWm2: number): number {
  return poaWm2 > 0 ? (leftWm2 / (1 - share)) * (sunWm2 / poaWm2) : 0;
}
