import { type Command, Option } from 'commander';
import type { Io } from '../io.js';
import type { CompareOptions } from './given.js';
import { addLogReading, LOG_GROUPS } from './log.js';
import { addCommon, columnOption, dateOption, setOption } from './options.js';
import { plotOption, reportOption } from './pictures.js';

const stampsOption = () =>
  new Option(
    '--stamps <what>',
    "what a row's time marks: start or end of its interval, or the instant of a reading; else the log itself tells",
  ).choices(['start', 'end', 'instant']);

/** Arguments and options of the commands that lay a log over a rig. */
export function addLogAndRig(command: Command): Command {
  return addCommon(
    addLogReading(
      command
        .argument('<rig>', 'rig file, or - for standard input')
        .argument('<log>', "the monitor's export, or - for standard input")
        .argument('[trip]', 'trip file with the stops of those days; without it say where with --at or --place'),
    )
      .optionsGroup(LOG_GROUPS.reading)
      .addOption(stampsOption())
      .optionsGroup(LOG_GROUPS.where)
      .option('--weather <file>', 'a weather file of those days; the irradiance of the log goes before its light')
      .option(
        '--weather-column <what=heading>',
        'which column of the weather file holds what; may be repeated',
        columnOption,
      )
      .option('--from <date>', 'first day taken, such as 2026-03-20', dateOption)
      .option('--to <date>', 'last day taken', dateOption)
      .addOption(setOption())
      .optionsGroup(LOG_GROUPS.result),
  );
}

export function addCompare(program: Command, io: Io): void {
  addLogAndRig(
    program
      .command('compare')
      .summary('is the system doing what it should, by its log? which part is not?')
      .description(
        "Run a rig through the days of a monitor's log, under the light that was there, and hold the two against each other: what agrees, what does not, and which part is the likely cause.",
      ),
  )
    .addOption(plotOption('log and model over the days'))
    .addOption(reportOption())
    .action(async (rigPath: string, logPath: string, tripPath: string | undefined, options: CompareOptions) => {
      const { runCompare } = await import('./compare-action.js');
      io.finish(await runCompare(io, { rigPath, logPath, tripPath }, options));
    });
}
