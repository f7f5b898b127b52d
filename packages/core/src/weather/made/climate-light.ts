import { DAY_MS, HOUR_MS, type Task, TEXTURE_PER_DAY, TEXTURE_PER_HOUR, type WeatherDraw } from '../../math/index.js';
import type { Place } from '../../place/index.js';
import type { Grid, SunColumns } from '../../sky/index.js';
import { clearSkyColumns, monthlyTurbidity, sunColumns } from '../../sky/index.js';
import type { DailyWeather } from './daily-weather.js';
import { drawTexture, hourlyScatter, TEN_MINUTE_FACTOR, texturedDay } from './sky-texture.js';

/** Days made between two pauses. */
const DAYS_A_PAUSE = 60;

/** Global irradiance on the grid. Days are made whole, beyond the grid's ends, so that a cut day is the same day. */
export function* globalLight(
  place: Pick<Place, 'latDeg' | 'lonDeg' | 'elevationM'>,
  grid: Grid,
  sun: SunColumns,
  draw: WeatherDraw,
  days: DailyWeather,
): Task<Float64Array> {
  const { steps, stepH } = grid;
  const stepMs = stepH * HOUR_MS;
  const solarMs = (place.lonDeg / 15) * HOUR_MS;
  const middleOf = (i: number) => grid.startMs + (i + 0.5) * stepMs + solarMs;
  const before = Math.floor((middleOf(0) - Math.floor(middleOf(0) / DAY_MS) * DAY_MS) / stepMs);
  const after = Math.ceil((Math.ceil(middleOf(steps - 1) / DAY_MS) * DAY_MS - middleOf(steps - 1)) / stepMs) - 1;
  const lead: Grid = { startMs: grid.startMs - before * stepMs, stepH, steps: before };
  const tail: Grid = { startMs: grid.startMs + steps * stepMs, stepH, steps: Math.max(0, after) };
  const [sunBefore, sunAfter] = [lead, tail].map((part) => sunColumns(place.latDeg, place.lonDeg, part));
  const total = before + steps + tail.steps;
  const joined = (pick: (s: SunColumns) => Float64Array) => {
    const out = new Float64Array(total);
    out.set(pick(sunBefore!));
    out.set(pick(sun), before);
    out.set(pick(sunAfter!), before + steps);
    return out;
  };
  const whole: SunColumns = {
    cosZenith: joined((s) => s.cosZenith),
    azimuthDeg: sun.azimuthDeg,
    extraNormalWm2: joined((s) => s.extraNormalWm2),
  };
  const span: Grid = { startMs: lead.startMs, stepH, steps: total };
  const turbidity = monthlyTurbidity(place.latDeg, place.elevationM);
  const clearWm2 = clearSkyColumns(whole, place.elevationM, turbidity, span).ghiWm2;
  yield;
  const ghiWm2 = new Float64Array(total);
  const texture = new Float64Array(total);
  const bins = new Float64Array(TEXTURE_PER_DAY);

  for (let from = 0; from < total; ) {
    const middle = span.startMs + (from + 0.5) * stepMs + solarMs;
    const day = Math.floor(middle / DAY_MS);
    const left = Math.ceil(((day + 1) * DAY_MS - middle) / stepMs);
    const to = Math.min(total, from + Math.max(1, left));
    let clearSum = 0;
    let outside = 0;
    for (let i = from; i < to; i++) {
      clearSum += clearWm2[i]!;
      if (whole.cosZenith[i]! > 0) outside += whole.cosZenith[i]! * whole.extraNormalWm2[i]!;
    }
    const kt = days.clearness[day - days.firstDay]!;
    if (clearSum > 0 && kt > 0) {
      drawTexture(draw, day, bins);
      spreadTexture(bins, (middle - day * DAY_MS) / HOUR_MS, stepH, texture, from, to);
      const scatter = hourlyScatter(kt) * TEN_MINUTE_FACTOR;
      texturedDay(clearWm2, texture, from, to, kt * outside, clearSum, scatter, clearSum / outside, ghiWm2);
    }
    from = to;
    if (day % DAYS_A_PAUSE === 0) yield;
  }
  return ghiWm2.subarray(before, before + steps).slice();
}

/** Ten-minute texture to the run's steps: the value at the middle of short steps, the mean over long ones. */
function spreadTexture(
  bins: Float64Array,
  firstMiddleH: number,
  stepH: number,
  texture: Float64Array,
  from: number,
  to: number,
): void {
  const perStep = Math.max(1, Math.round(stepH * TEXTURE_PER_HOUR));
  for (let i = from; i < to; i++) {
    const hour = firstMiddleH + (i - from) * stepH;
    const start = Math.floor(hour * TEXTURE_PER_HOUR - (perStep - 1) / 2);
    let sum = 0;
    for (let b = start; b < start + perStep; b++) sum += bins[Math.min(TEXTURE_PER_DAY - 1, Math.max(0, b))]!;
    texture[i] = sum / perStep;
  }
}
