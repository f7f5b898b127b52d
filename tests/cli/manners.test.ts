import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { FLAT_RIG, filesIn, folderWith, PROGRAM, RIG, SUMMER, start, stayput, TRIP } from './run-cli.js';

const WEEK = ['simulate', 'rig.yaml', ...SUMMER] as const;

test('--help and --version answer on standard output', async () => {
  const help = await stayput(['--help']);
  expect(help).toMatchObject({ code: 0, stderr: '' });
  for (const command of ['new', 'check', 'simulate']) expect(help.stdout).toContain(command);
  expect((await stayput(['simulate', '--help'])).stdout).toContain('--never-off');
  const { version } = JSON.parse(readFileSync(new URL('../../packages/cli/package.json', import.meta.url), 'utf8'));
  expect(await stayput(['--version'])).toEqual({ stdout: `${version}\n`, stderr: '', code: 0 });
});

test('--help loads nothing of the model: what the program imports at once is small', () => {
  const seen = new Set<string>();
  const bytes = (path: string): number => {
    if (seen.has(path)) return 0;
    seen.add(path);
    const code = readFileSync(path, 'utf8');
    const imports = [...code.matchAll(/(?:from|import)\s*"(\.[^"]+)"/g)].map(([, name]) => join(path, '..', name!));
    return code.length + imports.reduce((sum, next) => sum + bytes(next), 0);
  };
  expect(bytes(PROGRAM)).toBeLessThan(100_000);
});

test('new prints a rig that check reads, and check prints every default when asked', async () => {
  const { stdout, stderr, code } = await stayput(['new', '--name', 'Wagtail']);
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  expect(stdout).toContain('Wagtail');
  const checked = await stayput(['check', '-', '--defaults'], { stdin: stdout });
  expect(checked).toMatchObject({ code: 0, stderr: '' });
  const { defaults } = JSON.parse((await stayput(['check', '-', '--json'], { stdin: stdout })).stdout);
  for (const { path } of defaults) expect(checked.stdout).toContain(path);
});

test('check --json is one document with the keys of the contract', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const { stdout, stderr, code } = await stayput(['check', 'rig.yaml', '--json'], { cwd });
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  const document = JSON.parse(stdout);
  expect(document).toMatchObject({ command: 'check', rig: 'Wren', warnings: expect.any(Array) });
  for (const finding of document.findings)
    expect(finding).toMatchObject({
      level: expect.stringMatching(/^(note|caution|danger)$/),
      path: expect.any(String),
      text: expect.any(String),
    });
});

test('simulate --json is one document with the keys of the contract, and it adds up', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG, 'trip.yaml': TRIP });
  const { stdout, code } = await stayput(['simulate', 'rig.yaml', 'trip.yaml', '--json'], { cwd });
  expect(code).toBe(0);
  const { command, rig, trip, warnings, summary, daily, loads, places } = JSON.parse(stdout);
  expect({ command, rig, trip }).toEqual({ command: 'simulate', rig: 'Wren', trip: 'Invented round' });
  expect(Array.isArray(warnings)).toBe(true);
  expect(Object.keys(summary)).toEqual(
    expect.arrayContaining(
      'days startSoc endSoc lowestSoc lowestAt hoursBelowFloor hoursOff pvAvailableWh pvHarvestWh pvSpilledWh alternatorWh mainsWh loadWh unservedWh lossWh storedChangeWh ledgerErrorWh fullDays equivalentCycles'.split(
        ' ',
      ),
    ),
  );
  expect(Object.keys(daily[0])).toEqual(
    expect.arrayContaining(
      'date pvHarvestWh pvSpilledWh alternatorWh loadWh unservedWh lowestSoc highestSoc ambientMeanC'.split(' '),
    ),
  );
  expect(Object.keys(loads[0])).toEqual(expect.arrayContaining(['name', 'servedWh', 'unservedWh', 'dutyCycle']));
  expect(places).toHaveLength(2);
  expect(places[0].climateFrom[0]).toMatchObject({ name: expect.any(String), distanceKm: expect.any(Number) });
  expect(daily.map(({ date }: { date: string }) => date)).toEqual([
    '2026-07-03',
    '2026-07-04',
    '2026-07-05',
    '2026-07-06',
    '2026-07-07',
  ]);
  expect(summary.pvHarvestWh + summary.pvSpilledWh).toBeCloseTo(summary.pvAvailableWh, 6);
  for (const key of ['pvHarvestWh', 'pvSpilledWh', 'alternatorWh', 'loadWh', 'unservedWh'])
    expect(daily.reduce((sum: number, day: Record<string, number>) => sum + day[key]!, 0)).toBeCloseTo(summary[key], 6);
});

