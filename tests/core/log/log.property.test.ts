import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  createLogReader,
  isUnsorted,
  type LogReading,
  type RowAccount,
  readLogTable,
  tidyHeader,
  tidyLine,
} from '../../../packages/core/src/log/index.js';

const START = Date.UTC(2026, 3, 10);
const iso = (ms: number) => new Date(ms).toISOString().slice(0, 19);

/** Two sound rows, so that there is a log at all, among rows of every kind of trouble. */
const cell = fc.oneof(
  { weight: 5, arbitrary: fc.double({ min: 0, max: 60, noNaN: true }).map((value) => value.toFixed(2)) },
  fc.constantFrom('', 'NaN', '--', 'ERR', '65535', '1e9', ' 12.5 ', '"12.5"', '"12,5"', '-0'),
);
const stamp = fc.oneof(
  fc.integer({ min: 0, max: 3000 }).map((k) => iso(START + k * 600_000)),
  fc.integer({ min: 0, max: 50 }).map((k) => iso(Date.UTC(2000, 0, 1) + k * 600_000)),
  fc.constantFrom('', 'soon', '2099-01-01T00:00:00', '2026-13-40T00:00:00', 'time (UTC)'),
);
const line = fc.oneof(
  { weight: 6, arbitrary: fc.tuple(stamp, cell, cell, cell).map((cells) => cells.join(',')) },
  { weight: 1, arbitrary: fc.tuple(stamp, cell).map((cells) => cells.join(',')) },
  { weight: 1, arbitrary: fc.string({ maxLength: 30 }).filter((text) => !text.includes('"')) },
);
const HEAD = 'time (UTC),voltage (V),current (A),SoC (%)\n';
const sound = [600, 601, 602, 603].map((k) => `${iso(START + k * 600_000)},13.2,1,50`);
/** Under the heading stands a row, so that no random text there is taken for a row of units. */
const first = `${iso(START - 600_000)},13.2,1,50`;
const file = fc.array(line, { maxLength: 120 }).map((lines) => HEAD + [first, ...lines, ...sound].join('\n'));

test('read = kept + corrected + rejected, each corrected or rejected row is accounted for once, and times rise', () => {
  fc.assert(
    fc.property(file, (text) => {
      let accounts: RowAccount[] = [];
      let times: number[] = [];
      const read = (sort: boolean) => {
        accounts = [];
        times = [];
        const reader = createLogReader({
          zone: 'UTC',
          positive: 'charging',
          sort,
          onAccount: (account) => accounts.push(account),
          onRow: ({ timeMs }) => times.push(timeMs),
        });
        reader.push(text);
        return reader.end();
      };
      let reading: LogReading;
      try {
        reading = read(false);
      } catch (error) {
        if (!isUnsorted(error)) throw error;
        reading = read(true);
      }
      const { rows, reasons } = reading;
      const joined = reasons.find(({ code }) => code === 'joined')?.count ?? 0;
      expect(rows.kept + rows.corrected + rows.rejected).toBe(rows.read);
      expect(rows.read).toBe(
        text
          .split('\n')
          .slice(1)
          .filter((one) => one.trim() !== '').length,
      );
      expect(times.length).toBe(rows.kept + rows.corrected - joined);
      expect(times.every((ms, k) => k === 0 || ms > times[k - 1]!)).toBe(true);
      expect(accounts.length).toBe(rows.corrected + rows.rejected);
      expect(new Set(accounts.map((one) => one.line)).size).toBe(accounts.length);
      expect(reasons.reduce((sum, { count }) => sum + count, 0)).toBe(accounts.length);
    }),
  );
});

const calm = (low: number, high: number) =>
  fc.oneof(
    fc.double({ min: low, max: high, noNaN: true }).map((value) => value.toFixed(3)),
    fc.constantFrom('', 'ERR'),
  );
/** Without spikes: what is cleared once changes who stands beside whom. The beginning may be as jumbled as the rest. */
const calmFile = fc
  .array(
    fc.tuple(stamp, calm(12.8, 13.4), calm(-10, 10), calm(50, 54)).map((cells) => cells.join(',')),
    { maxLength: 120 },
  )
  .map((lines) => HEAD + [...lines, ...sound].join('\n'));

test('a tidy log reads as itself: all rows kept, the same values', () => {
  fc.assert(
    fc.property(calmFile, (text) => {
      const first = readLogTable(text, { zone: 'UTC', positive: 'charging' });
      const names = Object.keys(first.table.values) as (keyof typeof first.table.values)[];
      const lines = Array.from({ length: first.table.rows }, (_, k) =>
        tidyLine({
          timeMs: first.table.timeMs[k]!,
          values: Float64Array.from(names, (name) => first.table.values[name]![k]!),
        }),
      );
      const again = readLogTable([tidyHeader(names), ...lines].join('\n'), { positive: 'charging' });
      expect(again.reading.rows).toEqual({ read: lines.length, kept: lines.length, corrected: 0, rejected: 0 });
      expect(again.table.timeMs).toEqual(first.table.timeMs);
      for (const name of names)
        again.table.values[name]!.forEach((value, k) => {
          const was = first.table.values[name]![k]!;
          expect(Number.isNaN(was) ? Number.isNaN(value) : Math.abs(value - was) <= 5e-7).toBe(true);
        });
    }),
    { numRuns: 50 },
  );
});

test('what is not a log is refused, never a crash of another kind', () => {
  fc.assert(
    fc.property(fc.oneof(fc.string({ maxLength: 400 }), fc.string({ unit: 'binary', maxLength: 200 })), (text) => {
      try {
        const reader = createLogReader();
        reader.push(text);
        reader.end();
      } catch (error) {
        expect((error as Error).name).toBe('ConfigError');
      }
    }),
  );
});
