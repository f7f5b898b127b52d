import { DAY_MS, HOUR_MS } from '../../math/index.js';
import { greatCircleKm } from '../../place/index.js';
import { ConfigError } from '../../rig/index.js';
import type { Grid, SunColumns, WeatherColumns } from '../../sky/index.js';
import { airMassOf, cleanAirBeamWm2, erbsDiffuseFraction } from '../../sky/index.js';
import type { WeatherNote } from '../read/note.js';
import { isoMinute, leapCalendarDay, type WeatherSeries } from '../read/weather-series.js';
import { dailyOnGrid } from './daily-on-grid.js';
import { lightShiftNotes } from './light-shift.js';

/** How far a run may reach beyond a dated file before that is an error: the odd hour lost to stamps and zones. */
const OVERHANG_MS = 3 * HOUR_MS;
const CALM_MS = 2;
/** Below this cosine of the zenith angle a clearness index is no longer divided by the true one (as in decomposition). */
const LOW_SUN_COS = 0.065;

/** Where a weather file is used. */
export interface WeatherSite {
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly elevationM: number;
  /** standard time of the place: hours ahead of UTC, used when the file does not name its clock */
  readonly utcOffsetH: number;
}

/** A weather file on the grid of a run, with what had to be assumed. */
export interface WeatherOnGrid {
  readonly columns: WeatherColumns;
  readonly notes: readonly WeatherNote[];
}

/** The file's intervals that a run touches, one more on each side, in order. Light is the interval's mean [W/m²]. */
export interface RunIntervals {
  readonly count: number;
  /** beginning of the first, UTC [ms] */
  readonly startMs: number;
  readonly stepMs: number;
  /** index in the file of each */
  readonly source: Int32Array;
}

/**
 * Brings a weather file to a run's grid. The light of each file interval is kept exactly: direct light is one beam
 * strength for the whole interval, (global − diffuse) / cos(zenith) over the steps in which the sun is up, and diffuse
 * light follows cos(zenith). A beam stronger than clean air would let through is counted as diffuse; light with the sun
 * below the horizon stays, as diffuse. Files finer than the grid are averaged. Air and wind run straight between the
 * middles of intervals. With global light only the diffuse share is Erbs' by the hour; diffuse missing = global −
 * beam; global missing = beam + diffuse.
 * @param sun the sun on the same grid, at the same place
 * @throws ConfigError when a dated file does not cover the run
 */
export function weatherOnGrid(series: WeatherSeries, site: WeatherSite, grid: Grid, sun: SunColumns): WeatherOnGrid {
  const notes: WeatherNote[] = [...series.notes];
  const offsetMs = (series.utcOffsetH ?? site.utcOffsetH) * HOUR_MS;
  if (series.utcOffsetH === undefined && !series.daily)
    notes.push({
      code: 'weather_clock',
      text: `${series.file}: the file does not name its clock; taken as the standard time of the place, UTC${signed(site.utcOffsetH)}`,
    });
  if (series.site !== undefined) {
    const km = greatCircleKm(site.latDeg, site.lonDeg, series.site.latDeg, series.site.lonDeg);
    if (km > 50)
      notes.push({
        code: 'weather_elsewhere',
        text: `${series.file}: its weather is from ${series.site.latDeg}, ${series.site.lonDeg}, ${Math.round(km)} km from the place of the run`,
      });
  }
  const run = intervalsOfRun(series, offsetMs, grid, notes);
  if (series.daily) return { columns: dailyOnGrid(series, site, grid, sun, notes), notes };
  const light = lightOnGrid(series, run, grid, sun);
  notes.push(...lightShiftNotes(series.file, run, light.givenWh, light.sunWh, site.lonDeg, offsetMs));
  const columns: WeatherColumns = {
    ghiWm2: light.ghiWm2,
    dniWm2: light.dniWm2,
    dhiWm2: light.dhiWm2,
    ambientC: meansOnGrid(series.air, run, grid),
    windMs:
      series.wind === undefined ? new Float64Array(grid.steps).fill(CALM_MS) : meansOnGrid(series.wind, run, grid),
  };
  return { columns, notes };
}

function signed(hours: number): string {
  return `${hours < 0 ? '−' : '+'}${Math.abs(hours)}`;
}

