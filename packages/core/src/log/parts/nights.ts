import { HOUR_MS, meanOf, percentile } from '../../math/index.js';
import { flowsOf } from '../read/flows.js';
import type { LogColumnName } from '../types.js';
import type { CompareContext } from './compare-context.js';

/** Hours of the local day in which people sleep: what they use by hand is off. */
const FROM_H = 0;
const TO_H = 6;
/** A night is judged from so many hours of rows, and from rows so close. */
const MIN_H = 2.5;
const FINE_ROW_H = 0.2501;
const LONGEST_ROW_H = 0.5;
/** The quietest of the rows: what comes and goes is off in them. */
const QUIET = 0.1;
/** Noise and small lamps about the quiet draw [A]. */
const QUIET_WITHIN_A = 0.12;
/**
 * Everything is cut off where less than this of what usually is drawn all night flows, for so long that a fridge would have run.
 * Between its runs a monitor may show nothing, as it drops currents below its dead band.
 */
const CUT_SHARE = 0.3;
const CUT_RUN_H = 2;
/** A compressor that never stops lifts the quietest rows by this share of its current, and hardly a row lies below half of it. */
const LIFT = 0.6;
const BELOW = 0.05;
/** How much warmer or colder the cabin may be than told: listed loads that such a cabin turns on or off explain a draw [K]. */
export const CABIN_DOUBT_K = 3;
const DARK_W = 0.5;

/** One night by itself: what is drawn all the time, and how much of it the compressor runs. */
export interface Night {
  /** day of the run, and civil date, of its morning */
  readonly day: number;
  readonly date: string;
  readonly hours: number;
  /** drawn all night, whatever else comes and goes [A]; NaN where the compressor never stops */
  readonly floorA: number;
  /** what the rig lists of that, in a cabin as told, and the least and the most in one that is warmer or colder [A] */
  readonly listedA: number;
  readonly listedLowA: number;
  readonly listedHighA: number;
  /** what comes and goes: the mean draw beyond the floor [A] */
  readonly excessA: number;
  /** mean air outside [°C] */
  readonly outsideC: number;
  /** how much warmer it is around the fridge than in it [K] */
  readonly aboveK: number;
  /** the mean that the rig's fridge would take in such a cabin [A] */
  readonly expectedA: number;
  readonly isContinuous: boolean;
  /** what listed loads that go by themselves (heater, pump) could add to the night, if all of it fell there [A] */
  readonly byItselfA: number;
  /** share of the rows in which next to nothing flowed */
  readonly cutShare: number;
  /** lowest voltage of the day before, until the last row of this night in which current flowed [V] */
  readonly lowestBeforeV: number;
}

/** What the rig as written draws at a step, day and night: loads that are on all the step, electronics, standby [A]. */
export type ListedDraw = (step: number) => { readonly asTold: number; readonly low: number; readonly high: number };

