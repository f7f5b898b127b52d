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
import { sweepPage } from '../show/page/sweep-page.js';
import { spanText } from '../show/rate.js';
import { oneLine } from '../show/style.js';
import { isDrawn, shownKeys, tellingKey } from '../show/sweep-answers.js';
import { sweepText } from '../show/sweep-text.js';
import { rigFindings, type ShownFinding } from '../words/finding-words.js';
import { claimOutputs } from './claim-outputs.js';
import { tellDangers } from './deliver.js';
import type { SweepOptions } from './given.js';
import { deliverPictures } from './pictures.js';
import { sweepRequest } from './sweep-request.js';
import { openRows, workThrough } from './sweep-rows.js';

/** Without a file all rows are kept in memory until they are shown. */
const MAX_ROWS_SHOWN = 100_000;

export async function runSweep(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: SweepOptions,
  version: string,
): Promise<number> {
  const { json = false, quiet = false } = options;
  const { request, rig, trip, weatherPath } = await sweepRequest(io, rigPath, tripPath, options);
  const sweep = openSweep(request, true);
  const part = partOf(io, options, quiet);
  const span = variantsOf(sweep.plan, part);
  const toDraw = answersToPlot(sweep, part, options);
  const csv = sweepCsv(sweep, sweepFingerprint(request, version));
  if (options.out === undefined && span.to - span.from > MAX_ROWS_SHOWN)
    throw new InputError(`${counted(span.to - span.from, 'row')} are for a file: add --out rows.csv`);

  const inputs = [rigPath, tripPath, weatherPath].filter((path) => path !== undefined);
  const pictures = await claimPictures(io, options, inputs);
  const answers = new Map(toDraw.map((key) => [key, new Float64Array(sweep.plan.variants).fill(Number.NaN)] as const));
  const placeOf = (key: string) => sweep.columns.findIndex((column) => column.key === key);
  const file = await openRows(io, options, inputs, csv, span, (line) => {
    for (const [key, values] of answers)
      keepAnswer(values, fieldsOf(line), 1 + sweep.plan.varied.length + placeOf(key));
  });
  const shown: SweepRow[] = [];
  const failures = { values: 0, ours: 0 };
  const take = (row: SweepRow) => {
    if (row.failed) failures[row.failed.isOurs ? 'ours' : 'values']++;
    for (const [key, values] of answers) values[row.variant - 1] = row.answers[placeOf(key)] ?? Number.NaN;
    if (options.out === undefined) shown.push(row);
  };
  const seconds = await workThrough(io, sweep, request, options, span, csv, file, take);

  const findings = rigFindings(rig);
  if (toDraw.length > 0) {
    const drawn = { rig, trip, sweep, answers, key: options.answer ?? tellingKey(sweep, answers), findings };
    await deliverPictures(io, pictures, quiet, { plot: () => sweepPicture(drawn), page: () => sweepPage(drawn) });
  }
  await report(io, { sweep, part, span, csv, file, shown, seconds, findings, rigName: rig.name }, options);
  if (json || file || Object.values(pictures).includes('stdout')) tellDangers(io, findings);
  return outcomeOf(io, failures, span.to - span.from);
}

function partOf(io: Io, { part }: SweepOptions, quiet: boolean): SweepPart {
  if (part) return part;
  const asked = partFromEnvironment(io.env);
  if (!asked) return { part: 1, of: 1 };
  if (!quiet) io.tell(`part ${asked.part} of ${asked.of}, by ${asked.source}`);
  return { part: asked.part, of: asked.of };
}

/** @returns keys of the answers that a picture or a page shows; none when neither is asked for */
function answersToPlot(
  { plan, columns, years }: Sweep,
  { of }: SweepPart,
  { sample, answer, plot, report }: SweepOptions,
): readonly string[] {
  if (plot === undefined && report === undefined) return [];
  if (of > 1)
    throw new InputError(
      `${plot === undefined ? '--report shows' : '--plot draws'} a whole sweep; merge its parts, then --out the whole file with it`,
    );
  if (plot !== undefined && (sample !== undefined || !isDrawn(plan)))
    throw new InputError('--plot draws an answer over one or two quantities, each with all of its values');
  if (answer !== undefined && !columns.some(({ key }) => key === answer)) {
    const keys = columns.map(({ key }) => key);
    const near = closest(answer, keys);
    throw new InputError(
      `--answer ${answer} is none of the answers${near ? `; did you mean ${near}?` : `: ${keys.join(', ')}`}`,
    );
  }
  return [...new Set([...(answer === undefined ? [] : [answer]), ...shownKeys(years)])];
}

async function claimPictures(
  io: Io,
  { plot, report, force = false, json, out }: SweepOptions,
  inputs: readonly string[],
): Promise<Readonly<Partial<Record<'--plot' | '--report', Sink>>>> {
  const { beside } = await claimOutputs(io, { force }, { '--plot': plot, '--report': report }, inputs);
  for (const [option, path] of Object.entries({ '--plot': plot, '--report': report })) {
    if (path === undefined) continue;
    if (beside[option as keyof typeof beside] === 'stdout' && (json || out === '-'))
      throw new InputError(`${option} - and the rows would both fill standard output; give one of them a file`);
    if (path === out) throw new InputError(`--out and ${option} name the same file`);
  }
  return beside;
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

async function report(
  io: Io,
  done: Done,
  { json, quiet = false, plot, report: page, out }: SweepOptions,
): Promise<void> {
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
  else if (out === undefined && plot !== '-' && page !== '-')
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
