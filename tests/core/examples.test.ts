import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { faceAliases } from '../../packages/core/face.js';

// Whatever code is shown to users of the library: in the guides, and under @example in its docstrings.

const root = fileURLToPath(new URL('../..', import.meta.url)).replace(/\/$/, '');
const source = `${root}/packages/core/src`;

interface Example {
  readonly from: string;
  readonly code: string;
}

const examples = [
  ...['README.md', 'packages/core/README.md', 'DEVELOPERS.md'].flatMap((name) =>
    blocksIn(name, readFileSync(`${root}/${name}`, 'utf8')),
  ),
  ...readdirSync(source, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.ts'))
    .sort()
    .flatMap((path) => {
      const docstrings = readFileSync(`${source}/${path}`, 'utf8').match(/^\/\*\*[\s\S]*?\*\//gm) ?? [];
      return docstrings.flatMap((text) => blocksIn(path, text.replace(/^ \* ?/gm, '')));
    }),
];

function blocksIn(from: string, text: string): Example[] {
  return [...text.matchAll(/^```ts\n([\s\S]*?)^```/gm)].map((match, i) => ({
    from: `${from} #${i + 1}`,
    code: match[1]!,
  }));
}

test('the README shows the library at work, and so do its main functions', () => {
  const places = examples.map(({ from }) => from.replace(/ #\d+$/, ''));
  expect(places).toEqual(
    expect.arrayContaining([
      'README.md',
      'packages/core/README.md',
      'rig/read-rig.ts',
      'simulate/run/simulate.ts',
      'study/stay/stay.ts',
      'study/size/size.ts',
      'wire/circuits.ts',
      'log/read/log-table.ts',
    ]),
  );
});

test('all of it passes the strict type checker, as someone would write it who has installed the library', () => {
  const options: ts.CompilerOptions = {
    strict: true,
    noEmit: true,
    noUncheckedIndexedAccess: true,
    exactOptionalPropertyTypes: true,
    skipLibCheck: true,
    target: ts.ScriptTarget.ES2022,
    lib: ['lib.es2023.d.ts', 'lib.dom.d.ts'],
    types: [],
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
    paths: {
      '@stayput/core': [`${root}/packages/core/dist/index.d.ts`],
      '@stayput/core/model': [`${root}/packages/core/dist/model.d.ts`],
    },
  };
  const codeOf = new Map(examples.map(({ code }, i) => [`${root}/tests/example-${i}.ts`, code]));
  const host = ts.createCompilerHost(options);
  const { getSourceFile, fileExists, readFile } = host;
  host.fileExists = (file) => codeOf.has(file) || fileExists(file);
  host.readFile = (file) => codeOf.get(file) ?? readFile(file);
  host.getSourceFile = (file, target) => {
    const code = codeOf.get(file);
    return code === undefined ? getSourceFile.call(host, file, target) : ts.createSourceFile(file, code, target, true);
  };
  const problems = ts.getPreEmitDiagnostics(ts.createProgram([...codeOf.keys()], options, host)).map((one) => {
    const at = examples[[...codeOf.keys()].indexOf(one.file?.fileName ?? '')]?.from ?? 'the compiler';
    return `${at}: ${ts.flattenDiagnosticMessageText(one.messageText, '\n')}`;
  });
  expect(problems).toEqual([]);
});

describe('it runs, and prints what it says it prints', () => {
  test.each(examples)('$from', async ({ from, code }) => {
    const said = await printedBy(code);
    expect(said.length).toBeGreaterThan(0);
    for (const line of said) expect(line).not.toMatch(/\bNaN\b|\bundefined\b|\[object/);
    for (const [, claimed] of code.matchAll(/\/\/ → (.*)$/gm)) expect(said).toContain(claimed);
    if (from.endsWith('README.md #1')) expect(said[0]).toMatch(/^lowest \d+ % at 2026-10-\d\dT/);
  });
});

const AsyncFunction = (async () => {}).constructor as new (
  ...parts: string[]
) => (...given: unknown[]) => Promise<void>;

/** The lines that a piece of code logs. */
async function printedBy(code: string): Promise<string[]> {
  const { outputFiles } = await build({
    stdin: { contents: code, resolveDir: root, loader: 'ts' },
    alias: faceAliases(),
    bundle: true,
    platform: 'node',
    format: 'esm', // examples may await
    write: false,
    logLevel: 'error',
  });
  const said: string[] = [];
  const log = (...parts: unknown[]) =>
    said.push(parts.map((part) => (typeof part === 'object' ? JSON.stringify(part) : String(part))).join(' '));
  const run = new AsyncFunction('require', 'console', outputFiles[0]!.text);
  await run(createRequire(import.meta.url), { log });
  return said;
}
