import { FREEZES_C, foodSafeC } from '../../load/index.js';
import { HOUR_MS } from '../../math/index.js';
import type { CivilDay } from '../../place/index.js';
import { isoLocal } from '../../place/index.js';
import type { Assembled } from '../inputs/assemble.js';
import type { Ledger } from '../ledger/ledger.js';
import { LOSS_PLACES } from '../ledger/ledger.js';
import type { LoopOutput } from '../loop/loop.js';
import { CHARGE_LIMITS, type ChargeLimit, type DailyRow, type LoadRow, type Summary } from '../types.js';

/** Full enough to count as a full charge: within the noise of any state-of-charge counter. */
export const FULL_SOC = 0.99;
/** Nearer to the owner's floor than this is not below it: rounding. */
export const FLOOR_TOLERANCE = 1e-9;

/** Adds without the error growing with the number of terms (Neumaier 1974). */
class Sum {
  private high = 0;
  private low = 0;
  add(value: number): void {
    const total = this.high + value;
    this.low += Math.abs(this.high) >= Math.abs(value) ? this.high - total + value : value - total + this.high;
    this.high = total;
  }
  get value(): number {
    return this.high + this.low;
  }
}

/** The same of a part of a column, in plain numbers: this is where a run's ledger is added up. */
function sumOf(column: Float64Array, from: number, to: number): number {
  let high = 0;
  let low = 0;
  for (let i = from; i < to; i++) {
    const value = column[i]!;
    const total = high + value;
    low += Math.abs(high) >= Math.abs(value) ? high - total + value : value - total + high;
    high = total;
  }
  return high + low;
}

/** As a monitor shows it: lead-acid that is drawn slowly gives a little more than its rating, and stands at 0 % meanwhile. */
export const shownSoc = (soc: number): number => Math.max(0, soc);

function energyWh(column: Float64Array, stepH: number, from = 0, to = column.length): number {
  return sumOf(column, from, to) * stepH;
}

/** The run in figures. */
export function summaryOf(assembled: Assembled, out: LoopOutput, ledger: Ledger, daily: readonly DailyRow[]): Summary {
  const { input, rig, conditions, model } = assembled;
  const { steps, stepH, startSoc } = input;
  let lowestSoc = startSoc;
  let lowestStep = -1;
  let belowH = 0;
  let offH = 0;
  const dischargedAh = new Float64Array(steps);
  const { soc, onShare, batteryA } = out;
  const floor = rig.battery.floor - FLOOR_TOLERANCE;
  for (let i = 0; i < steps; i++) {
    const now = soc[i]!;
    if (now < lowestSoc) {
      lowestSoc = now;
      lowestStep = i;
    }
    if (now < floor) belowH += stepH;
    offH += (1 - onShare[i]!) * stepH;
    const amps = batteryA[i]!;
    if (amps < 0) dischargedAh[i] = -amps * stepH;
  }
  const total = (pick: (row: DailyRow) => number) => {
    const sum = new Sum();
    for (const row of daily) sum.add(pick(row));
    return sum.value;
  };
  const lossWh: Record<string, number> = {};
  for (const place of LOSS_PLACES) lossWh[place] = energyWh(ledger.lossW[place], stepH);
  const figures = {
    pvAvailableWh: total((row) => row.pvAvailableWh),
    pvHarvestWh: total((row) => row.pvHarvestWh),
    pvSpilledWh: total((row) => row.pvSpilledWh),
    alternatorWh: total((row) => row.alternatorWh),
    mainsWh: total((row) => row.mainsWh),
    loadWh: total((row) => row.loadWh),
    unservedWh: total((row) => row.unservedWh),
    storedChangeWh: total((row) => row.storedChangeWh),
  };
  const lost = new Sum();
  for (const place of LOSS_PLACES) lost.add(lossWh[place]!);
  const ledgerErrorWh =
    figures.pvHarvestWh + figures.alternatorWh + figures.mainsWh - figures.loadWh - lost.value - figures.storedChangeWh;
  const endMs = conditions.grid.startMs + (lowestStep + 1) * stepH * HOUR_MS;
  return {
    days: daily.length - skippedDay(assembled),
    startSoc,
    endSoc: steps > 0 ? shownSoc(soc[steps - 1]!) : startSoc,
    lowestSoc: shownSoc(lowestSoc),
    lowestAt: isoLocal(endMs, conditions.itinerary.days),
    hoursBelowFloor: belowH,
    hoursOff: offH,
    ...figures,
    lossWh,
    ledgerErrorWh,
    fullDays: daily.filter((row) => row.highestSoc >= FULL_SOC).length,
    equivalentCycles: sumOf(dischargedAh, 0, steps) / model.capacityAh,
  };
}

/** Share of the first civil day before a run that starts at a clock time, 0..1. */
function skippedDay({ conditions: { grid, itinerary } }: Assembled): number {
  const [first] = itinerary.days;
  if (!first || grid.startMs <= first.startMs) return 0;
  return (grid.startMs - first.startMs) / (first.endMs - first.startMs);
}

/** Steps of each civil day. */
export function dayBounds(assembled: Assembled): { day: CivilDay; from: number; to: number }[] {
  const { grid, itinerary } = assembled.conditions;
  const stepMs = grid.stepH * HOUR_MS;
  return itinerary.days.map((day) => ({
    day,
    from: Math.max(0, Math.round((day.startMs - grid.startMs) / stepMs)),
    to: Math.min(grid.steps, Math.round((day.endMs - grid.startMs) / stepMs)),
  }));
}

