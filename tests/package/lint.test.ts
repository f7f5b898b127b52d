import { existsSync } from 'node:fs';
import { publint } from 'publint';
import { formatMessage } from 'publint/utils';
import { afterAll, describe, expect, test } from 'vitest';
import { bytesOf, emptyFolder, packed, run } from './packed.js';
import { manifestOf, ROOT } from './production-tree.js';

const folder = emptyFolder();
afterAll(() => folder.remove());

describe.each(['core', 'cli'] as const)('the package of %s', (name) => {
  const pack = packed(name, folder.path);

  test('has no fault that publint finds', async () => {
    const { tarball } = await pack;
    const { messages, pkg } = await publint({ pack: { tarball: bytesOf(tarball) }, level: 'suggestion', strict: true });
    expect(messages.map((message) => formatMessage(message, pkg, { color: false }))).toEqual([]);
  });

  test('resolves with its types wherever ESM does (attw)', async () => {
    const { tarball } = await pack;
    const attw = `${ROOT}/node_modules/@arethetypeswrong/cli/dist/index.js`;
    const { stdout } = await run(process.execPath, [attw, tarball, '--profile', 'esm-only', '--format', 'json']);
    const { analysis, problems = {} } = JSON.parse(stdout);
    const found = (Object.values(problems).flat() as { kind: string; resolutionKind?: string }[]).filter(
      ({ resolutionKind }) => resolutionKind !== 'node10' && resolutionKind !== 'node16-cjs',
    );
    expect(found).toEqual([]);
    // A program is run and not imported; the library's types are its own.
    expect(analysis.types).toEqual(name === 'core' ? { kind: 'included' } : false);
  });

  test('carries licence, readme and what was built, and nothing of the workshop', async () => {
    const { files } = await pack;
    expect(files).toEqual(expect.arrayContaining(['LICENSE', 'README.md', 'package.json']));
    const others = files.filter(
      (path) => !/^(LICENSE|README\.md|package\.json|(?:dist|bundle)\/.+|schema\/.+\.json)$/.test(path),
    );
    expect(others).toEqual([]);
    expect(files.filter((path) => /tsbuildinfo|\.map$|\.test\.|(?<!\.d)\.ts$/.test(path))).toEqual([]);
  });

  if (name === 'core')
    test('types by file, each with its source, and code as one bundle an entry', async () => {
      const { files } = await pack;
      const typed = files.flatMap((path) => /^dist\/(.*?)\.d\.ts$/.exec(path)?.[1] ?? []);
      expect(typed.filter((path) => !existsSync(`${ROOT}/packages/core/src/${path}.ts`))).toEqual([]);
      const code = files.filter((path) => path.endsWith('.js'));
      expect(code.filter((path) => !/^bundle\/(index|model|shared-\w+)\.js$/.test(path))).toEqual([]);
    });

  test('says what it is and what it needs', () => {
    const manifest = manifestOf(`${ROOT}/packages/${name}`) as unknown as Record<string, unknown>;
    const { description, keywords, license, engines, author, exports } = manifest;
    expect(description).toMatch(/12 V/);
    expect(author).toBeTruthy();
    expect(exports).toMatchObject({ './package.json': './package.json' });
    expect(keywords).toEqual(expect.arrayContaining(['12v', 'off-grid', 'solar']));
    expect({ license, engines }).toEqual({ license: 'MIT', engines: { node: '>=20' } });
  });
});
