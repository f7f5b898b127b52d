#!/usr/bin/env node
import { EXIT, InputError } from './failure.js';
import { isDeviceWaiting, removeUnfinished } from './files/write-file.js';
import { createIo } from './io.js';
import { fail, run } from './run.js';

const SIGNALS = { SIGINT: EXIT.stopped, SIGTERM: 143, SIGHUP: 129 } as const;

const io = createIo(process);

// The reader of our results has gone, such as `head`: there is nobody to tell, and nothing is wrong.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  removeUnfinished();
  if (error.code === 'EPIPE') process.exit(EXIT.done);
  fail(io, new InputError(`standard output cannot be written: ${error.message}`));
  process.exit();
});
process.stderr.on('error', () => {}); // nobody reads our remarks: the results still count
for (const [signal, exitCode] of Object.entries(SIGNALS))
  process.on(signal, () => {
    removeUnfinished();
    if (!isDeviceWaiting()) process.exit(exitCode);
    // an exit would wait for what is written: the signal itself does not
    process.removeAllListeners(signal);
    process.kill(process.pid, signal);
  });
process.on('uncaughtException', (error) => {
  fail(io, error);
  process.exit();
});

void run(io, process.argv.slice(2));
