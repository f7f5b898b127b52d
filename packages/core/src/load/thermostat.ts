/** The thermostat switches this far above and below its set point [K]. Common practice. */
export const THERMOSTAT_BAND_K = 1;
/** Longest step at which a run shows the thermostat switch; in longer ones a compressor's run would be cut to pieces [h]. */
const SWITCHING_STEP_H = 5 / 60;

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

/**
 * The temperature above which the contents of a room with this set point count as too warm [°C].
 * @param swingK half the swing of its thermostat, which makes no food warm whose set point is right [K]
 */
export function foodSafeC({ setpointC }: { readonly setpointC: number }, swingK = 0): number {
  const safeC = setpointC <= FROZEN_FOOD_C ? FROZEN_FOOD_C : CHILLED_FOOD_C;
  return setpointC <= safeC ? Math.max(safeC, setpointC + swingK) : safeC;
}
