import { percentile } from '../../math/index.js';
import type { Rig } from '../../rig/index.js';
import type { LogSteps } from './log-steps.js';

/** Light that should show in the harvest, as a share of the nameplate. */
const MIN_POWER_SHARE = 0.15;
const MIN_STEPS = 6;
/** A charger that holds its voltage keeps it within this, per 12 V [V]. */
const HELD_WITHIN_V = 0.12;

/** Steps in which something other than light and panel holds the harvest back though the battery should take it. */
export interface Curtailed {
  /** 1 where the charge is held at a voltage below absorption */
  readonly atVoltage: Uint8Array;
  /** 1 where the battery may refuse in the cold */
  readonly inCold: Uint8Array;
  /** 1 where the harvest says nothing of the panel: in the cold, and at the held voltage however much arrives there */
  readonly doubtful: Uint8Array;
  /** highest voltage of the log, outliers aside [V] */
  readonly topV: number;
  /** a charger that holds its voltage keeps it within this [V] */
  readonly withinV: number;
}

/**
 * The harvest collapses at the highest voltage that the log ever shows, and that lies below absorption; or the cells are too
 * cold to be charged. Such steps say nothing of the panel.
 * @param free 1 where nothing but sun and panel seems to hold the harvest back
 */
export function curtailed(rig: Rig, steps: LogSteps, free: Uint8Array, offeredW: Float64Array): Curtailed {
  const { harvestW, voltageV } = steps;
  const withinV = (HELD_WITHIN_V * rig.battery.nominalV * rig.battery.series) / 12;
  const least = minPowerW(rig);
  const none = new Uint8Array(free.length);
  const coldC = (rig.battery.chargeMinC ?? -Infinity) + 1;
  const inCold = none.map((_, i) => (free[i] === 1 && steps.batteryC[i]! <= coldC ? 1 : 0));
  const volts = voltageV.filter((volt) => !Number.isNaN(volt));
  const worth = Array.from(free.keys()).filter((i) => free[i] === 1 && offeredW[i]! > least && harvestW[i]! >= 0);
  if (volts.length === 0 || worth.length < MIN_STEPS)
    return { atVoltage: none, inCold, doubtful: inCold, topV: Number.NaN, withinV };
  const topV = percentile(Array.from(volts), 0.995);
  const isBelow = topV < rig.battery.charge.absorptionV - withinV;
  const ratio = percentile(
    worth.map((i) => harvestW[i]! / offeredW[i]!),
    0.75,
  );
  const isNearTop = (i: number) => free[i] === 1 && inCold[i] === 0 && topV - voltageV[i]! < withinV;
  const lacks = none.map((_, i) => (isBelow && isNearTop(i) && harvestW[i]! < 0.5 * ratio * offeredW[i]! ? 1 : 0));
  const gives = worth.filter((i) => isNearTop(i) && harvestW[i]! > 0.8 * ratio * offeredW[i]!).length;
  const lacking = lacks.reduce((sum, one) => sum + one, 0);
  // Where the same voltage also sees the usual harvest, nothing is held.
  const isHeld = lacking >= MIN_STEPS && gives <= lacking / 3;
  return {
    atVoltage: isHeld ? lacks : none,
    inCold,
    doubtful: isHeld ? inCold.map((cold, i) => (cold === 1 || isNearTop(i) ? 1 : 0)) : inCold,
    topV,
    withinV,
  };
}

/** An offer that should show in the harvest [W]. */
export const minPowerW = ({ solar }: Rig) =>
  MIN_POWER_SHARE * solar.reduce((sum, { powerW, count }) => sum + powerW * count, 0);
