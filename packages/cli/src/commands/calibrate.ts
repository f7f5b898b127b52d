import type { FitName } from '@stayput/core';
import { type Command, InvalidArgumentError } from 'commander';
import type { Io } from '../io.js';
import { addLogAndRig } from './compare.js';
import type { CalibrateCommandOptions } from './given.js';
import { LOG_GROUPS } from './log.js';
import { percentOption } from './options.js';
import { plotOption, reportOption } from './pictures.js';

/** Core's own list, written out so that `--help` need not load core. */
const FIT_NAMES = [
  'solar',
  'shade',
  'always-on',
  'fridge',
  'inverter',
  'resistance',
  'capacity',
] as const satisfies readonly FitName[];
const MAX_CHECK = 0.8;

export function addCalibrate(program: Command, io: Io): void {
  addLogAndRig(
    program
      .command('calibrate')
      .summary('fit a rig to its log, so that its forecasts can be trusted')
      .description(
        "Find what a monitor's log tells of a rig: what the panels give, what is left of the battery, what is always drawn; each with its interval. Instead of a log a few readings serve (a .yaml file; stayput help readings). Checked by a fit of the first days held against the last, and written into a copy of your rig file with your comments kept. Exit code 1 when nothing could be fitted.",
      ),
  )
    .optionsGroup(LOG_GROUPS.fit)
    .option(
      '--fit <names>',
      `what to fit, of ${FIT_NAMES.join(', ')}; all that the log can tell unless given`,
      fitOption,
    )
    .option('--check-share <percent>', 'share of the days, from the end, kept back for checking (33 %)', checkOption)
    .optionsGroup(LOG_GROUPS.result)
    .option(
      '--ensemble-out <file>',
      'of readings: write the vehicles that the rig may be, for --ensemble; - prints them',
    )
    .option(
      '--rig-out <file>',
      'write your rig file with the fitted values in it, of readings with the vehicles that it may be; - prints it',
    )
    .addOption(plotOption('how far the model is off before and after'))
    .addOption(reportOption())
    .action(
      async (rigPath: string, logPath: string, tripPath: string | undefined, options: CalibrateCommandOptions) => {
        if (/\.(ya?ml|json)$/i.test(logPath)) {
          const { runCalibrateReadings } = await import('./calibrate-readings-action.js');
          return io.finish(await runCalibrateReadings(io, { rigPath, logPath, tripPath }, options));
        }
        const { runCalibrate } = await import('./calibrate-action.js');
        io.finish(await runCalibrate(io, { rigPath, logPath, tripPath }, options));
      },
    );
}

function fitOption(text: string): FitName[] {
  const names = text.split(',').map((name) => name.trim());
  const wrong = names.find((name) => !FIT_NAMES.some((known) => known === name));
  if (wrong !== undefined)
    throw new InvalidArgumentError(
      `${wrong === '' ? 'A name is missing' : `There is no ${wrong}`}; take some of ${FIT_NAMES.join(', ')}.`,
    );
  return FIT_NAMES.filter((known) => names.includes(known));
}

function checkOption(text: string): number {
  const share = percentOption(text);
  if (share > MAX_CHECK)
    throw new InvalidArgumentError(`At most ${100 * MAX_CHECK} % can be kept back; the fit needs days too.`);
  return share;
}
