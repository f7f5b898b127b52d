import { type Command, InvalidArgumentError, Option } from 'commander';
import type { Io } from '../io.js';
import type { StayOptions } from './given.js';
import {
  addCommon,
  ensembleOption,
  monthOf,
  percentOption,
  seedOption,
  setOption,
  stepOption,
  yearsOption,
} from './options.js';
import { plotOption, reportOption } from './pictures.js';
import { atOption, placeOption, weatherColumnOption, weatherOption } from './where.js';

export function addStay(program: Command, io: Io): void {
  addCommon(
    program
      .command('stay')
      .summary('how many days one can stay, in the dark and with the sun of each month')
      .description(
        "How long a rig can stay put with the engine off: with no charging at all, and with each month's sun; what ends it, and what it would take to stay longer.",
      )
      .argument('<rig>', 'rig file, or - for standard input')
      .argument('[trip]', 'trip file, whose stops are looked at; without it say where with --at or --place')
      .addOption(atOption())
      .addOption(placeOption())
      .option('--months <list>', 'stays that begin in these, such as jun-aug,dec (all)', monthsOption)
      .addOption(new Option('--month <list>', 'the same as --months').argParser(monthsOption).hideHelp())
      .option('--from-soc <percent>', 'state of charge at which a stay begins (full)', percentOption)
      .option('--past-floor', 'stay on below the floor, until a load goes without power')
      .option('--horizon <days>', 'a stay this long counts as one without an end (60)', horizonOption)
      .addOption(weatherOption())
      .addOption(weatherColumnOption())
      .option('--years <n>', 'weather years of the climate (10)', yearsOption)
      .addOption(ensembleOption())
      .option('--seed <n>', 'another draw of made weather', seedOption)
      .option('--step <time>', 'time step, such as 30min', stepOption)
      .addOption(setOption())
      .addOption(plotOption('the months'))
      .addOption(reportOption())
      .option(
        '--at-least <days>',
        'target: nine stays in ten last so long; exit code 1 when they do not',
        lengthOption,
      ),
  ).action(
    async (rigPath: string, tripPath: string | undefined, given: StayOptions & { month?: readonly number[] }) => {
      const { runStay } = await import('./stay-action.js');
      const { month, ...options } = given;
      io.finish(await runStay(io, rigPath, tripPath, month ? { months: month, ...options } : options));
    },
  );
}

/** "jun-aug,dec" or "6-8,12" as 6, 7, 8, 12; a span may run over the turn of the year. */
export function monthsOption(text: string): number[] {
  const months = text.split(',').flatMap((part) => {
    const ends = part.split('-').map(monthOf);
    const [first, last = first] = ends;
    if (ends.length > 2 || !first || !last)
      throw new InvalidArgumentError('Give months or spans of them, such as jun-aug,dec.');
    return Array.from({ length: ((last - first + 12) % 12) + 1 }, (_, k) => ((first - 1 + k) % 12) + 1);
  });
  return [...new Set(months)].sort((a, b) => a - b);
}

/** "4d", "4 days" or "4" */
export function lengthOption(text: string): number {
  const found = /^\s*(\d+(?:\.\d+)?)\s*(d|days?)?\s*$/.exec(text);
  if (!found || !(Number(found[1]) > 0)) throw new InvalidArgumentError('Give days, such as 4d.');
  return Number(found[1]);
}

const MAX_HORIZON = 365;

function horizonOption(text: string): number {
  const days = lengthOption(text);
  if (!Number.isInteger(days) || days > MAX_HORIZON)
    throw new InvalidArgumentError(`Give whole days, 1 to ${MAX_HORIZON}.`);
  return days;
}
