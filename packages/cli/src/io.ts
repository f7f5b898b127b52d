import { once } from 'node:events';
import type { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { look, openBytes, readBytes } from './files/read-file.js';
import { claimFile, type WriteTarget, writeWhole } from './files/write-file.js';
import { oneLine, plainAscii, type Style, styleFor } from './show/style.js';
import { type Terminal, terminalFor } from './show/terminal.js';

/** Where a result goes: a file that has been claimed, or standard output. */
export type Sink = WriteTarget | 'stdout';

/** The only door to the outside: streams, files, clock and environment. */
export interface Io {
  readonly terminal: Terminal;
  readonly style: Style;
  /** marks for standard error */
  readonly errStyle: Style;
  /** the user's local civil date, ISO */
  today(): string;
  /** the present moment, UTC [ms] */
  nowMs(): number;
  /** a variable of the environment */
  env(name: string): string | undefined;
  /** whether standard output is a terminal */
  readonly isWatched: boolean;
  /** shows how far a long work is, over what was shown before; absent when nobody watches standard error */
  readonly redraw?: (line: string) => void;
  /** where a person can be asked: both ends are a terminal; absent when nobody is there */
  readonly dialogue?: { readonly input: NodeJS.ReadableStream; readonly output: NodeJS.WritableStream };
  readBytes(path: string, kind: string, maxBytes: number): Promise<Uint8Array>;
  /** what a path names: a file, nothing, or the names in a folder */
  look(path: string): Promise<'file' | 'missing' | readonly string[]>;
  /** a file of any size, as it comes */
  openBytes(path: string, kind: string): Promise<AsyncIterable<Uint8Array>>;
  /** checks that `path` may be written; `-` is standard output */
  claim(path: string, options: { force?: boolean; inputs: readonly string[] }): Promise<Sink>;
  /** writes a result whole, and reports a file on standard error */
  write(sink: Sink, content: string | Readable, options?: { quiet?: boolean; what?: string }): Promise<void>;
  /** text for people, on standard output; signs are spelt out where the locale lacks them */
  print(text: string): Promise<void>;
  /** one line on standard error */
  tell(line: string): void;
  /** the exit code with which the program ends when all is written */
  finish(exitCode: number): void;
}

export function createIo(proc: NodeJS.Process): Io {
  const colourWanted = !proc.argv.includes('--no-color');
  const terminal = terminalFor(proc.stdout, proc.env, proc.platform, colourWanted);
  const errTerminal = terminalFor(proc.stderr, proc.env, proc.platform, colourWanted);
  const shown = (text: string) => (terminal.unicode ? text : plainAscii(text));

  const toStdout = async (content: string | Readable) => {
    if (typeof content !== 'string') return pipeline(content, proc.stdout, { end: false });
    if (!proc.stdout.write(content)) await once(proc.stdout, 'drain');
  };
  const tell = (line: string) => {
    proc.stderr.write(`${shown(line)}\n`);
  };

  return {
    terminal,
    style: styleFor(terminal.colour),
    errStyle: styleFor(errTerminal.colour),
    env: (name) => proc.env[name],
    isWatched: proc.stdout.isTTY === true,
    ...(proc.stderr.isTTY &&
      proc.env.TERM !== 'dumb' && {
        redraw: (line: string) => void proc.stderr.write(`\r\u001b[K${line.slice(0, (proc.stderr.columns || 80) - 1)}`),
      }),
    ...(proc.stdin.isTTY &&
      proc.stderr.isTTY &&
      proc.env.TERM !== 'dumb' && { dialogue: { input: proc.stdin, output: proc.stderr } }),
    today: () => {
      const now = new Date();
      const two = (value: number) => String(value).padStart(2, '0');
      return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
    },
    nowMs: () => Date.now(),
    readBytes: (path, kind, maxBytes) => readBytes(path, kind, maxBytes, proc.stdin),
    look,
    openBytes: (path, kind) => openBytes(path, kind, proc.stdin),
    claim: async (path, { force = false, inputs }) => (path === '-' ? 'stdout' : claimFile(path, force, inputs)),
    write: async (sink, content, { quiet = false, what } = {}) => {
      if (sink === 'stdout') return toStdout(content);
      await writeWhole(sink, content);
      if (!quiet) tell(`wrote ${oneLine(sink.path)}${what ? ` (${what})` : ''}`);
    },
    print: (text) => toStdout(shown(text)),
    tell,
    finish: (exitCode) => {
      proc.exitCode = exitCode;
    },
  };
}
