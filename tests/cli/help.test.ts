import { spawnSync } from 'node:child_process';
import { chmodSync, copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Block } from '../../packages/cli/src/help/blocks.js';
import { COMMAND_EXAMPLES } from '../../packages/cli/src/help/command-examples.js';
import { partsTopic, rigTopic, tripTopic } from '../../packages/cli/src/help/file-topics.js';
import { LOG_HEADINGS } from '../../packages/cli/src/help/logs-topic.js';
import { roffText } from '../../packages/cli/src/help/roff.js';
import { allShapes, shapeOf } from '../../packages/cli/src/help/shape.js';
import { TOPICS } from '../../packages/cli/src/help/topics.js';
import { unitsTopic } from '../../packages/cli/src/help/units-topic.js';
import { WEATHER_HEADINGS } from '../../packages/cli/src/help/weather-topic.js';
import { readHeading } from '../../packages/core/src/log/columns/heading-wording.js';
import { DIMENSIONS, type Dimension, parseQuantity } from '../../packages/core/src/quantity/index.js';
import { jsonSchemas, readParts, readRig, readTrip } from '../../packages/core/src/rig/index.js';
import { roleOf } from '../../packages/core/src/table/index.js';
import { PROGRAM, stayput } from './run-cli.js';
import { definitions } from './stub-io.js';

const shape = shapeOf(definitions(), {});
const commands = allShapes(shape).filter(({ path }) => path.length > 0);
const calls = Object.values(COMMAND_EXAMPLES).flatMap((examples) => Object.keys(examples));
const columns = (text: string) => Math.max(...text.split('\n').map((line) => [...line].length));

describe('examples', () => {
  test('every command has some, and none is for a command that is not there', () => {
    expect(commands.map(({ path }) => path.join(' ')).sort()).toEqual(Object.keys(COMMAND_EXAMPLES).sort());
    for (const { path, examples } of commands) {
      expect(Object.keys(examples).length, path.join(' ')).toBeGreaterThan(0);
      for (const call of Object.keys(examples)) expect(call.startsWith(`stayput ${path.join(' ')}`), call).toBe(true);
    }
  });

  test.each(calls)('the definitions take: %s', async (call) => {
    const program = definitions();
    let ran = '';
    const stub = (command: ReturnType<typeof definitions>): void => {
      for (const one of command.commands) {
        one.exitOverride().action(() => {
          ran = one.name();
        });
        stub(one);
      }
    };
    stub(program);
    await program.parseAsync(words(call), { from: 'user' });
    expect(ran).not.toBe('');
  });

  const home = mkdtempSync(join(tmpdir(), 'stayput-help-'));
  const examples = fileURLToPath(new URL('../../examples/', import.meta.url));
  const shell = (command: string) =>
    spawnSync('sh', ['-c', command], {
      cwd: home,
      encoding: 'utf8',
      input: '',
      env: { PATH: `${home}/bin:${process.env.PATH}`, HOME: home, LC_ALL: 'C.UTF-8' },
    });

  beforeAll(() => {
    for (const folder of ['bin', '.zfunc', '.config/fish/completions', '.local/share/bash-completion/completions'])
      mkdirSync(join(home, folder), { recursive: true });
    writeFileSync(join(home, 'bin/stayput'), `#!/bin/sh\nexec "${process.execPath}" "${PROGRAM}" "$@"\n`);
    chmodSync(join(home, 'bin/stayput'), 0o755);
    copyFileSync(join(examples, 'heron.yaml'), join(home, 'rig.yaml'));
    copyFileSync(join(examples, 'log-parked.yaml'), join(home, 'parked.yaml'));
    copyFileSync(join(examples, 'north-west-coast.yaml'), join(home, 'trip.yaml'));
    copyFileSync(join(examples, 'parts.yaml'), join(home, 'parts.yaml'));
    const log = readFileSync(join(examples, 'log-parked.csv'), 'utf8');
    writeFileSync(join(home, 'export.csv'), log.replace('Battery voltage (V)', 'Batt U'));
    for (const part of [1, 2])
      shell(
        `stayput sweep rig.yaml --at 41.7,-8.8 --days 2 --weather clear --vary battery.count=1:1:4 --part ${part}/2 --out part-${part}.csv`,
      );
  });

  // `new` without an answer asks in a terminal; here there is none. A target that is missed is exit 1.
  test.each(calls)(
    'it runs: %s',
    (call) => {
      // Of a new rig in the place of the one that is there, and of the rig that the log is of.
      const [fresh, ofLog] = ['stayput new --force --out', call.includes('export.csv') ? 'parked.yaml' : 'rig.yaml'];
      // One weather year says as well as ten whether the call runs.
      const oneYear = /^stayput (stay|yield|size|report) .*--place|^stayput (stay|yield) .*--at/.test(call)
        ? ' --years 1'
        : '';
      const asked = call.replace('stayput new --out', fresh).replace(' rig.yaml ', ` ${ofLog} `);
      const { status, stderr } = shell(asked + oneYear);
      expect([0, 1], stderr).toContain(status);
      expect(stderr).not.toMatch(/fault of ours/);
    },
    240_000,
  );

  test('a call that is folded for help can be copied into a shell as it stands', async () => {
    const { stdout } = await stayput(['help', 'sweep'], { env: { COLUMNS: '60' } });
    expect(stdout).toMatch(/sweep rig\.yaml trip\.yaml \\\n {4}--vary/);
  });
});

