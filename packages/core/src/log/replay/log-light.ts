import { HOUR_MS, percentile } from '../../math/index.js';
import type { Rig } from '../../rig/index.js';
import { type Conditions, solarLane } from '../../simulate/index.js';
import { decomposeGhi, type SunColumns } from '../../sky/index.js';
import type { LogSteps } from './log-steps.js';

/** Irradiance serves where it was measured in this share of the daylight. */
const MIN_LIGHT_COVER = 0.4;
/** A day's clearness is known from this share of its light. */
const MIN_DAY = 0.3;
/** One day in so many is taken as cloudless, when the panel itself is the only witness. */
const BEST_DAYS = 0.9;
/** The darkest day keeps this share of the clear sky's light. */
const MIN_CLEAR = 0.08;

/** The light of a log's days, and what told it. */
export interface LogLight {
  readonly light: 'irradiance' | 'file' | 'clear sky';
  readonly text: string;
  readonly conditions: Conditions;
}

/**
 * The light of the log's days, from the best witness at hand.
 * @param free 1 where nothing but sun and panel limited the harvest
 */
export function lightOfLog(
  rig: Rig,
  base: Conditions,
  steps: LogSteps,
  free: Uint8Array,
  file: string | undefined,
): LogLight {
  if (irradianceCover(base, steps) >= MIN_LIGHT_COVER) {
    const ghiWm2 = filled(base, steps.irradianceWm2);
    return {
      light: 'irradiance',
      text: "light: the log's own irradiance, taken as on the horizontal",
      conditions: underLight(base, ghiWm2),
    };
  }
  if (file !== undefined) return { light: 'file', text: `light: ${file}`, conditions: base };
  const { ghiWm2 } = base.weather;
  const clearness = panelClearness(rig, base, steps, free);
  if (clearness === undefined)
    return {
      light: 'clear sky',
      text: 'light: a clear sky on every day, as the log has neither irradiance nor harvest to tell clouds by',
      conditions: base,
    };
  return {
    light: 'clear sky',
    text: `light: the clear sky, each day scaled by what the panel gave against its best days; one day in ${Math.round(1 / (1 - BEST_DAYS))} is taken as cloudless, so what is said of the panel as a whole is rough`,
    conditions: underLight(base, scaledByDay(base, ghiWm2, clearness)),
  };
}

function irradianceCover({ weather }: Conditions, steps: LogSteps): number {
  let [there, all] = [0, 0];
  weather.ghiWm2.forEach((ghi, i) => {
    if (!(ghi > 20) || !(steps.cover[i]! > 0)) return;
    all++;
    if (!Number.isNaN(steps.irradianceWm2[i]!)) there++;
  });
  return all > 0 ? there / all : 0;
}

function underLight(base: Conditions, ghiWm2: Float64Array): Conditions {
  const sun: SunColumns = base.sun;
  const { dniWm2, dhiWm2 } = decomposeGhi(sun, ghiWm2);
  return { ...base, weather: { ...base.weather, ghiWm2, dniWm2, dhiWm2 } };
}

/** Measured light; where it is missing, the base's, scaled by the clearness of the day or of the days around. */
function filled(base: Conditions, measuredWm2: Float64Array): Float64Array {
  const { ghiWm2 } = base.weather;
  const share = byDay(base, (from, to) => {
    let [seen, there, all] = [0, 0, 0];
    for (let i = from; i < to; i++) {
      all += ghiWm2[i]!;
      if (Number.isNaN(measuredWm2[i]!)) continue;
      seen += Math.max(0, measuredWm2[i]!);
      there += ghiWm2[i]!;
    }
    return there > MIN_DAY * all ? seen / there : Number.NaN;
  });
  const standIn = scaledByDay(base, ghiWm2, fromNeighbours(share));
  return measuredWm2.map((value, i) => (Number.isNaN(value) ? standIn[i]! : Math.max(0, value)));
}

/** What all panels offer under some conditions [W]. */
export function offeredUnder(rig: Rig, conditions: Conditions): Float64Array {
  const nominalV = rig.battery.nominalV * rig.battery.series;
  const offeredW = new Float64Array(conditions.grid.steps);
  for (const array of rig.solar) {
    const { availableW } = solarLane(array, rig, conditions, nominalV).columns;
    for (let i = 0; i < offeredW.length; i++) offeredW[i] = offeredW[i]! + availableW[i]!;
  }
  return offeredW;
}

/** Share of the clear sky's light on each day, as the panel shows it where the battery took all it gave. */
function panelClearness(rig: Rig, base: Conditions, steps: LogSteps, free: Uint8Array): readonly number[] | undefined {
  if (rig.solar.length === 0 || steps.harvestW.every(Number.isNaN)) return undefined;
  const offeredW = offeredUnder(rig, base);
  const shares = byDay(base, (from, to) => {
    let [gave, offered, all] = [0, 0, 0];
    for (let i = from; i < to; i++) {
      all += offeredW[i]!;
      if (free[i] === 0 || Number.isNaN(steps.harvestW[i]!)) continue;
      gave += steps.harvestW[i]!;
      offered += offeredW[i]!;
    }
    return offered > MIN_DAY * all && offered > 0 ? gave / offered : Number.NaN;
  });
  const known = shares.filter((share) => !Number.isNaN(share));
  if (known.length < 3) return undefined;
  const best = percentile(known, BEST_DAYS);
  if (!(best > 0)) return undefined;
  return fromNeighbours(shares.map((share) => Math.min(1, Math.max(MIN_CLEAR, share / best))));
}

/** A value for each day of the conditions, from its first step and the first of the next. */
export function byDay({ itinerary, grid }: Conditions, of: (from: number, to: number) => number): number[] {
  const first = (k: number) => {
    const day = itinerary.days[k];
    return day ? Math.round((day.startMs - grid.startMs) / (grid.stepH * HOUR_MS)) : grid.steps;
  };
  return itinerary.days.map((_, k) => of(first(k), first(k + 1)));
}

function scaledByDay(base: Conditions, column: Float64Array, share: readonly number[]): Float64Array {
  const scaled = Float64Array.from(column);
  let k = 0;
  byDay(base, (from, to) => {
    for (let i = from; i < to; i++) scaled[i] = scaled[i]! * share[k]!;
    k++;
    return 0;
  });
  return scaled;
}

/** Days that are not known take the mean of the nearest known before and after; 1 when none is. */
function fromNeighbours(shares: readonly number[]): number[] {
  const known = (value: number | undefined): value is number => value !== undefined && !Number.isNaN(value);
  return shares.map((share, k) => {
    if (known(share)) return share;
    const near = [shares.slice(0, k).findLast(known), shares.slice(k + 1).find(known)].filter(known);
    return near.length > 0 ? near.reduce((sum, value) => sum + value, 0) / near.length : 1;
  });
}
