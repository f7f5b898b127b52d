import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const run = (...args: string[]) =>
  spawnSync(process.execPath, [fileURLToPath(new URL('./run.js', import.meta.url)), ...args], { encoding: 'utf8' });

/** Another seed each time, printed; `npm run fuzz -- --minutes 10` goes on for longer. */
test('a bounded share of the fuzz finds nothing but values and errors of ours', () => {
  const seed = process.env.SEED ?? String(Date.now() % 1e6);
  const { status, stdout, stderr } = run('--seconds', '20', '--seed', seed);
  console.log(stdout);
  expect({ status, stderr, tail: stdout.trimEnd().split('\n').at(-1) }, stdout).toEqual({
    status: 0,
    stderr: '',
    tail: 'clean',
  });
}, 120_000);

test('a fuzz that finds a fault says so: the same with a target that breaks', () => {
  const { status, stdout } = run('--seconds', '15', '--seed', '1', '--only', 'broken', '--no-calls', '--dry');
  expect(status).toBe(1);
  expect(stdout).toMatch(/TypeError: broken on purpose/);
  expect(stdout).toMatch(/no end after 2.5 s/);
  expect(stdout).toMatch(/a shared prototype has been changed/);
  expect(stdout).toMatch(/the process ended/);
}, 60_000);
