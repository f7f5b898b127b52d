import { createHash } from 'node:crypto';
import type { Sweep, SweepRequest, SweepRow } from '@stayput/core';
import { stringify } from 'csv-stringify/sync';
import { oneLine } from '../show/style.js';

/** Raised when the rows of a sweep change their meaning or their columns. */
const FORMAT = 2;

/** Tells a sweep's rows from another's: everything that its answers depend on, in 16 hexadecimal digits. */
export function sweepFingerprint(request: SweepRequest, version: string): string {
  const { rig, trip, set, vary, sample, seed, years, stepH, randomLoads, weatherFile } = request;
  const all = [FORMAT, version, rig.text, trip.text, set, vary, sample, seed, years, stepH, randomLoads, weatherFile];
  return createHash('sha256').update(JSON.stringify(all)).digest('hex').slice(0, 16);
}

/**
 * How a sweep's rows look as CSV (RFC 4180, LF). A row begins with its variant and ends with how many there are, which
 * sweep it is of, and a check of all that, so that a file, whole, cut off or edited, says by itself what it is.
 */
export interface SweepCsv {
  readonly header: string;
  readonly variants: number;
  readonly fingerprint: string;
  line(row: SweepRow): string;
}

export const LAST_HEADINGS = ',failed,variants,sweep,check\n';

/** A row with its check, the first 8 hexadecimal digits of its SHA-256, behind it. */
const checkOf = (row: string) => createHash('sha256').update(row).digest('hex').slice(0, 8);

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
      'check',
    ]),
    variants,
    fingerprint,
    line: ({ variant, values, answers, failed }) => {
      const row = asLine([
        variant,
        ...values,
        ...columns.map((_, k) => answers[k] ?? ''),
        failed ? oneLine(failed.text) : '',
        variants,
        fingerprint,
      ]).trimEnd();
      return `${row},${checkOf(row)}\n`;
    },
  };
}

export interface RowEnds {
  readonly variant: number;
  readonly variants: number;
  readonly fingerprint: string;
}

/** What the ends of a row say, or undefined when it is none, not whole, or not as it was written. */
export function readEnds(line: string): RowEnds | undefined {
  const found = /^((\d+),.*,(\d+),([0-9a-f]{16})),([0-9a-f]{8})$/.exec(line);
  if (!found || checkOf(found[1]!) !== found[5]) return undefined;
  const [variant, variants] = [Number(found[2]), Number(found[3])];
  return variant >= 1 && variant <= variants ? { variant, variants, fingerprint: found[4]! } : undefined;
}

/** Fields of one line of CSV. */
export function fieldsOf(line: string): string[] {
  return Array.from(line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g), ([, quoted, plain]) =>
    quoted === undefined ? plain! : quoted.replaceAll('""', '"'),
  );
}
