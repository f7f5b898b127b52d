import { describeFailure, EXIT } from './failure.js';
import { removeUnfinished } from './files/write-file.js';
import type { Io } from './io.js';
import { buildProgram } from './program.js';
import { oneLine } from './show/style.js';

/** Runs one call to its end. It never throws: failures are worded on standard error, and `io.finish` gets the exit code. */
export async function run(io: Io, args: readonly string[]): Promise<void> {
  try {
    await buildProgram(io).parseAsync(args, { from: 'user' });
  } catch (error) {
    // commander has printed its own message or the help by now
    if (error instanceof Error && 'exitCode' in error && 'code' in error && String(error.code).startsWith('commander.'))
      io.finish(error.exitCode === 0 ? EXIT.done : EXIT.wrongInput);
    else fail(io, error);
  }
}

/** Words what was thrown, and leaves nothing half-written. */
export function fail(io: Io, error: unknown): void {
  removeUnfinished();
  const isDebug = Boolean(io.env('STAYPUT_DEBUG'));
  const { lines, exitCode } = describeFailure(error, isDebug);
  for (const line of lines) io.tell(isDebug ? line : line.match(/^ */)![0] + oneLine(line));
  io.finish(exitCode);
}
