import { once } from 'node:events';
import { PassThrough, type Readable } from 'node:stream';

const CHUNK = 1 << 16;

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
  const stream = new PassThrough();
  let text = '';
  return {
    stream,
    add: (line) => {
      text += `${line}\n`;
    },
    drain: async () => {
      if (text.length < CHUNK) return;
      const full = text;
      text = '';
      if (!stream.write(full) && !stream.destroyed) await Promise.race([once(stream, 'drain'), once(stream, 'close')]);
    },
    end: () => void stream.end(text),
    fail: (error) => void stream.destroy(error),
  };
}
