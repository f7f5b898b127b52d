import { EXIT } from '../../packages/cli/src/failure.js';
import type { Io } from '../../packages/cli/src/io.js';
import { buildProgram } from '../../packages/cli/src/program.js';
import { styleFor } from '../../packages/cli/src/show/style.js';

/** The program's own definitions, for tests that look at them instead of running it. */
export function definitions() {
  const refuse = () => {
    throw new Error('the definitions alone reach for nothing outside');
  };
  const style = styleFor(false);
  const io: Io = {
    terminal: { colour: false, width: 80, unicode: true },
    isWatched: false,
    style,
    errStyle: style,
    today: () => '2026-10-03',
    nowMs: () => Date.UTC(2026, 9, 3),
    env: () => undefined,
    readBytes: refuse,
    look: refuse,
    openBytes: refuse,
    claim: refuse,
    write: refuse,
    print: async () => {},
    tell: () => {},
    finish: (code) => {
      if (code !== EXIT.done) throw new Error(`ended with ${code}`);
    },
  };
  return buildProgram(io);
}
