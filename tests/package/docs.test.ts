import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { FACES, namesByHeading } from '../../packages/core/face.js';
import * as index from '../../packages/core/src/index.js';
import * as model from '../../packages/core/src/model.js';
import { emptyFolder, run } from './packed.js';
import { ROOT } from './production-tree.js';

/** It reads and writes all of the library: 10 s on an idle machine. */
const TAKES_A_WHILE_MS = 240_000;

const folder = emptyFolder();
afterAll(() => folder.remove());

test(
  'the library documents itself without a warning: each name has its words, and each type it needs is there',
  async () => {
    const typedoc = `${ROOT}/node_modules/typedoc/bin/typedoc`;
    const options = ['--options', `${ROOT}/packages/core/typedoc.json`, '--out', folder.path];
    // Its warnings are in the error that a code other than 0 throws.
    const { stdout, stderr } = await run(process.execPath, [typedoc, ...options]);
    expect(stdout + stderr).not.toMatch(/warning|error/i);
    expect(readdirSync(join(folder.path, 'functions'))).toContain('index.simulate.html');
    const page = readFileSync(join(folder.path, 'modules/index.html'), 'utf8');
    const headings = [...page.matchAll(/<h2 class="tsd-anchor-link"[^>]*>([^<]*)</g)].map(([, title]) => title);
    expect(headings).toEqual([...namesByHeading('index').keys()]);
  },
  TAKES_A_WHILE_MS,
);

describe.each(FACES)('src/%s.ts', (face) => {
  const headings = namesByHeading(face);
  const text = readFileSync(`${ROOT}/packages/core/src/${face}.ts`, 'utf8');

  test('names what it exports, and each name stands once beneath a heading', () => {
    expect(text).not.toMatch(/export (?:type )?\*/);
    expect(headings.has('')).toBe(false);
    const names = [...headings.values()].flat();
    expect(new Set(names).size).toBe(names.length);
  });

  test('each thing that it exports stands beneath a heading', () => {
    expect([...headings.values()].flat()).toEqual(expect.arrayContaining(Object.keys({ index, model }[face])));
  });
});

test('the face of the library is one screen of about 120 names, and the model repeats none of them', () => {
  const [face, model] = FACES.map((name) => [...namesByHeading(name).values()].flat());
  expect(face!.length).toBeLessThanOrEqual(140);
  expect(readFileSync(`${ROOT}/packages/core/src/index.ts`, 'utf8').split('\n').length).toBeLessThanOrEqual(90);
  expect(model!.filter((name) => face!.includes(name))).toEqual([]);
});