test('the answer is the first line; a system that runs flat says when and what', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG, 'flat.yaml': FLAT_RIG });
  const good = await stayput(WEEK, { cwd });
  expect(good).toMatchObject({ code: 0, stderr: '' });
  expect(good.stdout.split('\n')[0]).toMatch(/^Never runs flat: lowest \d+ % on \d+ Jul \d\d:\d\d/);
  expect(good.stdout).toContain('licensed person');
  const flat = await stayput(['simulate', 'flat.yaml', ...SUMMER], { cwd });
  expect(flat.code).toBe(0);
  expect(flat.stdout.split('\n')[0]).toMatch(/flat.* Jul \d\d:\d\d.*fridge.*without power for/);
});

test('a target that is not met is exit 1, said in words; one that is met is 0', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG, 'flat.yaml': FLAT_RIG });
  const missed = await stayput(['simulate', 'flat.yaml', ...SUMMER, '--never-off', '--never-below', '30', '--quiet'], {
    cwd,
  });
  expect(missed.code).toBe(1);
  expect(missed.stdout).toMatch(/missed: never below 30 %/);
  expect(missed.stdout).toMatch(/missed: never off: .*fridge/);
  const met = await stayput([...WEEK, '--never-off', '--never-below', '5', '--json'], { cwd });
  expect(met.code).toBe(0);
  expect(JSON.parse(met.stdout).targets.map(({ met: is }: { met: boolean }) => is)).toEqual([true, true]);
});

test('findings at level danger are never hidden, by --quiet or --json', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG.replace('LFP', 'flooded') }); // in the cabin, where its hydrogen gathers
  const danger = /danger.*hydrogen/;
  expect((await stayput(['check', 'rig.yaml', '--quiet'], { cwd })).stdout).toMatch(danger);
  expect((await stayput([...WEEK, '--quiet'], { cwd })).stdout).toMatch(danger);
  for (const way of [['--json'], ['--out', 'result.txt'], ['--trace', '-']])
    expect((await stayput([...WEEK, '--quiet', ...way], { cwd })).stderr).toMatch(danger);
  const { findings } = JSON.parse((await stayput([...WEEK, '--json'], { cwd })).stdout);
  expect(findings.some(({ level }: { level: string }) => level === 'danger')).toBe(true);
});

test('--quiet leaves the answer alone', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const { stdout } = await stayput([...WEEK, '--quiet'], { cwd });
  expect(stdout).toMatch(/^Never runs flat.*\n$/);
});

test('--seed draws other weather, the same seed the same', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const run = async (seed: string) => {
    const args = ['simulate', 'rig.yaml', '--place', 'Porto', '--from', '2026-10-03', '--seed', seed, '--json'];
    return JSON.parse((await stayput(args, { cwd })).stdout).summary;
  };
  const [one, two, again] = await Promise.all([run('1'), run('2'), run('1')]);
  expect(again).toEqual(one);
  expect(two.pvAvailableWh).not.toBe(one.pvAvailableWh);
});

const EPW = new URL('../../../shared/data/hourly/USA_NV_Las.Vegas-McCarran.Intl.AP.723860_TMY3.epw', import.meta.url);

test.skipIf(!existsSync(EPW))('a month of a real EPW file adds up (skipped without ../shared)', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const args = [
    'simulate',
    'rig.yaml',
    '--at',
    '36.08,-115.15',
    '--from',
    '2026-06-01',
    '--days',
    '30',
    '--weather',
    fileURLToPath(EPW),
  ];
  const { stdout, code } = await stayput([...args, '--json'], { cwd });
  expect(code).toBe(0);
  const { summary, daily } = JSON.parse(stdout);
  expect(daily).toHaveLength(30);
  expect(summary.pvHarvestWh + summary.pvSpilledWh).toBeCloseTo(summary.pvAvailableWh, 6);
  // June in a desert: more than 5 peak sun hours a day on 200 W, less than the nameplate all day.
  expect(summary.pvAvailableWh / 30).toBeGreaterThan(200 * 5 * 0.7);
  expect(summary.pvAvailableWh / 30).toBeLessThan(200 * 9);
});

test('--set changes the rig, --start-soc the start, --step the grid, and the same call gives the same answer', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const run = async (...more: string[]) => JSON.parse((await stayput([...WEEK, '--json', ...more], { cwd })).stdout);
  const [plain, again, big, low] = await Promise.all([
    run(),
    run(),
    run('--set', 'battery.count=2'),
    run('--start-soc', '50'),
  ]);
  expect(again).toEqual(plain);
  expect(big.summary.lowestSoc).toBeGreaterThan(plain.summary.lowestSoc);
  expect(low.summary.startSoc).toBe(0.5);
  expect((await run('--step', '1h')).stepH).toBe(1);
});

