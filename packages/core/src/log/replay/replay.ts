import { batteryModel } from '../../battery/index.js';
import { cabinColumn } from '../../load/index.js';
import { HOUR_MS, meanOfPresent, type Task } from '../../math/index.js';
import { addDays, civilText, daysBetween, itineraryFor, startOfDayMs } from '../../place/index.js';
import { ConfigError, type Rig, type Stop, type Trip, withoutTrip } from '../../rig/index.js';
import {
  type Conditions,
  conditionsTask,
  type GivenWeather,
  shadeColumn,
  weatherName,
  withEndlessFuel,
} from '../../simulate/index.js';
import { type RowStamps, rowStamps } from '../clock/row-stamps.js';
import type { LogTable } from '../read/log-table.js';
import type { LogReading, Stamps } from '../types.js';
import { type ChargeStages, chargeStages } from './free-steps.js';
import { type HarvestSide, harvestSide } from './harvest-side.js';
import { byDay, type LogLight, lightOfLog, offeredUnder } from './log-light.js';
import { type LogSteps, logSteps } from './log-steps.js';
import { stepDays } from './step-days.js';
import { type SunShift, shiftMsOf, sunShift } from './sun-shift.js';
import { type ZeroOffset, zeroOffset } from './zero-offset.js';

/** Steps of the grid, the usual one first; a coarser log takes a longer one [h]. */
const STEPS_H = [1 / 6, 0.25, 1 / 3, 0.5];
const MAX_STEP_H = 1;
const ROUNDING = 0.01;
/** A first day that begins later than this is left out: its beginning is not known. */
const LATE_MS = 2 * HOUR_MS;

/** A rig is judged by rows that account for this share of its days. */
const MIN_COVER = 0.5;
/** Days count whose harvest is known for this share of the light. */
const BEYOND_COVER = 0.8;
/** Panels above their rating, cold, with snow around, by an instrument of 2 %: more than this over a clear day is something else. */
const BEYOND = 1.4;
/** Ground slopes, and a van on it [°]: a low sun meets such panels so much better. Common practice, no source. */
const SLOPE_DEG = 5;

/** A log that was read whole. */
export interface Log {
  readonly reading: LogReading;
  readonly table: LogTable;
}

/** @throws TypeError that names the function, when what it was given is no log */
export function requireLog(caller: string, log: Log): void {
  if (!log?.reading?.time || !log.table) throw new TypeError(`${caller}: a log is needed; readLogTable makes one`);
}

/** Where, in which light and over which days a rig follows a log. */
export interface ReplayOptions {
  /** where the vehicle stood while the log ran, when it stood still; else a trip */
  readonly where?: {
    readonly at?: string | { readonly latDeg: number; readonly lonDeg: number };
    readonly place?: string;
  };
  /** stops and drives while the log ran; its days bound what is compared */
  readonly trip?: Trip;
  /** a weather file's text: its light serves where the log has no irradiance, its air where it has no temperature */
  readonly weatherFile?: GivenWeather;
  /** first and last civil day taken, ISO; the whole log unless given */
  readonly from?: string;
  readonly to?: string;
  /** what the stamps of the log's rows mark; absent = what the log itself tells */
  readonly stamps?: Stamps;
}

/** How the rows of a log were understood, beyond what reading it tells. */
export interface RowEvidence {
  readonly stamps: RowStamps;
  /** the log's clock is wrong by so much, and was set right; absent = nothing speaks against it */
  readonly clock?: SunShift;
  /** what the counted current comes to from full to full; taken off where it is wrong */
  readonly zero?: ZeroOffset;
  /** which side of the controller the harvest is measured on */
  readonly side: HarvestSide;
}

/** A log laid over a rig's world: the conditions of those days, and what was measured, on one grid. */
export interface Replay {
  /** the log with its stamps at the start of their rows, its clock and the zero of its current set right */
  readonly log: Log;
  readonly evidence: RowEvidence;
  /** what held the harvest back, step by step */
  readonly stages: ChargeStages;
  /** what the panels could give under this light, on the side where the harvest is measured [W] */
  readonly conditions: Conditions;
  readonly steps: LogSteps;
  readonly light: LogLight['light'];
  /** where light and air come from, in words */
  readonly sources: readonly string[];
  readonly startSoc: number;
  readonly startSocBy: 'log' | 'voltage' | 'trip';
  /** first and last civil day */
  readonly from: string;
  readonly to: string;
  readonly days: number;
}

