import { DAY_MS, dayStream, normal, type WeatherDraw } from '../../math/index.js';

const WIND_LAG = 0.4;
/** Days before New Year from which the sequences are run in; 0.78³⁰ is 6e-4. */
const RUN_IN_DAYS = 30;
/**
 * Share of the variance of clearness that lasts for weeks, and the days between its knots: the memory beyond a day. Without it
 * stays that sun can carry for weeks come out half as long again as real ones at five of 18 places, with it at none
 * (true spread and lag-1 given). A first-order sequence that falls to 1/e in 20 days does as well.
 */
const SLOW_SHARE = 0.09;
const SLOW_DAYS = 23;
/** Of the normal scores over that of clearness itself: its skewness takes 1 to 5 % off (18 places of known spread and memory). */
const SCORE_LAG = 1.03;
const INNOVATIONS = 1;
const SLOW = 2;

/** Standard normal daily sequences of a calendar year, 1 January first. */
export interface YearSequence {
  readonly clearness: Float64Array;
  readonly temperature: Float64Array;
  readonly wind: Float64Array;
}

/** How much of a day's clearness and temperature the next one keeps. */
export interface SequenceLaw {
  readonly clearnessLag: number;
  readonly airLag: number;
}

/**
 * Daily sequences of one calendar year for a draw. Temperature, wind and the day-to-day part of clearness are first-order
 * autoregressions on innovations of the day itself, run in over the December before, so that years join and a day is the same
 * whatever run asks for it; the slow part of clearness runs straight between random knots. Weather years come in
 * mirrored pairs (0 and 1, 2 and 3 …): what is above the mean in one is below it in the other, each as likely as the other
 * (antithetic variates; Hammersley & Morton, Proc. Cambridge Phil. Soc. 52, 1956, p. 449), so that a few years have the months' means.
 */
export function yearSequence(draw: WeatherDraw, calendarYear: number, law: SequenceLaw): YearSequence {
  const firstDay = Math.round(Date.UTC(calendarYear, 0, 1) / DAY_MS);
  const days = Math.round(Date.UTC(calendarYear + 1, 0, 1) / DAY_MS) - firstDay;
  const pair = { ...draw, year: Math.floor(draw.year / 2) };
  const side = draw.year % 2 === 0 ? 1 : -1;
  const fastLag = Math.max(0, (SCORE_LAG * law.clearnessLag - SLOW_SHARE) / (1 - SLOW_SHARE));
  const fast = Math.sqrt(1 - SLOW_SHARE);
  const slowly = Math.sqrt(SLOW_SHARE);
  const [clearnessNew, airNew, windNew] = [fastLag, law.airLag, WIND_LAG].map((lag) => side * Math.sqrt(1 - lag * lag));
  const clearness = new Float64Array(days);
  const temperature = new Float64Array(days);
  const wind = new Float64Array(days);
  let c = 0;
  let t = 0;
  let w = 0;
  for (let i = -RUN_IN_DAYS; i < days; i++) {
    const stream = dayStream(pair, firstDay + i, INNOVATIONS);
    c = fastLag * c + clearnessNew! * normal(stream);
    t = law.airLag * t + airNew! * normal(stream);
    w = WIND_LAG * w + windNew! * normal(stream);
    if (i < 0) continue;
    clearness[i] = fast * c;
    temperature[i] = t;
    wind[i] = w;
  }
  addSlow(pair, firstDay, side * slowly, clearness);
  return { clearness, temperature, wind };
}

/** Straight lines between a standard normal value every 23 days, stretched to unit variance between them too. */
function addSlow(pair: WeatherDraw, firstDay: number, size: number, out: Float64Array): void {
  const knot = (k: number) => normal(dayStream(pair, k, SLOW));
  let at = Math.floor(firstDay / SLOW_DAYS);
  let from = knot(at);
  let to = knot(at + 1);
  for (let i = 0; i < out.length; i++) {
    if (firstDay + i >= (at + 1) * SLOW_DAYS) {
      at++;
      from = to;
      to = knot(at + 1);
    }
    const along = (firstDay + i) / SLOW_DAYS - at;
    out[i]! += (size * ((1 - along) * from + along * to)) / Math.hypot(1 - along, along);
  }
}
