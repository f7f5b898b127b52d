import type { Command } from 'commander';
import type { Io } from '../io.js';
import type { CheckOptions } from './given.js';
import { addCommon, setOption } from './options.js';
import { plotOption, reportOption } from './pictures.js';

export function addCheck(program: Command, io: Io): void {
  addCommon(
    program
      .command('check')
      .summary('whether a rig is right, and whether anything in it is dangerous or silly')
      .description('Says what to look at in a rig, danger, caution or note, and then what the rig is in plain words.')
      .argument('<rig>', 'rig file, or - for standard input')
      .argument('[trip]', 'trip file, read along')
      .option('--defaults', 'also each default that was taken, with its reason')
      .addOption(plotOption('what each load asks for'))
      .addOption(reportOption())
      .addOption(setOption()),
  ).action(async (rigPath: string, tripPath: string | undefined, options: CheckOptions) => {
    const { runCheck } = await import('./check-action.js');
    io.finish(await runCheck(io, rigPath, tripPath, options));
  });
}
