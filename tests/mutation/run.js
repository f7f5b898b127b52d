// npm run mutation -- --room wire: breaks one room of core in every way Stryker knows, and tells how often a test notices.
import { readFile, writeFile } from 'node:fs/promises';
import { relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { Stryker } from '@stryker-mutator/core';
import { drawn, keyOf, mutantsOf, rangeOf, sourcesOf } from './mutants.js';
import { ROOMS } from './rooms.js';
import { tableOf } from './score.js';

const HELP = `npm run mutation -- --room ROOM [--file NAME]... [--sample N] [--seed N] [--again] [--workers N]

  --room ROOM   ${Object.keys(ROOMS).join(', ')}
  --file NAME   of the room only this file, such as loop.ts; may be given again for more
  --sample N    try N mutants of the room, drawn at random, instead of all
  --seed N      draw others (default 1)
  --again       after tests were added: try again what the room's last run did not kill, and keep what it killed
  --workers N   try N at once (default 1, which leaves other cores to others)

Every mutant and its fate: .stryker/ROOM.json, to be opened with any viewer of mutation testing reports.
`;

const { values } = parseArgs({
  options: {
    room: { type: 'string' },
    file: { type: 'string', multiple: true },
    sample: { type: 'string' },
    seed: { type: 'string', default: '1' },
    again: { type: 'boolean', default: false },
    workers: { type: 'string', default: '1' },
    help: { type: 'boolean', default: false },
  },
});
const { room } = values;
if (values.help || !ROOMS[room]) {
  process.stdout.write(HELP);
  process.exit(values.help ? 0 : 2);
}

process.chdir(fileURLToPath(new URL('../..', import.meta.url)));
// for bundle.js and vitest.config.ts, which Stryker runs in its copy of the house, before the copy has core's packages
Object.assign(process.env, { ROOM: room, CORE_PACKAGES: resolve('packages/core/node_modules') });
const reportFile = `.stryker/${room}.json`;
const readReport = async () => JSON.parse(await readFile(reportFile, 'utf8'));

/** A mutant of a report as Stryker has it inside: reports count lines and columns from 1. */
function inside(fileName, { location, ...rest }) {
  const from0 = ({ line, column }) => ({ line: line - 1, column: column - 1 });
  return { ...rest, fileName, location: { start: from0(location.start), end: from0(location.end) } };
}

/** What the last run did not kill, and of a file that has changed since everything. */
async function toTryAgain({ files, config }, all) {
  const changed = new Set();
  for (const [file, { source }] of Object.entries(files))
    if ((await readFile(file, 'utf8').catch(() => '')) !== source) changed.add(file);
  if (changed.size > 0 && config.only)
    throw new Error(`${[...changed]} changed since the sample was drawn: draw again`);
  const alive = new Set();
  for (const [file, { mutants }] of Object.entries(files))
    for (const mutant of mutants)
      if (['Survived', 'Timeout', 'NoCoverage'].includes(mutant.status)) alive.add(keyOf(inside(file, mutant)));
  return all.filter((mutant) => changed.has(relative('', mutant.fileName)) || alive.has(keyOf(mutant)));
}

const sources = await sourcesOf(room, values.file);
const last = values.again ? await readReport() : undefined;
const all = await mutantsOf(sources);
const asked = last ? await toTryAgain(last, all) : values.sample ? drawn(all, Number(values.sample), values.seed) : all;
const some = asked.length < all.length && { checkers: ['only'], only: asked.map(keyOf) };

await new Stryker({
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner', './tests/mutation/only.js'],
  vitest: { configFile: 'tests/mutation/vitest.config.ts', related: false },
  buildCommand: 'node tests/mutation/bundle.js',
  mutate: some ? asked.map(rangeOf) : sources,
  ...some,
  coverageAnalysis: 'perTest',
  ignoreStatic: true,
  concurrency: Number(values.workers),
  // Wide, as the machine may have other work; an endless loop is mostly ended by Stryker's count of its rounds.
  timeoutMS: 45_000,
  timeoutFactor: 3,
  dryRunTimeoutMinutes: 30,
  reporters: ['progress-append-only', 'clear-text', 'json'],
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false, reportScoreTable: false },
  jsonReporter: { fileName: reportFile },
  ignorePatterns: ['.stryker', 'dist', 'docs', 'fuzz-failures', 'tests/mutation/bundle'],
  disableTypeChecks: false, // esbuild drops the types
  tempDirName: `.stryker/${room}`,
  allowConsoleColors: false,
}).runMutationTest();

const report = await readReport();
const keys = new Set(asked.map(keyOf));
for (const [file, entry] of Object.entries(report.files))
  entry.mutants = entry.mutants.filter((mutant) => keys.has(keyOf(inside(file, mutant))));
// What was not tried again keeps its fate, unless its file has changed.
for (const [file, entry] of Object.entries(last?.files ?? {})) {
  const now = report.files[file];
  if (now && now.source !== entry.source) continue;
  const kept = entry.mutants.filter((mutant) => !keys.has(keyOf(inside(file, mutant))));
  report.files[file] = { ...entry, mutants: [...kept, ...(now?.mutants ?? [])] };
}
await writeFile(reportFile, JSON.stringify({ ...report, config: (last ?? report).config }));
const mutants = Object.values(report.files).flatMap((entry) => entry.mutants);
process.stdout.write(`\n${tableOf(room, all.length, mutants)}\n`);