/**
 * Lays a log over the days it was written in: light from the log's irradiance, a weather file, or the clear sky scaled by
 * what the panel shows on its best days, in this order. What its rows mean is settled first: what their stamps mark, whether the
 * clock fits the sun, whether the current has its zero, and on which side of the controller the harvest is measured.
 * @throws ConfigError when the log, the trip and the weather file do not overlap, or nothing says where it was
 */
export function* replayTask(rig: Rig, given: Log, options: ReplayOptions = {}): Task<Replay> {
  const stamps = rowStamps(given.reading, options.stamps);
  const counted = zeroOffset(rig, given, compensationOf(rig, given));
  const zeroed = counted?.isWrong ? withCurrentOff(given, counted.amps) : given;
  const asStamped = withStampsMoved(zeroed, stamps.shiftMs);
  const first = yield* laid(rig, asStamped, options);
  yield;
  const clock =
    // an irradiance of the log's own goes by the same clock
    first.light !== 'file'
      ? undefined
      : sunShift(first.steps, first.stages.free, first.offeredW, stepDays(first.conditions));
  const log = clock ? withStampsMoved(asStamped, shiftMsOf(clock)) : asStamped;
  const { offeredW, ...rest } = clock ? yield* laid(rig, log, options) : first;
  const side = harvestSide(rig, log, rest.steps, offeredW);
  return {
    log,
    evidence: { stamps, ...(clock && { clock }), ...(counted && { zero: counted }), side },
    ...rest,
  };
}

type Laid = Omit<Replay, 'log' | 'evidence'> & { readonly offeredW: Float64Array };

function* laid(rig: Rig, log: Log, options: ReplayOptions): Task<Laid> {
  const trip = tripOver(log.reading, options);
  const { from, to, nights } = spanOf(trip);
  const { weatherFile } = options;
  const fileName = weatherFile && weatherName(weatherFile);
  const base: Trip = {
    ...trip,
    weather: weatherFile ? { kind: 'file', path: weatherName(weatherFile) } : { kind: 'clear' },
  };
  const stepH = gridStepH(log.reading);
  const conditions = yield* conditionsTask(rig, base, { stepH, ...(weatherFile && { weatherFile }) });
  yield;
  const steps = logSteps(log, conditions.grid);
  if (!steps.cover.some((share) => share > 0))
    throw refused(
      'log_no_overlap',
      `the log runs from ${log.reading.span.from} to ${log.reading.span.to}, and no row of it lies in the days from ${from} to ${to}`,
    );
  const cover = steps.cover.reduce((sum, share) => sum + Math.min(1, share), 0) / steps.cover.length;
  if (cover < MIN_COVER)
    throw refused(
      'log_sparse',
      `the rows of the log account for ${percentText(cover)} of the ${nights} days from ${from} to ${to}: too little to judge a rig by`,
      'choose days that the rows cover',
    );
  yield;
  const clear: Trip = { ...trip, weather: { kind: 'clear' } };
  const clearSky = weatherFile ? yield* conditionsTask(rig, clear, { stepH }) : conditions;
  refuseBeyond(rig, clearSky, steps);
  yield;
  // what held the harvest back is told from volts and amps; the sun only says when it is day
  const air = withAir(rig, conditions, steps);
  const cells = steps.batteryC.map((c, i) => (Number.isNaN(c) ? (air.cabinC[i] ?? Number.NaN) : c));
  const dayOf = stepDays(conditions);
  const stages = chargeStages(rig, steps, cells, conditions.itinerary.driving, offeredUnder(rig, clearSky), dayOf);
  const lit = lightOfLog(rig, conditions, steps, stages.free, fileName);
  const under = withAir(rig, lit.conditions, steps);
  return {
    conditions: under,
    steps,
    stages,
    offeredW: offeredUnder(rig, under),
    light: lit.light,
    sources: [lit.text, airText(rig, steps, fileName)],
    ...startOf(rig, steps, trip),
    from,
    to,
    days: nights,
  };
}

/** The log with its stamps moved by so many milliseconds. */
function withStampsMoved(log: Log, byMs: number): Log {
  if (byMs === 0) return log;
  const { reading, table } = log;
  const moved = (iso: string) => new Date(Date.parse(iso) + byMs).toISOString();
  return {
    reading: { ...reading, span: { ...reading.span, from: moved(reading.span.from), to: moved(reading.span.to) } },
    table: { ...table, timeMs: table.timeMs.map((ms) => ms + byMs) },
  };
}

/** The log with its current less what it reads when none flows. */
function withCurrentOff(log: Log, amps: number): Log {
  const { table } = log;
  const { current } = table.values;
  return { ...log, table: { ...table, values: { ...table.values, current: current!.map((one) => one - amps) } } };
}

