// Tries inputs, one at a time, in a process of its own that can be ended when one of them does not end.
import { readFileSync } from 'node:fs';
import { type Corpus, corpusOf } from './corpus.js';
import type { Ask, Tried } from './protocol.js';
import { inputOf, isRefusal, optionsOf, TARGETS } from './targets.js';

const corpus: Corpus = corpusOf(process.argv[2]!);

/** What every program shares, and no input may change. */
const SHARED = [Object, Array, Function, String, Number, Boolean, RegExp, Promise, Map, Set, Date, Error] as const;
const sharedNames = () =>
  [...SHARED.flatMap((one) => [one, one.prototype]), globalThis, Math, JSON, Reflect].map(
    (one) => Reflect.ownKeys(one).length,
  );
const before = sharedNames();

process.on('message', async (ask: Ask) => {
  process.send!(await tried(ask));
});

async function tried({ target, seed, number, file }: Ask): Promise<Tried> {
  const input = file === undefined ? inputOf(target, seed, number, corpus) : readFileSync(file);
  const began = performance.now();
  let fault: string | undefined;
  let refused = false;
  try {
    await TARGETS[target].attempt(input, optionsOf(seed, number));
  } catch (error) {
    if (isRefusal(error)) refused = true;
    else fault = error instanceof Error ? (error.stack ?? error.message) : `thrown: ${String(error)}`;
  }
  if (sharedNames().some((count, i) => count !== before[i])) fault = 'a shared prototype has been changed';
  const { rss } = process.memoryUsage();
  return { ms: performance.now() - began, refused, rssMb: rss / 1e6, ...(fault !== undefined && { fault }) };
}
