// The program as it is shipped, as its own process: does it start, answer, refuse and write? Everything else about it is in tests/cli.
import { readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import about from '../../packages/cli/package.json' with { type: 'json' };
import { filesIn, folderWith, RIG, stayputProcess } from '../cli/run-cli.js';

const examples = fileURLToPath(new URL('../../examples/', import.meta.url));

function home(): string {
  const cwd = folderWith({ 'rig.yaml': RIG });
  symlinkSync(examples, join(cwd, 'examples'));
  return cwd;
}

test('it says its version, and its help names every command of the README', async () => {
  expect(await stayputProcess(['--version'])).toEqual({ stdout: `${about.version}\n`, stderr: '', code: 0 });
  const { stdout, stderr, code } = await stayputProcess(['--help']);
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
  const named = [...readme.matchAll(/^\| `stayput ([a-z]+)/gm)].map(([, name]) => name!);
  expect(named.length).toBeGreaterThanOrEqual(12);
  for (const name of named) expect(stdout).toMatch(new RegExp(`^ {2}${name}\\b`, 'm'));
});

test('the example runs flat, names when and what, and its ledger closes', async () => {
  const cwd = home();
  const args = ['simulate', 'examples/heron.yaml', 'examples/coast-measured.yaml'];
  const { stdout, code } = await stayputProcess([...args, '--json', '--never-off'], { cwd });
  expect(code).toBe(1); // a promise that is not kept
  const { summary, warnings } = JSON.parse(stdout);
  expect(summary.hoursOff).toBeGreaterThan(0);
  expect(Math.abs(summary.ledgerErrorWh)).toBeLessThan(1e-6);
  expect(warnings.length).toBeGreaterThan(0);
  expect((await stayputProcess(args, { cwd })).stdout).toMatch(/^Runs flat on \d+ Oct \d\d:\d\d: fridge/);
});

test('a rig comes in by a pipe, and a page and a trace are written whole', async () => {
  const cwd = home();
  const where = ['--at', '41.7,-8.8', '--from', '2026-07-01', '--days', '2', '--weather', 'clear'];
  const args = ['simulate', '-', ...where, '--trace', 'trace.csv', '--report', 'page.html'];
  const { stdout, stderr, code } = await stayputProcess(args, { cwd, stdin: RIG });
  expect(code, stderr).toBe(0);
  expect(stdout).toMatch(/^Never runs flat/);
  expect(filesIn(cwd)).toEqual(['examples', 'page.html', 'rig.yaml', 'trace.csv']);
  expect(readFileSync(join(cwd, 'trace.csv'), 'utf8').trimEnd().split('\n')).toHaveLength(2 * 144 + 1);
  expect(readFileSync(join(cwd, 'page.html'), 'utf8')).toMatch(/^<!doctype html>[\s\S]*<\/html>\s*$/i);
});

test('a wrong rig is exit 2, with its line and what would be right, and without a stack', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG.replace('100 Ah', '100 A') });
  const { stdout, stderr, code } = await stayputProcess(['check', 'rig.yaml'], { cwd });
  expect({ stdout, code }).toEqual({ stdout: '', code: 2 });
  expect(stderr).toMatch(/rig\.yaml:4:\d+ battery\.capacity: 100 A where .* \(did you mean 100 Ah\?\)/);
  expect(stderr).not.toMatch(/\n\s+at /);
});
