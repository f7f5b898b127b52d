import { type Command, InvalidArgumentError, Option } from 'commander';
import type { Io } from '../io.js';
import type { SizeCommandOptions } from './given.js';
import {
  addCommon,
  dateOption,
  daysOption,
  ensembleOption,
  monthOf,
  seedOption,
  setOption,
  stepOption,
  yearsOption,
} from './options.js';
import { plotOption, reportOption } from './pictures.js';
import { weatherColumnOption, weatherOption } from './where.js';

export function addSize(program: Command, io: Io): void {
  addCommon(
    program
      .command('size')
      .summary('which battery and panels of a parts list would do')
      .description(
        "Which of the parts that could be bought serve the rig's loads: the trade between mass, price and nights without power, over weather years.",
      )
      .argument('<rig>', 'rig file whose loads and wires stay, or - for standard input')
      .argument('<parts>', 'parts list: batteries, panels, chargers, limits and target')
      .argument('[trip]', 'trip file; without it say where with --at or --place')
      .addOption(many('--at <lat,lon>', 'where, in degrees, south and west negative; may be repeated'))
      .addOption(many('--place <name>', 'where, by name; may be repeated, and each must do'))
      .option('--month <months>', 'in which months: oct, or jun-aug (the whole year)', monthOption)
      .addOption(new Option('--months <months>', 'the same as --month').argParser(monthOption).hideHelp())
      .option('--from <date>', 'first day, such as 2026-10-03, instead of a month', dateOption)
      .option('--days <n>', 'how many days from there (14)', daysOption)
      .addOption(weatherOption())
      .addOption(weatherColumnOption())
      .option('--years <n>', 'weather years of the climate (10)', yearsOption)
      .addOption(ensembleOption())
      .option('--seed <n>', 'another draw of made weather', seedOption)
      .option('--step <time>', 'time step, such as 30min', stepOption)
      .option('--autonomy <days>', 'days without sun in the hand worksheet (3)', autonomyOption)
      .addOption(setOption())
      .addOption(plotOption('mass against price'))
      .addOption(reportOption()),
  ).action(
    async (
      rigPath: string,
      partsPath: string,
      tripPath: string | undefined,
      given: SizeCommandOptions & { months?: NonNullable<SizeCommandOptions['month']> },
    ) => {
      const { runSize } = await import('./size-action.js');
      const { months, ...rest } = given;
      const options = months ? { month: months, ...rest } : rest;
      io.finish(await runSize(io, rigPath, partsPath, tripPath, options));
    },
  );
}

const many = (flags: string, description: string) =>
  new Option(flags, description).argParser((text: string, before: string[] | undefined) => [...(before ?? []), text]);

function monthOption(text: string): { first: number; last: number } {
  const [first, last = first, ...more] = text.split('-').map(monthOf);
  if (more.length > 0 || first === undefined || last === undefined)
    throw new InvalidArgumentError('Give a month or the first and the last, such as oct or jun-aug.');
  return { first, last };
}

function autonomyOption(text: string): number {
  const days = Number(text);
  if (!(days > 0 && days <= 100)) throw new InvalidArgumentError('Give days, more than 0 and up to 100.');
  return days;
}
