import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { filesIn, folderWith, PROGRAM, stayputProcess } from '../cli/run-cli.js';
import { FILES, WRITING } from './calls.js';

const OLD = 'what was there before\n';
const CALLS = WRITING.map((call) => ({ ...call, name: call.args.join(' ') }));

/** Runs a script of the shell with the program as $0 $1, and its arguments after them. */
const shell = (script: string, args: readonly string[], cwd: string) =>
  spawnSync('sh', ['-c', script, process.execPath, PROGRAM, ...args], {
    cwd,
    encoding: 'utf8',
    env: { PATH: process.env.PATH, LC_ALL: 'C.UTF-8', COLUMNS: '80', TZ: 'UTC' },
  });

/** A disk of its own, so small that it fills up, in a name space of its own that ends with the shell. */
const SMALL_DISK = 'mount -t tmpfs -o size=$SIZE none disk && cp in/* disk && cd disk';
const hasSmallDisk =
  spawnSync('unshare', ['-rm', 'sh', '-c', 'mount -t tmpfs none /mnt'], { encoding: 'utf8' }).status === 0;

/** One place prints for all commands: what is long, what is short, text, JSON, rows and help. */
const PRINTING = [
  ['check', 'rig.yaml'],
  ['simulate', 'rig.yaml', 'trip.yaml'],
  ['simulate', 'rig.yaml', 'trip.yaml', '--json'],
  ['simulate', 'rig.yaml', 'trip.yaml', '--trace', '-', '--step', '1min'],
  ['log', 'log.csv', '--tidy', '-'],
  ['sweep', 'rig.yaml', 'trip.yaml', '--vary', 'battery.capacity=50:1:90 Ah', '--out', '-'],
  ['new', '--out', '-'],
  ['help', 'simulate'],
];

describe('a full disk is said with what to do, exit 2, and the old file is left', () => {
  test.skipIf(process.platform === 'win32').each(CALLS)(
    'file size limit: $name',
    ({ args, writes }) => {
      const cwd = folderWith({ ...FILES, ...Object.fromEntries(writes.map((name) => [name, OLD])) });
      // 1 block of 512 or 1024 bytes: every result but a starter rig's trip is larger
      const { status, stderr } = shell('ulimit -f 1; exec "$0" "$@"', [...args, '--force'], cwd);
      expect(stderr).toMatch(/^stayput: .* cannot be written: the file may not grow so large; make room/m);
      expect(status).toBe(2);
      for (const name of writes) expect(readFileSync(join(cwd, name), 'utf8').length).toBeGreaterThan(0);
      expect(writes.some((name) => readFileSync(join(cwd, name), 'utf8') === OLD)).toBe(true);
      expect(filesIn(cwd)).toEqual([...Object.keys(FILES), ...writes].sort());
    },
    60_000,
  );

  test.skipIf(!hasSmallDisk)(
    'a small disk that fills up while a trace is written (needs unshare and mount)',
    () => {
      const cwd = mkdtempSync(join(tmpdir(), 'stayput-disk-'));
      mkdirSync(join(cwd, 'disk'));
      mkdirSync(join(cwd, 'in'));
      for (const [name, text] of Object.entries({ 'rig.yaml': FILES['rig.yaml']!, 'trace.csv': OLD }))
        writeFileSync(join(cwd, 'in', name), text);
      const args =
        'simulate rig.yaml --at 41.7,-8.8 --from 2026-07-01 --days 30 --weather clear --trace trace.csv --force';
      const script = `SIZE=128k; ${SMALL_DISK} && "$0" "$@" >/dev/null; echo "exit $?"; ls -A; cat trace.csv`;
      const { stdout, stderr } = spawnSync(
        'unshare',
        ['-rm', 'sh', '-c', script, process.execPath, PROGRAM, ...args.split(' ')],
        { cwd, encoding: 'utf8' },
      );
      expect(stderr).toMatch(/trace\.csv cannot be written: the disk is full; make room, or name a file elsewhere/);
      expect(stdout).toBe(`exit 2\nrig.yaml\ntrace.csv\n${OLD}`);
    },
    60_000,
  );

  test.skipIf(!existsSync('/dev/full')).each(PRINTING)(
    'standard output to /dev/full: %s %s %s …',
    (...args: string[]) => {
      const { status, stderr } = shell('exec "$0" "$@" > /dev/full', args, folderWith(FILES));
      expect(stderr).toMatch(/^stayput: standard output cannot be written: /m);
      expect(status).toBe(2);
    },
    60_000,
  );
});

describe('a folder in which one may not write is said, exit 2', () => {
  const isRoot = process.getuid?.() === 0;
  const asNobody = isRoot ? ['setpriv', '--reuid=65534', '--regid=65534', '--clear-groups'] : [];
  const can = process.platform !== 'win32' && (!isRoot || spawnSync(asNobody[0]!, ['--version']).status === 0);
  test.skipIf(!can).each(CALLS)(
    '$name (as root needs setpriv)',
    ({ args, writes }) => {
      const cwd = folderWith({ ...FILES, [writes[0]!]: OLD });
      chmodSync(cwd, 0o555);
      const [program, ...rest] = [...asNobody, process.execPath, PROGRAM, ...args, '--force'];
      const { status, stderr } = spawnSync(program!, rest, { cwd, encoding: 'utf8' });
      chmodSync(cwd, 0o755);
      expect(stderr).toMatch(/^stayput: .* cannot be written: you may not write in its folder$/m);
      expect(status).toBe(2);
      expect(readFileSync(join(cwd, writes[0]!), 'utf8')).toBe(OLD);
      expect(readdirSync(cwd).sort()).toEqual([...Object.keys(FILES), writes[0]!].sort());
    },
    60_000,
  );

  test.skipIf(!hasSmallDisk)('a disk that is mounted for reading only (needs unshare and mount)', () => {
    const cwd = folderWith(FILES);
    const { status, stderr } = spawnSync(
      'unshare',
      [
        '-rm',
        'sh',
        '-c',
        'mount --bind . . && mount -o remount,ro,bind . && cd "$PWD" && exec "$0" "$@"',
        process.execPath,
        PROGRAM,
        'new',
        '--out',
        'a.out',
      ],
      { cwd, encoding: 'utf8' },
    );
    expect(stderr).toBe('stayput: a.out cannot be written: you may not write in its folder\n');
    expect(status).toBe(2);
    expect(filesIn(cwd)).toEqual(Object.keys(FILES).sort());
  });
});

describe('a reader that goes away after the first line is no fault', () => {
  test.skipIf(process.platform === 'win32').each(PRINTING)(
    '%s %s %s …',
    (...args: string[]) => {
      const script = '{ "$0" "$@"; echo "exit $?" >&2; } | head -n 1 > /dev/null';
      const { stderr } = shell(script, args, folderWith(FILES));
      expect(stderr).toMatch(/^(from today.*\n|simulated .*\n)*exit 0\n$/);
    },
    60_000,
  );
});

test("what is not there, is a folder, or is another file's part is said in one line", async () => {
  const cwd = folderWith(FILES);
  mkdirSync(join(cwd, 'folder'));
  for (const out of ['no/such/a.out', 'folder', 'rig.yaml/a.out', `${'n'.repeat(300)}.out`]) {
    const { code, stderr, stdout } = await stayputProcess(['check', 'rig.yaml', '--out', out], { cwd });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/^stayput: [^\n]+\n$/);
  }
  expect(filesIn(cwd)).toEqual([...Object.keys(FILES), 'folder'].sort());
});
