import { type Command, InvalidArgumentError } from 'commander';
import type { Io } from '../io.js';
import type { TonightCommandOptions } from './given.js';
import { addCommon, ensembleOption, percentOption, seedOption, setOption } from './options.js';
import { plotOption, reportOption } from './pictures.js';
import { atOption, placeOption } from './where.js';

export function addTonight(program: Command, io: Io): void {
  addCommon(
    program
      .command('tonight')
      .summary('what can be used from now until the sun has paid the night back')
      .description(
        'What can be used from now on: watt-hours to spare until the sun has paid the night back, when the floor is reached, what to do without and when to drive. Say what the battery shows now and what the sky is to be.',
      )
      .argument('<rig>', 'rig file, or - for standard input')
      .addOption(atOption())
      .addOption(placeOption())
      .option('--now <time>', 'local clock time, such as 18:00, or "2026-10-10 18:00" (now)')
      .option('--soc <percent>', 'state of charge, as a monitor shows it')
      .option('--volts <volts>', 'or the voltage at the battery, such as "12.9 V"')
      .option('--amps <amps>', 'its current meanwhile, positive while charging, such as "-2 A" (rested)')
      .option(
        '--sky <days>',
        'the days to come, such as "dull, dull, fair" (or rain, cloudy, clear), "30 %, 80 %" of a clear sky, or "1.2, 3 kWh/m2"; the first is today before noon, else tomorrow; then the climate',
      )
      .option('--days <n>', 'how many days to look at where no sky is given (3)', daysAhead)
      .option(
        '--drive <when>',
        'planned, such as "10:00 for 1 h" or "2026-10-12 9:30 for 45 min"; may be repeated',
        several,
      )
      .option('--mains <when>', 'planned hours on mains, as for --drive; may be repeated', several)
      .option(
        '--use <what>',
        'planned beside the timetable: "laptop 3 h", "60 W 2 h at 20:00"; may be repeated',
        several,
      )
      .option('--never-below <percent>', "instead of the rig's floor; exit code 1 when it does not hold", percentOption)
      .option('--chance <percent>', 'with which it is to hold (90)', chanceOption)
      .addOption(ensembleOption())
      .option('--seed <n>', 'another draw of made weather', seedOption)
      .addOption(setOption())
      .addOption(plotOption('the next two days'))
      .addOption(reportOption()),
  ).action(async (rigPath: string, options: TonightCommandOptions) => {
    const { runTonight } = await import('./tonight-action.js');
    io.finish(await runTonight(io, rigPath, options));
  });
}

const several = (text: string, before: string[] | undefined): string[] => [...(before ?? []), text];

const MAX_DAYS = 14;

function daysAhead(text: string): number {
  const days = Number(text);
  if (!/^\d+$/.test(text) || days < 1 || days > MAX_DAYS)
    throw new InvalidArgumentError(`Give whole days, 1 to ${MAX_DAYS}.`);
  return days;
}

function chanceOption(text: string): number {
  const share = percentOption(text);
  if (!(share > 0.5 && share < 1)) throw new InvalidArgumentError('Give a chance above 50 and below 100, such as 90.');
  return share;
}