/** What is added to the set points at each row, by the temperature that the log has. */
function compensationOf({ battery: { charge } }: Rig, { table }: Log): (row: number) => number {
  const celsius = table.values.temperature ?? table.values.ambient;
  return (row) => (celsius && !Number.isNaN(celsius[row]!) ? charge.perDegreeV * (celsius[row]! - 25) : 0);
}

const percentText = (share: number) => `${Number((100 * share).toPrecision(2))} %`;

/** More harvest than the panels give under a clear sky all day is no finding about them: the log or the rig is not what it says. */
function refuseBeyond(rig: Rig, clear: Conditions, steps: LogSteps): void {
  if (rig.solar.length === 0 || steps.harvestW.every(Number.isNaN)) return;
  const offeredW = offeredUnder(rig, clear);
  const days: { gaveWh: number; mostWh: number }[] = [];
  byDay(clear, (from, to) => {
    let [gave, most, all] = [0, 0, 0];
    for (let i = from; i < to; i++) {
      all += offeredW[i]!;
      if (Number.isNaN(steps.harvestW[i]!)) continue;
      gave += steps.harvestW[i]!;
      most += offeredW[i]!;
    }
    if (most > BEYOND_COVER * all && most > 0)
      days.push({ gaveWh: gave * clear.grid.stepH, mostWh: most * clear.grid.stepH });
    return 0;
  });
  const best = days.sort((a, b) => b.gaveWh / b.mostWh - a.gaveWh / a.mostWh)[Math.floor(days.length / 10)];
  if (best === undefined || best.gaveWh <= BEYOND * slopeGain(clear) * best.mostWh) return;
  const panelsW = rig.solar.reduce((sum, { powerW, count }) => sum + powerW * count, 0);
  throw refused(
    'log_beyond_rig',
    `on one day in ten the log shows ${kilowattHours(best.gaveWh)} or more of sun, and ${panelsW.toFixed(0)} W of panels give ${kilowattHours(best.mostWh)} there under a clear sky all day`,
    'another unit, column or side of the controller for the sun puts the log right; else the panels of the rig are not those of the log',
  );
}

/** What panels on sloping ground gain of a clear sky's noon over level ones: sin(h + slope) / sin h, with sin h from its light. */
function slopeGain({ weather }: Conditions): number {
  const noonWm2 = weather.ghiWm2.reduce((most, one) => Math.max(most, one), 0);
  const height = Math.asin(Math.min(1, Math.max(0.1, noonWm2 / 1000)));
  return Math.sin(Math.min(Math.PI / 2, height + (SLOPE_DEG * Math.PI) / 180)) / Math.sin(height);
}

const kilowattHours = (wh: number) => `${(wh / 1000).toPrecision(2)} kWh`;

/** The trip given, or one stop over the days of the log. */
function tripOver({ span }: LogReading, { where, trip, from, to }: ReplayOptions): Trip {
  if (trip) return tripWithin(trip, from, to);
  if (!where || (where.at === undefined && where.place === undefined))
    throw refused(
      'log_nowhere',
      'where did the vehicle stand while the log ran?',
      'give its position, its place or a trip',
    );
  const site = withoutTrip({ ...where, from: span.from.slice(0, 10), days: 1 });
  const { zone } = itineraryFor(site, MAX_STEP_H).legs[0]!.place;
  const civil = (iso: string) => civilText(Date.parse(iso), zone).slice(0, 10);
  let first = civil(span.from);
  const last = civil(span.to);
  const isLate = Date.parse(span.from) - startOfDayMs(first, zone) > LATE_MS;
  if (isLate && first < last) first = addDays(first, 1);
  const begin = from !== undefined && from > first ? from : first;
  const end = to !== undefined && to < last ? to : last;
  const days = Math.round((Date.parse(end) - Date.parse(begin)) / (24 * HOUR_MS)) + 1;
  if (!(days >= 1))
    throw refused(
      'log_no_overlap',
      `the log runs from ${first} to ${last}, and none of its days lies ${from === undefined ? `before ${to}` : to === undefined ? `after ${from}` : `from ${from} to ${to}`}`,
    );
  return withoutTrip({ ...where, from: begin, days });
}

/** The days of a trip from one to another, as far as it has them. */
export function tripWithin(trip: Trip, from: string | undefined, to: string | undefined): Trip {
  const stops: Stop[] = [];
  let date = trip.stops[0]!.from!;
  for (const stop of trip.stops) {
    date = stop.from ?? date;
    const end = addDays(date, stop.nights);
    const past = to !== undefined && addDays(to, 1) < end ? addDays(to, 1) : end;
    const begin = from !== undefined && from > date ? from : date;
    if (begin < past)
      stops.push({ ...stop, from: begin, nights: daysBetween(begin, past), ...(begin > date && { driveH: 0 }) });
    date = end;
  }
  if (stops.length === 0)
    throw refused('log_no_overlap', `the trip has none of the days from ${from ?? 'its first'} to ${to ?? 'its last'}`);
  return { ...trip, stops };
}

