import { storedWh } from '../../battery/index.js';
import { HOUR_MS } from '../../math/index.js';
import { addLoadW } from '../../simulate/index.js';
import { type Course, follow, type Room, type Way } from '../run/course.js';

/** Rows of the loop's steps with so much more drawn from one step, counted from now, to before another. */
export function withDraw({ assembled, open, from }: Way, watts: number, first: number, end: number): Float64Array {
  const rows = open.laidOut.slice();
  addLoadW(rows, assembled.input.steps, watts, from + first, from + end);
  return rows;
}

/**
 * The step, counted from now, at whose end the sun has paid a night back: the first of a day at which the battery holds again, but for
 * half a percent, what it held at the sunset before that day, or now if that is later, with no load cut off meanwhile. Undefined
 * where it never does.
 */
export function paidBackStep({ assembled, from }: Way, { soc, unservedWh }: Course): number | undefined {
  const { grid, itinerary } = assembled.conditions;
  const stepOf = (ms: number) => (ms - grid.startMs) / (grid.stepH * HOUR_MS) - from;
  const last = soc.length - 1;
  let dusk = 0;
  for (const day of itinerary.days) {
    // Of a polar day its midnights stand for sunrise and sunset; a polar night pays nothing back.
    if (day.polar === 'night') continue;
    const rise = stepOf(day.sunriseMs ?? day.startMs);
    const set = Math.min(last, Math.floor(stepOf(day.sunsetMs ?? day.endMs)));
    if (rise > 0)
      for (let i = Math.max(1, Math.ceil(rise)); i <= set; i++)
        if (soc[i]! >= soc[dusk]! - PAID_SOC && unservedWh[i]! - unservedWh[dusk]! < PAID_WH) return i;
    if (set > 0) dusk = set;
  }
  return undefined;
}

/** A lead-acid battery takes its last percent for days; a monitor shows whole ones. */
const PAID_SOC = 0.005;
/** Where loads were cut off meanwhile it was not the sun that paid [Wh]. */
const PAID_WH = 1;

/** Where the battery stands lowest up to the end of a step. */
export function lowestStep({ soc }: Course, upTo: number): number {
  let lowest = 0;
  for (let i = 1; i <= upTo; i++) if (soc[i]! < soc[lowest]!) lowest = i;
  return lowest;
}

/** The extra energy is tried over so long before the lowest point, when no sun makes up for it any more [h]. */
const DRAWN_H = 3;
/** Near enough [Wh]. */
const SPARE_WH = 0.5;
const MAX_TRIES = 12;

/**
 * Energy that may be taken at the terminals, at any time from now on, so that the floor is just not crossed up to a step's end: what is
 * stored between the lowest point and the floor, less what is lost on its way, found by drawing it in the three hours before that point.
 * Of a course that goes below the floor, or in which loads are cut off before it, what is missing, with what was not served; below 0 [Wh].
 */
export function spareWh(way: Way, room: Room, course: Course, upTo: number): number {
  const { assembled } = way;
  const { rig, model, input } = assembled;
  const { floor } = rig.battery;
  const lowest = lowestStep(course, upTo);
  const storedAboveWh = storedWh(model, course.soc[lowest]!) - storedWh(model, floor);
  const unserved = course.unservedWh[upTo]!;
  if (storedAboveWh <= 0 || unserved > PAID_WH) return Math.min(0, storedAboveWh) - unserved;
  if (lowest === 0) return storedAboveWh;
  const first = Math.max(0, lowest - Math.round(DRAWN_H / input.stepH));
  const hours = (lowest - first) * input.stepH;
  const above = (wh: number) => {
    const { soc, unservedWh } = follow(way, room, withDraw(way, wh / hours, first, lowest), upTo);
    let low = Infinity;
    for (let i = 0; i <= upTo; i++) low = Math.min(low, soc[i]!);
    // What cold or a voltage cuts off before the floor cannot be taken either.
    const cutWh = unservedWh[upTo]! - PAID_WH;
    return cutWh > 0 ? -cutWh / storedAboveWh : low - floor;
  };
  let holds = 0;
  let holdsBy = course.soc[lowest]! - floor;
  let fails = storedAboveWh;
  let failsBy = above(fails);
  if (failsBy >= 0) return fails;
  // The regula falsi of Illinois: nearly straight, so a try or two do.
  for (let k = 0; k < MAX_TRIES && fails - holds > SPARE_WH; k++) {
    const wh = holds + ((fails - holds) * holdsBy) / (holdsBy - failsBy);
    const by = above(wh);
    if (Math.abs(by) < 1e-6) return wh;
    if (by > 0) {
      holds = wh;
      holdsBy = by;
      failsBy /= 2;
    } else {
      fails = wh;
      failsBy = by;
      holdsBy /= 2;
    }
  }
  return holds;
}

/** The first step, counted from now, in which the floor is crossed; undefined = never. */
export function floorStep({ assembled }: Way, { soc }: Course, upTo: number): number | undefined {
  const { floor } = assembled.rig.battery;
  for (let i = 0; i <= upTo; i++) if (soc[i]! < floor - 1e-9) return i;
  return undefined;
}
