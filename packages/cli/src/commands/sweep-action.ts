import { openSweep, type Sweep, type SweepPart, type SweepRow, variantsOf } from '@stayput/core';
import { closest } from '@stayput/core/model';
import { EXIT, InputError } from '../failure.js';
import type { RowsFile } from '../files/rows-file.js';
import { fieldsOf, type SweepCsv, sweepCsv, sweepFingerprint } from '../files/sweep-csv.js';
import type { Io, Sink } from '../io.js';
import { partFromEnvironment } from '../pool/part-of.js';
import { sweepPicture } from '../show/charts/sweep-picture.js';
import { jsonText } from '../show/json.js';
import { narrowed } from '../show/narrow.js';
import { counted, fixed } from '../show/number.js';
import { spanText } from '../show/rate.js';
import { oneLine } from '../show/style.js';
import { sweepText } from '../show/sweep-text.js';
import { rigFindings, type ShownFinding } from '../words/finding-words.js';
import { tellDangers } from './deliver.js';
import type { SweepOptions } from './given.js';
import { deliverPlot } from './pictures.js';
import { sweepRequest } from './sweep-request.js';
import { openRows, workThrough } from './sweep-rows.js';

/** Without a file all rows are kept in memory until they are shown. */
const MAX_ROWS_SHOWN = 100_000;
const MAX_PLOTTED = 2;

export async function runSweep(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: SweepOptions,
  version: string,
): Promise<number> {
  const { json = false, quiet = false } = options;
  const { request, rig, weatherPath } = await sweepRequest(io, rigPath, tripPath, options);
  const sweep = openSweep(request, true);
  const part = partOf(io, options, quiet);
  const span = variantsOf(sweep.plan, part);
  const answer = options.plot === undefined ? undefined : answerToPlot(sweep, part, options);
  const csv = sweepCsv(sweep, sweepFingerprint(request, version));
  if (options.out === undefined && span.to - span.from > MAX_ROWS_SHOWN)
    throw new InputError(`${counted(span.to - span.from, 'row')} are for a file: add --out rows.csv`);

  const inputs = [rigPath, tripPath, weatherPath].filter((path) => path !== undefined);
  const plot = options.plot === undefined ? undefined : await claimPlot(io, options, inputs);
  const answers = answer === undefined ? undefined : new Float64Array(sweep.plan.variants).fill(Number.NaN);
  const file = await openRows(io, options, inputs, csv, span, (line) => {
    if (answers) keepAnswer(answers, fieldsOf(line), 1 + sweep.plan.varied.length + answer!);
  });
  const shown: SweepRow[] = [];
  const failures = { values: 0, ours: 0 };
  const take = (row: SweepRow) => {
    if (row.failed) failures[row.failed.isOurs ? 'ours' : 'values']++;
    if (answers) answers[row.variant - 1] = row.answers[answer!] ?? Number.NaN;
    if (options.out === undefined) shown.push(row);
  };
  const seconds = await workThrough(io, sweep, request, options, span, csv, file, take);

  const findings = rigFindings(rig);
  if (plot && answers) await deliverPlot(io, plot, quiet, sweepPicture(rig.name, sweep, answer!, answers));
  await report(io, { sweep, part, span, csv, file, shown, seconds, findings, rigName: rig.name }, options);
  if (json || file || plot === 'stdout') tellDangers(io, findings);
  return outcomeOf(io, failures, span.to - span.from);
}

function partOf(io: Io, { part }: SweepOptions, quiet: boolean): SweepPart {
  if (part) return part;
  const asked = partFromEnvironment(io.env);
  if (!asked) return { part: 1, of: 1 };
  if (!quiet) io.tell(`part ${asked.part} of ${asked.of}, by ${asked.source}`);
  return { part: asked.part, of: asked.of };
}

