import { dayStream, normal, TEXTURE_PER_DAY, TEXTURE_PER_HOUR, type WeatherDraw } from '../../math/index.js';

const TEXTURE = 3;
/**
 * Clouds are an exponentially correlated sequence whose hourly means have a lag-1 correlation of 0.4: correlation time 0.63 h.
 * Hourly means then keep 0.63 of the variance of ten-minute values.
 */
const CORRELATION_H = 0.63;
const LAG = Math.exp(-1 / (TEXTURE_PER_HOUR * CORRELATION_H));
const HOURLY_SHARE = 0.63;

/**
 * Scatter of hourly clearness about the day's own course, as a function of the day's clearness.
 * Source: Graham & Hollands, Solar Energy 44(6), 1990, p. 333: 0.16 sin(π·K/0.90), lag-1 about 0.4; from memory.
 * Accuracy: a year measured at Golden has 0.16 to 0.19 at 0.35 to 0.65, seven typical years 0.07 to 0.15; this lies between.
 */
export function hourlyScatter(dayClearness: number): number {
  return 0.16 * Math.sin((Math.PI * Math.min(0.9, Math.max(0, dayClearness))) / 0.9);
}

/** Standard normal texture of one solar day, ten-minute steps, written into `out` (144 values). */
export function drawTexture(draw: WeatherDraw, solarDay: number, out: Float64Array): void {
  const stream = dayStream(draw, solarDay, TEXTURE);
  const fresh = Math.sqrt(1 - LAG * LAG);
  let z = normal(stream);
  for (let i = 0; i < TEXTURE_PER_DAY; i++) {
    out[i] = z;
    z = LAG * z + fresh * normal(stream);
  }
}

/** Turns hourly scatter into that of ten-minute values. */
export const TEN_MINUTE_FACTOR = 1 / Math.sqrt(HOURLY_SHARE);

/**
 * Fills a day's global irradiance: clear-sky light times a texture about the day's mean, scaled so that the day's sum is
 * kept. No step is brighter than the clear sky by more than a tenth (cloud enhancement), or on a cloudless day than that day's own
 * course, but for 1 % where the sum asks for it.
 * @param clearWm2 clear-sky global of the day's steps; @param texture normal values, one a step
 * @param target wanted sum over the steps of global irradiance
 * @param scatter standard deviation of a step's clearness; @param clearness that of the clear sky, for the day
 */
export function texturedDay(
  clearWm2: Float64Array,
  texture: Float64Array,
  from: number,
  to: number,
  target: number,
  clearSum: number,
  scatter: number,
  clearClearness: number,
  ghiWm2: Float64Array,
): void {
  const index = target / clearSum;
  const top = Math.max(1, index) + 0.1 * Math.sin(Math.PI * Math.min(1, index));
  const bottom = 0.1 * index;
  const spread = scatter / clearClearness;
  let scale = 1;
  for (let pass = 0; pass < 8; pass++) {
    let sum = 0;
    for (let i = from; i < to; i++) {
      const clear = clearWm2[i]!;
      if (!(clear > 0)) continue;
      let k = (index + spread * texture[i]!) * scale;
      if (k < bottom) k = bottom;
      if (k > top) k = top;
      const ghi = clear * k;
      ghiWm2[i] = ghi;
      sum += ghi;
    }
    const ratio = target / sum;
    if (Math.abs(ratio - 1) < 1e-3 || pass === 7) {
      for (let i = from; i < to; i++) ghiWm2[i]! *= ratio;
      return;
    }
    scale *= ratio;
  }
}
