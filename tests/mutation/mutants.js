// The mutants of a room as Stryker makes them, before any is tried: to draw a sample from.
import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { relative, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

/** Not mutated: faces that only export, and the table of places, whose figures other tests hold against their sources. */
const isMutated = (name) => name.endsWith('.ts') && !name.endsWith('index.ts') && !name.startsWith('places-table');

export async function sourcesOf(room, names) {
  const folder = `packages/core/src/${room}`;
  const mutated = (await readdir(folder, { recursive: true })).filter(isMutated);
  const unknown = names?.find((name) => !mutated.includes(name));
  if (unknown) throw new RangeError(`${unknown} is not among ${mutated.join(', ')}`);
  return (names ?? mutated).map((name) => `${folder}/${name}`);
}

/** What tells a mutant from all others of the same source, wherever the house stands. Lines and columns start at 0. */
export const keyOf = ({ fileName, location: { start, end }, mutatorName, replacement }) =>
  [relative('', fileName), start.line, start.column, end.line, end.column, mutatorName, replacement].join(' ');

/** Stryker's way to name a piece of source: lines start at 1, columns at 0. */
export const rangeOf = ({ fileName, location: { start, end } }) =>
  `${relative('', fileName)}:${start.line + 1}:${start.column}-${end.line + 1}:${end.column}`;

export async function mutantsOf(sources) {
  const ofStryker = createRequire(createRequire(import.meta.url).resolve('@stryker-mutator/core'));
  const load = (name) => import(pathToFileURL(ofStryker.resolve(name)).href);
  const [{ createInstrumenter }, { createInjector }] = [
    await load('@stryker-mutator/instrumenter'),
    await load('typed-inject'),
  ];
  const silent = { isDebugEnabled: () => false, debug() {}, info() {}, warn() {}, trace() {} };
  const instrumenter = createInjector().provideValue('logger', silent).injectFunction(createInstrumenter);
  const files = await Promise.all(
    sources.map(async (name) => ({ name: resolve(name), mutate: true, content: await readFile(name, 'utf8') })),
  );
  const { mutants } = await instrumenter.instrument(files, { plugins: null, excludedMutations: [], ignorers: [] });
  return mutants;
}

/** The first of a fixed, even shuffle: the same source and seed always draw the same ones. */
export function drawn(mutants, sample, seed) {
  const lot = (mutant) =>
    createHash('sha256')
      .update(`${seed} ${keyOf(mutant)}`)
      .digest('hex');
  const lots = mutants.map((mutant) => [lot(mutant), mutant]).sort(([a], [b]) => (a < b ? -1 : 1));
  return lots.slice(0, sample).map(([, mutant]) => mutant);
}
