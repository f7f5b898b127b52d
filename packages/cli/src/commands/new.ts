import { type Command, InvalidArgumentError, Option } from 'commander';
import type { Io } from '../io.js';
import type { NewOptions } from './given.js';
import { atOption, placeOption } from './where.js';

export const CHEMISTRIES = ['LFP', 'AGM', 'gel', 'flooded'] as const;

export function addNew(program: Command, io: Io): void {
  program
    .command('new')
    .summary('a commented rig to begin with')
    .description(
      'Writes a commented starter rig: change its values to what is bolted into your vehicle. In a terminal it asks a few questions first, unless an option answers one of them.',
    )
    .option('--name <name>', 'name of the rig')
    .addOption(
      new Option('--chemistry <kind>', 'what the battery is made of (LFP)')
        .choices(CHEMISTRIES)
        .argParser(chemistryOption),
    )
    .option('--capacity <charge>', 'rated capacity of the battery (100Ah)')
    .option('--solar <power>', 'nameplate of all panels together, or none (150W)')
    .option('--fridge <volume>', 'inside of the fridge, or none (40L)')
    .addOption(placeOption())
    .addOption(atOption())
    .option('--trip <file>', 'write a trip to that place too')
    .option('--schema', 'write the JSON Schemas beside, with which an editor completes and checks')
    .option('--no-input', 'ask nothing')
    .option('--out <file>', 'write it to a file instead of printing it; - prints it')
    .option('--force', 'replace files that exist')
    .option('--quiet', 'do not report files that are written')
    .option('--no-color', 'no colours')
    .action(async (options: NewOptions) => {
      const { runNew } = await import('./new-action.js');
      io.finish(await runNew(io, options));
    });
}

function chemistryOption(text: string): (typeof CHEMISTRIES)[number] {
  const found = CHEMISTRIES.find((one) => one.toLowerCase() === text.trim().toLowerCase());
  if (!found) throw new InvalidArgumentError(`Give one of ${CHEMISTRIES.join(', ')}.`);
  return found;
}