/** The nights of a log, those judged by rows that are close enough; none where the log is too coarse. */
export function nightsOf(context: CompareContext, listed: ListedDraw): Night[] {
  const { replay, steps, assembled, availableW, dayOf, dates, rig } = context;
  const { table, reading } = replay.log;
  const { grid, itinerary } = replay.conditions;
  if (!(reading.time.stepH <= FINE_ROW_H)) return [];
  const names = Object.keys(table.values) as LogColumnName[];
  const columns = names.map((name) => table.values[name]!);
  const flows = flowsOf(names, reading.solarSide);
  if (!flows.hasBattery) return [];
  const row = new Float64Array(names.length);
  const byDay = new Map<number, Row[]>();
  const stepMs = grid.stepH * HOUR_MS;
  for (let i = 0; i + 1 < table.rows; i++) {
    const step = Math.floor((table.timeMs[i]! - grid.startMs) / stepMs);
    if (step < 0 || step >= grid.steps) continue;
    const hour = itinerary.localHour[step]!;
    const isNight =
      hour >= FROM_H &&
      hour < TO_H &&
      availableW[step]! < DARK_W &&
      !(itinerary.driving[step]! > 0) &&
      !(steps.harvestW[step]! > 1) &&
      !(steps.alternatorW[step]! > 1);
    if (!isNight) continue;
    for (let k = 0; k < row.length; k++) row[k] = columns[k]![i]!;
    const drawA = -flows.batteryA(row);
    const h = Math.min((table.timeMs[i + 1]! - table.timeMs[i]!) / HOUR_MS, LONGEST_ROW_H);
    if (Number.isNaN(drawA)) continue;
    const rows = byDay.get(dayOf[step]!) ?? [];
    byDay.set(dayOf[step]!, rows);
    rows.push({ step, drawA, h });
  }
  const wholeFloors = [...byDay.values()].filter((rows) => sumH(rows) >= MIN_H).map(quietest);
  if (wholeFloors.length === 0) return [];
  // nights with cuts are fewer than nights without, and a list may promise too much
  const listedLowA = percentile(
    [...byDay.values()].map((rows) => listed(rows[0]!.step).low),
    0.5,
  );
  const cutBelowA = CUT_SHARE * Math.min(percentile(wholeFloors, 0.75), listedLowA);
  const raw = [...byDay].flatMap(([day, rows]) => {
    const hours = rows.reduce((sum, { h }) => sum + h, 0);
    if (hours < MIN_H) return [];
    const listedAt = rows.map(({ step }) => listed(step));
    const quiet = (of: (one: ReturnType<ListedDraw>) => number) => percentile(listedAt.map(of), QUIET);
    const listedA = quiet(({ asTold }) => asTold);
    const flowing = outsideCuts(rows, cutBelowA);
    const cutShare = 1 - flowing.reduce((sum, { h }) => sum + h, 0) / hours;
    return [
      {
        day,
        firstStep: rows[0]!.step,
        rows: flowing,
        hours,
        cutShare,
        floorA: flowing.length > 0 ? quietest(flowing) : Number.NaN,
        listedA,
        listedLowA: quiet(({ low }) => low),
        listedHighA: quiet(({ high }) => high),
      },
    ];
  });
  const floors = raw.map(({ floorA }) => floorA).filter((amps) => !Number.isNaN(amps));
  const usualA = floors.length > 0 ? percentile(floors, 0.2) : Number.NaN;
  const { fridges } = assembled;
  const volts = rig.battery.nominalV * rig.battery.series * 1.09;
  const runningA = Math.max(0, ...fridges.map(({ columns: { electricW } }) => meanOf(electricW))) / volts;
  const otherA = comesAndGoes(context, runningA, volts);
  const byItselfA = goesByItself(context, volts);
  const threshold = runningA > 0 ? (runningA + otherA) / 2 : Infinity;
  return raw.map(({ day, firstStep, rows, hours, cutShare, floorA, listedA, listedLowA, listedHighA }) => {
    const isOver = (limit: number) =>
      rows.reduce((sum, { drawA, h }) => sum + (drawA > limit ? h : 0), 0) / Math.max(1e-9, sumH(rows));
    const isContinuous =
      runningA > 0 &&
      floorA - usualA > LIFT * runningA &&
      isOver(usualA + 0.5 * runningA) > 1 - BELOW &&
      isOver(floorA + threshold) < BELOW;
    const base = isContinuous ? usualA : floorA;
    const expectedA = meanOf(
      rows.map(({ step }) => {
        const busV = Number.isNaN(steps.voltageV[step]!) ? volts : steps.voltageV[step]!;
        return (
          fridges.reduce((sum, { columns: { holdDuty, electricW } }) => sum + holdDuty[step]! * electricW[step]!, 0) /
          busV
        );
      }),
    );
    return {
      day,
      date: dates[day]!,
      hours,
      floorA: isContinuous ? Number.NaN : floorA,
      listedA,
      listedLowA,
      listedHighA,
      excessA: rows.reduce((sum, { drawA, h }) => sum + (drawA - base) * h, 0) / Math.max(1e-9, sumH(rows)),
      aboveK: fridges[0]
        ? meanOf(rows.map(({ step }) => fridges[0]!.roomC[step]!)) - fridges[0].room.setpointC
        : Number.NaN,
      outsideC: meanOf(rows.map(({ step }) => replay.conditions.weather.ambientC[step]!)),
      expectedA,
      isContinuous,
      byItselfA,
      cutShare,
      lowestBeforeV: lowestBefore(context, rows.at(-1)?.step ?? firstStep, cutBelowA),
    };
  });
}

