#!/usr/bin/env node
import { describeFailure, EXIT, InputError } from './failure.js';
import { removeUnfinished } from './files/write-file.js';
import { createIo } from './io.js';
import { buildProgram } from './program.js';
import { oneLine } from './show/style.js';

const SIGNALS = { SIGINT: EXIT.stopped, SIGTERM: 143, SIGHUP: 129 } as const;

const io = createIo(process);

function fail(error: unknown): void {
  removeUnfinished();
  const isDebug = Boolean(process.env.STAYPUT_DEBUG);
  const { lines, exitCode } = describeFailure(error, isDebug);
  for (const line of lines) io.tell(isDebug ? line : line.match(/^ */)![0] + oneLine(line));
  process.exitCode = exitCode;
}

// The reader of our results has gone, such as `head`: there is nobody to tell, and nothing is wrong.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  removeUnfinished();
  if (error.code === 'EPIPE') process.exit(EXIT.done);
  fail(new InputError(`standard output cannot be written: ${error.message}`));
  process.exit();
});
process.stderr.on('error', () => {}); // nobody reads our remarks: the results still count
for (const [signal, exitCode] of Object.entries(SIGNALS))
  process.on(signal, () => {
    removeUnfinished();
    process.exit(exitCode);
  });
process.on('uncaughtException', (error) => {
  fail(error);
  process.exit();
});

const program = buildProgram(io);
program.parseAsync().catch((error: unknown) => {
  // commander has printed its own message or the help by now
  if (error instanceof Error && 'exitCode' in error && 'code' in error && String(error.code).startsWith('commander.'))
    process.exitCode = error.exitCode === 0 ? EXIT.done : EXIT.wrongInput;
  else fail(error);
});
