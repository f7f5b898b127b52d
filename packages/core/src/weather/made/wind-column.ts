import { DAY_MS, dayStream, HOUR_MS, normal, normalShare, type WeatherDraw } from '../../math/index.js';
import type { Grid } from '../../sky/index.js';
import type { DailyWeather } from './daily-weather.js';

/** Mean wind at 10 m where nothing is known. Eight station years: 2.1 to 4.5 m/s. Common practice, no source. */
const MEAN_WIND_MS = 3;
const WIND = 4;

/** Rayleigh wind, half of whose variance lasts the day, stronger after noon. One draw an hour, straight lines between. */
export function windColumn(grid: Grid, lonDeg: number, draw: WeatherDraw, days: DailyWeather): Float64Array {
  const out = new Float64Array(grid.steps);
  const solarMs = (lonDeg / 15) * HOUR_MS;
  const stepMs = grid.stepH * HOUR_MS;
  const hours = new Float64Array(25);
  let day = Number.NaN;
  for (let i = 0; i < grid.steps; i++) {
    const solar = grid.startMs + (i + 0.5) * stepMs + solarMs;
    const now = Math.floor(solar / DAY_MS);
    if (now !== day) {
      day = now;
      drawWind(draw, day, days, hours);
    }
    const hour = (solar - day * DAY_MS) / HOUR_MS;
    const h = Math.floor(hour);
    out[i] = hours[h]! + (hours[h + 1]! - hours[h]!) * (hour - h);
  }
  return out;
}

const RAYLEIGH_MEAN = Math.sqrt(Math.PI / 2);
const WIND_HOUR_LAG = 0.8;

function drawWind(draw: WeatherDraw, day: number, days: DailyWeather, hours: Float64Array): void {
  const stream = dayStream(draw, day, WIND);
  const z0 = days.wind[day - days.firstDay]!;
  const z1 = days.wind[day - days.firstDay + 1] ?? z0;
  const fresh = Math.sqrt(1 - WIND_HOUR_LAG ** 2);
  let z = normal(stream);
  for (let h = 0; h <= 24; h++) {
    if (h === 24) z = normal(dayStream(draw, day + 1, WIND)); // midnight is the next day's first hour
    const mixed = Math.SQRT1_2 * ((h === 24 ? z1 : z0) + z);
    const rayleigh = Math.sqrt(-2 * Math.log(1 - Math.min(1 - 1e-9, normalShare(mixed))));
    const diurnal = 1 + 0.25 * Math.cos((Math.PI * (h - 14.5)) / 12);
    hours[h] = (MEAN_WIND_MS * diurnal * rayleigh) / RAYLEIGH_MEAN;
    z = WIND_HOUR_LAG * z + fresh * normal(stream);
  }
}