function intervalsOfRun(series: WeatherSeries, offsetMs: number, grid: Grid, notes: WeatherNote[]): RunIntervals {
  const { stepMs, phaseMs, intervals } = series;
  const gridEndMs = grid.startMs + Math.round(grid.steps * grid.stepH * HOUR_MS);
  const first = Math.floor((grid.startMs + offsetMs - phaseMs) / stepMs) - 1;
  const last = Math.ceil((gridEndMs + offsetMs - phaseMs) / stepMs);
  const count = last - first + 1;
  const source = new Int32Array(count);
  const perDay = DAY_MS / stepMs;
  if (series.kind === 'typical') {
    let day = 0;
    let dayNumber = Number.NaN;
    for (let i = 0; i < count; i++) {
      const number = Math.floor((first + i) / perDay);
      if (number !== dayNumber) {
        dayNumber = number;
        day = leapCalendarDay(number * DAY_MS);
      }
      source[i] = day * perDay + (first + i - number * perDay);
    }
  } else {
    const begin = Math.round((series.startMs - phaseMs) / stepMs);
    const before = (begin - (first + 1)) * stepMs;
    const after = (last - (begin + intervals)) * stepMs;
    if (before > OVERHANG_MS || after > OVERHANG_MS)
      throw new ConfigError([
        {
          code: 'weather_span',
          path: '',
          file: series.file,
          message:
            `the file holds ${isoMinute(series.startMs)} to ${isoMinute(series.startMs + intervals * stepMs)} (its own clock), ` +
            `the run needs ${isoMinute(grid.startMs + offsetMs)} to ${isoMinute(gridEndMs + offsetMs)}`,
          hint: 'move the dates of the run, or use a typical year, which serves any year',
        },
      ]);
    if (before > 0 || after > 0) {
      const minutes = Math.round((Math.max(0, before) + Math.max(0, after)) / 60_000);
      const text = `${series.file}: ${minutes} min at the edge of the run are outside the file and repeat the nearest day`;
      notes.push({ code: 'weather_edge', text });
    }
    for (let i = 0; i < count; i++) {
      let at = first + i - begin;
      while (at < 0) at += perDay;
      while (at >= intervals) at -= perDay;
      source[i] = Math.max(0, at);
    }
  }
  return { count, startMs: first * stepMs + phaseMs - offsetMs, stepMs, source };
}

interface Light {
  ghiWm2: Float64Array;
  dniWm2: Float64Array;
  dhiWm2: Float64Array;
  /** per interval of the run: the file's energy, and that of the sun outside the atmosphere, on the horizontal [Wh/m²] */
  givenWh: Float64Array;
  sunWh: Float64Array;
}

