import { type Comparison, createLogReader, createLogTable, isUnsorted, type Log, type LogOptions } from '@stayput/core';
import { LARGEST_ZIP, ZipError, zippedFile } from '../files/zip-file.js';

/**
 * Reads a log file of any size piece by piece, as it stands, gzipped or the one file of a ZIP archive: UTF-8, UTF-16 by its mark, or windows-1252 where it is no UTF-8.
 * @param progress called with the share that is read, 0..1
 */
export async function readLogFile(
  file: File,
  options: LogOptions,
  signal: AbortSignal,
  progress: (done: number) => void,
): Promise<Log> {
  try {
    return await readOnce(file, options, signal, progress);
  } catch (error) {
    if (!isUnsorted(error)) throw error;
    return readOnce(file, { ...options, sort: true }, signal, progress);
  }
}

async function readOnce(
  file: File,
  options: LogOptions,
  signal: AbortSignal,
  progress: (done: number) => void,
): Promise<Log> {
  const gathered = createLogTable();
  const reader = createLogReader({ ...options, onColumns: gathered.onColumns, onRow: gathered.onRow });
  let decoder: TextDecoder | undefined;
  let bytes = 0;
  const { stream, size } = await plainBytes(file);
  const chunks = stream.getReader();
  for (;;) {
    if (signal.aborted) throw signal.reason;
    const { value, done } = await chunks.read();
    if (done) break;
    decoder ??= new TextDecoder(encodingOf(value));
    reader.push(decoder.decode(value, { stream: true }));
    bytes += value.length;
    progress(Math.min(1, bytes / size));
  }
  reader.push(decoder?.decode() ?? '');
  return { reading: reader.end(), table: gathered.table() };
}

/** Text shrinks to a tenth or so; it only moves a bar. */
const USUAL_SHRINKING = 8;

async function plainBytes(file: File): Promise<{ stream: ReadableStream<Uint8Array<ArrayBuffer>>; size: number }> {
  const [a, b, c] = new Uint8Array(await file.slice(0, 4).arrayBuffer());
  const shrunk = USUAL_SHRINKING * file.size;
  if (a === 0x50 && b === 0x4b && c === 3) return { stream: await unzipped(file), size: shrunk };
  if (a !== 0x1f || b !== 0x8b) return { stream: file.stream(), size: file.size };
  return { stream: file.stream().pipeThrough(new DecompressionStream('gzip')), size: shrunk };
}

async function unzipped(file: File): Promise<ReadableStream<Uint8Array<ArrayBuffer>>> {
  if (file.size > LARGEST_ZIP) throw new ZipError(`the ZIP archive is larger than ${LARGEST_ZIP / 1e6} MB`);
  const { bytes, isDeflated } = zippedFile(new Uint8Array(await file.arrayBuffer()));
  const stream = new Blob([bytes]).stream();
  return isDeflated ? stream.pipeThrough(new DecompressionStream('deflate-raw')) : stream;
}

function encodingOf(first: Uint8Array): string {
  const [a, b] = first;
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  try {
    // the last letter of a piece may be cut
    new TextDecoder('utf-8', { fatal: true }).decode(first, { stream: true });
    return 'utf-8';
  } catch {
    return 'windows-1252';
  }
}

/** Samples of a picture; more is not seen on a phone. */
const MAX_SAMPLES = 3000;

/** What is drawn of a comparison: charge and harvest of log and model. */
export interface ComparedTraces {
  readonly startMs: number;
  readonly sampleH: number;
  readonly days: readonly { readonly date: string; readonly from: number }[];
  readonly logSoc: Float32Array;
  readonly modelSoc: Float32Array;
}

export function tracesOf({ traces }: Comparison): ComparedTraces {
  const { timeMs, days } = traces;
  const steps = timeMs.length;
  const each = Math.max(1, Math.ceil(steps / MAX_SAMPLES));
  const [startMs, stepMs] = [timeMs[0]!, timeMs[1]! - timeMs[0]!];
  const thinned = (column: Float64Array) =>
    Float32Array.from({ length: Math.ceil(steps / each) }, (_, k) => column[k * each]!);
  return {
    startMs,
    sampleH: (stepMs * each) / 3_600_000,
    days: days.map((day) => ({ date: day.date, from: (day.startMs - startMs) / (stepMs * each) })),
    logSoc: thinned(traces.logSoc),
    modelSoc: thinned(traces.modelSoc),
  };
}
