import { pipeline, Readable } from 'node:stream';
import { type Run, traceHeader, traceRow } from '@stayput/core';
import { stringify } from 'csv-stringify';
import { oneLine } from '../show/style.js';

/** Every step of a run as CSV (RFC 4180, LF), made row by row as it is read. */
export function traceCsv(run: Run): Readable {
  const rows = function* () {
    yield traceHeader(run.trace).map(oneLine);
    for (let i = 0; i < run.trace.grid.steps; i++) yield traceRow(run, i);
  };
  // Whoever reads the result meets an error of the rows there, so there is nothing left to do with it here.
  return pipeline(Readable.from(rows()), stringify(), () => {});
}
