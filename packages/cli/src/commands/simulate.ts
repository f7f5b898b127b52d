import type { Command } from 'commander';
import type { Io } from '../io.js';
import type { SimulateOptions } from './given.js';
import {
  addCommon,
  daysOption,
  ensembleOption,
  percentOption,
  seedOption,
  setOption,
  startOption,
  stepOption,
} from './options.js';
import { plotOption, reportOption } from './pictures.js';
import { atOption, placeOption, weatherColumnOption, weatherOption } from './where.js';

export function addSimulate(program: Command, io: Io): void {
  addCommon(
    program
      .command('simulate')
      .summary('how the battery fares over a trip, hour by hour')
      .description('Follows a rig through a trip, or through days at one place: does it ever run flat, when, and why?')
      .argument('<rig>', 'rig file, or - for standard input')
      .argument('[trip]', 'trip file; without it say where with --at or --place')
      .addOption(atOption())
      .addOption(placeOption())
      .option('--from <date>', 'first day, or when it starts: 2026-10-03, "2026-10-03 18:00" (today)', startOption)
      .option('--days <n>', 'how many days (7)', daysOption)
      .addOption(weatherOption())
      .addOption(weatherColumnOption())
      .addOption(ensembleOption())
      .option('--seed <n>', 'another draw of made weather', seedOption)
      .option('--step <time>', 'time step, such as 10min', stepOption)
      .option(
        '--random-loads',
        'loads with hours or times a day run at random moments, by the seed; left out = their energy is spread evenly, and limits are judged at their full power',
      )
      .option('--start-soc <percent>', 'state of charge at the start', percentOption)
      .addOption(setOption())
      .option('--detail', 'all tables: each day, load and fridge, the battery, where each watt-hour went')
      .option('--trace <file>', 'write every step as CSV; - prints it')
      .addOption(plotOption('the state of charge'))
      .addOption(reportOption())
      .option('--never-below <percent>', 'target: the battery stays above; exit code 1 when it does not', percentOption)
      .option('--never-off', 'target: no load goes without power; exit code 1 when one does'),
  ).action(async (rigPath: string, tripPath: string | undefined, options: SimulateOptions) => {
    const { runSimulate } = await import('./simulate-action.js');
    io.finish(await runSimulate(io, rigPath, tripPath, options));
  });
}
