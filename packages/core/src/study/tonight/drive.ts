import { HOUR_MS } from '../../math/index.js';
import { isoLocal } from '../../place/index.js';
import type { Rig } from '../../rig/index.js';
import { type Conditions, engineInputW, setChargerShare } from '../../simulate/index.js';
import { follow, type Room, type Way } from '../run/course.js';
import { MAX_ENGINE_MINUTES } from '../run/engine-a-day.js';
import { floorStep } from './spare.js';
import type { DriveNeeded } from './tonight-types.js';

/** The answer is a whole number of these [min]. */
const ANSWER_MINUTES = 5;
/** When one drives, if that is soon enough: after breakfast. */
const DRIVE_H = 10;
/** The floor is not to be reached so shortly before the drive [h]. */
const AHEAD_H = 0.5;
/**
 * Electricity from a litre while driving: 9.9 kWh of diesel fuel, a third of what is burnt beside the drive becomes work, an alternator
 * turns 55 % of that into current. And fuel of an hour at idle, 0.6 to 1.5 L. Common practice, no source.
 */
const WH_PER_LITRE = 9900 * 0.33 * 0.55;
const IDLE_LITRES_PER_H = 1;

/** Ways and the rig they are made of, anew with other conditions. */
export interface DriveCase {
  readonly rig: Rig;
  readonly room: Room;
  /** those in which the floor does not hold */
  readonly failing: readonly Way[];
  /** how many of these may still fail */
  readonly mayFail: number;
  /** the same way under a rig and conditions that differ in the engine alone */
  readonly again: (way: Way, rig: Rig, conditions: Conditions) => Way;
  /** the floor is first reached so many steps from now, with the chance asked for */
  readonly floorFrom: number;
  /** the floor is to hold to the end of this step, counted from now */
  readonly upTo: number;
}

/** The least drive that keeps the floor, and when. @returns undefined without an alternator */
export function driveNeeded(drive: DriveCase): DriveNeeded | undefined {
  const { rig, failing } = drive;
  const { alternator } = rig;
  const [any] = failing;
  if (!alternator || !any) return undefined;
  const { itinerary, grid } = any.assembled.conditions;
  const startStep = any.from + driveStep(drive);
  const fromMs = grid.startMs + startStep * grid.stepH * HOUR_MS;
  const idling: Rig = { ...rig, alternator: { ...alternator, hotShare: alternator.idleShare } };
  const once = leastMinutes(drive, rig, { startStep, daily: false });
  const daily = once.minutes === Infinity;
  const driving = daily ? leastMinutes(drive, rig, { startStep, daily }) : once;
  const idle = leastMinutes(drive, idling, { startStep, daily });
  return {
    from: isoLocal(fromMs, itinerary.days),
    daily,
    minutes: driving.minutes,
    idleMinutes: idle.minutes,
    fuelL: driving.alternatorWh / WH_PER_LITRE,
    idleFuelL: idle.engineH * IDLE_LITRES_PER_H,
  };
}

/** The last morning before the floor is reached, or now; counted from now. */
function driveStep({ failing, floorFrom, upTo }: DriveCase): number {
  const [{ assembled, from }] = failing as [Way, ...Way[]];
  const { conditions } = assembled;
  const latest = Math.min(upTo, floorFrom - AHEAD_H / conditions.grid.stepH);
  for (let k = Math.floor(latest); k > 0; k--) if (isDriveHour(conditions, from + k)) return k;
  return 0;
}

/** From which step of the grid, and whether every morning again. */
interface When {
  readonly startStep: number;
  readonly daily: boolean;
}

function leastMinutes(
  { room, failing, mayFail, again, upTo }: DriveCase,
  rig: Rig,
  when: When,
): { minutes: number; alternatorWh: number; engineH: number } {
  const most = failing.map((way) => again(way, rig, withDrive(way.assembled.conditions, when, MAX_ENGINE_MINUTES)));
  const tried = (k: number, minutes: number) => {
    const way = most[k]!;
    const { input, solar } = way.assembled;
    const rows = way.open.laidOut.slice();
    const { driving } = withDrive(failing[k]!.assembled.conditions, when, minutes).itinerary;
    setChargerShare(rows, input, solar.length, driving);
    return { course: follow(way, room, rows, upTo), driving };
  };
  const does = (minutes: number) =>
    most.filter((way, k) => floorStep(way, tried(k, minutes).course, upTo) !== undefined).length <= mayFail;
  if (!does(MAX_ENGINE_MINUTES)) return { minutes: Infinity, alternatorWh: Infinity, engineH: Infinity };
  let fails = 0;
  let enough = MAX_ENGINE_MINUTES / ANSWER_MINUTES;
  while (enough - fails > 1) {
    const middle = (fails + enough) >> 1;
    if (does(middle * ANSWER_MINUTES)) enough = middle;
    else fails = middle;
  }
  const minutes = enough * ANSWER_MINUTES;
  const [way, before] = [most[0]!, failing[0]!.assembled.conditions.itinerary.driving];
  const { engine, solar, input } = way.assembled;
  const { driving } = tried(0, minutes);
  let alternatorWh = 0;
  let engineH = 0;
  for (let i = way.from; i < way.from + upTo; i++) {
    if (!(driving[i]! > before[i]!)) continue;
    engineH += (driving[i]! - before[i]!) * input.stepH;
    alternatorWh += engineInputW(engine!, i, room.out.chargerW[solar.length * room.out.rows + i]!) * input.stepH;
  }
  return { minutes, alternatorWh, engineH };
}

/** The engine on for so long from a step on, beside what is planned, and every morning from then on. */
function withDrive(conditions: Conditions, { startStep, daily }: When, minutes: number): Conditions {
  const { itinerary, grid } = conditions;
  const driving = itinerary.driving.slice();
  const steps = minutes / 60 / grid.stepH;
  let left = steps;
  for (let i = startStep; i < driving.length; i++, left--) {
    if (daily && isDriveHour(conditions, i)) left = steps;
    if (left > 0) driving[i] = Math.max(driving[i]!, Math.min(1, left));
  }
  return { ...conditions, itinerary: { ...itinerary, driving } };
}

/** Whether a step begins when one drives. */
function isDriveHour({ itinerary, grid }: Conditions, step: number): boolean {
  return Math.abs(itinerary.localHour[step]! - grid.stepH / 2 - DRIVE_H) < grid.stepH / 2;
}
