import { once } from 'node:events';
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { filesIn, folderWith, start, stayputProcess } from '../cli/run-cli.js';
import { Draw } from '../fuzz/random.js';
import { FILES, WRITING } from './calls.js';

/** More on demand: KILLS=50 npx vitest run tests/faults */
const KILLS = Number(process.env.KILLS ?? 2);
const SEED = Number(process.env.SEED ?? 20260301);

const OLD = 'what was there before\n';
const wait = (ms: number) => new Promise((wake) => setTimeout(wake, ms));
const isPart = (name: string) => name.endsWith('.part');

/** Ends a call at a moment: after so many milliseconds, or once a file is half-written. */
async function brokenOff(args: readonly string[], cwd: string, signal: NodeJS.Signals, when: number | 'writing') {
  const child = start([...args, '--force'], cwd);
  const exit = once(child, 'exit');
  child.stdout.resume();
  child.stderr.resume();
  const began = performance.now();
  while (child.exitCode === null) {
    if (when === 'writing' ? filesIn(cwd).some(isPart) : performance.now() - began >= when) break;
    await wait(1);
  }
  child.kill(signal);
  return (await exit)[0] as number | null;
}

describe(`a call that is broken off leaves the old file or the new one, never half (SEED=${SEED})`, () => {
  test.each(WRITING.map((call) => ({ ...call, name: call.args.join(' ') })))(
    'kill -9: $name',
    async ({ args, writes }) => {
      const draw = new Draw(SEED, ...args);
      const whole = folderWith(FILES);
      const began = performance.now();
      const first = await stayputProcess(args, { cwd: whole });
      const tookMs = performance.now() - began;
      expect(first.stderr).not.toContain('fault of ours');
      expect(first.code).toBe(0);
      const fresh = writes.map((name) => readFileSync(join(whole, name), 'utf8'));

      const cwd = folderWith(FILES);
      for (let kill = 0; kill < KILLS; kill++) {
        const hadOld = draw.chance(0.7);
        for (const name of writes)
          if (hadOld) writeFileSync(join(cwd, name), OLD);
          else rmSync(join(cwd, name), { force: true });
        await brokenOff(args, cwd, 'SIGKILL', kill % 2 === 0 ? 'writing' : tookMs * (0.2 + 0.9 * draw.next()));
        for (const [at, name] of writes.entries()) {
          const left = existsSync(join(cwd, name)) ? readFileSync(join(cwd, name), 'utf8') : undefined;
          expect([hadOld ? OLD : undefined, fresh[at]]).toContain(left);
        }
      }
      // the next run tidies what the killed ones left, and no more
      writeFileSync(join(cwd, '.other.out.1.part'), 'not ours');
      const { code } = await stayputProcess([...args, '--force'], { cwd });
      expect(code).toBe(0);
      writes.forEach((name, k) => {
        expect(readFileSync(join(cwd, name), 'utf8')).toBe(fresh[k]);
      });
      expect(filesIn(cwd)).toEqual(['.other.out.1.part', ...Object.keys(FILES), ...writes].sort());
    },
    300_000,
  );

  test.each([
    ['SIGINT', 130],
    ['SIGTERM', 143],
    ['SIGHUP', 129],
  ] as const)(
    '%s while it writes ends with %i, and leaves the old file and nothing else',
    async (signal, code) => {
      const { args, writes } = WRITING.find((call) => call.args.includes('--trace'))!;
      const long = args.map((arg) => (arg === '20' ? '200' : arg === '5min' ? '1min' : arg));
      const cwd = folderWith({ ...FILES, ...Object.fromEntries(writes.map((name) => [name, OLD])) });
      expect(await brokenOff(long, cwd, signal, 'writing')).toBe(code);
      expect(filesIn(cwd)).toEqual([...Object.keys(FILES), ...writes].sort());
      for (const name of writes) expect(readFileSync(join(cwd, name), 'utf8')).toBe(OLD);
    },
    120_000,
  );
});
