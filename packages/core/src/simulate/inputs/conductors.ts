/** Conductors in a run are taken at this temperature: warm, not at their limit [°C]. */
export const CONDUCTOR_C = 30;
