import { createHash } from 'node:crypto';
import type { Sweep, SweepRequest, SweepRow } from '@stayput/core';
import { stringify } from 'csv-stringify/sync';
import { oneLine } from '../show/style.js';

/** Raised when the rows of a sweep change their meaning or their columns. */
const FORMAT = 1;

/** Tells a sweep's rows from another's: everything that its answers depend on, in 16 hexadecimal digits. */
export function sweepFingerprint(request: SweepRequest, version: string): string {
  const { rig, trip, set, vary, sample, seed, years, stepH, randomLoads, weatherFile } = request;
  const all = [FORMAT, version, rig.text, trip.text, set, vary, sample, seed, years, stepH, randomLoads, weatherFile];
  return createHash('sha256').update(JSON.stringify(all)).digest('hex').slice(0, 16);
}

/**
 * How a sweep's rows look as CSV (RFC 4180, LF). A row begins with its variant and ends with how many there are and which
 * sweep it is of, so that a file, whole or cut off, says by itself what it is.
 */
export interface SweepCsv {
  readonly header: string;
  readonly variants: number;
  readonly fingerprint: string;
  line(row: SweepRow): string;
}

export const LAST_HEADINGS = ',failed,variants,sweep\n';

export function sweepCsv({ plan, columns }: Sweep, fingerprint: string): SweepCsv {
  const { varied, variants } = plan;
  const asLine = (fields: readonly (string | number)[]) => stringify([fields.map(String)]);
  const varyHeadings = varied.map(({ path, unit }) => oneLine(unit ? `${path} [${unit}]` : path));
  return {
    header: asLine([
      'variant',
      ...varyHeadings,
      ...columns.map(({ heading }) => heading),
      'failed',
      'variants',
      'sweep',
    ]),
    variants,
    fingerprint,
    line: ({ variant, values, answers, failed }) =>
      asLine([
        variant,
        ...values,
        ...columns.map((_, k) => answers[k] ?? ''),
        failed ? oneLine(failed.text) : '',
        variants,
        fingerprint,
      ]),
  };
}

/** What the ends of a row say, or undefined when it is none, or not whole. */
export function readEnds(line: string): { variant: number; variants: number; fingerprint: string } | undefined {
  const found = /^(\d+),.*,(\d+),([0-9a-f]{16})$/.exec(line);
  return found ? { variant: Number(found[1]), variants: Number(found[2]), fingerprint: found[3]! } : undefined;
}

/** Fields of one line of CSV. */
export function fieldsOf(line: string): string[] {
  return Array.from(line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g), ([, quoted, plain]) =>
    quoted === undefined ? plain! : quoted.replaceAll('""', '"'),
  );
}
