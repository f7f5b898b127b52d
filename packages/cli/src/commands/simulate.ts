import { type Command, Option } from 'commander';
import type { Io } from '../io.js';
import {
  addCommon,
  type CommonOptions,
  columnOption,
  dateOption,
  daysOption,
  percentOption,
  seedOption,
  setOption,
  stepOption,
} from './options.js';

export interface SimulateOptions extends CommonOptions {
  readonly at?: string;
  readonly place?: string;
  readonly from?: string;
  readonly days?: number;
  readonly weather?: string;
  readonly column?: Record<string, string>;
  readonly seed?: number;
  /** [h] */
  readonly step?: number;
  readonly startSoc?: number;
  readonly set?: string[];
  readonly trace?: string;
  readonly neverBelow?: number;
  readonly neverOff?: boolean;
}

export function addSimulate(program: Command, io: Io): void {
  addCommon(
    program
      .command('simulate')
      .summary('how the battery fares over a trip, hour by hour')
      .description('Follows a rig through a trip, or through days at one place: does it ever run flat, when, and why?')
      .argument('<rig>', 'rig file, or - for standard input')
      .argument('[trip]', 'trip file; without it say where with --at or --place')
      .addOption(
        new Option('--at <lat,lon>', 'where, in degrees, south and west negative: 41.7,-8.8').conflicts('place'),
      )
      .option('--place <name>', 'where, by name')
      .option('--from <date>', 'first day, such as 2026-10-03 (today)', dateOption)
      .option('--days <n>', 'how many days (7)', daysOption)
      .option('--weather <kind>', 'clear, climate, dull, or a weather file')
      .option('--column <what=heading>', 'which column of a weather file holds what; may be repeated', columnOption)
      .option('--seed <n>', 'another draw of made weather', seedOption)
      .option('--step <time>', 'time step, such as 10min', stepOption)
      .option('--start-soc <percent>', 'state of charge at the start', percentOption)
      .addOption(setOption())
      .option('--trace <file>', 'write every step as CSV; - prints it')
      .option('--never-below <percent>', 'target: the battery stays above; exit code 1 when it does not', percentOption)
      .option('--never-off', 'target: no load goes without power; exit code 1 when one does'),
  )
    .addHelpText(
      'after',
      '\nExamples:\n  stayput simulate rig.yaml trip.yaml\n  stayput simulate rig.yaml --place Porto --from 2026-10-03 --days 14 --never-off',
    )
    .action(async (rigPath: string, tripPath: string | undefined, options: SimulateOptions) => {
      const { runSimulate } = await import('./simulate-action.js');
      io.finish(await runSimulate(io, rigPath, tripPath, options));
    });
}
