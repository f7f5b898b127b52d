import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import ts from 'typescript';
import { expect, test } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url)).replace(/\/$/, '');
const readme = readFileSync(`${root}/README.md`, 'utf8');
const blocks = [...readme.matchAll(/```ts\n([\s\S]*?)```/g)].map((match) => match[1]!);

test('the README shows the library at work', () => {
  expect(blocks.length).toBeGreaterThan(0);
});

test.each(blocks)('the library code of the README passes the type checker: %#', (code) => {
  const name = `${root}/tests/readme-example.ts`;
  const options: ts.CompilerOptions = {
    strict: true,
    noEmit: true,
    skipLibCheck: true,
    target: ts.ScriptTarget.ES2022,
    lib: ['lib.es2023.d.ts', 'lib.dom.d.ts'],
    types: [],
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
    paths: { '@stayput/core': [`${root}/packages/core/dist/index.d.ts`] },
  };
  const host = ts.createCompilerHost(options);
  const { getSourceFile, fileExists, readFile } = host;
  host.fileExists = (file) => file === name || fileExists(file);
  host.readFile = (file) => (file === name ? code : readFile(file));
  host.getSourceFile = (file, target) =>
    file === name ? ts.createSourceFile(file, code, target, true) : getSourceFile.call(host, file, target);
  const program = ts.createProgram([name], options, host);
  const problems = ts
    .getPreEmitDiagnostics(program)
    .map((one) => ts.flattenDiagnosticMessageText(one.messageText, '\n'));
  expect(problems).toEqual([]);
});

test.each(blocks)('the library code of the README runs: %#', async (code) => {
  const { outputFiles } = await build({
    stdin: { contents: code, resolveDir: root, loader: 'ts' },
    alias: { '@stayput/core': `${root}/packages/core/src/index.ts` },
    bundle: true,
    platform: 'node',
    format: 'cjs',
    write: false,
    logLevel: 'error',
  });
  const said: string[] = [];
  new Function('require', 'console', outputFiles[0]!.text)(
    (await import('node:module')).createRequire(import.meta.url),
    {
      log: (text: string) => said.push(text),
    },
  );
  expect(said[0]).toMatch(/^lowest \d+ % at 2026-10-\d\dT/);
});
