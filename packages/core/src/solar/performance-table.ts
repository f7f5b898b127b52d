import { curveAt, type ModuleParameters } from './module.js';
import { currentAtVoltageA, maximumPower } from './single-diode.js';

/** Nodes: the square root of irradiance, which is dense where low light bends the curve, and cell temperature. */
const SUN_NODES = 97;
const SUN_MAX_WM2 = 1600;
const HEAT_NODES = 28;
const HEAT_MIN_C = -40;
const HEAT_STEP_C = 6;
const NODES_PER_ROOT = (SUN_NODES - 1) / Math.sqrt(SUN_MAX_WM2);

/**
 * One module solved once over irradiance × cell temperature, so that a run need not solve the diode in each step.
 * Interpolated bilinearly in (√G, T), and carried on linearly outside 0 to 1600 W/m², −40 to 122 °C. Quantities that
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
 * What the diode and shunt take of the photocurrent at fixed terminal voltages, over the same nodes, as its logarithm
 * [ln A]; voltages vary fastest. The logarithm is nearly straight in temperature where the current itself has a knee.
 */
export function innerCurrentTable(module: ModuleParameters, voltagesV: Float64Array): Float64Array {
  const count = voltagesV.length;
  const logA = new Float64Array(SUN_NODES * HEAT_NODES * count);
  for (let s = 0; s < SUN_NODES; s++) {
    for (let h = 0; h < HEAT_NODES; h++) {
      const curve = curveAt(module, nodeWm2(s), nodeC(h));
      const base = (s * HEAT_NODES + h) * count;
      for (let j = 0; j < count; j++) logA[base + j] = Math.log(curve.photoA - currentAtVoltageA(curve, voltagesV[j]!));
    }
  }
  return logA;
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

/**
 * One step's currents from an `innerCurrentTable` at a place, (photoA − inner current) × factor, into `into` from
 * `offset`; negative above open circuit.
 */
export function currentRow(
  table: Float64Array,
  place: TablePlace,
  count: number,
  photoA: number,
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
    into[offset + j] = (photoA - Math.exp(dim + sunShare * (bright - dim))) * factor;
  }
}

function nodeWm2(s: number): number {
  return (s / NODES_PER_ROOT) ** 2;
}

function nodeC(h: number): number {
  return HEAT_MIN_C + h * HEAT_STEP_C;
}
