import { HOUR_MS, MINUTE_MS, percentile } from '../../math/index.js';
import { sunPosition, sunTimes } from '../../sky/index.js';
import { type CivilDaySpan, civilDayAt } from '../clock/civil-days.js';
import { createStepLength, isGap } from '../clock/step-length.js';
import { MAX_STEP_MS, type Rhythm } from '../columns/rhythm.js';
import type { LogColumnName, LogDay, LogGap, LogPicture, LogRow } from '../types.js';
import { createNightDraw } from './base-load.js';
import { flowsOf } from './flows.js';

const MAX_LISTED = 1000;
/** A monitor calls this full; without one, the absorption voltage per 12 V nominal does. Common practice, no source. */
const FULL_SOC = 0.99;
const FULL_V_PER_12V = 14;
/** Night by the panel: less than this share of the most it gave, or 1 W. */
const DARK_SHARE = 0.005;
const DARK_W = 1;
/** Hours after sunset and before sunrise that are not yet night. */
const DUSK_MS = HOUR_MS / 2;
/** Night by the clock alone: local civil hours. */
const NIGHT_FROM_H = 22;
const NIGHT_TO_H = 5;
const SUN_DOWN_DEG = -2;
const RESET_SOC = 0.03;
const RESET_SOC_UNEXPLAINED = 0.1;
const RESET_WITHIN_MS = 30 * MINUTE_MS;

interface Site {
  readonly latDeg: number;
  readonly lonDeg: number;
}