function lightOnGrid(series: WeatherSeries, run: RunIntervals, grid: Grid, sun: SunColumns): Light {
  const { cosZenith, extraNormalWm2 } = sun;
  const { count, source, stepMs } = run;
  const { steps, stepH } = grid;
  const { ghi, dni, dhi } = series;
  const gridMs = stepH * HOUR_MS;
  const fromMs = run.startMs - grid.startMs;

  // first pass: what each interval holds inside the grid
  const insideH = new Float64Array(count);
  const weightH = new Float64Array(count); // hours · cos(zenith)
  const litH = new Float64Array(count);
  const sunWh = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const begin = fromMs + k * stepMs;
    const end = begin + stepMs;
    const firstStep = Math.max(0, Math.floor(begin / gridMs + 1e-9));
    const endStep = Math.min(steps, Math.ceil(end / gridMs - 1e-9));
    for (let i = firstStep; i < endStep; i++) {
      const hours = (Math.min(end, (i + 1) * gridMs) - Math.max(begin, i * gridMs)) / HOUR_MS;
      const cosZ = cosZenith[i]!;
      insideH[k]! += hours;
      if (cosZ > 0) {
        litH[k]! += hours;
        weightH[k]! += hours * cosZ;
        sunWh[k]! += hours * cosZ * extraNormalWm2[i]!;
      }
    }
  }

  const givenWh = new Float64Array(count);
  const diffuseWh = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const at = source[k]!;
    const hours = insideH[k]!;
    const beamWh = dni === undefined ? 0 : Math.min(dni[at]! * weightH[k]!, sunWh[k]!);
    if (ghi === undefined) {
      diffuseWh[k] = dhi![at]! * hours;
      givenWh[k] = diffuseWh[k]! + beamWh;
    } else {
      givenWh[k] = ghi[at]! * hours;
      if (dhi !== undefined) diffuseWh[k] = Math.min(dhi[at]! * hours, givenWh[k]!);
      else if (dni !== undefined) diffuseWh[k] = Math.max(0, givenWh[k]! - beamWh);
    }
  }
  if (ghi !== undefined && dhi === undefined && dni === undefined)
    splitByTheHour(run, givenWh, sunWh, weightH, litH, diffuseWh);

  // second pass: hand it out
  const dniWm2 = new Float64Array(steps);
  const dhiWm2 = new Float64Array(steps);
  for (let k = 0; k < count; k++) {
    const energy = givenWh[k]!;
    if (!(energy > 0)) continue;
    const begin = fromMs + k * stepMs;
    const end = begin + stepMs;
    const firstStep = Math.max(0, Math.floor(begin / gridMs + 1e-9));
    const endStep = Math.min(steps, Math.ceil(end / gridMs - 1e-9));
    const weight = weightH[k]!;
    const lit = weight > 1e-9;
    const beam = lit ? (energy - diffuseWh[k]!) / weight : 0;
    const diffuse = lit ? diffuseWh[k]! / weight : energy / insideH[k]!;
    for (let i = firstStep; i < endStep; i++) {
      const share = (Math.min(end, (i + 1) * gridMs) - Math.max(begin, i * gridMs)) / gridMs;
      const cosZ = cosZenith[i]!;
      if (!lit) dhiWm2[i]! += diffuse * share;
      else if (cosZ > 0) {
        dniWm2[i]! += beam * share;
        dhiWm2[i]! += diffuse * cosZ * share;
      }
    }
  }
  const ghiWm2 = new Float64Array(steps);
  for (let i = 0; i < steps; i++) {
    const beam = dniWm2[i]!;
    const cosZ = cosZenith[i]!;
    if (beam > 0) {
      const extra = extraNormalWm2[i]!;
      const most = beam < 0.3 * extra ? beam : cleanAirBeamWm2(airMassOf(cosZ), extra);
      if (beam > most) {
        dniWm2[i] = most;
        dhiWm2[i]! += (beam - most) * cosZ;
      }
      ghiWm2[i] = dniWm2[i]! * cosZ + dhiWm2[i]!;
    } else ghiWm2[i] = dhiWm2[i]!;
  }
  return { ghiWm2, dniWm2, dhiWm2, givenWh, sunWh };
}

/** Erbs' curve is for hours: finer intervals share the diffuse share of their hour. */
function splitByTheHour(
  run: RunIntervals,
  givenWh: Float64Array,
  sunWh: Float64Array,
  weightH: Float64Array,
  litH: Float64Array,
  diffuseWh: Float64Array,
): void {
  const perHour = HOUR_MS / run.stepMs;
  const lead = (((Math.floor(run.startMs / run.stepMs) % perHour) + perHour) % perHour) | 0;
  for (let hour = -lead; hour < run.count; hour += perHour) {
    const from = Math.max(0, hour);
    const to = Math.min(run.count, hour + perHour);
    let given = 0;
    let outside = 0;
    let weight = 0;
    let lit = 0;
    for (let k = from; k < to; k++) {
      given += givenWh[k]!;
      outside += sunWh[k]!;
      weight += weightH[k]!;
      lit += litH[k]!;
    }
    const lift = weight > 0 ? Math.max(1, (LOW_SUN_COS * lit) / weight) : 1;
    const share = outside > 0 ? erbsDiffuseFraction(given / (outside * lift)) : 1;
    for (let k = from; k < to; k++) diffuseWh[k] = givenWh[k]! * share;
  }
}

/** A column of interval means brought to the grid: straight lines between the middles, or means where the file is finer. */
function meansOnGrid(values: Float64Array, run: RunIntervals, grid: Grid): Float64Array {
  const { steps, stepH } = grid;
  const { source, count, stepMs } = run;
  const gridMs = stepH * HOUR_MS;
  const out = new Float64Array(steps);
  const lag = grid.startMs - run.startMs;
  if (stepMs < gridMs) {
    for (let i = 0; i < steps; i++) {
      const from = (lag + i * gridMs) / stepMs;
      const to = from + gridMs / stepMs;
      let sum = 0;
      for (let k = Math.floor(from); k < to; k++)
        sum += values[source[k]!]! * (Math.min(to, k + 1) - Math.max(from, k));
      out[i] = sum / (to - from);
    }
    return out;
  }
  for (let i = 0; i < steps; i++) {
    const at = (lag + (i + 0.5) * gridMs) / stepMs - 0.5;
    const k = Math.min(count - 2, Math.max(0, Math.floor(at)));
    const a = values[source[k]!]!;
    out[i] = a + (values[source[k + 1]!]! - a) * (at - k);
  }
  return out;
}