/** One row a civil day; the rows' energies add up to the run's. */
export function dailyOf(assembled: Assembled, out: LoopOutput, ledger: Ledger): DailyRow[] {
  const { conditions, input } = assembled;
  const { stepH } = input;
  const { weather, itinerary } = conditions;
  const { soc, limit } = out;
  const hours = new Float64Array(CHARGE_LIMITS.length);
  return dayBounds(assembled).map(({ day, from, to }) => {
    let lowestSoc = from > 0 ? soc[from - 1]! : input.startSoc;
    let highestSoc = lowestSoc;
    hours.fill(0);
    for (let i = from; i < to; i++) {
      const now = soc[i]!;
      if (now < lowestSoc) lowestSoc = now;
      if (now > highestSoc) highestSoc = now;
      const place = limit[i]!;
      hours[place] = hours[place]! + stepH;
    }
    const limitH = Object.fromEntries(CHARGE_LIMITS.map((name, k) => [name, hours[k]!])) as Record<ChargeLimit, number>;
    const wh = (column: Float64Array) => energyWh(column, stepH, from, to);
    const loads = (pick: (load: Ledger['loads'][number]) => Float64Array) =>
      ledger.loads.reduce((sum, load) => sum + wh(pick(load)), 0);
    const pvAvailableWh = wh(ledger.pvAvailableW);
    const pvHarvestWh = wh(ledger.pvHarvestW);
    return {
      date: day.date,
      stop: itinerary.legs[day.leg]!.place.name,
      pvAvailableWh,
      pvHarvestWh,
      pvSpilledWh: pvAvailableWh - pvHarvestWh,
      alternatorWh: wh(ledger.alternatorW),
      mainsWh: wh(ledger.mainsW),
      loadWh: loads((load) => load.servedW),
      unservedWh: loads((load) => load.unservedW),
      lossWh: LOSS_PLACES.reduce((sum, place) => sum + wh(ledger.lossW[place]), 0),
      storedChangeWh: sumOf(ledger.storedChangeWh, from, to),
      lowestSoc: shownSoc(lowestSoc),
      highestSoc: shownSoc(highestSoc),
      ambientMeanC: to > from ? sumOf(weather.ambientC, from, to) / (to - from) : Number.NaN,
      ghiKwhM2: wh(weather.ghiWm2) / 1000,
      limitH,
    };
  });
}

/** One row a load, in the rig's order. */
export function loadRowsOf(assembled: Assembled, out: LoopOutput, ledger: Ledger): LoadRow[] {
  const { input } = assembled;
  const { stepH, steps } = input;
  const { soc, fridgeCut } = out;
  return ledger.loads.map((load) => {
    const row = {
      name: load.name,
      servedWh: energyWh(load.servedW, stepH),
      unservedWh: energyWh(load.unservedW, stepH),
      dutyCycle: steps > 0 ? energyWh(load.onShare, 1) / steps : 0,
      ...(load.lowestV < Infinity && { lowestV: load.lowestV }),
    };
    const first = assembled.fridges.findIndex((lane) => lane.load.name === load.name);
    if (first < 0 || !load.rooms) return row;
    let cutOuts = 0;
    let cutOutsByDrop = 0;
    let lowest = Infinity;
    let highest = 0;
    for (let i = 0; i < steps; i++) {
      // Its rooms share one compressor, whichever of them it runs for.
      const cut = load.rooms.reduce((most, _, k) => Math.max(most, fridgeCut[(first + k) * steps + i]!), 0);
      if (cut === 0) continue;
      cutOuts++;
      if (cut === 2) cutOutsByDrop++;
      lowest = Math.min(lowest, soc[i]!);
      highest = Math.max(highest, soc[i]!);
    }
    const rooms = load.rooms.map(({ insideC }, k) => {
      const { room } = assembled.fridges[first + k]!;
      const warmAboveC = foodSafeC(room, input.fridgeSwingK);
      const frozen = room.setpointC > FREEZES_C ? insideC.reduce((sum, c) => sum + (c < FREEZES_C ? 1 : 0), 0) : 0;
      return { warmAboveC, ...warmthOf(insideC, warmAboveC, stepH, 0, steps), frozenHours: frozen * stepH };
    });
    const worst = rooms.reduce((one, other) => (other.warmHours > one.warmHours ? other : one));
    const frozenHours = Math.max(...rooms.map((room) => room.frozenHours));
    return {
      ...row,
      cutOuts,
      cutOutsByDrop,
      ...(cutOuts > 0 && { cutOutLowestSoc: lowest, cutOutHighestSoc: highest }),
      warmAboveC: worst.warmAboveC,
      warmHours: worst.warmHours,
      warmestC: worst.warmestC,
      ...(frozenHours > 0 && { frozenHours }),
    };
  });
}

/** Rounding above the threshold that is no warmth [K]. */
const SAME_K = 0.01;

/** For how long the inside of a fridge was too warm, and the warmest. */
export function warmthOf(insideC: Float64Array, warmAboveC: number, stepH: number, from: number, to: number) {
  let warm = 0;
  let warmestC = -Infinity;
  for (let i = from; i < to; i++) {
    const inside = insideC[i]!;
    if (inside > warmAboveC + SAME_K) warm++;
    if (inside > warmestC) warmestC = inside;
  }
  return { warmHours: warm * stepH, warmestC };
}
