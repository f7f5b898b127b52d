/**
 * What a PWM controller gets: the array's current at fixed voltages, for each step.
 * The array's voltage is the battery's plus the drop in cables and controller.
 */
export interface CurrentAtVoltage {
  /** evenly spaced, rising [V] */
  readonly voltagesV: Float64Array;
  /** steps × voltages, voltage varying fastest [A] */
  readonly currentA: Float64Array;
}

/** What a PWM controller's switches and shunt drop at its usual current [V]. Common practice, no source: 1 to 3 % of 13.5 V. */
export const PWM_DROP_V = 0.25;

/** The voltages of a 12 V bank's table, 10 to 16 V in half volts, times the bank's nominal over 12 V. */
export function pwmVoltagesV(nominalV: number): Float64Array {
  return Float64Array.from({ length: 13 }, (_, j) => ((10 + j / 2) * nominalV) / 12);
}

/**
 * Array current in one step at a voltage at the array's terminals [A]; linear between voltages, held below the first
 * (short-circuit current is little more) and falling on above the last, never below 0.
 */
export function pwmCurrentA(table: CurrentAtVoltage, step: number, voltageV: number): number {
  const { voltagesV, currentA } = table;
  const count = voltagesV.length;
  const first = voltagesV[0]!;
  const at = (voltageV - first) / (voltagesV[1]! - first);
  const base = step * count;
  if (!(at > 0)) return currentA[base]!;
  const j = at < count - 2 ? Math.floor(at) : count - 2;
  const low = currentA[base + j]!;
  const value = low + (at - j) * (currentA[base + j + 1]! - low);
  return Math.max(value, 0);
}
