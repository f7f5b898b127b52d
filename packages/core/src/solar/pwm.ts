/**
 * What a PWM controller gets: the array's current at fixed voltages, for each step.
 * The array's voltage is the battery's plus the drop in cables and controller.
 */
export interface CurrentAtVoltage {
  /** evenly spaced, rising [V] */
  readonly voltagesV: Float64Array;
  /** steps × voltages, voltage varying fastest; negative above open circuit, 0 at night [A] */
  readonly currentA: Float64Array;
}

/** What a PWM controller's switches and shunt drop at its usual current [V]. Common practice, no source: 1 to 3 % of 13.5 V. */
export const PWM_DROP_V = 0.25;

/** The voltages of a 12 V bank's table, 10 to 16 V in half volts, times the bank's nominal over 12 V. */
export function pwmVoltagesV(nominalV: number): Float64Array {
  return Float64Array.from({ length: 13 }, (_, j) => ((10 + j / 2) * nominalV) / 12);
}

/**
 * Array current in one step at a voltage at the array's terminals [A]: a parabola through three neighbouring voltages,
 * held below the first (short-circuit current is little more), never below 0.
 */
export function pwmCurrentA(table: CurrentAtVoltage, step: number, voltageV: number): number {
  const { voltagesV, currentA } = table;
  const count = voltagesV.length;
  const first = voltagesV[0]!;
  const base = step * count;
  const at = Math.max(0, (voltageV - first) / (voltagesV[1]! - first));
  // Parabolas meet at every second voltage, so the current has no jumps; above the last voltage the last one goes on.
  const j = Math.min(2 * Math.floor(at / 2), count - 3);
  const x = at - j;
  const y0 = currentA[base + j]!;
  const y1 = currentA[base + j + 1]!;
  const y2 = currentA[base + j + 2]!;
  const rise = y1 - y0;
  return Math.max(0, y0 + x * (rise + ((x - 1) / 2) * (y2 - y1 - rise)));
}
