import type { Command } from 'commander';
import type { Io } from '../io.js';
import type { ReportOptions } from './given.js';
import {
  addCommon,
  daysOption,
  percentOption,
  seedOption,
  setOption,
  startOption,
  stepOption,
  yearsOption,
} from './options.js';
import { atOption, placeOption, weatherColumnOption, weatherOption } from './where.js';

export function addReport(program: Command, io: Io): void {
  const report = addCommon(
    program
      .command('report')
      .summary('one page with all of it, to open on a phone, print or send')
      .description(
        'Joins simulate, stay, yield, wires and, with a parts list, size to one page that needs nothing else: to open in a browser, to print, or to send.',
      )
      .argument('<rig>', 'rig file, or - for standard input')
      .argument('[trip]', 'trip file; without it say where with --at or --place')
      .option('--parts <file>', 'parts list, for the trade of mass against price over the same days')
      .addOption(atOption())
      .addOption(placeOption())
      .option('--from <date>', 'first day, or when it starts: 2026-10-03, "2026-10-03 18:00" (today)', startOption)
      .option('--days <n>', 'how many days (7)', daysOption)
      .addOption(weatherOption())
      .addOption(weatherColumnOption())
      .option('--years <n>', 'weather years of the climate, for stay, yield and size (10)', yearsOption)
      .option('--seed <n>', 'another draw of made weather', seedOption)
      .option('--step <time>', 'time step, such as 10min', stepOption)
      .option('--start-soc <percent>', 'state of charge at the start', percentOption)
      .addOption(setOption()),
  ).action(async (rigPath: string, tripPath: string | undefined, options: ReportOptions) => {
    const { runReport } = await import('./report-action.js');
    io.finish(await runReport(io, rigPath, tripPath, options));
  });
  // Here the result is the page.
  const describe = (long: string, words: string) => {
    report.options.find((option) => option.long === long)!.description = words;
  };
  describe('--out', 'write the page to a file, such as report.html; without it it is printed');
  describe('--json', 'print the results of all the commands as one JSON document instead of the page');
  describe('--quiet', 'say nothing beside the page but findings at level danger');
}
