import type { ChargeProfile } from '../rig/index.js';

/** Charge stages as plain numbers, for the step loop. */
export const BULK = 0;
/** Charge stage: the voltage is held while the current falls. */
export const ABSORPTION = 1;
/** Charge stage: full, held at a lower voltage. */
export const FLOAT = 2;

/** Set points are stated at this cell temperature [°C]. */
const REFERENCE_C = 25;
/** The correction goes no further than these cell temperatures [°C]. */
const COLDEST_C = -20;
const HOTTEST_C = 50;
/** Highest voltage that 12 V loads stand; common practice, no source [V]. */
const HIGHEST_V_PER_12V = 15;
/** Used to tell how many 12 V batteries are in series from the absorption voltage [V]. */
const USUAL_ABSORPTION_V = 14.2;

/**
 * Voltage that a charger holds or makes for in a stage:  set point + compensation·(T − 25 °C), with T clamped to
 * −20 … 50 °C and the result to 15 V per 12 V (or to the owner's own set point where that is higher). Bulk makes for
 * the absorption voltage.
 * Source: linear compensation, IEEE 1361 (from memory); the clamps are common practice.
 * @param profile set points of the whole bank at 25 °C
 * @param stage   0 bulk, 1 absorption, 2 float
 * @param cellC   cell temperature [°C]
 * @param nominalV of the bank; absent = the multiple of 12 V that fits the absorption voltage [V]
 * @returns [V]
 */
export function chargeVoltage(
  profile: ChargeProfile,
  stage: number,
  cellC: number,
  nominalV: number = 12 * Math.max(1, Math.round(profile.absorptionV / USUAL_ABSORPTION_V)),
): number {
  const setV = stage === FLOAT ? profile.floatV : profile.absorptionV;
  const awayK = Math.min(HOTTEST_C, Math.max(COLDEST_C, cellC)) - REFERENCE_C;
  const highestV = Math.max(setV, (HIGHEST_V_PER_12V * nominalV) / 12);
  return Math.min(highestV, setV + profile.perDegreeV * awayK);
}

/**
 * The stage that follows, for a step loop: numbers only, no state of its own.
 * Bulk becomes absorption when the voltage is reached. Absorption ends after its time, or when the battery itself
 * takes less than the tail current while the voltage is held (a weak sun is no tail). Float goes back to bulk when
 * the battery falls below the re-bulk voltage or, for solar, with the new day; so does absorption on a new day.
 * Source: IEEE 1361, DIN 41773 (IUoU), from memory.
 * @param stage          0 bulk, 1 absorption, 2 float
 * @param hoursAtVoltage hours of this stage in which the voltage was held; the caller sets it to 0 on a change [h]
 * @param voltageLimited 1 if the charger held its voltage in this step (the acceptance was the limit), else 0
 * @param currentA       into the battery, mean of the step [A]
 * @param batteryV       at the battery, mean of the step [V]
 * @param newDay         1 in the first step with sun of a day (solar) or in which the charger is switched on, else 0
 * @param holdH    longest absorption [h]
 * @param tailA          tail current of the bank, 0 = time only [A]
 * @param restartBelowV        [V]
 */
export function nextStage(
  stage: number,
  hoursAtVoltage: number,
  voltageLimited: number,
  currentA: number,
  batteryV: number,
  newDay: number,
  holdH: number,
  tailA: number,
  restartBelowV: number,
): number {
  if (stage !== BULK && (newDay === 1 || batteryV < restartBelowV)) return BULK;
  if (stage === BULK) return voltageLimited === 1 ? ABSORPTION : BULK;
  if (stage === ABSORPTION) {
    const done = hoursAtVoltage >= holdH || (voltageLimited === 1 && currentA < tailA);
    return done ? FLOAT : ABSORPTION;
  }
  return FLOAT;
}
