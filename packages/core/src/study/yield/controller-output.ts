import type { SolarLane } from '../../simulate/index.js';
import { inputFromArrayW, PWM_DROP_V, pwmCurrentA } from '../../solar/index.js';
import { CONDUCTOR_C, circuitLoopOhm } from '../../wire/index.js';

/** A battery that takes everything stands at this while it charges, for each 12 V of it [V]. Common practice, no source. */
const CHARGING_V = 13.3;

/** What an array and its controller give to a battery that takes everything, one value a step [W]. */
export interface ControllerOutput {
  /** at the array's terminals: at maximum power with an MPPT, at the voltage a PWM holds it to */
  readonly availableW: Float64Array;
  /** lost in the cable between array and controller, the array giving that */
  readonly cableLossW: Float64Array;
  /** at the controller's output, after its loss and its current limit */
  readonly outputW: Float64Array;
}

/**
 * Open loop: the battery stands at 13.3 V for each 12 V and is never full. The controller's own draw (`standbyW`) is the
 * battery's, day and night, and is not taken off; nor is the loss in the cable from controller to battery.
 * @param nominalV of the bank [V]
 */
export function controllerOutput(lane: SolarLane, nominalV: number): ControllerOutput {
  const { array, columns, cableOhm, maxOutputW } = lane;
  const steps = maxOutputW.length;
  const outputOhm = circuitLoopOhm(array.outputCable, CONDUCTOR_C);
  const batteryV = (CHARGING_V * nominalV) / 12;
  const cableLossW = new Float64Array(steps);
  const outputW = new Float64Array(steps);
  const { currentA } = array.controller;
  const { currentAtV } = columns;
  if (!currentAtV) {
    const { availableW, voltageV } = columns;
    const maxW = currentA * (batteryV + currentA * outputOhm);
    for (let i = 0; i < steps; i++) {
      const watts = availableW[i]!;
      if (!(watts > 0)) continue;
      cableLossW[i] = watts - inputFromArrayW(watts, voltageV[i]!, cableOhm);
      outputW[i] = Math.min(maxOutputW[i]!, maxW);
    }
    return { availableW, cableLossW, outputW };
  }
  const availableW = new Float64Array(steps);
  const lit = columns.availableW;
  const dropV = (PWM_DROP_V * nominalV) / 12;
  for (let i = 0; i < steps; i++) {
    if (!(lit[i]! > 0)) continue;
    const held = pwmHeldA(currentAtV, i, batteryV + dropV, cableOhm + outputOhm);
    const amps = Math.min(held, currentA);
    // Above the limit the switches turn the rest away: what the array could give stays available.
    availableW[i] = held * (batteryV + dropV + held * (cableOhm + outputOhm));
    cableLossW[i] = amps * amps * cableOhm;
    outputW[i] = amps * (batteryV + amps * outputOhm);
  }
  return { availableW, cableLossW, outputW };
}

/** I = f(V0 + I·R), the array's current at the battery's voltage seen through the cables: fixed point, halved so that it settles. */
function pwmHeldA(table: Parameters<typeof pwmCurrentA>[0], step: number, voltageV: number, ohm: number): number {
  let amps = pwmCurrentA(table, step, voltageV);
  for (let round = 0; round < 30; round++) {
    const next = pwmCurrentA(table, step, voltageV + amps * ohm);
    if (Math.abs(next - amps) < 1e-6) return next;
    amps = (amps + next) / 2;
  }
  return amps;
}
