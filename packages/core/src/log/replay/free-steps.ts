import { percentile } from '../../math/index.js';
import type { Rig } from '../../rig/index.js';
import type { LogSteps } from './log-steps.js';

/** Light that should show in the harvest, as a share of the nameplate. */
const MIN_POWER_SHARE = 0.1;
/** A controller is at its set point from so far below it on, per 12 V [V]; rows are means and cables drop a little. */
const NEAR_V = 0.15;
/** So far below float, per 12 V, the controller holds nothing back, whatever stage it is in [V]. */
const LET_GO_V = 0.25;
/**
 * A battery held at float that takes less than this of its capacity [A per Ah] is full or nearly
 * so: what is not harvested then was not asked for. Absorption of a small battery may be over between two rows.
 */
const RESTS_FULL_C = 0.02;
const MISSED_H = 1;
/** Without harvest or light for so long the controller begins with bulk again [h]. */
const NIGHT_H = 1;
/** A held voltage: so many steps within this, per 12 V [V], on so many days. */
const FLAT_V = 0.05;
const FLAT_STEPS = 3;
const MIN_DAYS = 4;
const HELD_SPREAD_V = 0.08;
/** At its beginning a bulk charge that comes to the held voltage puts so much into the battery [A per Ah]. */
const BULK_C = 0.015;
/** At its end it puts in less than this share of that: the current falls, not the light alone. */
const TAPER = 0.5;
/** Up to here a battery is flat by itself while it is charged, and no absorption is set so low, per 12 V [V]. Common practice, no source. */
const NATURAL_V = { LFP: 13.55, lead: 13.5 } as const;
/** Without a voltage: the battery takes all below this state of charge. Common practice, no source. */
const FREE_BELOW_SOC = 0.9;
const NEARLY_FULL_SOC = 0.96;
/** Below this the battery may refuse its charge [K above its limit]. */
const COLD_MARGIN_K = 1;

/** At what voltage the controller really holds the battery, brought to 25 °C [V]. */
export interface HeldVoltage {
  readonly volts: number;
  readonly days: number;
  /** standard deviation over days */
  readonly spread: number;
  readonly dates: readonly number[];
}

/** What held the harvest back at each step, as far as voltage, current and set points tell. */
export interface ChargeStages {
  /** 1 where nothing but sun and panel limits the harvest */
  readonly free: Uint8Array;
  /** 1 where the cells are too cold for the charge to be sure */
  readonly cold: Uint8Array;
  /** the voltage at which charging from the sun really ends, where days show it */
  readonly held?: HeldVoltage;
}

/** An offer that should show in the harvest [W]. */
export const minPowerW = ({ solar }: Rig) =>
  MIN_POWER_SHARE * solar.reduce((sum, { powerW, count }) => sum + powerW * count, 0);

/**
 * Follows the solar controller through the log: bulk from the morning until the voltage first comes near the set point, then
 * absorption and float until night, or until the voltage falls so far below float that nothing can be held. The set point is the
 * rig's, or a lower one at which the log shows the charge held day by day.
 * @param cellsC temperature that the set points follow [°C]
 * @param driving share of each step in which the engine runs
 * @param offeredW light that the panels could turn into power [W]
 * @param dayOf day of each step
 */
