import { compressorCoolingW, compressorElectricW, type FridgeModel } from './fridge-model.js';

/** The thermostat switches this far above and below its set point [K]. Common practice. */
export const THERMOSTAT_BAND_K = 1;
/** Longest step at which a run shows the thermostat switch; in longer ones a compressor's run would be cut to pieces [h]. */
const SWITCHING_STEP_H = 2 / 60;

/** Half the swing of a thermostat in a run of this step; 0 where a duty cycle stands for it [K]. */
export function thermostatSwingK(stepH: number): number {
  return stepH <= SWITCHING_STEP_H + 1e-9 ? THERMOSTAT_BAND_K : 0;
}

/**
 * Above this, chilled food should not stay for hours [°C]. Common guidance of food agencies: a fridge at 5 °C or below
 * (Codex and European agencies; 40 °F, 4.4 °C, in North America); from memory.
 */
export const CHILLED_FOOD_C = 5;
/** Above this, frozen food should not stay [°C]. Directive 89/108/EEC lets −18 °C rise to −15 °C; from memory. */
export const FROZEN_FOOD_C = -15;
/** The two in words, for readers. */
export const FOOD_SAFE_SOURCE = {
  chilled: 'common guidance of food agencies for chilled food',
  frozen: 'the rise that Directive 89/108/EEC allows for frozen food',
} as const;

/** How the inside temperature moves over one step: T1 = T0 · decay + room · (1 − decay) + heat · kelvinPerW. */
export interface FridgeFactors {
  readonly decay: number;
  readonly kelvinPerW: number;
}

/** Exact for heat and room constant over the step: decay = exp(−UA · dt / C), kelvinPerW = (1 − decay) / UA. */
export function fridgeFactors(model: FridgeModel, stepH: number): FridgeFactors {
  const perStep = (model.uaWPerK * stepH) / model.capacityWhPerK;
  const decay = Math.exp(-perStep);
  return { decay, kelvinPerW: perStep > 0 ? -Math.expm1(-perStep) / model.uaWPerK : stepH / model.capacityWhPerK };
}

/**
 * Inside temperature after a step in which the compressor ran for `duty` of the time [°C]. Hot loop.
 * @param gainW heat from food and doors; @param coolingW while running
 */
export function fridgeNextC(
  model: FridgeModel,
  factors: FridgeFactors,
  insideC: number,
  roomC: number,
  gainW: number,
  coolingW: number,
  duty: number,
): number {
  const heatW = model.secondZoneW + gainW - duty * coolingW;
  return insideC * factors.decay + roomC * (1 - factors.decay) + heatW * factors.kelvinPerW;
}

/** Share of the step the compressor must run to end it at the set point, within 0..1. Hot loop. */
export function fridgeDuty(
  model: FridgeModel,
  factors: FridgeFactors,
  insideC: number,
  roomC: number,
  gainW: number,
  coolingW: number,
): number {
  const idleC = fridgeNextC(model, factors, insideC, roomC, gainW, coolingW, 0);
  return Math.min(1, Math.max(0, (idleC - model.setpointC) / (coolingW * factors.kelvinPerW)));
}

/** Whether the compressor runs at this moment, for steps short enough to see it switch. Hot loop. */
export function thermostatOn(model: FridgeModel, insideC: number, running: boolean): boolean {
  return insideC > model.setpointC + (running ? -THERMOSTAT_BAND_K : THERMOSTAT_BAND_K);
}

/** A fridge at the end of a step. */
export interface FridgeStep {
  readonly insideC: number;
  /** mean over the step, electronics included [W] */
  readonly powerW: number;
  /** of what it would take to be held at the set point, what was missing [W] */
  readonly unmetW: number;
}

/**
 * One step of a fridge whose thermostat is a duty cycle: just as much cooling as brings it to the set point, at most
 * all the time it has power. What it draws to catch up after an outage is served, not owed, so `unmetW` is what a
 * fridge at its set point would have taken and did not get.
 * @param available share of the step with power at its terminals, 0..1
 */
export function fridgeStep(
  model: FridgeModel,
  stepH: number,
  insideC: number,
  roomC: number,
  gainW: number,
  available: number,
): FridgeStep {
  const factors = fridgeFactors(model, stepH);
  const coolingW = compressorCoolingW(model, roomC);
  const electricW = compressorElectricW(model, roomC);
  const duty = Math.min(available, fridgeDuty(model, factors, insideC, roomC, gainW, coolingW));
  const hold = fridgeDuty(model, factors, model.setpointC, roomC, gainW, coolingW);
  return {
    insideC: fridgeNextC(model, factors, insideC, roomC, gainW, coolingW, duty),
    powerW: duty * electricW + available * model.standbyW,
    unmetW: available < 1 ? Math.max(0, hold - duty) * electricW + (1 - available) * model.standbyW : 0,
  };
}

/** A run of a fridge by itself: inside temperature at the end of each step, mean power over it. */
export interface FridgeRun {
  readonly insideC: Float64Array;
  readonly powerW: Float64Array;
}

/** A fridge that always has power, its thermostat as a duty cycle (any step) or switching (steps of about a minute). */
export function fridgeRun(
  model: FridgeModel,
  thermostat: 'duty' | 'switching',
  stepH: number,
  roomC: Float64Array,
  gainW: Float64Array,
  startC: number,
): FridgeRun {
  const steps = roomC.length;
  const insideC = new Float64Array(steps);
  const powerW = new Float64Array(steps);
  const factors = fridgeFactors(model, stepH);
  let now = startC;
  let running = false;
  for (let i = 0; i < steps; i++) {
    const room = roomC[i]!;
    const gain = gainW[i]!;
    const cooling = compressorCoolingW(model, room);
    running = thermostatOn(model, now, running);
    const duty = thermostat === 'duty' ? fridgeDuty(model, factors, now, room, gain, cooling) : running ? 1 : 0;
    now = fridgeNextC(model, factors, now, room, gain, cooling, duty);
    insideC[i] = now;
    powerW[i] = duty * compressorElectricW(model, room) + model.standbyW;
  }
  return { insideC, powerW };
}

/**
 * The temperature above which this fridge's contents count as too warm [°C].
 * @param swingK half the swing of its thermostat, which makes no food warm whose set point is right [K]
 */
export function foodSafeC({ setpointC }: Pick<FridgeModel, 'setpointC'>, swingK = 0): number {
  const safeC = setpointC <= FROZEN_FOOD_C ? FROZEN_FOOD_C : CHILLED_FOOD_C;
  return setpointC <= safeC ? Math.max(safeC, setpointC + swingK) : safeC;
}

/** Hours in which the contents were warmer than a threshold. */
export function hoursWarmer(insideC: Float64Array, stepH: number, thresholdC: number): number {
  let steps = 0;
  for (let i = 0; i < insideC.length; i++) if (insideC[i]! > thresholdC + 1e-9) steps++;
  return steps * stepH;
}
