import { type Command, Option } from 'commander';
import type { Io } from '../io.js';
import type { WiresOptions } from './given.js';
import { addCommon, setOption } from './options.js';
import { plotOption, reportOption } from './pictures.js';

export function addWires(program: Command, io: Io): void {
  addCommon(
    program
      .command('wires')
      .summary('which cable and fuse each circuit needs, and what reaches the appliance')
      .description(
        'Judges each circuit: what its cable loses, what arrives, how much it may carry, the fuse, and the next section that would do.',
      )
      .argument('<rig>', 'rig file, or - for standard input')
      .addOption(new Option('--air <temperature>', 'air around the cables inside (40 degC: a hot day)'))
      .addOption(new Option('--engine-air <temperature>', 'air around those in engine spaces (50 degC)'))
      .addOption(new Option('--roof-air <temperature>', 'air around panel cables on a sunlit roof (68 degC)'))
      .addOption(setOption())
      .addOption(plotOption('what the cables lose'))
      .addOption(reportOption())
      .option(
        '--all-ok',
        'target: every circuit has a cable that does, and every controller bears its panels; exit code 1 when one does not',
      ),
  ).action(async (rigPath: string, options: WiresOptions) => {
    const { runWires } = await import('./wires-action.js');
    io.finish(await runWires(io, rigPath, options));
  });
}
