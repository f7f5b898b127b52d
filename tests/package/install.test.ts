import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import ts from 'typescript';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { emptyFolder, npm, packed, run } from './packed.js';
import { manifestOf, ROOT } from './production-tree.js';

// Both packages as `npm pack` makes them, installed by npm into a folder with no workspace around it, and used there. npm is
// told to stay off the network: both bring all that they run on in their bundles.

const RIG = `name: Wren
battery: { chemistry: LFP, capacity: 100 Ah, floor: 20 % }
solar: [{ name: roof, power: 200 W }]
loads:
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 5 degC }
  - { name: lights, power: 10 W, when: sunset to 22:30 }
`;
const SUMMER = ['--at', '41.7,-8.8', '--from', '2026-07-01', '--days', '2', '--weather', 'clear'];
const OFFLINE = ['--offline', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'];
/** npm writes some thousand files: 10 s on an idle machine. */
const TAKES_A_WHILE_MS = 240_000;

const packs = emptyFolder();
const alone = emptyFolder();
const library = emptyFolder();
afterAll(() => {
  for (const folder of [packs, alone, library]) folder.remove();
}, TAKES_A_WHILE_MS);

async function install(folder: string, tarballs: readonly string[]): Promise<void> {
  writeFileSync(join(folder, 'package.json'), '{ "private": true, "type": "module" }');
  await npm(['install', ...OFFLINE, ...tarballs], folder);
}

describe('the command line, installed alone', () => {
  beforeAll(async () => {
    await install(alone.path, [(await packed('cli', packs.path)).tarball]);
    writeFileSync(join(alone.path, 'rig.yaml'), RIG);
  }, TAKES_A_WHILE_MS);

  const shell = process.platform === 'win32';
  const program = join(alone.path, 'node_modules/.bin/stayput');
  const stayput = (...args: string[]) => run(program, args, { cwd: alone.path, shell });

  test('brings nothing else along', () => {
    expect(readdirSync(join(alone.path, 'node_modules')).filter((name) => !name.startsWith('.'))).toEqual(['@stayput']);
    expect(readdirSync(join(alone.path, 'node_modules/@stayput'))).toEqual(['cli']);
  });

  test('npx stayput --version is that of the package', async () => {
    const { stdout } = await run('npx', ['--offline', 'stayput', '--version'], { cwd: alone.path, shell });
    expect(stdout.trim()).toBe(manifestOf(`${ROOT}/packages/cli`).version);
  });

  test('new writes a rig that check understands', async () => {
    await stayput('new', '--out', 'starter.yaml');
    expect((await stayput('check', 'starter.yaml')).stdout).toContain('battery');
  });

  test('check tells a rig in words', async () => {
    expect((await stayput('check', 'rig.yaml')).stdout).toContain('Wren');
  });

  test('simulate follows it, and writes a trace of every ten minutes', async () => {
    const { stdout } = await stayput('simulate', 'rig.yaml', ...SUMMER, '--trace', 'trace.csv', '--json');
    expect(JSON.parse(stdout).summary.days).toBe(2);
    const lines = readFileSync(join(alone.path, 'trace.csv'), 'utf8').trim().split(/\r?\n/);
    expect(lines).toHaveLength(1 + 2 * 24 * 6);
  });

  test('a picture finds what draws it and its letters, which lie beside the bundle', async () => {
    const out = ['--plot', 'run.png', '--report', 'run.html'];
    await stayput('simulate', 'rig.yaml', ...SUMMER, ...out);
    const png = readFileSync(join(alone.path, 'run.png'));
    expect(png.subarray(1, 4).toString()).toBe('PNG');
    expect(png.length).toBeGreaterThan(10_000);
    expect(readFileSync(join(alone.path, 'run.html'), 'utf8')).toMatch(/<svg[\s\S]*<\/html>/);
  });

  test('sweep finds its workers, which are a file of their own', async () => {
    const vary = ['--vary', 'battery.capacity=50:50:200 Ah', '--workers', '2', '--out', 'sweep.csv'];
    await stayput('sweep', 'rig.yaml', ...SUMMER, ...vary);
    const lines = readFileSync(join(alone.path, 'sweep.csv'), 'utf8').trim().split(/\r?\n/);
    expect(lines.filter((line) => !line.startsWith('#'))).toHaveLength(1 + 4);
  });

  test('what is wrong in a file is answered with its line and exit code 2', async () => {
    writeFileSync(join(alone.path, 'wrong.yaml'), RIG.replace('100 Ah', '100 A'));
    await expect(stayput('check', 'wrong.yaml')).rejects.toMatchObject({
      code: 2,
      stderr: expect.stringContaining('wrong.yaml:2:'),
    });
  });
});

describe('the library, installed alone', () => {
  beforeAll(async () => {
    await install(library.path, [(await packed('core', packs.path)).tarball]);
  }, TAKES_A_WHILE_MS);

  test('brings nothing else along', () => {
    expect(readdirSync(join(library.path, 'node_modules')).filter((name) => !name.startsWith('.'))).toEqual([
      '@stayput',
    ]);
    expect(readdirSync(join(library.path, 'node_modules/@stayput'))).toEqual(['core']);
  });

  test('its manifest and its formulas can be imported', async () => {
    const script = `import about from '@stayput/core/package.json' with { type: 'json' };
import { declinationDeg } from '@stayput/core/model';
console.log(about.name, Number.isFinite(declinationDeg(172)));
`;
    writeFileSync(join(library.path, 'model.js'), script);
    const { stdout } = await run(process.execPath, ['model.js'], { cwd: library.path });
    expect(stdout.trim()).toBe('@stayput/core true');
  });

  test('reads a rig within 0.25 s of processor time, the start of Node not counted', async () => {
    const script = `const before = process.cpuUsage();
const { readRig } = await import('@stayput/core');
readRig(${JSON.stringify(RIG)});
const { user, system } = process.cpuUsage(before);
console.log((user + system) / 1e6);
`;
    writeFileSync(join(library.path, 'quick.js'), script);
    const times: number[] = [];
    for (let i = 0; i < 3; i++)
      times.push(Number((await run(process.execPath, ['quick.js'], { cwd: library.path })).stdout));
    expect(Math.min(...times)).toBeLessThan(0.25); // 0.09 s on an idle machine, 1.2 s when mathjs came whole
  });

  test('runs in a script of its own', async () => {
    const script = `import { readRig, simulate, withoutTrip } from '@stayput/core';
const trip = withoutTrip({ at: '41.7,-8.8', from: '2026-07-01', days: 2, weather: 'clear' });
console.log(simulate(readRig(${JSON.stringify(RIG)}).rig, trip).daily.length);
`;
    writeFileSync(join(library.path, 'run.js'), script);
    expect((await run(process.execPath, ['run.js'], { cwd: library.path })).stdout.trim()).toBe('2');
  });

  test('follows a thousand batteries without spreading a rig, and is aborted through a signal', async () => {
    const script = `import { openRuns, readRig, stayStudyAsync, withoutTrip } from '@stayput/core';
const text = ${JSON.stringify(RIG)};
const runs = openRuns(withoutTrip({ at: '41.7,-8.8', from: '2026-10-03', days: 14 }));
const lowest = new Set();
for (let ah = 1; ah <= 1000; ah++) {
  const { rig } = readRig(text, { set: { 'battery.capacity': ah + ' Ah' } });
  lowest.add(runs.outcome(rig).lowestSoc);
}
console.log(lowest.size > 900);

const stop = new AbortController();
const shares = [];
const onProgress = (share) => {
  shares.push(share);
  setTimeout(() => stop.abort(), 0);
};
const options = { years: 1000, months: [10], signal: stop.signal, onProgress };
const failed = await stayStudyAsync(readRig(text).rig, { place: 'Porto' }, options).catch((error) => error);
console.log(failed.name, shares.length > 0 && shares.length < 10);
`;
    writeFileSync(join(library.path, 'loop.js'), script);
    const { stdout } = await run(process.execPath, ['loop.js'], { cwd: library.path });
    expect(stdout.trim().split(/\r?\n/)).toEqual(['true', 'AbortError true']);
  });

  test('its JSON Schemas can be imported', async () => {
    const script =
      "import rig from '@stayput/core/schema/rig.schema.json' with { type: 'json' };console.log(rig.type);";
    writeFileSync(join(library.path, 'schema.js'), script);
    expect((await run(process.execPath, ['schema.js'], { cwd: library.path })).stdout.trim()).toBe('object');
  });

  test.each([
    ['Node', ts.ModuleKind.NodeNext, ts.ModuleResolutionKind.NodeNext],
    ['a bundler', ts.ModuleKind.ESNext, ts.ModuleResolutionKind.Bundler],
  ])('its types hold, those it stands on included, as resolved for %s', (_, module, moduleResolution) => {
    const path = join(library.path, 'typed.ts');
    writeFileSync(
      path,
      `import { readRig, simulate, type Summary, withoutTrip } from '@stayput/core';
const trip = withoutTrip({ place: 'Porto', from: '2026-07-01', days: 2 });
export const summary: Summary = simulate(readRig('').rig, trip).summary;
export const hours: number = summary.hoursOff;
// @ts-expect-error: a trip is no rig, so these are types and not any
simulate(trip, trip);
`,
    );
    const options: ts.CompilerOptions = {
      strict: true,
      noUncheckedIndexedAccess: true,
      exactOptionalPropertyTypes: true,
      noEmit: true,
      skipLibCheck: false,
      target: ts.ScriptTarget.ES2022,
      lib: ['lib.es2023.d.ts', 'lib.dom.d.ts'],
      types: [],
      module,
      moduleResolution,
    };
    const problems = ts.getPreEmitDiagnostics(ts.createProgram([path], options));
    expect(
      problems.map(
        ({ file, messageText }) =>
          `${basename(file?.fileName ?? '')}: ${ts.flattenDiagnosticMessageText(messageText, '\n')}`,
      ),
    ).toEqual([]);
  });
});
