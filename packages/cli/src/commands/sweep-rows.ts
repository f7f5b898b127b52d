import { availableParallelism } from 'node:os';
import type { Sweep, SweepRequest, SweepRow } from '@stayput/core';
import { InputError } from '../failure.js';
import { lockFile } from '../files/file-lock.js';
import { newRowsFile, type RowsFile, resumedRowsFile } from '../files/rows-file.js';
import type { SweepCsv } from '../files/sweep-csv.js';
import type { Io, Sink } from '../io.js';
import { rowsInOrder } from '../pool/in-order.js';
import { counted, fixed } from '../show/number.js';
import { progressText } from '../show/rate.js';
import { oneLine } from '../show/style.js';
import type { SweepOptions } from './given.js';

/** Rows handed to a worker at a time. */
const CHUNK = 16;
const REDRAW_MS = 200;

/** The file of --out, whole rows of the same sweep kept; 'stdout' to print rows; undefined to show them at the end. */
export async function openRows(
  io: Io,
  { out, force = false, json, quiet }: SweepOptions,
  inputs: readonly string[],
  csv: SweepCsv,
  span: { readonly from: number; readonly to: number },
  each: (line: string) => void,
): Promise<RowsFile | 'stdout' | undefined> {
  if (out === undefined) return undefined;
  if (out === '-') {
    if (json) throw new InputError('--json and --out - would both fill standard output; give --out a file');
    await io.write('stdout', csv.header);
    return 'stdout';
  }
  const lock = await lockFile(out);
  try {
    if (lock?.takenOver && !quiet) io.tell(oneLine(lock.takenOver));
    const resumed = force ? undefined : await resumedRowsFile(out, csv, span, each, lock);
    if (resumed === undefined)
      return newRowsFile((await io.claim(out, { force, inputs })) as Exclude<Sink, 'stdout'>, csv.header, lock);
    const left = span.to - span.from - resumed.kept;
    if (resumed.kept > 0 && !quiet)
      io.tell(
        left > 0
          ? `${oneLine(out)} holds ${counted(resumed.kept, 'row')} of this sweep already; ${fixed(left, 0)} to go`
          : `${oneLine(out)} holds all ${counted(resumed.kept, 'row')} of this sweep already`,
      );
    return resumed;
  } catch (error) {
    lock?.release();
    throw error;
  }
}

/**
 * Has all variants worked out that are not in the file yet, and hands each row on in its order.
 * @returns how long it took [s]
 */
export async function workThrough(
  io: Io,
  sweep: Sweep,
  request: SweepRequest,
  { workers = availableParallelism(), quiet }: SweepOptions,
  span: { readonly from: number; readonly to: number },
  csv: SweepCsv,
  file: RowsFile | 'stdout' | undefined,
  take: (row: SweepRow) => void,
): Promise<number> {
  const total = span.to - span.from;
  const kept = file && file !== 'stdout' ? file.kept : 0;
  const began = performance.now();
  const elapsedS = () => (performance.now() - began) / 1000;
  let doneHere = 0;
  let drawnMs = Number.NEGATIVE_INFINITY;
  const { varied, indexes } = sweep.plan;
  const rows = rowsInOrder<SweepRow>({
    script: new URL('../sweep-worker.js', import.meta.url),
    workerData: request,
    workers,
    from: span.from + kept,
    to: span.to,
    chunk: Math.max(1, Math.min(CHUNK, Math.ceil((total - kept) / (4 * workers)))),
    stopped: (variant, why) => ({
      variant: variant + 1,
      values: varied.map((vary, k) => vary.cellAt(indexes(variant)[k]!)),
      answers: [],
      failed: { text: `the worker stopped: ${why}`, isOurs: true },
    }),
  });
  try {
    for await (const some of rows) {
      some.forEach(take);
      const lines = file ? some.map(csv.line).join('') : '';
      if (file === 'stdout') await io.write('stdout', lines);
      else file?.append(lines);
      doneHere += some.length;
      if (io.redraw && !quiet && performance.now() - drawnMs > REDRAW_MS) {
        drawnMs = performance.now();
        io.redraw(progressText({ done: kept + doneHere, total, doneHere, elapsedS: elapsedS() }));
      }
    }
  } finally {
    if (io.redraw && doneHere > 0 && !quiet) io.redraw('');
    if (file && file !== 'stdout') file.close();
  }
  return elapsedS();
}
