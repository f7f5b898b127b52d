import { Argument, type Command } from 'commander';
import type { Io } from '../io.js';

const SHELLS = ['bash', 'zsh', 'fish'] as const;

/** `completion` and `man`: what is made from the program's own definitions. */
export function addGenerated(program: Command, io: Io, version: string): void {
  program
    .command('completion')
    .summary('completion of commands, options and places for your shell')
    .description(
      'Prints a script that lets a shell complete commands, options, their values, files, and the names of places.',
    )
    .addArgument(new Argument('<shell>', 'which shell').choices(SHELLS))
    .action(async (shell: (typeof SHELLS)[number]) => {
      const { completionScript } = await import('./generated.js');
      await io.print(completionScript(program, shell, version));
    });
  program
    .command('man')
    .summary('the manual page')
    .description('Prints the manual page in roff, the format of man.')
    .action(async () => {
      const { manual } = await import('./generated.js');
      await io.print(manual(program, version));
    });
}