/** The log's own picture, day by day: what a row shows holds until the next, at most for the usual step. */
export function createDailyPicture(
  columns: readonly LogColumnName[],
  zone: string,
  { usualMs, holdMs }: Rhythm,
  solarSide: 'panel' | 'battery' | undefined,
  site?: Site,
) {
  const flows = flowsOf(columns, solarSide);
  const step = createStepLength(usualMs);
  /** what a row shows, its empty cells from the rows just before */
  const shown = new Float64Array(columns.length).fill(Number.NaN);
  const shownMs = new Float64Array(columns.length).fill(Number.NaN);
  const [volt, soc] = [columns.indexOf('voltage'), columns.indexOf('soc')];
  const nightBy: LogPicture['nightBy'] = flows.hasHarvest ? 'harvest' : site ? 'sun' : 'clock';
  const fullBy: LogPicture['fullBy'] = soc >= 0 ? 'state of charge' : volt >= 0 ? 'voltage' : undefined;
  const night = createNightDraw();
  const daily: LogDay[] = [];
  const gaps: LogGap[] = [];
  const socResets: { at: string; from: number; to: number }[] = [];
  let [gapCount, gapHours] = [0, 0];
  let before: LogRow | undefined;
  let firstMs = Number.NaN;
  let day: CivilDaySpan | undefined;
  let sums = emptyDay();
  let maxHarvestW = 0;
  let [voltSum, voltRows] = [0, 0];
  let [centreCos, centreSin, harvestWh, nightHarvestWh] = [0, 0, 0, 0];
  const hourWh = new Float64Array(26);
  let [nightFromMs, nightToMs] = [0, 0];

  const nominalV = () => {
    const mean = voltRows > 0 ? voltSum / voltRows : Number.NaN;
    return Number.isNaN(mean) ? undefined : mean < 20 ? 12 : mean < 40 ? 24 : 48;
  };

  const open = (ms: number) => {
    day = civilDayAt(ms, zone);
    sums = emptyDay();
    night.clear();
    hourWh.fill(0);
    if (nightBy !== 'sun' || !site) return;
    const { sunriseMs, sunsetMs, polar } = sunTimes(day.startMs, site.latDeg, site.lonDeg);
    nightToMs = sunriseMs === undefined ? (polar === 'night' ? Infinity : -Infinity) : sunriseMs - DUSK_MS;
    nightFromMs = sunsetMs === undefined ? (polar === 'night' ? -Infinity : Infinity) : sunsetMs + DUSK_MS;
  };
  const close = () => {
    if (day === undefined || sums.rows === 0) return;
    const { date, startMs } = day;
    const s = sums;
    const some = <K extends keyof LogDay>(key: K, value: number | undefined, there = true) =>
      there && value !== undefined && Number.isFinite(value) ? { [key]: value } : {};
    const hasNight = night.hours() > 0;
    daily.push({
      date,
      rows: s.rows,
      coveredH: s.coveredH,
      gapH: s.gapH,
      ...some('chargedAh', s.chargedAh, flows.hasBattery && s.flowH > 0),
      ...some('dischargedAh', s.dischargedAh, flows.hasBattery && s.flowH > 0),
      ...some('chargedWh', s.chargedWh, flows.hasBattery && volt >= 0 && s.flowH > 0),
      ...some('dischargedWh', s.dischargedWh, flows.hasBattery && volt >= 0 && s.flowH > 0),
      ...some('harvestWh', s.harvestWh, flows.hasHarvest),
      ...some('loadWh', s.loadWh, flows.hasLoad),
      ...some('alternatorWh', s.alternatorWh, flows.hasAlternator),
      ...some('lowestSoc', s.lowestSoc),
      ...some('highestSoc', s.highestSoc),
      ...some('lowestV', s.lowestV),
      ...some('highestV', s.highestV),
      ...some('baseLoadW', night.meanW(), hasNight),
      ...some('baseLoadWh', night.energyWh(), hasNight),
      ...some('alwaysOnA', night.alwaysA(), hasNight),
      ...(fullBy !== undefined && { full: s.full }),
    } as LogDay);
    if (site && s.harvestWh > 0)
      for (let h = 0; h < hourWh.length; h++)
        if (
          hourWh[h]! > 0 &&
          sunPosition(startMs + (h + 0.5) * HOUR_MS, site.latDeg, site.lonDeg).altitudeDeg < SUN_DOWN_DEG
        )
          nightHarvestWh += hourWh[h]!;
  };

  const isNight = (ms: number, harvestW: number) => {
    if (nightBy === 'harvest') return harvestW <= Math.max(DARK_W, DARK_SHARE * maxHarvestW);
    if (nightBy === 'sun') return ms < nightToMs || ms > nightFromMs;
    const hour = (ms - day!.startMs) / HOUR_MS;
    return hour >= NIGHT_FROM_H || hour < NIGHT_TO_H;
  };

  /** What a row shows, held over [fromMs, toMs) of one day. */
  const hold = (values: Float64Array, fromMs: number, toMs: number) => {
    const hours = (toMs - fromMs) / HOUR_MS;
    const s = sums;
    s.coveredH += hours;
    const amps = flows.batteryA(values);
    const watts = flows.batteryW(values);
    if (!Number.isNaN(amps)) {
      s.flowH += hours;
      if (amps > 0) {
        s.chargedAh += amps * hours;
        if (!Number.isNaN(watts)) s.chargedWh += watts * hours;
      } else {
        s.dischargedAh -= amps * hours;
        if (!Number.isNaN(watts)) s.dischargedWh -= watts * hours;
      }
    }
    const harvestW = flows.harvestW(values);
    if (harvestW > 0) {
      if (harvestW > maxHarvestW) maxHarvestW = harvestW;
      const wh = harvestW * hours;
      s.harvestWh += wh;
      harvestWh += wh;
      const angle = ((((fromMs + toMs) / 2 / HOUR_MS) % 24) / 12) * Math.PI;
      centreCos += wh * Math.cos(angle);
      centreSin += wh * Math.sin(angle);
      const at = Math.floor((fromMs - day!.startMs) / HOUR_MS);
      hourWh[at] = hourWh[at]! + wh;
    }
    const loadW = flows.loadW(values);
    if (!Number.isNaN(loadW)) s.loadWh += loadW * hours;
    const alternatorW = flows.alternatorW(values);
    if (!Number.isNaN(alternatorW)) s.alternatorWh += alternatorW * hours;
    if (amps <= 0.05 && isNight(fromMs, harvestW)) night.add(Math.max(0, -amps), Math.max(0, -watts), hours);
  };
  /** A gap counts in the days of its two ends; days without a row are not listed, however many they are. */
  const skip = (fromMs: number, toMs: number) => {
    let from = fromMs;
    if (toMs > day!.endMs) {
      sums.gapH += Math.max(0, day!.endMs - from) / HOUR_MS;
      close();
      open(toMs);
      from = day!.startMs;
    }
    sums.gapH += (toMs - from) / HOUR_MS;
  };
  /** Splits a stretch at midnights, however long it is. */
  const holdOver = (values: Float64Array, fromMs: number, toMs: number) => {
    let at = fromMs;
    while (at < toMs) {
      if (at >= day!.endMs) {
        close();
        open(at);
      }
      const end = Math.min(toMs, day!.endMs);
      hold(values, at, end);
      at = end;
    }
  };
  const follow = (row: LogRow, nextMs: number) => {
    const between = nextMs - row.timeMs;
    const usual = !Number.isNaN(step.usualMs) ? step.usualMs : Math.min(between, MAX_STEP_MS);
    const hasGap = between > MAX_STEP_MS || (holdMs === undefined ? isGap(between, usual) : between > holdMs);
    const heldTo = hasGap ? row.timeMs + Math.min(usual, between) : nextMs;
    holdOver(shown, row.timeMs, heldTo);
    if (!hasGap) return;
    gapCount++;
    gapHours += (nextMs - heldTo) / HOUR_MS;
    if (gaps.length < MAX_LISTED)
      gaps.push({ from: iso(row.timeMs), to: iso(nextMs), hours: (nextMs - heldTo) / HOUR_MS });
    skip(heldTo, nextMs);
  };
  const noteReset = (last: LogRow, row: LogRow, counterAh: number) => {
    const [from, to] = [last.values[soc]!, row.values[soc]!];
    const hours = (row.timeMs - last.timeMs) / HOUR_MS;
    if (!(hours * HOUR_MS <= RESET_WITHIN_MS)) return;
    const amps = flows.batteryA(last.values);
    const explained = (amps * hours) / counterAh;
    const unexplained = Math.abs(to - from - explained);
    const isReset = !Number.isNaN(explained) ? unexplained > RESET_SOC : Math.abs(to - from) > RESET_SOC_UNEXPLAINED;
    if (isReset && socResets.length < MAX_LISTED) socResets.push({ at: iso(row.timeMs), from, to });
  };

  return {
    step,
    /** @param counterAh charge of a whole turn of the state of charge, NaN = not known (yet) */
    add(row: LogRow, counterAh: number): void {
      if (before === undefined) {
        firstMs = row.timeMs;
        open(row.timeMs);
      } else {
        follow(before, row.timeMs);
        step.observe(row.timeMs - before.timeMs);
        if (soc >= 0) noteReset(before, row, counterAh);
        if (row.timeMs >= day!.endMs) {
          close();
          open(row.timeMs);
        }
      }
      const s = sums;
      s.rows++;
      const v = volt >= 0 ? row.values[volt]! : Number.NaN;
      if (!Number.isNaN(v)) {
        voltSum += v;
        voltRows++;
        if (!(v >= s.lowestV)) s.lowestV = v;
        if (!(v <= s.highestV)) s.highestV = v;
        if (fullBy === 'voltage' && v >= (FULL_V_PER_12V * nominalV()!) / 12) s.full = true;
      }
      const q = soc >= 0 ? row.values[soc]! : Number.NaN;
      if (!Number.isNaN(q)) {
        if (!(q >= s.lowestSoc)) s.lowestSoc = q;
        if (!(q <= s.highestSoc)) s.highestSoc = q;
        if (q >= FULL_SOC) s.full = true;
      }
      const usual = Number.isNaN(step.usualMs) ? 0 : step.usualMs;
      for (let k = 0; k < shown.length; k++) {
        const value = row.values[k]!;
        if (!Number.isNaN(value)) {
          shown[k] = value;
          shownMs[k] = row.timeMs;
        } else if (
          holdMs === undefined ? isGap(row.timeMs - shownMs[k]!, usual) : !(row.timeMs - shownMs[k]! <= holdMs)
        )
          shown[k] = Number.NaN;
      }
      before = row;
    },
    end() {
      if (before !== undefined) {
        const lastMs = before.timeMs + (!Number.isNaN(step.usualMs) ? step.usualMs : 0);
        holdOver(shown, before.timeMs, lastMs);
        close();
      }
      const centreH = ((Math.atan2(centreSin, centreCos) / Math.PI) * 12 + 24) % 24;
      return {
        daily,
        gaps,
        gapCount,
        gapHours,
        socResets,
        firstMs,
        lastMs: before?.timeMs ?? Number.NaN,
        picture: pictureOf(daily, nightBy, fullBy, nominalV(), voltRows > 0 ? voltSum / voltRows : undefined),
        /** hours UTC, and the share of the harvest that falls where the sun is down */
        harvest:
          harvestWh > 0 ? { utcH: centreH, nightShare: site ? nightHarvestWh / harvestWh : Number.NaN } : undefined,
      };
    },
  };
}

