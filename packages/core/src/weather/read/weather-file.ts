import { ConfigError, requireText } from '../../rig/index.js';
import { readDailyTable } from './daily-table.js';
import { isEpw, readEpw } from './epw.js';
import { readWeatherCsv } from './weather-csv.js';
import { seriesFromRows, type WeatherSeries } from './weather-series.js';

/** What a weather file leaves open. */
export interface WeatherFileOptions {
  /** name used in messages and notes */
  readonly file?: string;
  /**
   * CSV only: heading (or number, from 1) of a column that wording leaves unclear, under ghi, dni, dhi, air, wind, clock,
   * airMax and airMin (of a table of days), date, year, month, day, dayOfYear or minute; `stamp` = beginning, centred or ending.
   */
  readonly columns?: Readonly<Record<string, string>>;
  /** hours by which the file's clock is ahead of UTC, where the file does not say or says it wrongly */
  readonly utcOffsetH?: number;
  /** a dated file that fills one calendar year is used for every year, as a typical one is */
  readonly everyYear?: boolean;
}

/**
 * Reads a weather file: EPW, or a table (CSV, TMY3) whose columns are found by their wording and units, of hours or
 * finer, or of days with their lowest and highest temperature.
 * Stamps become the beginning of each interval on the file's own clock. Missing codes and blanks are filled (see
 * `seriesFromRows`); every guess and repair is a note.
 * @param text the file's text; line ends, byte-order mark and decimal comma are seen to
 * @throws ConfigError with file and line when it is no weather file, a column is unclear or too much is missing
 */
export function readWeatherFile(text: string, options: WeatherFileOptions = {}): WeatherSeries {
  requireText('readWeatherFile', text);
  const { file = 'weather file', columns = {}, utcOffsetH, everyYear = false } = options;
  const refuse = (code: string, message: string): never => {
    throw new ConfigError([{ code, path: '', file, line: 1, message }]);
  };
  const clean = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  if (clean.trim() === '') refuse('weather_empty', 'the file is empty');
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what tells binary from text
  if (/[\u0000-\u0008\u000e-\u001f]|\ufffd{3}/.test(clean.slice(0, 4096)))
    refuse('weather_not_text', 'the file is not plain text (binary, or UTF-16: save it as UTF-8)');
  const daily = isEpw(clean) ? undefined : readDailyTable(clean, file, columns);
  if (daily) return daily;
  const rows = isEpw(clean) ? readEpw(clean, file) : readWeatherCsv(clean, file, columns);
  return seriesFromRows({
    ...rows,
    ...(utcOffsetH !== undefined && { utcOffsetH }),
    ...(everyYear && { year: 'typical' as const }),
  });
}
