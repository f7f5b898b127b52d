import { FREEZES_C } from '../../load/index.js';
import { HOUR_MS } from '../../math/index.js';
import { civilText } from '../../place/index.js';
import { isLead } from '../../rig/index.js';
import type { Assembled } from '../inputs/assemble.js';
import type { LoopOutput } from '../loop/loop.js';
import { LIMIT_COLD } from '../loop/loop.js';
import type { DailyRow, LoadRow, Summary, Warning } from '../types.js';
import { FULL_SOC } from './summarise.js';
import { AT_ITS_LIMIT, cutOutsOf, NOT_WARM_K, nameOfHeavy, overloadsIn } from './troubles.js';

/** A lead-acid battery wants to be full at least this often [days]. Common practice, no source. */
const LEAD_FULL_EVERY_DAYS = 7;
/** Nobody lives for long in a cabin colder than this on average [°C]. Common practice, no source. */
const LIVED_IN_C = 8;

/** What the owner should know about a run, gravest first. */
export function warningsOf(
  assembled: Assembled,
  out: LoopOutput,
  summary: Summary,
  daily: readonly DailyRow[],
  loads: readonly LoadRow[],
): Warning[] {
  const { conditions } = assembled;
  const { grid } = conditions;
  const at = (step: number) => grid.startMs + Math.round(step * grid.stepH * HOUR_MS);
  const warnings: Warning[] = [];

  for (const overload of overloadsIn(assembled, loads))
    warnings.push({ component: overload.code === 'battery_overload' ? 'battery' : 'inverter', ...overload });

  const offSteps = out.onShare.findIndex((share) => share < 1);
  if (offSteps >= 0)
    warnings.push({
      code: 'loads_off',
      component: 'battery',
      firstMs: at(offSteps),
      count: countStarts(out.onShare, (share) => share < 1),
      args: { hours: summary.hoursOff, firstAt: when(assembled, at(offSteps)) },
    });
  for (const load of loads) {
    const cutOuts = load.cutOuts ?? 0;
    if (cutOuts > 0)
      warnings.push({
        code: 'fridge_cut_out',
        component: load.name,
        count: cutOuts,
        args: {
          name: load.name,
          cutOuts,
          byDrop: load.cutOutsByDrop ?? 0,
          lowestSoc: load.cutOutLowestSoc!,
          highestSoc: load.cutOutHighestSoc!,
        },
      });
    if ((load.warmHours ?? 0) > 0)
      warnings.push({
        code: 'food_warm',
        component: load.name,
        args: {
          name: load.name,
          hours: load.warmHours!,
          warmestC: load.warmestC!,
          warmAboveC: load.warmAboveC!,
        },
      });
  }
  assembled.heavies.forEach((lane, k) => {
    const cutOuts = cutOutsOf(assembled, out, k);
    const name = nameOfHeavy(lane);
    if (cutOuts.cutOuts > 0)
      warnings.push({ code: 'load_cut_out', component: name, count: cutOuts.cutOuts, args: { name, ...cutOuts } });
  });
  for (const { name, frozenHours } of loads)
    if (frozenHours)
      warnings.push({ code: 'food_frozen', component: name, args: { name, hours: frozenHours, freezesC: FREEZES_C } });
  assembled.fridges.forEach((lane, k) => {
    const { steps } = grid;
    const rooms = assembled.fridges.filter(({ load }) => load === lane.load);
    const flatOut = countSteps(
      steps,
      (i) =>
        out.onShare[i]! === 1 &&
        rooms.reduce((sum, { columns }) => sum + columns.holdDuty[i]!, 0) >= AT_ITS_LIMIT &&
        out.fridgeC[k * steps + i]! > lane.room.setpointC + 1,
    );
    if (flatOut > 0)
      warnings.push({
        code: 'fridge_cannot_hold',
        component: lane.load.name,
        count: flatOut,
        args: { name: lane.load.name, hours: flatOut * grid.stepH, setpointC: lane.room.setpointC },
      });
  });
  const overloaded = assembled.inverter?.columns.overloadedSteps ?? 0;
  if (overloaded > 0)
    warnings.push({
      code: 'inverter_overloaded',
      component: 'inverter',
      count: overloaded,
      args: { hours: overloaded * grid.stepH },
    });
  const coldH = countSteps(grid.steps, (i) => out.limit[i] === LIMIT_COLD) * grid.stepH;
  if (coldH > 0)
    warnings.push({
      code: 'cold_charge',
      component: 'battery',
      args: { hours: coldH },
    });
  const { chemistry } = assembled.rig.battery;
  if (isLead(chemistry)) {
    const gap = longestWithoutFull(daily);
    if (gap > LEAD_FULL_EVERY_DAYS)
      warnings.push({
        code: 'rarely_full',
        component: 'battery',
        count: gap,
        args: { days: gap },
      });
  }
  const { itinerary } = conditions;
  const mainsH = itinerary.mains.reduce((sum, share) => sum + share, 0) * grid.stepH;
  if (!assembled.rig.mains && mainsH > 0)
    warnings.push({
      code: 'mains_without_charger',
      component: 'mains',
      args: { hours: mainsH },
    });
  const drivenH = itinerary.driving.reduce((sum, share) => sum + share, 0) * grid.stepH;
  if (!assembled.rig.alternator && drivenH > 0)
    warnings.push({
      code: 'drive_without_alternator',
      component: 'alternator',
      args: { hours: drivenH },
    });
  const meanCabinC = conditions.cabinC.reduce((sum, cabinC) => sum + cabinC, 0) / conditions.cabinC.length;
  if (assembled.rig.cabin.heatedC === undefined && meanCabinC < LIVED_IN_C)
    warnings.push({
      code: 'cabin_not_heated',
      component: 'cabin',
      args: { meanC: meanCabinC },
    });
  const { heatedC } = assembled.rig.cabin;
  const cold =
    heatedC === undefined
      ? conditions.cabinC.subarray(0, 0)
      : conditions.cabinC.filter((cabinC) => cabinC < heatedC - NOT_WARM_K);
  if (heatedC !== undefined && cold.length > 0)
    warnings.push({
      code: 'cabin_not_warm',
      component: 'cabin',
      args: { heatedC, hours: cold.length * grid.stepH, coldestC: cold.reduce((a, b) => Math.min(a, b)) },
    });
  for (const note of conditions.notes)
    if (note.code === 'weather_shift')
      warnings.push({ code: note.code, component: 'weather', args: { text: note.text } });
  for (const name of assembled.starterSide)
    warnings.push({
      code: 'starter_side',
      component: name,
      args: { name },
    });
  return warnings;
}

function countSteps(steps: number, holds: (step: number) => boolean): number {
  let count = 0;
  for (let i = 0; i < steps; i++) if (holds(i)) count++;
  return count;
}

function countStarts(column: Float64Array, holds: (value: number) => boolean): number {
  let count = 0;
  for (let i = 0; i < column.length; i++) if (holds(column[i]!) && (i === 0 || !holds(column[i - 1]!))) count++;
  return count;
}

function longestWithoutFull(daily: readonly DailyRow[]): number {
  let longest = 0;
  let run = 0;
  for (const row of daily) {
    run = row.highestSoc >= FULL_SOC ? 0 : run + 1;
    longest = Math.max(longest, run);
  }
  return longest;
}

function when(assembled: Assembled, ms: number): string {
  const { itinerary } = assembled.conditions;
  const leg = itinerary.legs.findLast((one) => one.startMs <= ms) ?? itinerary.legs[0]!;
  return civilText(ms, leg.place.zone);
}
