import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { filesIn, folderWith, PROGRAM, stayput, stayputProcess } from './run-cli.js';

const read = (cwd: string, name: string) => readFileSync(join(cwd, name), 'utf8');

test('what any combination of flags writes passes check', async () => {
  const flag = (name: string, values: fc.Arbitrary<string>) =>
    fc.oneof(
      fc.constant([]),
      values.map((value) => [name, value]),
    );
  const flags = fc.tuple(
    flag('--chemistry', fc.constantFrom('LFP', 'agm', 'gel', 'flooded')),
    flag(
      '--capacity',
      fc.integer({ min: 5, max: 5000 }).map((ah) => `${ah}Ah`),
    ),
    flag(
      '--solar',
      fc.oneof(
        fc.constant('none'),
        fc.integer({ min: 5, max: 2000 }).map((w) => `${w} W`),
      ),
    ),
    flag(
      '--fridge',
      fc.oneof(
        fc.constant('none'),
        fc.integer({ min: 4, max: 300 }).map((l) => `${l}L`),
      ),
    ),
    fc.oneof(
      flag('--place', fc.constantFrom('Porto', 'Oulu', 'Alice Springs, Australia')),
      flag('--at', fc.constantFrom('41.7,-8.8', '65,25.5')),
    ),
    flag('--name', fc.constantFrom('Heron', 'a: "b" #c', "d'e")),
  );
  await fc.assert(
    fc.asyncProperty(flags, async (chosen) => {
      const written = await stayput(['new', ...chosen.flat()]);
      expect(written).toMatchObject({ code: 0, stderr: '' });
      const checked = await stayput(['check', '-', '--json'], { stdin: written.stdout });
      expect(checked, checked.stderr).toMatchObject({ code: 0, stderr: '' });
    }),
    { numRuns: 40 },
  );
}, 60_000);

test('a rig with its trip is followed at once, and the next steps are told', async () => {
  const cwd = folderWith({});
  const { stderr, code } = await stayput(['new', '--out', 'r.yaml', '--trip', 't.yaml', '--place', 'Porto'], { cwd });
  expect(code).toBe(0);
  expect(stderr).toContain('next: stayput check r.yaml');
  expect(stderr).toContain('then: stayput simulate r.yaml t.yaml');
  const run = await stayput(['simulate', 'r.yaml', 't.yaml', '--json'], { cwd });
  expect(JSON.parse(run.stdout).places[0].name).toBe('Porto');
  const quiet = await stayput(['new', '--out', 'q.yaml', '--quiet'], { cwd });
  expect(quiet).toEqual({ code: 0, stdout: '', stderr: '' });
});

test('the first line sends an editor only where a schema is, which is shipped with the program', async () => {
  const cwd = folderWith({});
  const modeline = (text: string) => /^# yaml-language-server: \$schema=(.*)$/m.exec(text)?.[1];
  expect(modeline((await stayputProcess(['new'], { cwd })).stdout)).toBeUndefined();

  const packages = dirname(dirname(dirname(PROGRAM)));
  mkdirSync(join(cwd, 'node_modules/@stayput'), { recursive: true });
  mkdirSync(join(cwd, 'rigs'));
  symlinkSync(join(packages, 'cli'), join(cwd, 'node_modules/@stayput/cli'), 'dir');
  await stayputProcess(['new', '--out', 'rigs/near.yaml'], { cwd });
  const near = modeline(read(cwd, 'rigs/near.yaml'))!;
  expect(near).toBe('../node_modules/@stayput/cli/dist/schema/rig.schema.json');
  expect(JSON.parse(read(cwd, join('rigs', near))).title).toBe('Rig');

  const asked = await stayputProcess(['new', '--schema', '--out', 'rigs/a.yaml', '--trip', 't.yaml', '--at', '1,2'], {
    cwd,
  });
  expect(asked.code, asked.stderr).toBe(0);
  expect(modeline(read(cwd, 'rigs/a.yaml'))).toBe('./rig.schema.json');
  const core = fileURLToPath(new URL('../../packages/core/schema/rig.schema.json', import.meta.url));
  expect(read(cwd, 'rigs/rig.schema.json')).toBe(readFileSync(core, 'utf8'));
  expect(modeline(read(cwd, 't.yaml'))).toBe('./trip.schema.json');
  expect(JSON.parse(read(cwd, 'trip.schema.json')).title).toBe('Trip');
});

