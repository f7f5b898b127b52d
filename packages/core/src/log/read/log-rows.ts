import type { LogOptions, LogReading, LogRow } from '../types.js';
import { createLogReader } from './read-log.js';

/**
 * Reads a log as it comes, and gives its rows one by one as they are understood: memory stays flat. The generator's return value is
 * the reading, as that of `createLogReader`.
 * @param chunks the log's text in pieces of any size: a list, or a stream
 * @param options `onColumns` tells which columns the values of each row stand for
 * @throws ConfigError as `createLogReader` does; rows that are out of order need `sort`
 * @example
 * ```ts
 * import { logRows } from '@stayput/core';
 *
 * const pieces = ['time,battery voltage (V),battery current (A)\n2026-10-03 12:00,13.31,4.2\n', '2026-10-03 12:10,13.33,4.6\n'];
 * for await (const { timeMs, values } of logRows(pieces, { zone: 'UTC', positive: 'charging' }))
 *   console.log(new Date(timeMs).toISOString(), values[0]); // → 2026-10-03T12:00:00.000Z 13.31
 * ```
 */
export async function* logRows(
  chunks: Iterable<string> | AsyncIterable<string>,
  options: LogOptions = {},
): AsyncGenerator<LogRow, LogReading, undefined> {
  let ready: LogRow[] = [];
  const reader = createLogReader({
    ...options,
    onRow: (row) => {
      ready.push({ ...row, values: row.values.slice() }); // the reader goes on with the same row
      options.onRow?.(row);
    },
  });
  for await (const chunk of chunks) {
    reader.push(chunk);
    const rows = ready;
    ready = [];
    yield* rows;
  }
  const reading = reader.end();
  yield* ready;
  return reading;
}