/** The words of a call, without what the shell takes. */
function words(call: string): string[] {
  const parts = call.replace(/ > .*/, '').match(/(?:[^\s"]|"[^"]*")+/g)!;
  return parts.slice(1).map((part) => part.replaceAll('"', ''));
}

describe('help', () => {
  test('of a command is the same by both ways, and holds its examples', async () => {
    for (const name of ['check', 'sweep']) {
      const [byHelp, byOption] = [await stayput(['help', name]), await stayput([name, '--help'])];
      expect(byHelp).toEqual(byOption);
      expect(byHelp.stdout).toMatch(/\nExamples:\n {2}# /);
    }
    expect((await stayput(['help', 'sweep', 'merge'])).stdout).toMatch(/^Usage: stayput sweep merge/);
    expect((await stayput(['help'])).stdout).toBe((await stayput(['--help'])).stdout);
  });

  test.each(commands.map(({ path }) => path.join(' ')))('of %s fits the width', async (command) => {
    for (const COLUMNS of ['60', '80', '120']) {
      const { stdout } = await stayput(['help', ...command.split(' ')], { env: { COLUMNS } });
      // A file or a word of a call that is longer stays whole.
      const wide = stdout
        .split('\n')
        .filter((line) => columns(line) > Number(COLUMNS) && !/^\s*(\S+|> \S+)( \\)?$/.test(line));
      expect(wide).toEqual([]);
    }
  });

  test('lists its topics', async () => {
    const { stdout } = await stayput(['--help']);
    for (const { name, summary } of TOPICS)
      expect(stdout).toMatch(new RegExp(`\n {2}${name} +${summary.slice(0, 30)}`));
  });

  test.each(TOPICS.map(({ name }) => name))('%s fits the width, and is plain ASCII where it must be', async (topic) => {
    for (const COLUMNS of ['60', '80', '120']) {
      const { stdout, stderr, code } = await stayput(['help', topic], { env: { COLUMNS } });
      expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
      expect(columns(stdout)).toBeLessThanOrEqual(Number(COLUMNS));
      expect(stdout).not.toMatch(/undefined|NaN|\[object/);
    }
    if (topic !== 'places')
      expect((await stayput(['help', topic], { env: { LC_ALL: 'C' } })).stdout).not.toMatch(/\P{ASCII}/u);
  });

  test('a part of a topic can be asked for; what is not there is guessed at', async () => {
    const { stdout } = await stayput(['help', 'rig', 'battery']);
    expect(stdout).toMatch(/^battery: /);
    expect(stdout).not.toContain('alternator');
    for (const [asked, says] of [
      [['weathr'], /no help for "weathr" \(did you mean weather\?\)/],
      [['simulat'], /did you mean simulate/],
      [['rig', 'batery'], /did you mean battery/],
      [['qqqqqqq'], /there is for new, check/],
    ] as const) {
      const { stderr, stdout: nothing, code } = await stayput(['help', ...asked]);
      expect(stderr).toMatch(says);
      expect({ nothing, code }).toEqual({ nothing: '', code: 2 });
    }
  });
});

const entriesOf = (blocks: readonly Block[]) => blocks.flatMap((block) => ('entries' in block ? block.entries : []));

describe('what the topics say is so', () => {
  test.each([
    ['rig', rigTopic()],
    ['trip', tripTopic()],
    ['parts', partsTopic()],
  ] as const)('help %s tells every key of the schema', (name, blocks) => {
    const told = new Set(entriesOf(blocks).map(([key]) => key));
    const keys = new Set<string>();
    JSON.stringify(jsonSchemas()[name], (_, node: unknown) => {
      if (typeof node === 'object' && node !== null && 'properties' in node)
        for (const key of Object.keys(node.properties as object)) keys.add(key);
      return node;
    });
    expect([...told].sort()).toEqual([...keys].sort());
  });

  test('the files shown are read as they stand', () => {
    const code = (blocks: readonly Block[]) => blocks.flatMap((block) => ('code' in block ? [block.code] : []))[0]!;
    expect(readRig(code(rigTopic())).rig.loads.length).toBeGreaterThan(3);
    expect(readTrip(code(tripTopic())).trip.stops).toHaveLength(3);
    expect(readParts(code(partsTopic())).parts.panels).toHaveLength(1);
  });

  test('the defaults shown are those that reading takes', () => {
    const { defaults } = readRig('battery: { chemistry: LFP, capacity: 100 Ah }\nsolar: [{ power: 175 W }]');
    const said = entriesOf(rigTopic());
    for (const { path, text } of defaults.filter(
      (one) => one.path.startsWith('battery.') && !one.path.includes('charge'),
    ))
      expect(said.find(([key]) => key === path.replace('battery.', ''))![1]).toContain(`Default ${text}`);
  });

  test('a default that only a fridge takes is not told of every load', () => {
    const critical = entriesOf(rigTopic()).filter(([key]) => key === 'critical');
    expect(critical.map(([, words]) => /Default (\w+)/.exec(words)?.[1])).toEqual([undefined, 'true']);
    const { rig } = readRig(
      'battery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: a, power: 2 W }, { name: b, kind: fridge }]',
    );
    expect(rig.loads.map((load) => load.critical)).toEqual([false, true]);
  });

  test('units: every example and every other unit is understood', () => {
    const said = entriesOf(unitsTopic()).slice(0, Object.keys(DIMENSIONS).length);
    for (const [k, dimension] of (Object.keys(DIMENSIONS) as Dimension[]).entries()) {
      const [, sample, also = ''] = /such as ([^;]+)(?:; also ([^;]+))?/.exec(said[k]![1])!;
      for (const text of [
        sample!,
        ...also
          .split(', ')
          .filter(Boolean)
          .map((unit) => `2 ${unit}`),
      ])
        expect(parseQuantity(text, dimension), text).toBeTypeOf('number');
    }
  });

  test('weather and logs: every heading means what is said', () => {
    for (const [role, [, ...headings]] of Object.entries(WEATHER_HEADINGS))
      for (const heading of headings) expect(roleOf(heading), heading).toBe(role);
    for (const [role, heading] of Object.entries(LOG_HEADINGS)) expect(readHeading(heading)?.role, heading).toBe(role);
  });
});

describe('the manual page', () => {
  const has = (command: string, ...args: string[]) => spawnSync(command, args).error === undefined;
  const PAGE = fileURLToPath(new URL('../../packages/cli/dist/stayput.1', import.meta.url));

  test('is shipped, printed by man, and tells every command and option', async () => {
    const { stdout, code } = await stayput(['man']);
    expect(code).toBe(0);
    expect(readFileSync(PAGE, 'utf8')).toBe(stdout);
    const about = JSON.parse(readFileSync(new URL('../../packages/cli/package.json', import.meta.url), 'utf8'));
    expect(about.man).toEqual(['./dist/stayput.1']); // npm links it from a list only
    expect(stdout.startsWith('.TH STAYPUT 1 ')).toBe(true);
    for (const section of ['NAME', 'SYNOPSIS', 'DESCRIPTION', 'COMMANDS', 'EXIT STATUS', 'ENVIRONMENT'])
      expect(stdout).toContain(`\n.SH ${section}\n`);
    for (const { path, options } of commands) {
      expect(stdout).toContain(`\n.SS stayput ${path.join(' ')}`);
      for (const { long } of options) expect(stdout).toContain(roffText(long));
    }
    expect(stdout).not.toMatch(/\P{ASCII}/u);
    // every request is one that is meant
    for (const line of stdout.split('\n'))
      if (/^[.']/.test(line)) expect(line).toMatch(/^\.(TH|SH|SS|TP|PP|B|I|RI|nf|fi|RS|RE)\b/);
  });

  test('keeps text from being taken for requests or escapes', () => {
    expect(roffText('.a -b \\c \'d"')).toBe('\\&.a \\-b \\ec \\(aqd\\(dq');
  });

  test.skipIf(!has('groff', '--version'))('is formatted by groff without a warning (needs groff)', () => {
    const { stdout, stderr } = spawnSync('groff', ['-man', '-ww', '-Tascii', '-P-cbou', PAGE], { encoding: 'utf8' });
    expect(stderr).toBe('');
    expect(stdout).toContain('EXIT STATUS');
  });
  test.skipIf(!has('mandoc', '-T', 'lint', PAGE))('has no error for mandoc (needs mandoc)', () => {
    const { stdout } = spawnSync('mandoc', ['-T', 'lint', '-W', 'warning', PAGE], { encoding: 'utf8' });
    // no date, so that the same sources give the same page
    expect(stdout.split('\n').filter((line) => line !== '' && !line.includes('missing date'))).toEqual([]);
  });
  test.skipIf(!has('man', '--version'))('is shown by man (needs man)', () => {
    const { stdout } = spawnSync('man', ['-l', PAGE], {
      encoding: 'utf8',
      env: { ...process.env, MANWIDTH: '80', LC_ALL: 'C.UTF-8' },
    });
    expect(stdout).toMatch(/STAYPUT\(1\)/);
    expect(stdout).toContain('--never-off');
  });
  test('lies where the package says', () => expect(existsSync(PAGE)).toBe(true));
});
