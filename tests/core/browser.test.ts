import { readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { fileURLToPath } from 'node:url';
import { createContext, runInContext } from 'node:vm';
import { build } from 'esbuild';
import { expect, test } from 'vitest';
import { readRig, simulate, withoutTrip } from '../../packages/core/src/index.js';

const entry = fileURLToPath(new URL('../../packages/core/src/index.ts', import.meta.url));
const rigText = readFileSync(new URL('../../examples/heron.yaml', import.meta.url), 'utf8');
const bundled = build({
  entryPoints: [entry],
  bundle: true,
  write: false,
  metafile: true,
  platform: 'browser',
  format: 'iife',
  globalName: 'core',
  target: 'es2022',
  logLevel: 'silent',
});

test('the library bundles for a browser without a module of Node', async () => {
  const { errors, warnings, metafile } = await bundled;
  expect([...errors, ...warnings]).toEqual([]);
  const imports = Object.values(metafile.inputs).flatMap((input) => input.imports.map(({ path }) => path));
  expect(imports.filter((path) => path.startsWith('node:') || builtinModules.includes(path))).toEqual([]);
});

test('with nothing but the language around it, the bundle comes to the same: a run and a sweep', async () => {
  const { outputFiles } = await bundled;
  // No process, require, Buffer, console, clock of Node, timers: only what every JavaScript has.
  const context = createContext({ rigText, result: undefined });
  runInContext(`${outputFiles[0]!.text}; globalThis.core = core;`, context);
  const { lowestSoc, rows } = runInContext(
    `(() => {
      const trip = { at: '41.7,-8.8', from: '2026-10-03', days: 3 };
      const run = core.simulate(core.readRig(rigText).rig, core.withoutTrip(trip));
      const sweep = core.openSweep({
        rig: { text: rigText },
        trip: { text: JSON.stringify({ stops: [{ at: [41.7, -8.8], from: '2026-10-03', nights: 3 }] }) },
        vary: ['battery.capacity=50,100 Ah'],
      });
      return { lowestSoc: run.summary.lowestSoc, rows: JSON.stringify(sweep.rows(0, 2)) };
    })()`,
    context,
  ) as { lowestSoc: number; rows: string };
  const here = simulate(readRig(rigText).rig, withoutTrip({ at: '41.7,-8.8', from: '2026-10-03', days: 3 }));
  expect(lowestSoc).toBe(here.summary.lowestSoc);
  expect(JSON.parse(rows)).toHaveLength(2);
  expect(JSON.parse(rows)[1].answers[0]).toBeCloseTo(here.summary.lowestSoc, 12);
});
