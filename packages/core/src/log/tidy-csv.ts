import { type LogColumnName, type LogRow, TIDY_HEADINGS } from './types.js';

/** Header line of a tidy log, without line end. */
export function tidyHeader(columns: readonly LogColumnName[]): string {
  return `time,${columns.map((name) => TIDY_HEADINGS[name]).join(',')}`;
}

/** One row of a tidy log, without line end: UTC, empty where nothing was measured. */
export function tidyLine({ timeMs, values }: Pick<LogRow, 'timeMs' | 'values'>): string {
  let line = new Date(timeMs).toISOString();
  if (line.endsWith('.000Z')) line = `${line.slice(0, 19)}Z`;
  for (let k = 0; k < values.length; k++) {
    const value = values[k]!;
    line += !Number.isNaN(value) ? `,${Math.round(value * 1e6) / 1e6}` : ',';
  }
  return line;
}
