import { HOUR_MS } from '../../math/index.js';
import type { CivilDay } from '../../place/index.js';
import type { ScheduledLoad } from '../../rig/index.js';
import { CONDUCTOR_C, circuitLoopOhm } from '../../wire/index.js';
import type { Conditions } from '../types.js';
import type { ScheduledLoadInput } from './assemble-loads.js';

/** What is known of a moment before a rig is followed: nothing here depends on the battery. */
export interface LoadMoment {
  /** middle of the step, UTC [ms] */
  readonly timeMs: number;
  /** length of the step [h] */
  readonly stepH: number;
  /** local civil date, and since the first day of the run, from 0 */
  readonly date: string;
  readonly dayNumber: number;
  /** local civil hour, 0..24 */
  readonly localHour: number;
  /** outside air, and the cabin's [°C] */
  readonly ambientC: number;
  readonly cabinC: number;
  /** on the horizontal [W/m²] */
  readonly ghiWm2: number;
  /** share of the step with the engine on, 0..1 */
  readonly driving: number;
}

/** A load of the caller's own making, as one of the rig without a cable or an inverter. */
export interface OwnLoad {
  /** of its own among the rig's loads */
  readonly name: string;
  /** mean power of a step, by what is known of it, 0 or more [W] */
  readonly powerW: (at: LoadMoment) => number;
}

/** Own loads as columns on the grid of a run. @throws TypeError that names the load and what it gave */
export function ownLoadColumns(
  loads: readonly OwnLoad[],
  { itinerary, grid, weather, cabinC }: Omit<Conditions, 'ownLoads'>,
): NonNullable<Conditions['ownLoads']> {
  for (const { name, powerW } of loads)
    if (typeof name !== 'string' || typeof powerW !== 'function')
      throw new TypeError('ownLoads: each needs a name, and powerW, a function of the moment that gives watts');
  const { startMs, stepH, steps } = grid;
  const columns = loads.map(({ name }) => ({ name, powerW: new Float64Array(steps) }));
  let day: CivilDay = itinerary.days[0]!;
  for (let i = 0, at = 0; i < steps; i++) {
    const timeMs = startMs + (i + 0.5) * stepH * HOUR_MS;
    while (timeMs >= day.endMs && at + 1 < itinerary.days.length) day = itinerary.days[++at]!;
    const moment: LoadMoment = {
      timeMs,
      stepH,
      date: day.date,
      dayNumber: day.dayNumber,
      localHour: itinerary.localHour[i]!,
      ambientC: weather.ambientC[i]!,
      cabinC: cabinC[i]!,
      ghiWm2: weather.ghiWm2[i]!,
      driving: itinerary.driving[i]!,
    };
    loads.forEach(({ name, powerW }, k) => {
      const watts = powerW(moment);
      if (!(watts >= 0 && watts < Infinity))
        throw new TypeError(`ownLoads: ${name} gave ${watts} on ${day.date}, and watts of 0 or more are needed`);
      columns[k]!.powerW[i] = watts;
    });
  }
  return columns;
}

/** An own load among the rig's, as they are listed. */
export function ownLoad(name: string): ScheduledLoad {
  return {
    kind: 'scheduled',
    name,
    draw: { kind: 'power', powerW: 0 },
    when: [],
    everyDays: 1,
    share: 1,
    inverter: false,
    critical: false,
    starterSide: false,
  };
}

/** The same as the loop takes it: it draws its mean throughout the step. */
export function ownLane(name: string, powerW: Float64Array): ScheduledLoadInput {
  const onShare = powerW.map((watts) => (watts > 0 ? 1 : 0));
  return { load: ownLoad(name), ohm: circuitLoopOhm(undefined, CONDUCTOR_C), onShare, meanW: powerW, runW: powerW };
}
