#!/usr/bin/env node
import { describeFailure, EXIT } from './failure.js';
import { removeUnfinished } from './files/write-file.js';
import { createIo } from './io.js';
import { buildProgram } from './program.js';
import { oneLine } from './show/style.js';

const SIGNALS = { SIGINT: 130, SIGTERM: 143, SIGHUP: 129 } as const;

const io = createIo(process);

function fail(error: unknown): void {
  removeUnfinished();
  const { lines, exitCode } = describeFailure(error, Boolean(process.env.STAYPUT_DEBUG));
  for (const line of lines)
    io.tell(
      process.env.STAYPUT_DEBUG ? line : line.replace(/^( *)(.*)$/s, (_, indent, text) => indent + oneLine(text)),
    );
  process.exitCode = exitCode;
}

// The reader of our results has gone, such as `head`: there is nobody to tell, and nothing is wrong.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (error: NodeJS.ErrnoException) => {
    removeUnfinished();
    process.exit(error.code === 'EPIPE' ? EXIT.done : EXIT.ourFault);
  });
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
