import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { coreTree, type Installed, installedFrom, manifestOf, ROOT, treeOf } from './production-tree.js';

// What the two packages stand on: whatever is bundled into them or copied beside the command line.

/** Licences that let a MIT program be shipped with the part in it, unchanged and named. */
const ALLOWED = ['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', '0BSD', 'CC0-1.0', 'Unlicense', 'MPL-2.0'];

/** Where package.json names no licence of the list, the file that does was read, and says this. */
const READ: Readonly<Record<string, RegExp>> = {
  // BSD, two clauses
  suncalc: /Redistribution and use in source and binary forms[\s\S]*THIS SOFTWARE IS PROVIDED BY THE COPYRIGHT HOLDERS/,
  // the fonts' own: they may be copied, embedded and shipped with a program, not sold by themselves
  'dejavu-fonts-ttf': /Bitstream Vera[\s\S]*Permission is hereby granted, free of charge/,
};

const cliFolder = `${ROOT}/packages/cli`;
const bundledNames = Object.keys(manifestOf(cliFolder).devDependencies ?? {}).filter(
  (name) => !/^@stayput\//.test(name),
);
const everything = [
  ...new Map([...coreTree(), ...treeOf(cliFolder, bundledNames)].map((one) => [one.folder, one])).values(),
];
const named = everything.map((one) => [`${one.manifest.name} ${one.manifest.version}`, one] as const);

const partsIn = (path: string) =>
  readFileSync(path, 'utf8')
    .split(/^-{80}$/m)
    .map((text) => /^\s*(\S+) (\d\S*) \((.*)\)\n/.exec(text))
    .map((found) => ({ name: found?.[1] ?? '', version: found?.[2], text: found?.input ?? '' }));
const parts = partsIn(join(cliFolder, 'dist/LICENSES-OF-PARTS.txt'));
const coreParts = partsIn(`${ROOT}/packages/core/bundle/LICENSES-OF-PARTS.txt`);

describe('licences', () => {
  test.each(named)('%s has one that lets it be shipped', (_, { folder, manifest }) => {
    const license = manifest.license ?? '';
    const text = READ[manifest.name];
    if (text) expect(readFileSync(join(folder, 'LICENSE'), 'utf8')).toMatch(text);
    else expect(ALLOWED).toContain(license);
  });

  test.each([
    ['the command line', parts],
    ['the library', coreParts],
  ])('%s carries one text for each part it ships', (_, shipped) => {
    expect(shipped.length).toBeGreaterThan(5);
    const known = new Map(everything.map(({ manifest }) => [manifest.name, manifest.version]));
    for (const { name, version, text } of shipped) {
      expect(`${name} ${version}`).toBe(`${name} ${known.get(name)}`);
      expect(text, name).toMatch(/permission|redistribution|licen[cs]e/i);
      expect(text.length, name).toBeGreaterThan(100);
    }
  });

  test('and for files copied beside the bundle too', () => {
    const files = readdirSync(join(cliFolder, 'dist'), { recursive: true, encoding: 'utf8' });
    const ships = (ending: RegExp) => files.some((path) => ending.test(path));
    const names = parts.map(({ name }) => name);
    expect(names.includes('@resvg/resvg-wasm')).toBe(ships(/\.wasm$/));
    expect(names.includes('dejavu-fonts-ttf')).toBe(ships(/\.ttf$/));
  });
});

describe('versions', () => {
  test.each(['', '/packages/core', '/packages/cli'])('package.json%s names each exactly', (at) => {
    const { dependencies = {}, devDependencies = {} } = manifestOf(ROOT + at);
    const loose = Object.entries({ ...dependencies, ...devDependencies }).filter(
      ([, version]) => !/^\d+\.\d+\.\d+$/.test(version) && version !== 'workspace:*',
    );
    expect(loose).toEqual([]);
  });

  test('what is installed is what they name', () => {
    const { devDependencies = {} } = manifestOf(`${ROOT}/packages/core`);
    const installed = Object.keys(devDependencies).map((name) => [
      name,
      installedFrom(`${ROOT}/packages/core`, name).manifest.version,
    ]);
    expect(Object.fromEntries(installed)).toEqual(devDependencies);
  });

  test.each(['core', 'cli'])('%s needs nothing at run time: all is bundled', (name) => {
    expect(manifestOf(`${ROOT}/packages/${name}`).dependencies ?? {}).toEqual({});
  });
});

describe('scripts', () => {
  test('no part of either package runs anything when it is installed', () => {
    const runs = (one: Installed) =>
      ['preinstall', 'install', 'postinstall'].filter((hook) => one.manifest.scripts?.[hook] !== undefined);
    expect(everything.flatMap((one) => runs(one).map((hook) => `${one.manifest.name}: ${hook}`))).toEqual([]);
  });

  test('nor is anything of the workshop allowed to', () => {
    const settings = readFileSync(`${ROOT}/pnpm-workspace.yaml`, 'utf8');
    const builds = /^allowBuilds:\n((?: +.*\n)*)/m.exec(settings)?.[1]?.trim().split('\n') ?? [];
    expect(builds.filter((line) => !/: false$/.test(line))).toEqual([]);
  });
});

describe('the reasons', () => {
  const guide = readFileSync(`${ROOT}/DEVELOPERS.md`, 'utf8');
  const section = /^## Dependencies\n([\s\S]*?)^## /m.exec(guide)?.[1] ?? '';
  const all = ['', '/packages/core', '/packages/cli'].flatMap((at) => {
    const { dependencies, devDependencies } = manifestOf(ROOT + at);
    return Object.keys({ ...dependencies, ...devDependencies });
  });
  test.each(all.filter((name) => !/^@stayput\//.test(name)))('DEVELOPERS.md says why %s is there', (name) => {
    expect(section).toContain(`\`${name}\``);
  });
});