test('without --from it begins today, and says so', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const { stdout } = await stayput(['simulate', 'rig.yaml', '--at', '41.7,-8.8', '--weather', 'clear'], { cwd });
  expect(stdout).toMatch(/from today,\s+\d{4}-\d\d-\d\d/);
  const { stderr } = await stayput(['simulate', 'rig.yaml', '--at', '41.7,-8.8', '--weather', 'clear', '--json'], {
    cwd,
  });
  expect(stderr).toMatch(/from today,\s+\d{4}-\d\d-\d\d/);
});

test('files: reported, not replaced without --force, nothing left beside them', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG, 'trace.csv': 'mine' });
  const refused = await stayput([...WEEK, '--out', 'result.txt', '--trace', 'trace.csv'], { cwd });
  expect(refused).toMatchObject({ code: 2, stdout: '' });
  expect(refused.stderr).toMatch(/trace\.csv exists.*--force/);
  expect(readFileSync(join(cwd, 'trace.csv'), 'utf8')).toBe('mine');
  expect(filesIn(cwd)).toEqual(['rig.yaml', 'trace.csv']);

  chmodSync(join(cwd, 'trace.csv'), 0o600);
  const forced = await stayput([...WEEK, '--out', 'result.txt', '--trace', 'trace.csv', '--force'], { cwd });
  expect(forced).toMatchObject({ code: 0, stdout: '' });
  expect(forced.stderr).toMatch(/wrote result\.txt/);
  expect(forced.stderr).toMatch(/wrote trace\.csv \(1,008 rows\)/);
  expect(filesIn(cwd)).toEqual(['result.txt', 'rig.yaml', 'trace.csv']);
  expect(statSync(join(cwd, 'trace.csv')).mode & 0o777).toBe(0o600);
  expect(readFileSync(join(cwd, 'result.txt'), 'utf8')).toMatch(/^Never runs flat/);

  const lines = readFileSync(join(cwd, 'trace.csv'), 'utf8').trimEnd().split('\n');
  expect(lines).toHaveLength(7 * 144 + 1);
  expect(lines[0]).toBe(
    'time,soc,battery_v,battery_a,battery_c,pv_available_w,pv_harvest_w,alternator_w,mains_w,load_w,unserved_w,ambient_c,cabin_c,ghi_w_m2,poa_w_m2,load:fridge_w,load:lights_w,inside:fridge_c',
  );
  expect(lines[1]).toMatch(/^2026-07-01T00:00(:00)?\+01:00,/);
});

test('an input is never written over, and two results need two files', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  symlinkSync('rig.yaml', join(cwd, 'link.yaml'));
  for (const out of ['rig.yaml', './rig.yaml', 'link.yaml']) {
    expect(await stayput([...WEEK, '--out', out, '--force'], { cwd })).toMatchObject({ code: 2, stdout: '' });
    expect(readFileSync(join(cwd, 'rig.yaml'), 'utf8')).toBe(RIG);
  }
  expect(await stayput([...WEEK, '--out', 'a', '--trace', './a'], { cwd })).toMatchObject({ code: 2, stdout: '' });
  expect((await stayput([...WEEK, '--out', 'no/such/folder.txt'], { cwd })).stderr).toMatch(/no folder no\/such/);
  expect((await stayput([...WEEK, '--out', '.'], { cwd })).stderr).toMatch(/is a folder/);
  expect(filesIn(cwd)).toEqual(['link.yaml', 'rig.yaml']);
});

test('a result can go to a device, and the trace to standard output', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  expect(await stayput([...WEEK, '--out', '/dev/null'], { cwd })).toMatchObject({ code: 0, stdout: '' });
  const { stdout, code } = await stayput([...WEEK, '--trace', '-'], { cwd });
  expect(code).toBe(0);
  expect(stdout.trimEnd().split('\n')).toHaveLength(7 * 144 + 1);
});

test('weather named in a trip stands beside the trip, weather named in the call is found from here', async () => {
  const hours = Array.from(
    { length: 24 * 12 },
    (_, i) =>
      `${new Date(Date.UTC(2026, 6, 1) + i * 3.6e6).toISOString().slice(0, 16)}Z,${i % 24 > 6 && i % 24 < 19 ? 500 : 0},20`,
  );
  const csv = ['time (UTC),GHI (W/m2),air temperature (C)', ...hours].join('\n');
  const cwd = folderWith({ 'rig.yaml': RIG });
  mkdirSync(join(cwd, 'trips'));
  writeFileSync(join(cwd, 'trips/sun.csv'), csv);
  writeFileSync(join(cwd, 'trips/trip.yaml'), TRIP.replace('clear', 'sun.csv'));
  const byTrip = await stayput(['simulate', 'rig.yaml', 'trips/trip.yaml', '--json'], { cwd });
  expect(byTrip.code, byTrip.stderr).toBe(0);
  const byCall = await stayput(['simulate', 'rig.yaml', 'trips/trip.yaml', '--weather', 'trips/sun.csv', '--json'], {
    cwd,
  });
  expect(JSON.parse(byCall.stdout).summary).toEqual(JSON.parse(byTrip.stdout).summary);
  expect((await stayput(['simulate', 'rig.yaml', 'trips/trip.yaml', '--weather', 'sun.csv'], { cwd })).code).toBe(2);
});

