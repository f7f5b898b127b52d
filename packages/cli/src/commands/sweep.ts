import type { SweepPart } from '@stayput/core';
import { type Command, InvalidArgumentError, Option } from 'commander';
import { type Block, blockLines } from '../help/blocks.js';
import { helpWidth } from '../help/examples.js';
import type { Io } from '../io.js';
import type { SweepOptions } from './given.js';
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
import { plotOption, reportOption } from './pictures.js';
import { atOption, placeOption, weatherColumnOption, weatherOption } from './where.js';

/** Told under the options, and fitted to the width. */
const NOTES: readonly Block[] = [
  {
    text: 'Values of --vary are a range first:step:last with its unit, or a list, in which ranges may stand too; 10:20 is a time of the day, 10:1:20 a range. The last --vary changes fastest and shares the columns of the others: put the battery there.',
  },
  {
    text: 'Rows go to the file of --out as they are worked out, always in the same order. When the program is stopped, the same command goes on after the last whole row. While it runs the file is locked; the last column, check, tells whether a row was changed since.',
  },
  { heading: 'Over many machines' },
  {
    text: 'Each does one part, and sweep merge joins the parts. With GNU Parallel:',
  },
  {
    code: `parallel stayput sweep rig.yaml --place Porto \\
  --workers 1 --vary battery.capacity=50:1:400Ah \\
  --part {#}/8 --out part-{#}.csv ::: 1 2 3 4 5 6 7 8
stayput sweep merge all.csv part-*.csv`,
  },
  {
    entries: [
      [
        'Slurm',
        'in an array job the part is SLURM_ARRAY_TASK_ID of SLURM_ARRAY_TASK_COUNT, unless --part says otherwise',
      ],
      ['Kubernetes', 'in an indexed job the part is JOB_COMPLETION_INDEX, which begins with 0, of STAYPUT_PARTS'],
    ],
  },
];

export function addSweep(program: Command, io: Io, version: string): void {
  const sweep = addCommon(
    program
      .command('sweep')
      .summary('what if: one row for every combination of values')
      .description(
        'What if: varies quantities of the rig or the trip, and gives one row for every combination of their values.',
      )
      .argument('<rig>', 'rig file, or - for standard input')
      .argument('[trip]', 'trip file; without it say where with --at or --place')
      .option(
        '--vary <path=values>',
        'what to vary, such as "battery.capacity=50:25:200 Ah"; may be repeated',
        repeated,
      )
      .option('--sample <n>', 'draw so many variants (Latin hypercube, by the seed) instead of all', countOption)
      .option(
        '--years <n>',
        'weather years, answered as percentiles (1 of the climate, all of weather files)',
        yearsOption,
      )
      .option('--part <i/n>', 'only this part of the variants, such as 2/8 (from a job engine’s environment)', partText)
      .option('--workers <n>', 'threads that work (one a core)', workersOption)
      .addOption(plotOption('an answer over one or two quantities'))
      .addOption(reportOption())
      .option(
        '--answer <name>',
        'which answer to draw, such as lowestSoc (unservedHours; lowestSoc where nothing is without power)',
      )
      .addOption(atOption())
      .addOption(placeOption())
      .option('--from <date>', 'first day, or when it starts, such as "2026-10-03 18:00" (2025-01-01)', startOption)
      .option('--days <n>', 'how many days (365)', daysOption)
      .addOption(weatherOption())
      .addOption(weatherColumnOption())
      .option('--seed <n>', 'another draw of made weather, and of the sample', seedOption)
      .option('--step <time>', 'time step, such as 10min', stepOption)
      .option('--random-loads', 'loads with hours or times a day run at random moments, by the seed')
      .option('--start-soc <percent>', 'state of charge at the start', percentOption)
      .addOption(setOption()),
  )
    .addHelpText('after', ({ command }) => `\n${blockLines(NOTES, helpWidth(command), io.style).join('\n')}`)
    .action(async (rigPath: string, tripPath: string | undefined, options: SweepOptions) => {
      const { runSweep } = await import('./sweep-action.js');
      io.finish(await runSweep(io, rigPath, tripPath, options, version));
    });

  // Here it is not the text for people that a file holds.
  const out = sweep.options.find(({ long }) => long === '--out')!;
  out.description = 'write the rows as CSV, and go on with those of the same sweep that are there; - prints them';

  sweep
    .command('merge')
    .summary('join the parts of a sweep')
    .description('Joins the files of a sweep’s parts to one; refuses gaps, overlaps, and parts of another sweep.')
    .argument('<out>', 'file to write, or - to print it')
    .argument('<parts...>', 'files of the parts, in any order')
    .addOption(new Option('--force', 'replace the file if it exists'))
    .option('--quiet', 'say nothing when all is well')
    .action(async (out: string, parts: string[], _, command: Command) => {
      const { runMerge } = await import('./sweep-merge-action.js');
      io.finish(await runMerge(io, out, parts, command.optsWithGlobals()));
    });
}

const repeated = (text: string, before: string[] | undefined) => [...(before ?? []), text];

function countOption(text: string): number {
  if (!/^\d{1,9}$/.test(text) || Number(text) < 1) throw new InvalidArgumentError('Give a whole number, 1 or more.');
  return Number(text);
}

const MAX_WORKERS = 256;

function workersOption(text: string): number {
  const workers = countOption(text);
  if (workers > MAX_WORKERS) throw new InvalidArgumentError(`Give a whole number, 1 to ${MAX_WORKERS}.`);
  return workers;
}

const MAX_PARTS = 1_000_000;

/** "2/8" */
function partText(text: string): SweepPart {
  const found = /^\s*(\d{1,7})\s*\/\s*(\d{1,7})\s*$/.exec(text);
  const [part, of] = [Number(found?.[1]), Number(found?.[2])];
  if (!found || part < 1 || of > MAX_PARTS || part > of)
    throw new InvalidArgumentError('Give which part of how many, from 1: such as 2/8.');
  return { part, of };
}
