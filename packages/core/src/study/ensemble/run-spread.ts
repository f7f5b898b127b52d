import { type Percentiles, percentilesOf } from '../../math/index.js';
import { type Rig, requireSound, someVehicles, vehicleOf } from '../../rig/index.js';
import { assemble, FLOOR_TOLERANCE, partMemo, type Run } from '../../simulate/index.js';
import { follow, type Room, roomFor, wayOf } from '../run/course.js';
import { unservedShare } from '../run/unserved.js';

/** Vehicles of an ensemble that are followed. */
const VEHICLES = 24;
/** Of longer runs no band is given: it would not fit into memory. */
const MOST_BAND = 2e6;

/** What a run comes to in the vehicles of an ensemble: the same days and the same weather. */
export interface RunSpread {
  /** so many were followed */
  readonly vehicles: number;
  readonly lowestSoc: Percentiles;
  readonly endSoc: Percentiles;
  readonly unservedWh: Percentiles;
  /** hours in which some load that was asked for was not (wholly) served, and the nights, noon to noon, that have some */
  readonly unservedHours: Percentiles;
  readonly nightsWithout: Percentiles;
  /** share of them that are never below the floor, and in which no load ever goes without */
  readonly keepsFloor: number;
  readonly neverOff: number;
  /** lowest state of charge of each, in order, 0..1 */
  readonly lowestEach: readonly number[];
  /** state of charge at each step's end, as `trace.soc`; absent for runs too long */
  readonly band?: { readonly p10: Float64Array; readonly p90: Float64Array };
}

/**
 * The spread of a run over the vehicles that the rig may be.
 * @param run of the same rig
 * @returns undefined for a rig without an ensemble
 */
export function spreadOf(rig: Rig, run: Run): RunSpread | undefined {
  requireSound('spreadOf', 'rig', rig);
  if (!rig.ensemble) return undefined;
  const { conditions, summary } = run;
  const { grid, itinerary } = conditions;
  const vehicles = someVehicles(rig.ensemble, VEHICLES);
  const memo = partMemo();
  const noonDay = nightOf(itinerary.localHour);
  let room: Room | undefined;
  const each = vehicles.map((vehicle) => {
    const way = wayOf(assemble(vehicleOf(rig, vehicle), conditions, summary.startSoc, memo), summary.startSoc, 0);
    room ??= roomFor(way.assembled);
    const { soc, unservedWh } = follow(way, room);
    let lowest = summary.startSoc;
    let unservedHours = 0;
    let nights = 0;
    let lastNight = -1;
    for (let i = 0; i < grid.steps; i++) {
      if (soc[i + 1]! < lowest) lowest = soc[i + 1]!;
      const missed = unservedShare(way.open, room.out, room.socAskedW[i]!, i, i);
      if (missed === 0) continue;
      unservedHours += missed * grid.stepH;
      if (noonDay[i] !== lastNight) nights++;
      lastNight = noonDay[i]!;
    }
    return { soc: soc.subarray(1), lowest: Math.max(0, lowest), unservedWh: unservedWh.at(-1)!, unservedHours, nights };
  });
  const of = (pick: (one: (typeof each)[number]) => number) => percentilesOf(each.map(pick));
  const share = (holds: (one: (typeof each)[number]) => boolean) => each.filter(holds).length / each.length;
  return {
    vehicles: vehicles.length,
    lowestSoc: of(({ lowest }) => lowest),
    endSoc: of(({ soc }) => Math.max(0, soc.at(-1) ?? summary.startSoc)),
    unservedWh: of((one) => one.unservedWh),
    unservedHours: of((one) => one.unservedHours),
    nightsWithout: of(({ nights }) => nights),
    keepsFloor: share(({ lowest }) => lowest >= rig.battery.floor - FLOOR_TOLERANCE),
    neverOff: share((one) => one.unservedHours === 0),
    lowestEach: each.map(({ lowest }) => lowest),
    ...(grid.steps * vehicles.length <= MOST_BAND && {
      band: bandOf(
        each.map(({ soc }) => soc),
        grid.steps,
      ),
    }),
  };
}

/** The night, noon to noon, that each step belongs to, counted from the first. */
function nightOf(localHour: Float64Array): Int32Array {
  const nights = new Int32Array(localHour.length);
  for (let i = 1; i < nights.length; i++)
    nights[i] = nights[i - 1]! + (localHour[i - 1]! < 12 && localHour[i]! >= 12 ? 1 : 0);
  return nights;
}

function bandOf(each: readonly Float64Array[], steps: number): NonNullable<RunSpread['band']> {
  const [p10, p90] = [new Float64Array(steps), new Float64Array(steps)];
  for (let i = 0; i < steps; i++) {
    const at = percentilesOf(each.map((soc) => Math.max(0, soc[i]!)));
    p10[i] = at.p10;
    p90[i] = at.p90;
  }
  return { p10, p90 };
}
