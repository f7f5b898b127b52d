import { PassThrough, type Readable } from 'node:stream';

const CHUNK = 1 << 17;
/** of a character, in UTF-8 */
const MAX_BYTES = 3;
const NEWLINE = 10;

/** Lines on their way to a file: gathered as they are made, and handed on as fast as the file takes them. */
export interface LineSink {
  readonly stream: Readable;
  add(line: string): void;
  /** to be awaited between bursts of lines, so that they do not pile up */
  drain(): Promise<void>;
  end(): void;
  fail(error: Error): void;
}

export function createLineSink(): LineSink {
  const stream = new PassThrough({ writableHighWaterMark: CHUNK, readableHighWaterMark: CHUNK });
  // It may fail before anyone reads it: who comes to read it then meets the error.
  stream.on('error', () => {});
  // Each line becomes bytes at once: long strings grown of millions of pieces keep the collector busy.
  const full: Buffer[] = [];
  let bytes = Buffer.allocUnsafe(CHUNK);
  let used = 0;
  const turn = () => {
    if (used > 0) full.push(bytes.subarray(0, used));
    bytes = Buffer.allocUnsafe(CHUNK);
    used = 0;
  };
  return {
    stream,
    add: (line) => {
      const most = MAX_BYTES * line.length + 1;
      if (most > CHUNK) {
        turn();
        full.push(Buffer.from(`${line}\n`));
        return;
      }
      if (used + most > CHUNK) turn();
      used += bytes.write(line, used);
      bytes[used++] = NEWLINE;
    },
    drain: async () => {
      while (full.length > 0) if (!stream.write(full.shift()) && !stream.destroyed) await roomIn(stream);
    },
    end: () => {
      turn();
      for (const one of full) stream.write(one);
      stream.end();
    },
    fail: (error) => void stream.destroy(error),
  };
}

/** Until the stream takes more, or never will. */
function roomIn(stream: PassThrough): Promise<void> {
  return new Promise((resolve) => {
    const go = () => {
      stream.off('drain', go);
      stream.off('close', go);
      resolve();
    };
    stream.on('drain', go);
    stream.on('close', go);
  });
}