test('a closed pipe is no fault', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const child = start([...WEEK, '--days', '10', '--step', '1min', '--trace', '-'], cwd);
  let stderr = '';
  child.stderr.on('data', (text) => {
    stderr += text;
  });
  const code = await new Promise((resolve) => {
    child.stdout.once('data', () => child.stdout.destroy());
    child.on('close', resolve);
  });
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
});

test.skipIf(!existsSync('/dev/full'))('a full disk behind standard output is said, exit 2 (needs /dev/full)', () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const command = `"${process.execPath}" "${PROGRAM}" check rig.yaml > /dev/full`;
  const { status, stderr } = spawnSync('sh', ['-c', command], { cwd, encoding: 'utf8' });
  expect({ status, stderr }).toEqual({
    status: 2,
    stderr: expect.stringMatching(/^stayput: standard output cannot be written: .*\n$/),
  });
});

test('Ctrl-C leaves nothing half-written', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const child = start([...WEEK, '--days', '90', '--step', '1min', '--trace', 'trace.csv'], cwd);
  const ended = new Promise((resolve) => child.on('close', resolve));
  while (child.exitCode === null && !filesIn(cwd).some((name) => name.endsWith('.part')))
    await new Promise((resume) => setTimeout(resume, 5));
  child.kill('SIGINT');
  expect(await ended).toBe(130);
  expect(filesIn(cwd)).toEqual(['rig.yaml']);
});

test('Ctrl-C ends it while it waits for standard input', async () => {
  // On a busy machine it may not have begun to listen: then the signal itself ends it, and it is given longer.
  for (const waitMs of [500, 2_000, 8_000]) {
    const child = start(['check', '-'], folderWith({}));
    const ended = new Promise((resolve) => child.on('close', (code, signal) => resolve(code ?? signal)));
    await new Promise((resume) => setTimeout(resume, waitMs));
    child.kill('SIGINT');
    const how = await ended;
    if (how === 'SIGINT' && waitMs < 8_000) continue;
    expect(how).toBe(130);
    return;
  }
});

test('signs are ASCII where the locale has no others, and no line is wider than the terminal', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  for (const [COLUMNS, LC_ALL] of [
    ['60', 'C'],
    ['60', 'C.UTF-8'],
    ['120', 'C'],
    ['200', 'C.UTF-8'],
  ] as const) {
    const { stdout } = await stayput([...WEEK, '--days', '30'], { cwd, env: { COLUMNS, LC_ALL } });
    expect(/\P{ASCII}/u.test(stdout)).toBe(LC_ALL !== 'C');
    expect(Math.max(...stdout.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(Number(COLUMNS));
  }
});

const hasScript = spawnSync('script', ['--version']).status === 0;

test.skipIf(!hasScript)(
  'colour on a terminal only, and not when it is refused (needs the script command)',
  async () => {
    const cwd = folderWith({ 'rig.yaml': RIG });
    const onTerminal = (env: Record<string, string>, more = '') =>
      spawnSync('script', ['-qec', `${process.execPath} ${PROGRAM} ${WEEK.join(' ')} ${more}`, '/dev/null'], {
        cwd,
        encoding: 'utf8',
        env: { PATH: process.env.PATH, LC_ALL: 'C.UTF-8', TERM: 'xterm', ...env },
      }).stdout;
    expect(onTerminal({})).toContain('\u001b[');
    expect(onTerminal({ NO_COLOR: '1' })).not.toContain('\u001b[');
    expect(onTerminal({ TERM: 'dumb' })).not.toContain('\u001b[');
    expect(onTerminal({}, '--no-color')).not.toContain('\u001b[');
    expect((await stayput(WEEK, { cwd })).stdout).not.toContain('\u001b[');
  },
);

test('the program can be packed and run alone: nothing is needed beside it', () => {
  expect(statSync(PROGRAM).mode & 0o111).not.toBe(0);
  expect(readFileSync(PROGRAM, 'utf8').startsWith('#!/usr/bin/env node\n')).toBe(true);
  expect(existsSync(join(PROGRAM, '..', 'node_modules'))).toBe(false);
});
