import type { Command } from 'commander';
import type { Io } from '../io.js';
import type { YieldOptions } from './given.js';
import { addCommon, seedOption, setOption, stepOption, yearsOption } from './options.js';
import { plotOption, reportOption } from './pictures.js';
import { atOption, placeOption, weatherColumnOption, weatherOption } from './where.js';

export function addYield(program: Command, io: Io): void {
  addCommon(
    program
      .command('yield')
      .summary('what the panels give at a place, month by month')
      .description(
        'What the panels give at a place, month by month: the light, the yield and its spread, the best tilt, and where the rest goes.',
      )
      .argument('<rig>', 'rig file, or - for standard input')
      .argument('[trip]', 'trip file, whose first stop is looked at; without it say where with --at or --place')
      .addOption(atOption())
      .addOption(placeOption())
      .addOption(weatherOption())
      .addOption(weatherColumnOption())
      .option('--years <n>', 'weather years of the climate (10)', yearsOption)
      .option('--seed <n>', 'another draw of made weather', seedOption)
      .option('--step <time>', 'time step, such as 10min', stepOption)
      .addOption(setOption())
      .addOption(plotOption('the months'))
      .addOption(reportOption()),
  ).action(async (rigPath: string, tripPath: string | undefined, options: YieldOptions) => {
    const { runYield } = await import('./yield-action.js');
    io.finish(await runYield(io, rigPath, tripPath, options));
  });
}
