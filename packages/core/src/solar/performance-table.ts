import { curveAt, type ModuleParameters } from './module.js';
import { currentAtVoltageA, maximumPower } from './single-diode.js';

/** Nodes: the square root of irradiance, which is dense where low light bends the curve, and cell temperature. */
const SUN_NODES = 97;
const SUN_MAX_WM2 = 1600;
const HEAT_NODES = 26;
const HEAT_MIN_C = -40;
const HEAT_STEP_C = 6;
const NODES_PER_ROOT = (SUN_NODES - 1) / Math.sqrt(SUN_MAX_WM2);

/**
 * One module solved once over irradiance × cell temperature, so that a run need not solve the diode in each step.
 * Interpolated bilinearly in (√G, T), and carried on linearly outside 0 to 1600 W/m², −40 to 110 °C. Quantities that
 * vanish with the light are held per W/m².
 * Accuracy against the direct solve: tests/core/solar/performance-table.test.ts (power within 0.1 % above 10 W/m²).
 */
export interface PerformanceTable {
  readonly module: ModuleParameters;
  /** maximum power per irradiance [W per W/m²]; row = irradiance node, column = temperature node */
  readonly powerPerWm2: Float64Array;
  /** voltage at maximum power [V] */
  readonly voltageV: Float64Array;
}

/** Where a state falls in a table: index of its lower node and the shares within the cell. */
export interface TablePlace {
  node: number;
  sunShare: number;
  heatShare: number;
}

export function performanceTable(module: ModuleParameters): PerformanceTable {
  const powerPerWm2 = new Float64Array(SUN_NODES * HEAT_NODES);
  const voltageV = new Float64Array(SUN_NODES * HEAT_NODES);
  for (let s = 1; s < SUN_NODES; s++) {
    const sunWm2 = nodeWm2(s);
    for (let h = 0; h < HEAT_NODES; h++) {
      const point = maximumPower(curveAt(module, sunWm2, nodeC(h)));
      powerPerWm2[s * HEAT_NODES + h] = point.powerW / sunWm2;
      voltageV[s * HEAT_NODES + h] = point.voltageV;
    }
  }
  // In the dark both vanish with the logarithm of light; the first interval, below 0.2 W/m², is of no account.
  return { module, powerPerWm2, voltageV };
}

/**
 * Current at fixed terminal voltages over the same nodes [A per W/m²], never negative; voltages vary fastest.
 * Where the voltage is above open circuit the node has 0, which makes the corner at open circuit one node wide.
 */
export function currentTable(module: ModuleParameters, voltagesV: Float64Array): Float64Array {
  const count = voltagesV.length;
  const currentPerWm2 = new Float64Array(SUN_NODES * HEAT_NODES * count);
  for (let s = 1; s < SUN_NODES; s++) {
    const sunWm2 = nodeWm2(s);
    for (let h = 0; h < HEAT_NODES; h++) {
      const curve = curveAt(module, sunWm2, nodeC(h));
      const base = (s * HEAT_NODES + h) * count;
      for (let j = 0; j < count; j++)
        currentPerWm2[base + j] = Math.max(0, currentAtVoltageA(curve, voltagesV[j]!)) / sunWm2;
    }
  }
  return currentPerWm2;
}

/** Writes where (irradiance, cell temperature) falls into `place`: one call serves all tables of a step. */
export function locate(place: TablePlace, irradianceWm2: number, cellC: number): void {
  const sun = Math.sqrt(irradianceWm2) * NODES_PER_ROOT;
  const heat = (cellC - HEAT_MIN_C) / HEAT_STEP_C;
  const s = sun < SUN_NODES - 2 ? sun | 0 : SUN_NODES - 2;
  const h = heat > 0 ? (heat < HEAT_NODES - 2 ? heat | 0 : HEAT_NODES - 2) : 0;
  place.node = s * HEAT_NODES + h;
  place.sunShare = sun - s;
  place.heatShare = heat - h;
}

/** Bilinear value of one table at a place. */
export function tableValue(table: Float64Array, place: TablePlace): number {
  const { node, sunShare, heatShare } = place;
  const dim = table[node]! + heatShare * (table[node + 1]! - table[node]!);
  const bright = table[node + HEAT_NODES]! + heatShare * (table[node + HEAT_NODES + 1]! - table[node + HEAT_NODES]!);
  return dim + sunShare * (bright - dim);
}

/** Bilinear values of a `currentTable` at a place, times `factor`, into `into` from `offset`. */
export function tableRow(
  table: Float64Array,
  place: TablePlace,
  count: number,
  factor: number,
  into: Float64Array,
  offset: number,
): void {
  const { sunShare, heatShare } = place;
  const cool = place.node * count;
  const warm = cool + count;
  const up = HEAT_NODES * count;
  for (let j = 0; j < count; j++) {
    const dim = table[cool + j]! + heatShare * (table[warm + j]! - table[cool + j]!);
    const bright = table[cool + up + j]! + heatShare * (table[warm + up + j]! - table[cool + up + j]!);
    const value = (dim + sunShare * (bright - dim)) * factor;
    into[offset + j] = Math.max(value, 0);
  }
}

function nodeWm2(s: number): number {
  return (s / NODES_PER_ROOT) ** 2;
}

function nodeC(h: number): number {
  return HEAT_MIN_C + h * HEAT_STEP_C;
}