export function chargeStages(
  rig: Rig,
  steps: Pick<LogSteps, 'voltageV' | 'batteryA' | 'batteryC' | 'soc' | 'grid'>,
  cellsC: Float64Array,
  driving: Float64Array,
  offeredW: Float64Array,
  dayOf: Int32Array,
): ChargeStages {
  const { battery, solar } = rig;
  const { voltageV, batteryA, batteryC } = steps;
  const count = voltageV.length;
  const free = new Uint8Array(count);
  const scale = (battery.nominalV * battery.series) / 12;
  const profile = { ...battery.charge, ...solar[0]?.controller.charge };
  const coldC = (battery.chargeMinC ?? -Infinity) + COLD_MARGIN_K;
  const cold = Uint8Array.from(batteryC, (c) => (c <= coldC ? 1 : 0));
  const shift = cellsC.map((c) => (Number.isNaN(c) ? 0 : profile.perDegreeV * (c - 25)));
  const held = heldVoltage(rig, steps, shift, driving, offeredW, dayOf, scale);
  const endsAt = Math.min(profile.absorptionV, held?.volts ?? Infinity);
  const floatV = Math.min(endsAt, profile.floatV);
  const restsA = RESTS_FULL_C * battery.capacityAh * battery.count;
  // without a voltage the counter's word stands in
  if (voltageV.every(Number.isNaN))
    return { free: Uint8Array.from(steps.soc, (soc, i) => (soc < FREE_BELOW_SOC && cold[i] === 0 ? 1 : 0)), cold };
  const aroundSteps = Math.ceil(MISSED_H / steps.grid.stepH);
  let isBulk = true;
  let darkH = 0;
  for (let i = 0; i < count; i++) {
    const volts = voltageV[i]!;
    darkH = offeredW[i]! > 0 ? 0 : darkH + steps.grid.stepH;
    if (darkH >= NIGHT_H) isBulk = true;
    if (Number.isNaN(volts)) continue;
    const restsFull = volts > floatV + shift[i]! - FLAT_V * scale && Math.abs(batteryA[i]!) < restsA;
    if (isBulk && restsFull)
      // the set point was reached since the last step that charged, between two rows
      for (let k = Math.max(0, i - aroundSteps); k < i; k++) free[k] = 0;
    if (volts > endsAt + shift[i]! - NEAR_V * scale || restsFull) isBulk = false;
    const isLetGo = volts < floatV + shift[i]! - LET_GO_V * scale;
    // a counter that says nearly full may be wrong, but is no reason to judge a panel
    free[i] = (isBulk || isLetGo) && cold[i] === 0 && !(steps.soc[i]! >= NEARLY_FULL_SOC) ? 1 : 0;
  }
  // the step before the set point is reached may hold a part of what comes after
  for (let i = 0; i + 1 < count; i++) if (free[i] === 1 && free[i + 1] === 0) free[i] = 0;
  return { free, cold, ...(held && { held }) };
}

/**
 * Days on which the battery is charged in bulk up to a voltage that is then held flat in good light, and never passed that day
 * without the engine: what the controller really ends at. Resting in float all day is no such day.
 */
function heldVoltage(
  { battery }: Rig,
  { voltageV, batteryA, grid }: Pick<LogSteps, 'voltageV' | 'batteryA' | 'grid'>,
  shift: Float64Array,
  driving: Float64Array,
  offeredW: Float64Array,
  dayOf: Int32Array,
  scale: number,
): HeldVoltage | undefined {
  const enough = Math.max(FLAT_STEPS, Math.round(0.5 / grid.stepH));
  const bulkA = BULK_C * battery.capacityAh * battery.count;
  const days: { day: number; volts: number; isHeld: boolean }[] = [];
  for (let from = 0; from < voltageV.length; ) {
    let to = from;
    while (to < voltageV.length && dayOf[to] === dayOf[from]) to++;
    const own = (i: number) => voltageV[i]! - shift[i]!;
    const at: number[] = [];
    let isDriven = false;
    for (let i = from; i < to; i++) {
      if (driving[i]! > 0) isDriven = true;
      if (offeredW[i]! > 0 && !Number.isNaN(voltageV[i]!)) at.push(i);
    }
    if (at.length > 0 && !isDriven) {
      const top = at.reduce((most, i) => Math.max(most, own(i)), -Infinity);
      const flat = at.filter((i) => top - own(i) < FLAT_V * scale);
      const third = Math.max(1, Math.floor(flat.length / 3));
      const rise = [flat[0]! - 2, flat[0]! - 1, ...flat.slice(0, third)].filter((i) => i >= from);
      const begins = Math.max(...rise.map((i) => batteryA[i]!));
      const ends = flat.slice(-third).reduce((sum, i) => sum + batteryA[i]!, 0) / third;
      days.push({
        day: dayOf[from]!,
        volts: percentile(flat.map(own), 0.5),
        isHeld: flat.length >= enough && begins > bulkA && ends < TAPER * begins,
      });
    }
    from = to;
  }
  const volts =
    days.length > 0
      ? percentile(
          days.map((one) => one.volts),
          0.9,
        )
      : Number.NaN;
  // on the flat part of an LFP curve every charge is flat
  if (!(volts > NATURAL_V[battery.chemistry === 'LFP' ? 'LFP' : 'lead'] * scale)) return undefined;
  const near = days.filter((one) => Math.abs(one.volts - volts) < HELD_SPREAD_V * scale);
  const alike = near.filter(({ isHeld }) => isHeld);
  const passed = days.filter((one) => one.volts > volts + 2 * HELD_SPREAD_V * scale).length;
  if (alike.length < MIN_DAYS || alike.length < 0.5 * near.length || passed > 0.1 * near.length) return undefined;
  const mean = alike.reduce((sum, one) => sum + one.volts, 0) / alike.length;
  const spread = Math.sqrt(alike.reduce((sum, one) => sum + (one.volts - mean) ** 2, 0) / alike.length);
  return { volts: mean, days: alike.length, spread, dates: alike.map(({ day }) => day) };
}