test.each([
  [['--capacity', '200'], /--capacity: 200 has no unit.*200 Ah/],
  [['--capacity', '200 A'], /--capacity: 200 A where a charge in Ah is needed \(did you mean 200 Ah\?\)/],
  [['--capacity', '1 Ah'], /out of range: 5 Ah to 5000 Ah/],
  [['--solar', '9 kW'], /--solar: 9 kW is out of range: 5 W to 2000 W, or none/],
  [['--fridge', 'large'], /--fridge: "large" is not a volume/],
  [['--chemistry', 'lithium'], /LFP, AGM, gel, flooded/],
  [['--place', 'Oporto'], /Oporto.*did you mean/],
  [['--at', '91,0'], /latitude 91/],
  [['--trip', 't.yaml'], /--place NAME/],
  [['--schema', '--out', '-'], /--out/],
  [['--out', 'x.yaml', '--trip', 'x.yaml', '--place', 'Porto'], /same file/],
  [['--out', 'nowhere/x.yaml'], /no folder nowhere/],
])('new %j says what is wrong, exit 2, and writes nothing', async (args, says) => {
  const cwd = folderWith({});
  const { stdout, stderr, code } = await stayput(['new', '--out', 'rig.yaml', ...args], { cwd });
  expect(stderr).toMatch(says);
  expect({ code, stdout, files: filesIn(cwd) }).toEqual({ code: 2, stdout: '', files: [] });
});

const hasScript = spawnSync('script', ['--version']).status === 0;

/** Types on a terminal: each text once the program has shown what it waits for. */
function typed(cwd: string, args: string, keys: readonly (readonly [awaited: string, text: string])[]) {
  const steps = keys
    .map(([awaited, text]) => `until grep -qaF ${shell(awaited)} shown; do sleep 0.05; done; printf ${shell(text)}`)
    .concat('true')
    .join('; ');
  const command = `cd ${shell(cwd)}; touch shown; (${steps}; sleep 0.3) | timeout 60 script -qefc ${shell(`${process.execPath} ${PROGRAM} ${args}`)} shown`;
  return spawnSync('sh', ['-c', command], {
    encoding: 'utf8',
    env: { PATH: process.env.PATH, LC_ALL: 'C.UTF-8', TERM: 'xterm', SHELL: '/bin/sh' },
  });
}
const shell = (text: string) => `'${text.replaceAll("'", "'\\''")}'`;

test.skipIf(!hasScript)(
  'in a terminal it asks, and writes what was answered (needs the script command)',
  () => {
    const cwd = folderWith({});
    const { status, stdout } = typed(cwd, 'new --name Owl --out rig.yaml', [
      ['made of?', '\\033[B\\r'],
      ['How large is it?', '200\\r'],
      ['solar panels', '9 V\\r'],
      ['9 V where a power in W is needed', '\\b\\b\\b300\\r'],
      ['fridge inside', 'none\\r'],
      ['stay first?', 'sevi'],
      ['Seville, Spain', '\\r'],
    ]);
    expect(status, stdout).toBe(0);
    const rig = read(cwd, 'rig.yaml');
    expect(rig).toMatch(/name: "Owl"[\s\S]*chemistry: AGM[\s\S]*capacity: 200 Ah[\s\S]*power: 300 W/);
    expect(rig).not.toContain('kind: fridge');
    expect(stdout).toContain('stayput simulate rig.yaml --place Seville');
  },
  60_000,
);

test.skipIf(!hasScript)(
  'Ctrl-C at a question leaves nothing and exits 130 (needs the script command)',
  () => {
    const cwd = folderWith({});
    const { status } = typed(cwd, 'new --out rig.yaml', [
      ['made of?', '\\r'],
      ['How large is it?', '\\003'],
    ]);
    expect({ status, files: filesIn(cwd) }).toEqual({ status: 130, files: ['shown'] });
  },
  60_000,
);

test.skipIf(!hasScript)(
  'in a terminal it asks nothing when an option answers, or --no-input (needs the script command)',
  () => {
    const cwd = folderWith({});
    for (const flag of ['--no-input', '--solar none']) {
      const { status, stdout } = typed(cwd, `new --force --out rig.yaml ${flag}`, []);
      expect(status, stdout).toBe(0);
      expect(stdout).not.toContain('?');
    }
    expect(read(cwd, 'rig.yaml')).toContain('# solar:');
  },
  60_000,
);