function spanOf(trip: Trip): { from: string; to: string; nights: number } {
  const nights = trip.stops.reduce((sum, stop) => sum + stop.nights, 0);
  const from = trip.stops[0]!.from!;
  return { from, to: addDays(from, nights - 1), nights };
}

function gridStepH({ time: { stepH } }: LogReading): number {
  if (!(stepH <= MAX_STEP_H))
    throw refused(
      'log_too_coarse',
      `the log's rows are ${stepH > 0 ? `${Number(stepH.toPrecision(3))} h` : 'more than a day'} apart; a day is told from rows an hour apart or less`,
    );
  return STEPS_H.find((one) => stepH <= one * (1 + ROUNDING)) ?? MAX_STEP_H;
}

/** Measured air in the place of the weather's; where it was not measured, the weather's moved by their mean difference. */
function withAir(rig: Rig, conditions: Conditions, steps: LogSteps): Conditions {
  const { weather, grid } = conditions;
  const { stands } = rig.battery;
  const isCabin =
    Number.isNaN(meanOfPresent(steps.ambientC)) && stands === 'cabin' && !Number.isNaN(meanOfPresent(steps.batteryC));
  const measured = !Number.isNaN(meanOfPresent(steps.ambientC))
    ? steps.ambientC
    : stands === 'engine bay'
      ? undefined
      : isCabin
        ? steps.batteryC.map((c, i) => c - (rig.cabin.gainK * weather.ghiWm2[i]!) / 1000)
        : steps.batteryC;
  const ambientC =
    measured && !Number.isNaN(meanOfPresent(measured)) ? corrected(measured, weather.ambientC) : weather.ambientC;
  const shade = shadeColumn(conditions.itinerary);
  const cabinC = cabinColumn(ambientC, weather.ghiWm2, withEndlessFuel(rig).cabin, shade, grid.stepH);
  return {
    ...conditions,
    weather: { ...weather, ambientC },
    cabinC: isLogged(steps.cabinC)
      ? corrected(steps.cabinC, cabinC)
      : isCabin
        ? corrected(steps.batteryC, cabinC)
        : cabinC,
  };
}

function airText(rig: Rig, steps: LogSteps, file: string | undefined): string {
  if (!Number.isNaN(meanOfPresent(steps.ambientC))) return "air: the log's temperature outside";
  if (rig.battery.stands !== 'engine bay' && !Number.isNaN(meanOfPresent(steps.batteryC)))
    return `air: taken from the battery's temperature in the log, as it stands ${rig.battery.stands === 'cabin' ? 'in the cabin' : 'outside'}`;
  return file === undefined ? "air: the climate's usual temperatures for those months" : `air: ${file}`;
}

const isLogged = (column: Float64Array) => !Number.isNaN(meanOfPresent(column));

/** Measured values; elsewhere the stand-in, moved by the mean difference between the two. */
function corrected(measured: Float64Array, standIn: Float64Array): Float64Array {
  const moved = meanOfPresent(measured.map((value, i) => value - standIn[i]!));
  return measured.map((value, i) => (Number.isNaN(value) ? standIn[i]! + moved : value));
}

/** State of charge at the beginning: the log's, or what its first quiet voltage says, or the trip's. */
function startOf(rig: Rig, steps: LogSteps, trip: Trip): Pick<Replay, 'startSoc' | 'startSocBy'> {
  const first = steps.soc.findIndex((soc) => !Number.isNaN(soc));
  if (first >= 0) return { startSoc: Math.min(1, Math.max(0, steps.soc[first]!)), startSocBy: 'log' };
  const volts = steps.voltageV.findIndex((volt, i) => !Number.isNaN(volt) && !(steps.batteryA[i]! > 0));
  if (volts < 0) return { startSoc: trip.startSoc, startSocBy: 'trip' };
  const { ocvV, points } = batteryModel(rig.battery);
  const above = ocvV.findIndex((ocv) => ocv >= steps.voltageV[volts]!);
  return { startSoc: above < 0 ? 1 : above / (points - 1), startSocBy: 'voltage' };
}

function refused(code: string, message: string, hint?: string): ConfigError {
  return new ConfigError([{ code, path: '', message, ...(hint !== undefined && { hint }) }]);
}
