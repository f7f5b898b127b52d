import { spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync, existsSync, readFileSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { filesIn, folderWith, PROGRAM, RIG, start, stayput, stayputProcess } from './run-cli.js';

const folder = () => folderWith({ 'rig.yaml': RIG });
const read = (cwd: string, file: string) => readFileSync(join(cwd, file), 'utf8');
const WEEK = ['sweep', 'rig.yaml', '--at', '60.2,24.9', '--from', '2025-11-03', '--days', '4'] as const;
const SIZES = [...WEEK, '--vary', 'solar[0].count=1:2', '--vary', 'battery.capacity=20:20:400 Ah'] as const;
const ROWS = 40;
const HEADER =
  'variant,solar[0].count,battery.capacity [Ah],lowest_soc,end_soc,hours_below_floor,hours_off,unserved_hours,unserved_wh,load_wh,pv_available_wh,pv_harvest_wh,alternator_wh,mains_wh,equivalent_cycles,full_days,overloads,failed,variants,sweep,check';
const undisturbed = (async () => {
  const cwd = folder();
  await stayputProcess([...SIZES, '--out', 'rows.csv'], { cwd });
  return read(cwd, 'rows.csv');
})();

describe('the rows', () => {
  test('a table for people, with what matters first', async () => {
    const { stdout, stderr, code } = await stayputProcess([...WEEK, '--vary', 'battery.capacity=20,100 Ah'], {
      cwd: folder(),
    });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toMatch(/^Wren: 2 variants\n\nbattery\.capacity \[Ah\] +lowest +.*unserved/);
    expect(stdout).toMatch(/\n +20 +\d+ %.*\n +100 +\d+ %/);
  });

  test('as CSV they keep every digit, and say which sweep they are of', async () => {
    const lines = (await undisturbed).split('\n');
    expect(lines[0]).toBe(HEADER);
    expect(lines).toHaveLength(ROWS + 2);
    expect(lines[1]).toMatch(/^1,1,20,0\.\d{10,},.*,,40,[0-9a-f]{16},[0-9a-f]{8}$/);
    expect(lines[ROWS]).toMatch(/^40,2,400,/);
  });

  test('as JSON: variants and rows, flat', async () => {
    const { stdout, code } = await stayputProcess([...WEEK, '--vary', 'battery.chemistry=LFP,AGM', '--json'], {
      cwd: folder(),
    });
    expect(code).toBe(0);
    const said = JSON.parse(stdout);
    expect(said).toMatchObject({ command: 'sweep', rig: 'Wren', variants: 2, weatherYears: 1 });
    expect(said.rows).toHaveLength(2);
    expect(said.rows[1]).toMatchObject({ variant: 2, 'battery.chemistry': 'AGM', lowestSoc: expect.any(Number) });
  });

  test('with a file, JSON names it instead, and --out - prints the rows', async () => {
    const cwd = folder();
    const { stdout } = await stayputProcess([...SIZES, '--out', 'rows.csv', '--json'], { cwd });
    expect(JSON.parse(stdout)).toMatchObject({ variants: ROWS, path: 'rows.csv' });
    expect(JSON.parse(stdout)).not.toHaveProperty('rows');
    const printed = await stayputProcess([...SIZES, '--out', '-'], { cwd });
    expect(printed.stdout).toBe(read(cwd, 'rows.csv'));
  });

  test('over weather years each answer has percentiles', async () => {
    const { stdout } = await stayputProcess(
      [...WEEK, '--vary', 'battery.capacity=20,100 Ah', '--years', '5', '--json'],
      {
        cwd: folder(),
      },
    );
    const [row] = JSON.parse(stdout).rows;
    expect(row.lowestSocP10).toBeLessThanOrEqual(row.lowestSocP90);
    expect(row).toMatchObject({ yearsServed: expect.any(Number), unservedHoursP50: expect.any(Number) });
  });

  test('values that contradict each other have a row that says so, and are counted', async () => {
    const cwd = folder();
    const args = [
      ...WEEK,
      '--vary',
      'battery.disconnect=10,30 %',
      '--vary',
      'battery.reconnect=15,40 %',
      '--out',
      'rows.csv',
    ];
    const { stderr, code } = await stayputProcess(args, { cwd });
    expect(code).toBe(0);
    expect(stderr).toMatch(/1 of 4 variants cannot be/);
    expect(read(cwd, 'rows.csv').split('\n')[3]).toMatch(/^3,30,15,{13},.*reconnect.*,4,[0-9a-f]{16},[0-9a-f]{8}$/);
  });
});

describe('the same bytes', () => {
  test('from one worker, two and five', async () => {
    for (const workers of ['1', '2', '5']) {
      const cwd = folder();
      await stayputProcess([...SIZES, '--out', 'rows.csv', '--workers', workers], { cwd });
      expect(read(cwd, 'rows.csv')).toBe(await undisturbed);
    }
  });

  test('when it was killed (SIGKILL) in the middle and begun again, as often as it takes', async () => {
    const args = [...WEEK, '--days', '30', '--vary', 'battery.capacity=20:1:119 Ah', '--out', 'rows.csv'];
    const whole = folder();
    await stayputProcess(args, { cwd: whole });
    const cwd = folder();
    const file = join(cwd, 'rows.csv');
    const size = () => (existsSync(file) ? statSync(file).size : 0);
    let kills = 0;
    for (let before = 0; kills < 3; before = size()) {
      const child = start(args, cwd);
      const ended = once(child, 'exit');
      while (child.exitCode === null && size() < before + 2000) await new Promise((wake) => setTimeout(wake, 2));
      if (!child.kill('SIGKILL')) break;
      await ended;
      kills++;
    }
    expect(kills).toBeGreaterThan(0);
    expect(size()).toBeLessThan(statSync(join(whole, 'rows.csv')).size);
    const { stderr, code } = await stayputProcess(args, { cwd });
    expect(code).toBe(0);
    expect(stderr).toMatch(/rows\.csv holds \d+ rows? of this sweep already; \d+ to go/);
    expect(read(cwd, 'rows.csv')).toBe(read(whole, 'rows.csv'));
  });

  test.each([0, 100, HEADER.length, HEADER.length + 1, 1000, -1, -18])(
    'when the file was cut off at byte %i',
    async (cut) => {
      const cwd = folder();
      const whole = await undisturbed;
      writeFileSync(join(cwd, 'rows.csv'), whole);
      truncateSync(join(cwd, 'rows.csv'), cut < 0 ? whole.length + cut : cut);
      const { code } = await stayputProcess([...SIZES, '--out', 'rows.csv'], { cwd });
      expect(code).toBe(0);
      expect(read(cwd, 'rows.csv')).toBe(whole);
    },
  );

  test('when it was interrupted (SIGINT), which ends with 130 and whole rows', async () => {
    const args = [...WEEK, '--days', '30', '--vary', 'battery.capacity=20:1:119 Ah', '--out', 'rows.csv'];
    const whole = folder();
    await stayputProcess(args, { cwd: whole });
    const cwd = folder();
    const file = join(cwd, 'rows.csv');
    const child = start(args, cwd);
    const ended = once(child, 'exit');
    while (!existsSync(file) || statSync(file).size < 1000) await new Promise((wake) => setTimeout(wake, 2));
    child.kill('SIGINT');
    expect((await ended)[0]).toBe(130);
    expect(read(cwd, 'rows.csv')).toMatch(/\n$/);
    await stayputProcess(args, { cwd });
    expect(read(cwd, 'rows.csv')).toBe(read(whole, 'rows.csv'));
  });

  test('when the file could not grow and then could: exit 2, rows whole', async () => {
    const cwd = folder();
    const command = `ulimit -f 4; "$0" "$@"`;
    const full = spawnSync('bash', ['-c', command, process.execPath, PROGRAM, ...SIZES, '--out', 'rows.csv'], {
      cwd,
      encoding: 'utf8',
    });
    expect(full.status).toBe(2);
    expect(full.stderr).toMatch(/rows\.csv cannot be written: .*the same command goes on from there/);
    expect(read(cwd, 'rows.csv')).toMatch(/\n$/);
    await stayputProcess([...SIZES, '--out', 'rows.csv'], { cwd });
    expect(read(cwd, 'rows.csv')).toBe(await undisturbed);
  });

  test.skipIf(!existsSync('/dev/full'))('a full disk is said (/dev/full; skipped where there is none)', async () => {
    const { stderr, code } = await stayputProcess([...SIZES, '--out', '/dev/full'], { cwd: folder() });
    expect(code).toBe(2);
    expect(stderr).toMatch(/the disk is full/);
  });

  test('once complete, nothing is done and nothing changed', async () => {
    const cwd = folder();
    writeFileSync(join(cwd, 'rows.csv'), await undisturbed);
    const { stderr, code } = await stayputProcess([...SIZES, '--out', 'rows.csv'], { cwd });
    expect({ code, stderr }).toEqual({ code: 0, stderr: 'rows.csv holds all 40 rows of this sweep already\n' });
    expect(read(cwd, 'rows.csv')).toBe(await undisturbed);
  });
});

describe('two processes and one file', () => {
  test('ten pairs of different sweeps begun at once: each time one whole file, and one refusal that names the other process', async () => {
    const sweeps = [
      [...WEEK, '--vary', 'battery.capacity=20:20:100 Ah', '--out', 'rows.csv'],
      [...WEEK, '--vary', 'battery.capacity=25:20:105 Ah', '--out', 'rows.csv'],
    ];
    const whole = await Promise.all(
      sweeps.map(async (args) => {
        const cwd = folder();
        await stayputProcess(args, { cwd });
        return read(cwd, 'rows.csv');
      }),
    );
    for (let pair = 0; pair < 10; pair++) {
      const cwd = folder();
      const ended = await Promise.all(sweeps.map((args) => stayputProcess(args, { cwd })));
      const codes = ended.map(({ code }) => code);
      expect([...codes].sort()).toEqual([0, 2]);
      const winner = codes.indexOf(0);
      expect(read(cwd, 'rows.csv')).toBe(whole[winner]);
      expect(ended[1 - winner]!.stderr).toMatch(
        /rows\.csv (is being written by process \d+, for \d+ s: wait for it, or name another file with --out|exists already and holds no rows|holds rows of another sweep)/,
      );
      expect(filesIn(cwd)).toEqual(['rig.yaml', 'rows.csv']);
    }
  }, 300_000);

  test('the lock of a process that was killed is taken over, and said', async () => {
    const cwd = folder();
    const gone = spawnSync(process.execPath, ['-e', '']).pid;
    const owner = { pid: gone, host: hostname(), since: new Date(Date.now() - 7_200_000).toISOString() };
    writeFileSync(join(cwd, '.rows.csv.lock'), JSON.stringify(owner));
    const { stderr, code } = await stayputProcess([...SIZES, '--out', 'rows.csv'], { cwd });
    expect(code).toBe(0);
    expect(stderr).toMatch(
      new RegExp(`process ${gone} left its lock on rows.csv 2 h ago and no longer runs: taken over`),
    );
    expect(read(cwd, 'rows.csv')).toBe(await undisturbed);
    expect(filesIn(cwd)).toEqual(['rig.yaml', 'rows.csv']);
  });

  test('the lock of another machine is not, and the way out is said', async () => {
    const cwd = folder();
    const owner = { pid: 1, host: 'elsewhere', since: new Date().toISOString() };
    writeFileSync(join(cwd, '.rows.csv.lock'), JSON.stringify(owner));
    const { stderr, code } = await stayputProcess([...SIZES, '--out', 'rows.csv', '--force'], { cwd });
    expect(code).toBe(2);
    expect(stderr).toMatch(/process 1 on elsewhere.*if that process is gone, delete .*\.rows\.csv\.lock/s);
  });

  test.each([
    ['-999', /\n3,.*/],
    ['abc', /\n3,.*/],
  ])('a row in which a figure became %s is refused by resume and by merge', async (put, row) => {
    const cwd = folder();
    const edited = (await undisturbed).replace(row, (line) => line.replace(/(\n3,[^,]*,[^,]*,)[^,]*/, `$1${put}`));
    expect(edited).not.toBe(await undisturbed);
    writeFileSync(join(cwd, 'rows.csv'), edited);
    const again = await stayputProcess([...SIZES, '--out', 'rows.csv'], { cwd });
    expect(again.code).toBe(2);
    expect(again.stderr).toMatch(/rows\.csv is damaged in line 4, or was edited there/);
    const merged = await stayputProcess(['sweep', 'merge', 'all.csv', 'rows.csv'], { cwd });
    expect(merged.code).toBe(2);
    expect(merged.stderr).toMatch(/damaged in line 4, or was edited there/);
  });
});

describe('parts', () => {
  async function parts(count: number): Promise<string> {
    const cwd = folder();
    for (let part = 1; part <= count; part++)
      await stayputProcess([...SIZES, '--part', `${part}/${count}`, '--out', `part-${part}.csv`], { cwd });
    return cwd;
  }
  const inThree = parts(3);

  test('of two and of three, in any order, are merged to the whole, byte for byte', async () => {
    for (const [cwd, names] of [
      [await parts(2), ['part-2.csv', 'part-1.csv']],
      [await inThree, ['part-2.csv', 'part-3.csv', 'part-1.csv']],
    ] as const) {
      const { stderr, code } = await stayput(['sweep', 'merge', 'all.csv', ...names], { cwd });
      expect({ code, stderr }).toEqual({ code: 0, stderr: 'wrote all.csv (40 rows)\n' });
      expect(read(cwd, 'all.csv')).toBe(await undisturbed);
    }
  });

  test('more parts than variants: the empty ones merge too', async () => {
    const cwd = folder();
    const args = [...WEEK, '--vary', 'battery.capacity=50,100 Ah'];
    for (const part of ['1/3', '2/3', '3/3'])
      await stayputProcess([...args, '--part', part, '--out', `p${part[0]}.csv`], { cwd });
    await stayputProcess([...args, '--out', 'whole.csv'], { cwd });
    expect((await stayput(['sweep', 'merge', 'all.csv', 'p1.csv', 'p2.csv', 'p3.csv'], { cwd })).code).toBe(0);
    expect(read(cwd, 'all.csv')).toBe(read(cwd, 'whole.csv'));
  });

  test('gaps, overlaps, other sweeps, cut-off, damaged and foreign files are refused, and nothing is written', async () => {
    const cwd = await inThree;
    const other = [...SIZES, '--set', 'loads.lights.power=11 W', '--part', '2/3', '--out', 'other.csv'];
    await stayputProcess(other, { cwd });
    await stayputProcess([...SIZES, '--part', '1/2', '--out', 'half.csv'], { cwd });
    const text = read(cwd, 'part-3.csv');
    writeFileSync(join(cwd, 'cut.csv'), text.slice(0, -5));
    writeFileSync(join(cwd, 'damaged.csv'), text.replace(/\n28,/, '\nx8,'));
    writeFileSync(join(cwd, 'hole.csv'), text.replace(/\n30,.*/, ''));
    writeFileSync(join(cwd, 'foreign.csv'), 'a,b\n1,2\n');
    writeFileSync(join(cwd, 'empty.csv'), '');
    for (const [names, message] of [
      [['part-1.csv', 'part-3.csv'], /variants 14 to 26 are missing \(after part-1\.csv, before part-3\.csv\)/],
      [['part-1.csv', 'part-2.csv'], /variants 27 to 40 are missing/],
      [['part-2.csv', 'part-3.csv'], /variants 1 to 13 are missing/],
      [['half.csv', 'part-2.csv', 'part-3.csv'], /variants 14 to 20 are in both half\.csv and part-2\.csv/],
      [['part-1.csv', 'part-1.csv'], /variants 1 to 13 are in both/],
      [['part-1.csv', 'other.csv', 'part-3.csv'], /different sweeps/],
      [['part-1.csv', 'part-2.csv', 'cut.csv'], /cut\.csv is cut off in line 15; run its part again/],
      [['part-1.csv', 'part-2.csv', 'damaged.csv'], /damaged\.csv is damaged in line 3/],
      [['part-1.csv', 'part-2.csv', 'hole.csv'], /hole\.csv holds variant 31 after 29/],
      [['part-1.csv', 'foreign.csv'], /foreign\.csv holds no rows of a sweep/],
      [['part-1.csv', 'empty.csv'], /empty\.csv is empty/],
      [['part-1.csv', 'nowhere.csv'], /nowhere\.csv: there is no such part/],
    ] as const) {
      const { stdout, stderr, code } = await stayput(['sweep', 'merge', 'refused.csv', ...names], { cwd });
      expect({ code, stdout }, names.join(' ')).toEqual({ code: 2, stdout: '' });
      expect(stderr).toMatch(message);
      expect(filesIn(cwd)).not.toContain('refused.csv');
    }
  });

  test('a merged file is not written over without --force, nor over one of its parts', async () => {
    const cwd = await inThree;
    copyFileSync(join(cwd, 'part-1.csv'), join(cwd, 'taken.csv'));
    const names = ['part-1.csv', 'part-2.csv', 'part-3.csv'];
    expect((await stayput(['sweep', 'merge', 'taken.csv', ...names], { cwd })).code).toBe(2);
    expect((await stayput(['sweep', 'merge', 'part-1.csv', ...names, '--force'], { cwd })).stderr).toMatch(
      /read by this/,
    );
    expect((await stayput(['sweep', 'merge', 'taken.csv', ...names, '--force'], { cwd })).code).toBe(0);
    expect(read(cwd, 'taken.csv')).toBe(await undisturbed);
  });

  test.each([
    ['a Slurm array from 0', { SLURM_ARRAY_TASK_ID: '1', SLURM_ARRAY_TASK_COUNT: '3', SLURM_ARRAY_TASK_MIN: '0' }],
    ['a Slurm array from 1', { SLURM_ARRAY_TASK_ID: '2', SLURM_ARRAY_TASK_COUNT: '3', SLURM_ARRAY_TASK_MIN: '1' }],
    [
      'a Slurm array in steps',
      {
        SLURM_ARRAY_TASK_ID: '14',
        SLURM_ARRAY_TASK_COUNT: '3',
        SLURM_ARRAY_TASK_MIN: '10',
        SLURM_ARRAY_TASK_STEP: '4',
      },
    ],
    ['a Kubernetes indexed job', { JOB_COMPLETION_INDEX: '1', STAYPUT_PARTS: '3' }],
  ])('%s says which part', async (_, env) => {
    const cwd = folder();
    const { stderr } = await stayputProcess([...SIZES, '--out', 'rows.csv'], { cwd, env });
    expect(stderr).toMatch(/^part 2 of 3, by /);
    expect(read(cwd, 'rows.csv')).toBe(read(await inThree, 'part-2.csv'));
    await stayputProcess([...SIZES, '--out', 'whole.csv', '--part', '1/1'], { cwd, env });
    expect(read(cwd, 'whole.csv')).toBe(await undisturbed);
  });

  test.each([
    [{ JOB_COMPLETION_INDEX: '1' }, /set STAYPUT_PARTS/],
    [{ JOB_COMPLETION_INDEX: '3', STAYPUT_PARTS: '3' }, /do not say a part: 4 of 3/],
    [{ SLURM_ARRAY_TASK_ID: '7' }, /do not say a part/],
  ])('%j is refused', async (env, message) => {
    const { stderr, code } = await stayput([...SIZES, '--out', 'rows.csv'], { cwd: folder(), env });
    expect(code).toBe(2);
    expect(stderr).toMatch(message);
  });

  const hasParallel =
    spawnSync('parallel', ['--version'], { encoding: 'utf8' }).stdout?.startsWith('GNU parallel') ?? false;
  test.skipIf(!hasParallel)(
    'run by GNU Parallel, four parts two at a time (skipped where it is not installed)',
    async () => {
      const cwd = folder();
      const quoted = [process.execPath, PROGRAM, ...SIZES, '--workers', '1'].map((word) => `'${word}'`).join(' ');
      const command = `${quoted} --part {#}/4 --out part-{#}.csv`;
      const ran = spawnSync('parallel', ['--will-cite', '--jobs', '2', command, ':::', '1', '2', '3', '4'], {
        cwd,
        encoding: 'utf8',
        env: { ...process.env, HOME: cwd },
      });
      expect(ran.status, ran.stderr).toBe(0);
      const names = ['part-1.csv', 'part-2.csv', 'part-3.csv', 'part-4.csv'];
      expect((await stayput(['sweep', 'merge', 'all.csv', ...names], { cwd })).code).toBe(0);
      expect(read(cwd, 'all.csv')).toBe(await undisturbed);
    },
  );
});

describe('what is refused, with exit code 2 and before the work', () => {
  test.each([
    [['--vary', 'battery.capacityy=50,60 Ah'], /did you mean capacity\?/],
    [['--vary', 'loads.fridg.setpoint=4:6 degC'], /did you mean loads\.fridge\?/],
    [['--vary', 'battery.capacity=50:0:200 Ah'], /the step of "50:0:200 Ah" is 0/],
    [['--vary', 'battery.capacity=200:25:50 Ah'], /did you mean 50:25:200 Ah\?/],
    [['--vary', 'battery.capacity=50,50 Ah'], /given twice/],
    [['--vary', 'battery.capacity'], /does not say what to vary/],
    [['--vary', 'a=1,2', '--vary', 'a=3,4'], /varied twice/],
    [[], /nothing is varied/],
    [
      ['--vary', 'loads.lights.power=1:1000 W', '--vary', 'battery.capacity=1.001:0.001:1001 Ah'],
      /1,000,000,000 variants.*--part.*--sample/,
    ],
    [['--vary', 'battery.capacity=1,2 Ah', '--part', '3/2'], /which part of how many/],
    [['--vary', 'battery.capacity=1,2 Ah', '--part', '0/2'], /which part of how many/],
    [['--vary', 'battery.capacity=1,2 Ah', '--workers', '0'], /whole number/],
    [['--vary', 'battery.capacity=1,2 Ah', '--sample', '0'], /whole number/],
    [['--vary', 'battery.capacity=1,2 Ah', '--plot', 'a.svg', '--answer', 'lowestSok'], /did you mean lowestSoc\?/],
    [['--vary', 'battery.capacity=1,2 Ah', '--plot', 'a.svg', '--part', '1/2'], /whole sweep/],
    [['--vary', 'battery.capacity=1,2 Ah', '--plot', 'a.svg', '--sample', '2'], /one or two quantities/],
    [['--vary', 'battery.capacity=1,2 Ah', '--years', '2', '--weather', 'clear'], /which is one year/],
    [['--vary', 'battery.capacity=1,2 Ah', '--json', '--out', '-'], /both fill standard output/],
    [['--vary', 'battery.capacity=1,2 Ah', '--out', 'no/such/rows.csv'], /there is no folder/],
    [['--vary', 'battery.capacity=1,2 Ah', '--out', 'rig.yaml'], /holds no rows of this sweep/],
    [['--vary', 'battery.capacity=1,2 Ah', '--out', 'rig.yaml', '--force'], /read by this command/],
  ])('%j', async (more, message) => {
    const cwd = folder();
    const { stdout, stderr, code } = await stayput([...WEEK, ...more], { cwd });
    expect(code).toBe(2);
    if (more.includes('--json')) expect(JSON.parse(stdout).errors[0].message).toMatch(message);
    else expect(stdout).toBe('');
    expect(stderr).toMatch(message);
    expect(filesIn(cwd)).toEqual(['rig.yaml']);
    expect(read(cwd, 'rig.yaml')).toBe(RIG);
  });

  test.each([
    ['another rig', [...SIZES, '--set', 'loads.lights.power=11 W']],
    ['other values', [...WEEK, '--vary', 'solar[0].count=1:2', '--vary', 'battery.capacity=20:20:200 Ah']],
    ['another seed', [...SIZES, '--seed', '2']],
    ['another step', [...SIZES, '--step', '15min']],
    ['another part', [...SIZES, '--part', '2/2']],
    ['other quantities', [...WEEK, '--vary', 'battery.capacity=20:20:400 Ah']],
  ])('the file of a sweep with %s is left as it is; --force replaces it', async (_, args) => {
    const cwd = folder();
    writeFileSync(join(cwd, 'rows.csv'), await undisturbed);
    const { stderr, code } = await stayputProcess([...args, '--out', 'rows.csv'], { cwd });
    expect(code).toBe(2);
    expect(stderr).toMatch(/another sweep|another part|no rows of this sweep/);
    expect(read(cwd, 'rows.csv')).toBe(await undisturbed);
    expect((await stayputProcess([...args, '--out', 'rows.csv', '--force'], { cwd })).code).toBe(0);
    expect(read(cwd, 'rows.csv')).not.toBe(await undisturbed);
  });
});

describe('the drawing', () => {
  test('one quantity as a line, two as a map: each answer is in it, and a file already there draws the same', async () => {
    const cwd = folder();
    const line = [
      ...WEEK,
      '--vary',
      'battery.capacity=20:20:100 Ah',
      '--plot',
      'line.svg',
      '--answer',
      'unservedHours',
    ];
    expect((await stayputProcess([...line, '--out', 'line.csv'], { cwd })).code).toBe(0);
    expect(read(cwd, 'line.svg').match(/<title>\d+: [\d.,]+ h<\/title><\/path>/g)).toHaveLength(5);
    await stayputProcess([...SIZES, '--out', 'rows.csv', '--plot', 'map.svg'], { cwd });
    expect(read(cwd, 'map.svg').match(/<title>\d, \d+: /g)).toHaveLength(ROWS);
    await stayputProcess([...SIZES, '--out', 'rows.csv', '--plot', 'again.svg'], { cwd });
    expect(read(cwd, 'again.svg')).toBe(read(cwd, 'map.svg'));
    expect(read(cwd, 'map.svg')).not.toMatch(/NaN|undefined|Infinity/);
  });
});
