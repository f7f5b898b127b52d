import { closeSync, fsyncSync, ftruncateSync, openSync, writeSync } from 'node:fs';
import { stat } from 'node:fs/promises';
import { InputError } from '../failure.js';
import type { FileLock } from './file-lock.js';
import { linesOf } from './lines.js';
import { readEnds, type SweepCsv } from './sweep-csv.js';
import { FULL, type WriteTarget, writeFailure } from './write-file.js';

/** A file of rows that grows row by row: whatever ends the program, the rows in it are whole but perhaps the last. */
export interface RowsFile {
  readonly path: string;
  /** rows that were there before */
  readonly kept: number;
  /** @throws InputError when the disk is full; what is in the file stays whole */
  append(lines: string): void;
  close(): void;
}

/**
 * Begins a file of rows.
 * @param target a file claimed before
 * @param lock released when the file is closed
 */
export function newRowsFile(target: WriteTarget, header: string, lock?: FileLock): RowsFile {
  const file = new GrowingFile(target.path, opened(target.path, 'w'), 0, 0, lock);
  file.append(header);
  return file;
}

/**
 * Goes on with the rows of the same sweep, after the last whole one; undefined when there is no such file.
 * @param span variants of this part, from 0, `to` not included
 * @param each is given the text of every row that is kept
 * @throws InputError when the file holds anything but rows of this part of this sweep
 */
export async function resumedRowsFile(
  path: string,
  csv: SweepCsv,
  span: { readonly from: number; readonly to: number },
  each: (line: string) => void,
  lock?: FileLock,
): Promise<RowsFile | undefined> {
  const found = await stat(path).catch(() => undefined);
  if (!found?.isFile()) return undefined;
  const refuse = (what: string) => new InputError(`${path} ${what}; name another file, or --force replaces it`);
  let keptBytes = 0;
  let kept = 0;
  let number = 0;
  for await (const { text, isWhole, bytes } of linesOf(path)) {
    number++;
    if (number === 1) {
      if (isWhole ? `${text}\n` !== csv.header : !csv.header.startsWith(text))
        throw refuse('exists already and holds no rows of this sweep');
      if (isWhole) keptBytes = bytes;
      continue;
    }
    const ends = readEnds(text);
    if (ends && (ends.fingerprint !== csv.fingerprint || ends.variants !== csv.variants))
      throw refuse('holds rows of another sweep: rig, trip, values, options or version differ');
    if (!isWhole) break;
    if (!ends) throw refuse(`is damaged in line ${number}, or was edited there`);
    const due = span.from + kept + 1;
    if (ends.variant !== due || due > span.to)
      throw refuse(
        `holds variant ${ends.variant} in line ${number} where ${due > span.to ? 'this part ends' : `${due} is due`}; is it another part?`,
      );
    each(text);
    kept++;
    keptBytes = bytes;
  }
  const descriptor = opened(path, 'r+');
  ftruncateSync(descriptor, keptBytes);
  const file = new GrowingFile(path, descriptor, kept, keptBytes, lock);
  if (keptBytes === 0) file.append(csv.header);
  return file;
}

function opened(path: string, flags: 'w' | 'r+'): number {
  try {
    return openSync(path, flags);
  } catch (error) {
    throw writeFailure(error as NodeJS.ErrnoException, path);
  }
}

class GrowingFile implements RowsFile {
  constructor(
    readonly path: string,
    readonly descriptor: number,
    readonly kept: number,
    private bytes: number,
    private readonly lock?: FileLock,
  ) {}

  append(lines: string): void {
    const content = Buffer.from(lines);
    try {
      // A disk that fills up takes a part, and refuses the rest.
      for (let at = 0; at < content.length; )
        at += writeSync(this.descriptor, content, at, content.length - at, this.bytes + at);
    } catch (error) {
      this.giveBack();
      const { code } = error as NodeJS.ErrnoException;
      const why = code === undefined ? undefined : FULL[code];
      if (why)
        throw new InputError(
          `${this.path} cannot be written: ${why}; the rows in it are whole, and the same command goes on from there`,
        );
      throw writeFailure(error as NodeJS.ErrnoException, this.path);
    }
    this.bytes += content.length;
  }

  close(): void {
    try {
      fsyncSync(this.descriptor);
    } catch {
      // Devices cannot.
    }
    closeSync(this.descriptor);
    this.lock?.release();
  }

  /** Takes back what was written of a row that does not fit. */
  private giveBack(): void {
    try {
      ftruncateSync(this.descriptor, this.bytes);
    } catch {
      // A device; or a half row stays, which the next start drops.
    }
  }
}
