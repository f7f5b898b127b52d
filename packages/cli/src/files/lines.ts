import { createReadStream } from 'node:fs';

const NEWLINE = 10;

/** One line of a file: without its end, and whether that was there. */
export interface Line {
  readonly text: string;
  readonly isWhole: boolean;
  /** of it and all before, their ends included */
  readonly bytes: number;
}

/** A file line by line, in little memory, with the bytes up to each; only LF ends a line. */
export async function* linesOf(path: string): AsyncGenerator<Line, void, void> {
  let rest: Buffer = Buffer.alloc(0);
  let bytes = 0;
  for await (const chunk of createReadStream(path, { highWaterMark: 1 << 18 }) as AsyncIterable<Buffer>) {
    const all = rest.length > 0 ? Buffer.concat([rest, chunk]) : chunk;
    let from = 0;
    for (let at = all.indexOf(NEWLINE); at >= 0; at = all.indexOf(NEWLINE, from)) {
      bytes += at + 1 - from;
      yield { text: all.toString('utf8', from, at), isWhole: true, bytes };
      from = at + 1;
    }
    rest = all.subarray(from);
  }
  if (rest.length > 0) yield { text: rest.toString('utf8'), isWhole: false, bytes: bytes + rest.length };
}
