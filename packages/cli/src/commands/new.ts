import type { Command } from 'commander';
import type { Io } from '../io.js';

export interface NewOptions {
  readonly name?: string;
  readonly out?: string;
  readonly force?: boolean;
  readonly quiet?: boolean;
}

export function addNew(program: Command, io: Io): void {
  program
    .command('new')
    .summary('a commented rig to begin with')
    .description('Prints a commented starter rig: change its values to what is bolted into your vehicle.')
    .option('--name <name>', 'name of the rig')
    .option('--out <file>', 'write it to a file instead of printing it')
    .option('--force', 'replace the file if it exists')
    .option('--quiet', 'do not report the file that is written')
    .option('--no-color', 'no colours')
    .action(async (options: NewOptions) => {
      const { runNew } = await import('./new-action.js');
      io.finish(await runNew(io, options));
    });
}
