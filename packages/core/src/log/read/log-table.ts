import { requireText } from '../../rig/index.js';
import type { LogColumnName, LogOptions, LogReading, LogRow } from '../types.js';
import { createLogReader, sortedIfNeeded } from './read-log.js';

/** A log in memory, a column each: what comparing and calibrating work on. Row i holds until row i + 1, or for a gap's step. */
export interface LogTable {
  readonly rows: number;
  /** UTC [ms], rising */
  readonly timeMs: Float64Array;
  /** NaN where nothing was measured */
  readonly values: Readonly<Partial<Record<LogColumnName, Float64Array>>>;
}

/** Gathers rows into columns that double as they fill. */
export function createLogTable() {
  let names: readonly LogColumnName[] = [];
  let room = 4096;
  let rows = 0;
  let timeMs = new Float64Array(room);
  let values: Float64Array[] = [];
  const grown = (column: Float64Array<ArrayBuffer>) => {
    const wider = new Float64Array(room);
    wider.set(column);
    return wider;
  };
  return {
    /** hand to `createLogReader`, as the next */
    onColumns(columns: readonly LogColumnName[]): void {
      names = columns;
      values = columns.map(() => new Float64Array(room));
    },
    /** keeps a copy of the row */
    onRow(row: LogRow): void {
      if (rows === room) {
        room *= 2;
        timeMs = grown(timeMs);
        values = values.map((column) => grown(column as Float64Array<ArrayBuffer>));
      }
      timeMs[rows] = row.timeMs;
      for (let k = 0; k < values.length; k++) values[k]![rows] = row.values[k]!;
      rows++;
    },
    /** what has come so far; the columns are views, so take them when the reader has ended */
    table(): LogTable {
      return {
        rows,
        timeMs: timeMs.subarray(0, rows),
        values: Object.fromEntries(names.map((name, k) => [name, values[k]!.subarray(0, rows)])),
      };
    },
  };
}

/**
 * Reads a whole log and keeps its rows as columns: see `createLogReader`.
 * @example
 * ```ts
 * import { readLogTable } from '@stayput/core';
 *
 * const text = `time,battery voltage (V),battery current (A),state of charge (%)
 * 2026-10-03 12:00,13.31,4.2,81
 * 2026-10-03 12:10,13.33,4.6,82
 * 2026-10-03 12:20,13.34,4.4,83
 * `;
 * const { reading, table } = readLogTable(text, { zone: 'Europe/Lisbon', positive: 'charging' });
 * console.log(reading.rows, table.values.voltage);
 * ```
 */
export function readLogTable(text: string, options: LogOptions = {}): { reading: LogReading; table: LogTable } {
  requireText('readLogTable', text);
  return sortedIfNeeded(options, (wanted) => {
    const gathered = createLogTable();
    const reader = createLogReader({ ...wanted, onColumns: gathered.onColumns, onRow: gathered.onRow });
    reader.push(text);
    const reading = reader.end();
    return { reading, table: gathered.table() };
  });
}
