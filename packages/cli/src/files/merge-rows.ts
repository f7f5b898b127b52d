import { Readable } from 'node:stream';
import { InputError } from '../failure.js';
import { fixed } from '../show/number.js';
import { oneLine } from '../show/style.js';
import { linesOf } from './lines.js';
import { LAST_HEADINGS, readEnds } from './sweep-csv.js';

interface Part {
  readonly path: string;
  readonly header: string;
  /** first and last variant, from 1; an empty part has neither */
  readonly first: number;
  readonly last: number;
  readonly variants: number;
  readonly fingerprint: string;
}

/**
 * Checks that files are the parts of one sweep, each whole and together all of it, and gives them as one.
 * @throws InputError for what is no part, cut off, of another sweep, twice there, or missing
 */
export async function mergedRows(paths: readonly string[]): Promise<{ variants: number; content: Readable }> {
  const parts: Part[] = [];
  for (const path of paths) parts.push(await partOf(path));
  const filled = parts.filter(({ last }) => last > 0).sort((a, b) => a.first - b.first);
  const [first] = filled;
  if (!first) throw new InputError('there is not one row in these files');
  for (const { path, header, fingerprint, variants } of parts)
    if (
      header !== first.header ||
      (fingerprint !== '' && (fingerprint !== first.fingerprint || variants !== first.variants))
    )
      throw new InputError(
        `${path} and ${first.path} are of different sweeps: rig, trip, values, options or version differ`,
      );
  let due = 1;
  let before: Part | undefined;
  for (const part of filled) {
    if (part.first < due)
      throw new InputError(
        `${spanText(part.first, Math.min(part.last, due - 1))} in both ${before!.path} and ${part.path}`,
      );
    if (part.first > due) throw missing(due, part.first - 1, before?.path, part.path);
    due = part.last + 1;
    before = part;
  }
  if (due <= first.variants) throw missing(due, first.variants, before?.path);
  const lines = async function* () {
    yield `${first.header}\n`;
    for (const { path } of filled) {
      let isHeader = true;
      for await (const { text } of linesOf(path)) {
        if (!isHeader) yield `${text}\n`;
        isHeader = false;
      }
    }
  };
  return { variants: first.variants, content: Readable.from(lines()) };
}

async function partOf(path: string): Promise<Part> {
  let header: string | undefined;
  let number = 0;
  let first = 0;
  let last = 0;
  let variants = 0;
  let fingerprint = '';
  try {
    for await (const { text, isWhole } of linesOf(path)) {
      number++;
      if (number === 1) {
        if (!text.startsWith('variant,') || (isWhole && !`${text}\n`.endsWith(LAST_HEADINGS)))
          throw new InputError(`${path} holds no rows of a sweep`);
        header = text;
      }
      if (!isWhole)
        throw new InputError(`${path} is cut off in line ${number}; run its part again, it goes on from there`);
      if (number === 1) continue;
      const ends = readEnds(text);
      if (!ends) throw new InputError(`${path} is damaged in line ${number}, or was edited there; run its part again`);
      if (first === 0) ({ variant: first, variants, fingerprint } = ends);
      else if (ends.fingerprint !== fingerprint || ends.variants !== variants)
        throw new InputError(`${path} holds rows of two sweeps: line ${number} is of another`);
      else if (ends.variant !== last + 1)
        throw new InputError(`${path} holds variant ${ends.variant} after ${last} (line ${number})`);
      last = ends.variant;
    }
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (error instanceof InputError || code === undefined) throw error;
    throw new InputError(code === 'ENOENT' ? `${path}: there is no such part` : `${path} cannot be read: ${message}`);
  }
  if (header === undefined) throw new InputError(`${oneLine(path)} is empty; run its part again`);
  return { path, header, first, last, variants, fingerprint };
}

function missing(from: number, to: number, before: string | undefined, after?: string): InputError {
  const where = [...(before ? [`after ${before}`] : []), ...(after ? [`before ${after}`] : [])].join(', ');
  return new InputError(`${spanText(from, to)} missing (${where}); add the file of that part, or run it to its end`);
}

const spanText = (from: number, to: number) =>
  from === to ? `variant ${fixed(from, 0)} is` : `variants ${fixed(from, 0)} to ${fixed(to, 0)} are`;