function emptyDay() {
  return {
    rows: 0,
    coveredH: 0,
    gapH: 0,
    flowH: 0,
    chargedAh: 0,
    dischargedAh: 0,
    chargedWh: 0,
    dischargedWh: 0,
    harvestWh: 0,
    loadWh: 0,
    alternatorWh: 0,
    lowestSoc: Number.NaN,
    highestSoc: Number.NaN,
    lowestV: Number.NaN,
    highestV: Number.NaN,
    full: false,
  };
}

function pictureOf(
  daily: readonly LogDay[],
  nightBy: LogPicture['nightBy'],
  fullBy: LogPicture['fullBy'],
  nominalV: number | undefined,
  meanV: number | undefined,
): LogPicture {
  const whole = daily.filter(({ coveredH, gapH }) => coveredH >= 0.9 * 24 && gapH <= 2.4);
  const days = whole.length > 0 ? whole : daily;
  const mean = (pick: (day: LogDay) => number | undefined) => {
    const values = days.map(pick).filter((value) => value !== undefined);
    return values.length > 0 ? values.reduce((sum, value) => sum + value, 0) / values.length : undefined;
  };
  const all = (pick: (day: LogDay) => number | undefined) => daily.map(pick).filter((value) => value !== undefined);
  const lowest = (values: number[]) => (values.length > 0 ? values.reduce((a, b) => Math.min(a, b)) : undefined);
  const highest = (values: number[]) => (values.length > 0 ? values.reduce((a, b) => Math.max(a, b)) : undefined);
  const always = days.map(({ alwaysOnA }) => alwaysOnA).filter((value) => value !== undefined);
  const alwaysOnA = always.length > 0 ? percentile(always, 0.5) : undefined;
  let [run, longest] = [0, 0];
  for (const { full } of daily) {
    run = full ? 0 : run + 1;
    longest = Math.max(longest, run);
  }
  const optional = {
    chargedAhDay: mean((day) => day.chargedAh),
    dischargedAhDay: mean((day) => day.dischargedAh),
    harvestWhDay: mean((day) => day.harvestWh),
    loadWhDay: mean((day) => day.loadWh),
    lowestSoc: lowest(all((day) => day.lowestSoc)),
    highestSoc: highest(all((day) => day.highestSoc)),
    lowestV: lowest(all((day) => day.lowestV)),
    highestV: highest(all((day) => day.highestV)),
    baseLoadW: mean((day) => day.baseLoadW),
    alwaysOnA,
    alwaysOnW: alwaysOnA === undefined || meanV === undefined ? undefined : alwaysOnA * meanV,
    fullDays: fullBy && daily.filter(({ full }) => full).length,
    longestWithoutFullDays: fullBy && longest,
    fullBy,
    nominalV,
  };
  return {
    days: daily.length,
    nightBy,
    ...(Object.fromEntries(Object.entries(optional).filter(([, value]) => value !== undefined)) as Omit<
      LogPicture,
      'days' | 'nightBy'
    >),
  };
}

const iso = (ms: number) => new Date(ms).toISOString().replace('.000Z', 'Z');
