import { PassThrough, type Readable } from 'node:stream';

const CHUNK = 1 << 17;

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
      if (!stream.write(full) && !stream.destroyed) await roomIn(stream);
    },
    end: () => void stream.end(text),
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