/** @returns place among the sweep's answers */
function answerToPlot({ plan, columns, years }: Sweep, { of }: SweepPart, { sample, answer }: SweepOptions): number {
  if (of > 1)
    throw new InputError('--plot draws a whole sweep; merge its parts, then --out the whole file with --plot');
  if (sample !== undefined || plan.varied.length > MAX_PLOTTED)
    throw new InputError('--plot draws an answer over one or two quantities, each with all of its values');
  const key = answer ?? (years > 1 ? 'lowestSocP50' : 'lowestSoc');
  const place = columns.findIndex((column) => column.key === key);
  if (place >= 0) return place;
  const keys = columns.map((column) => column.key);
  const near = closest(key, keys);
  throw new InputError(
    `--answer ${key} is none of the answers${near ? `; did you mean ${near}?` : `: ${keys.join(', ')}`}`,
  );
}

async function claimPlot(
  io: Io,
  { plot, force = false, json, out }: SweepOptions,
  inputs: readonly string[],
): Promise<Sink> {
  const sink = await io.claim(plot!, { force, inputs });
  if (sink === 'stdout' && (json || out === '-'))
    throw new InputError('--plot - and the rows would both fill standard output; give one of them a file');
  if (plot === out) throw new InputError('--out and --plot name the same file');
  return sink;
}

interface Done {
  readonly sweep: Sweep;
  readonly part: SweepPart;
  readonly span: { readonly from: number; readonly to: number };
  readonly csv: SweepCsv;
  readonly file: RowsFile | 'stdout' | undefined;
  readonly shown: readonly SweepRow[];
  readonly seconds: number;
  readonly findings: readonly ShownFinding[];
  readonly rigName: string;
}

async function report(io: Io, done: Done, { json, quiet = false, plot, out }: SweepOptions): Promise<void> {
  const { sweep, part, span, csv, file, shown, seconds, findings, rigName } = done;
  const count = span.to - span.from;
  if (file && file !== 'stdout' && !quiet && count > file.kept)
    io.tell(
      `wrote ${oneLine(file.path)} (${counted(count, 'row')}, ${fixed(count - file.kept, 0)} of them in ${spanText(seconds)})`,
    );
  if (json)
    await io.print(
      jsonText({
        command: 'sweep',
        rig: rigName,
        warnings: [],
        findings,
        sweep: csv.fingerprint,
        variants: csv.variants,
        ...(part.of > 1 && { part: { ...part, from: span.from + 1, to: span.to } }),
        weatherYears: sweep.years,
        varied: sweep.plan.varied.map(({ path, unit, count: values }) => ({ path, unit: unit ?? null, values })),
        ...(out === undefined ? { rows: shown.map((row) => recordOf(sweep, row)) } : { path: out }),
      }),
    );
  else if (out === undefined && plot !== '-')
    await io.print(
      `${narrowed(sweepText({ sweep, rows: shown, findings, rigName, quiet }, io), io.terminal.width).join('\n')}\n`,
    );
}

/** One flat object a row: variant, the varied paths, the answers. */
function recordOf({ plan, columns }: Sweep, { variant, values, answers, failed }: SweepRow): object {
  return {
    variant,
    ...Object.fromEntries(plan.varied.map(({ path }, k) => [path, values[k]])),
    ...Object.fromEntries(columns.map(({ key }, k) => [key, answers[k] ?? null])),
    ...(failed && { failed: failed.text }),
  };
}

function keepAnswer(answers: Float64Array, fields: readonly string[], at: number): void {
  const text = fields[at] ?? '';
  answers[Number(fields[0]) - 1] = text === '' ? Number.NaN : Number(text);
}

function outcomeOf(io: Io, { values, ours }: { values: number; ours: number }, count: number): number {
  if (values > 0)
    io.tell(
      `${fixed(values, 0)} of ${counted(count, 'variant')} cannot be: their values contradict each other (failed says how)`,
    );
  if (ours > 0)
    io.tell(
      `${fixed(ours, 0)} of ${counted(count, 'variant')} failed by a fault of ours, not of your files (failed says how)`,
    );
  if (ours > 0) return EXIT.ourFault;
  return values > 0 && values === count ? EXIT.wrongInput : EXIT.done;
}
