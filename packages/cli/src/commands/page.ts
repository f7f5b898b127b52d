import type { Command } from 'commander';
import type { Io } from '../io.js';
import type { PageOptions } from './given.js';
import { seedOption, startOption, yearsOption } from './options.js';
import { atOption, placeOption, weatherColumnOption } from './where.js';

export function addPage(program: Command, io: Io, version: string): void {
  program
    .command('page')
    .summary('one page that answers while you drag, for a phone without network')
    .description(
      'Writes one HTML file with everything in it, the model too: open it in a browser on a phone or a desk, without network, and drag battery, panels, place, month and habits; every answer follows. Without a rig it begins with one to change.',
    )
    .argument('[rig]', 'rig file, or - for standard input')
    .argument('[trip]', 'trip file, which its chart follows; without it say where with --at or --place, or in the page')
    .option('--out <file>', 'write the page to a file, such as stay.html; without it it is printed')
    .addOption(atOption())
    .addOption(placeOption())
    .option(
      '--from <date>',
      'first day, or when it starts: 2026-10-03, "2026-10-03 18:00" (that of opening it)',
      startOption,
    )
    .addOption(weatherColumnOption())
    .option('--parts <file>', 'parts list that the page weighs, as for size (an invented one)')
    .option('--years <n>', 'weather years of the climate (10)', yearsOption)
    .option('--seed <n>', 'another draw of made weather', seedOption)
    .option('--force', 'replace files that exist')
    .option('--quiet', 'say nothing beside the page but findings at level danger')
    .option('--no-color', 'no colours (NO_COLOR and TERM=dumb are heeded too)')
    .action(async (rigPath: string | undefined, tripPath: string | undefined, options: PageOptions) => {
      const { runPage } = await import('./page-action.js');
      io.finish(await runPage(io, rigPath, tripPath, options, version));
    });
}