interface Row {
  readonly step: number;
  readonly drawA: number;
  readonly h: number;
}

/** The rows without the long runs of next to no current. */
function outsideCuts(rows: readonly Row[], cutBelowA: number): Row[] {
  const kept: Row[] = [];
  for (let from = 0; from < rows.length; ) {
    let to = from;
    while (to < rows.length && rows[to]!.drawA < cutBelowA) to++;
    const run = rows.slice(from, Math.max(to, from + 1));
    if (to === from || sumH(run) < CUT_RUN_H) kept.push(...run);
    from = Math.max(to, from + 1);
  }
  return kept;
}

const sumH = (rows: readonly Row[]) => rows.reduce((sum, { h }) => sum + h, 0);

/** The quiet draw: the middle of the rows about the level below which the night lies for a tenth of its time. */
function quietest(rows: readonly Row[]): number {
  const sorted = [...rows].sort((a, b) => a.drawA - b.drawA);
  const lowA = drawAt(sorted, QUIET);
  return drawAt(
    sorted.filter(({ drawA }) => Math.abs(drawA - lowA) < QUIET_WITHIN_A),
    0.5,
  );
}

/** The draw below which rows lie for a share of their time. @param sorted by it */
function drawAt(sorted: readonly Row[], share: number): number {
  const enough = share * sumH(sorted);
  let h = 0;
  for (const row of sorted) {
    h += row.h;
    if (h >= enough) return row.drawA;
  }
  return sorted.at(-1)!.drawA;
}

/** The largest listed current that comes and goes at night by itself (heater, fan) and is well below the compressor's [A]. */
function comesAndGoes({ assembled }: CompareContext, runningA: number, volts: number): number {
  const amps = assembled.plain.map(({ load, meanW, meanA }) => {
    const isByItself = load.when.length === 0;
    const draw = load.draw;
    const own =
      draw.kind === 'power'
        ? draw.powerW / volts
        : draw.kind === 'current'
          ? draw.currentA
          : Math.max(largestOf(meanW) / volts, largestOf(meanA));
    const isAlways =
      isByItself && load.hoursPerDay === undefined && load.timesPerDay === undefined && draw.kind !== 'expression';
    return isByItself && !isAlways && own < 0.75 * runningA ? own : 0;
  });
  return Math.max(0, ...amps);
}

/** 0 of nothing; a column may have more values than a call takes arguments. */
const largestOf = (values: Float64Array | undefined) => values?.reduce((most, value) => Math.max(most, value), 0) ?? 0;

/** @param step last of the night in which current flowed; where none did, what was drawn last tells, were it days ago */
function lowestBefore({ steps, replay }: CompareContext, step: number, leastA: number): number {
  let last = step;
  while (last > 0 && !(-steps.batteryA[last]! > leastA)) last--;
  const from = Math.max(0, last - Math.round(24 / replay.conditions.grid.stepH));
  let lowest = Number.NaN;
  for (let i = from; i <= last; i++) {
    const volts = steps.voltageV[i]!;
    if (volts < lowest || (Number.isNaN(lowest) && !Number.isNaN(volts))) lowest = volts;
  }
  return lowest;
}

/** Listed loads without hours of their own that run for a part of the day only: their charge a day, were all of it drawn at night [A]. */
function goesByItself({ assembled }: CompareContext, volts: number): number {
  const ahOf = ({ load }: CompareContext['assembled']['plain'][number]) => {
    if (load.when.length > 0 || load.draw.kind === 'expression') return 0;
    const hours = load.hoursPerDay ?? (load.timesPerDay !== undefined ? load.timesPerDay * (load.lastsH ?? 0) : 0);
    const amps = load.draw.kind === 'power' ? load.draw.powerW / volts : load.draw.currentA;
    return Math.min(hours, TO_H - FROM_H) * amps * load.share;
  };
  return assembled.plain.reduce((sum, lane) => sum + ahOf(lane), 0) / (TO_H - FROM_H);
}
