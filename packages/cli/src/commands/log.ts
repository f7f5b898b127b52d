import { type Command, InvalidArgumentError, Option } from 'commander';
import type { Io } from '../io.js';
import type { LogCommandOptions } from './given.js';
import { addCommon, columnOption } from './options.js';
import { plotOption, reportOption } from './pictures.js';
import { atOption, placeOption } from './where.js';

/** Under which headings the many options of commands that read a log stand in their help. */
export const LOG_GROUPS = {
  where: 'Where and when:',
  reading: 'What the log itself does not tell, or is read wrongly:',
  fit: 'What is fitted:',
  result: 'What comes out:',
} as const;

const repeated = (text: string, before: string[] = []) => [...before, text];

export function addLogReading(command: Command): Command {
  return command
    .optionsGroup(LOG_GROUPS.where)
    .addOption(placeOption())
    .addOption(atOption())
    .optionsGroup(LOG_GROUPS.reading)
    .option('--zone <zone>', "time zone of the log's clock, such as Europe/Lisbon or UTC+02:00", (text: string) => {
      if (text.trim() === '') throw new InvalidArgumentError('Give a time zone, such as Europe/Lisbon.');
      return text.trim();
    })
    .addOption(
      new Option('--date-order <order>', 'of day (d), month (m) and year (y) in its dates').choices([
        'ymd',
        'dmy',
        'mdy',
      ]),
    )
    .addOption(
      new Option(
        '--column <what=heading>',
        'which column holds what, by heading or number: voltage="Batt U"; may be repeated',
      ).argParser(columnOption),
    )
    .addOption(
      new Option('--positive <sense>', 'what a positive battery current means').choices(['charging', 'discharging']),
    )
    .addOption(
      new Option(
        '--unit <what=unit>',
        'unit of a column whose heading names none, or a wrong one: solarPower=kW; may be repeated',
      ).argParser((text: string, before: Record<string, string> | undefined) => columnOption(text, before)),
    )
    .option('--ignore <heading>', 'a column that is not to be read, by heading or number; may be repeated', repeated)
    .addOption(
      new Option('--solar-side <side>', 'the side of the controller that a solar current is of').choices([
        'panel',
        'battery',
      ]),
    )
    .addOption(new Option('--calendar <calendar>', 'of the years in its dates').choices(['gregorian', 'buddhist']))
    .option('--sort', 'keep all rows in memory and sort them by their times')
    .optionsGroup(LOG_GROUPS.result);
}

export function addLog(program: Command, io: Io): void {
  addCommon(
    addLogReading(
      program
        .command('log')
        .summary("what a monitor's log says, cleaned and day by day")
        .description(
          "Read a battery monitor's log (CSV of any size): what was understood, what each day shows, and a tidy copy; every row is kept, corrected or rejected, with its reason.",
        )
        .argument('<file>', "the monitor's export, or - for standard input"),
    )
      .option('--tidy <file>', 'write the tidy log as CSV: UTC, V, A, W, charging positive; - prints it')
      .addOption(plotOption('how low and how high each day went'))
      .addOption(reportOption())
      .option(
        '--rejects <file>',
        'write each row that was corrected or rejected, with its line and reason, as CSV; a row that begins with = + - or @ has an apostrophe before it',
      ),
  ).action(async (path: string, options: LogCommandOptions) => {
    const { runLog } = await import('./log-action.js');
    io.finish(await runLog(io, path, options));
  });
}
