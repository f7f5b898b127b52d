/**
 * DC-DC charger between alternator and house battery. All are closed forms of numbers only, for the step loop, and
 * hold while the engine runs: multiply by the share of the step that it does. Its efficiency is taken as constant, which is
 * within 2 points of data sheets above a quarter of the rating (common practice, no source).
 */

/**
 * Largest input current: what the alternator has left, what the cable passes before the voltage at the charger
 * falls to its cut-out, and the point of most power through the cable (half the voltage lost), whichever is least.
 * @param availableA   left by the alternator [A]
 * @param terminalV    at the alternator [V]
 * @param inputCutOutV the charger stops below this input voltage [V]
 * @param inputOhm     cable out and back, >= 0 [Ω]
 * @returns >= 0 [A]
 */
export function dcdcMaxInputA(availableA: number, terminalV: number, inputCutOutV: number, inputOhm: number): number {
  const headroomV = terminalV - Math.max(inputCutOutV, terminalV / 2);
  if (!(headroomV >= 0 && terminalV > 0 && availableA > 0)) return 0;
  return inputOhm > 0 ? Math.min(availableA, headroomV / inputOhm) : availableA;
}

/**
 * Input current that an output power takes: the lower root of (V − I·R)·I = P_out/efficiency.
 * The alternator then gives V·I, of which I²·R is lost in the cable and P_out·(1/efficiency − 1) in the charger.
 * @param outputW    at the charger's output, no more than the cable and `dcdcMaxInputA` allow [W]
 * @returns >= 0; NaN if the cable cannot pass that power [A]
 */
export function dcdcInputA(outputW: number, efficiency: number, terminalV: number, inputOhm: number): number {
  const inputW = outputW / efficiency;
  if (inputW <= 0) return 0;
  return (2 * inputW) / (terminalV + Math.sqrt(terminalV * terminalV - 4 * inputOhm * inputW));
}
