import { describeFailure, EXIT, failureDocument, isCallError } from './failure.js';
import { removeUnfinished } from './files/write-file.js';
import type { Io } from './io.js';
import { buildProgram } from './program.js';
import { jsonText } from './show/json.js';
import { oneLine } from './show/style.js';

/**
 * Runs one call to its end. It never throws: failures are worded on standard error, `io.finish` gets the exit code, and with `--json`
 * standard output gets one document all the same.
 */
export async function run(io: Io, args: readonly string[]): Promise<void> {
  try {
    await buildProgram(io).parseAsync(args, { from: 'user' });
  } catch (error) {
    let exitCode: number;
    if (isCallError(error)) {
      // commander has printed its own message or the help by now
      exitCode = error.exitCode === 0 ? EXIT.done : EXIT.wrongInput;
      io.finish(exitCode);
    } else exitCode = fail(io, error);
    if (exitCode !== EXIT.done && args.includes('--json'))
      await io.write('stdout', jsonText(failureDocument(error, args, exitCode)));
  }
}

/** Words what was thrown, and leaves nothing half-written. */
export function fail(io: Io, error: unknown): number {
  removeUnfinished();
  const isDebug = Boolean(io.env('STAYPUT_DEBUG'));
  const { lines, exitCode } = describeFailure(error, isDebug);
  for (const line of lines) io.tell(isDebug ? line : line.match(/^ */)![0] + oneLine(line));
  io.finish(exitCode);
  return exitCode;
}
