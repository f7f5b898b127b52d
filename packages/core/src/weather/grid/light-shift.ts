import { DAY_MS, HOUR_MS, MONTH_NAMES } from '../../math/index.js';
import type { WeatherNote } from '../read/note.js';
import type { RunIntervals } from './weather-grid.js';

/** Cloud that comes mostly in the afternoon moves the centre of light too: of clear days by far less than this. */
const TOLERATED_H = 0.6;
const FEWEST_DAYS = 3;
/** Days with less light than this say nothing about its hour [Wh/m²]. */
const FAINT_WH = 300;

/**
 * Months in which the file's light stands early or late against the sun. Each solar day's centre of light is compared with
 * the centre of the light outside the atmosphere over the same intervals; a month is named when the median of its
 * clearer half of days is more than 0.6 h away. Nothing is shifted.
 * @param givenWh the file's energy in each interval; @param sunWh that outside the atmosphere [Wh/m²]
 */
export function lightShiftNotes(
  file: string,
  run: RunIntervals,
  givenWh: Float64Array,
  sunWh: Float64Array,
  lonDeg: number,
  offsetMs: number,
): WeatherNote[] {
  const byMonth = Array.from({ length: 12 }, (): { clear: number; shiftH: number }[] => []);
  const solarMs = (lonDeg / 15) * HOUR_MS;
  let given = 0;
  let givenAt = 0;
  let outside = 0;
  let outsideAt = 0;
  let day = Number.NaN;
  const endDay = () => {
    if (given > FAINT_WH && outside > FAINT_WH) {
      const noonMs = (day + 0.5) * DAY_MS - solarMs + offsetMs;
      byMonth[new Date(noonMs).getUTCMonth()]!.push({
        clear: given / outside,
        shiftH: givenAt / given - outsideAt / outside,
      });
    }
    given = givenAt = outside = outsideAt = 0;
  };
  for (let k = 0; k < run.count; k++) {
    const solar = run.startMs + (k + 0.5) * run.stepMs + solarMs;
    const now = Math.floor(solar / DAY_MS);
    if (now !== day) {
      endDay();
      day = now;
    }
    const hour = (solar - now * DAY_MS) / HOUR_MS;
    given += givenWh[k]!;
    givenAt += givenWh[k]! * hour;
    outside += sunWh[k]!;
    outsideAt += sunWh[k]! * hour;
  }
  endDay();
  const early: string[] = [];
  const late: string[] = [];
  byMonth.forEach((days, m) => {
    if (days.length < FEWEST_DAYS) return;
    const clearer = days.sort((a, b) => b.clear - a.clear).slice(0, Math.ceil(days.length / 2));
    const shifts = clearer.map((d) => d.shiftH).sort((a, b) => a - b);
    const median = shifts[shifts.length >> 1]!;
    if (Math.abs(median) > TOLERATED_H)
      (median < 0 ? early : late).push(`${MONTH_NAMES[m]} ${Math.abs(median).toFixed(1)} h`);
  });
  return [['early', early] as const, ['late', late] as const].flatMap(([word, months]) =>
    months.length === 0
      ? []
      : [
          {
            code: 'weather_light_shift',
            text: `${file}: the light stands ${word} against the sun in ${months.join(', ')}; daily sums hold, hours do not. Is the file's clock (UTC offset, place of the stamp) right?`,
          },
        ],
  );
}
