import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { adviceWords, optionWord } from '../../packages/cli/src/words/option-words.js';
import { advice, adviceText, option } from '../../packages/core/src/message/index.js';
import { folderWith, stayput } from './run-cli.js';
import { definitions } from './stub-io.js';

type Command = ReturnType<typeof definitions>;
const flagsOf = (command: Command): string[] => [
  ...command.options.flatMap(({ long }) => long ?? []),
  ...command.commands.flatMap(flagsOf),
];
const FLAGS = new Set(flagsOf(definitions()));

test('the library as it is shipped names no option of the command line', () => {
  const bundle = fileURLToPath(new URL('../../packages/core/bundle/', import.meta.url));
  const files = readdirSync(bundle).filter((name) => name.endsWith('.js'));
  expect(files.length).toBeGreaterThan(2);
  const named = files.flatMap((name) =>
    [...readFileSync(`${bundle}${name}`, 'utf8').matchAll(/(?<![\w-])--[a-z][a-z-]+/g)].map(([flag]) => flag),
  );
  expect(named.filter((flag) => FLAGS.has(flag))).toEqual([]);
});

test('each option that the library speaks of is one of the command line', () => {
  const source = readFileSync(new URL('../../packages/core/src/message/advice.ts', import.meta.url), 'utf8');
  const names = [...source.matchAll(/^ {2}\| '(\w+)'/gm)].map(([, name]) => name as Parameters<typeof option>[0]);
  expect(names.length).toBeGreaterThan(15);
  expect(names.map((name) => optionWord(option(name))).filter((flag) => !FLAGS.has(flag))).toEqual([]);
});

test('advice reads as the library or as the command line writes options', () => {
  const help = advice`${option('units', 'power', 'kW')} reads it so; ${advice`${option('dateOrder', 'dmy')} settles`} the ${'dates'}`;
  expect(adviceText(help)).toBe('units.power=kW reads it so; dateOrder dmy settles the dates');
  expect(adviceWords(help)).toBe('--unit power=kW reads it so; --date-order dmy settles the dates');
  expect(optionWord(option('columns', 'soc', 'a "b" c'))).toBe('--column soc="a \\"b\\" c"');
  expect(optionWord(option('set', 'battery.capacity=200 Ah'))).toBe('--set battery.capacity=200 Ah');
});

test('errors name the option that helps, in words and as JSON', async () => {
  const log = `time,volts (V),amps (A)\n${Array.from({ length: 30 }, (_, k) => `01/02/2026 10:${10 + k},13.1,2`).join('\n')}\n`;
  const cwd = folderWith({
    'log.csv': log,
    'rig.yaml': 'battery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: lamp, power: 5 W, hours: 4 }]\n',
  });
  const said = await stayput(['log', 'log.csv'], { cwd });
  expect(said.code).toBe(2);
  expect(said.stderr).toMatch(/log\.csv:2: .*day first or month first.*\(--date-order dmy, mdy or ymd settles it\)/);
  const asked = JSON.parse((await stayput(['log', 'log.csv', '--json'], { cwd })).stdout);
  expect(asked.errors[0]).toMatchObject({ code: 'log_date_order', file: 'log.csv', line: 2 });
  expect(asked.errors[0].hint).toBe('--date-order dmy, mdy or ymd settles it');
  const set = await stayput(['check', 'rig.yaml', '--set', 'battery.capacity=200 A'], { cwd });
  expect(set.stderr).toMatch(/^stayput: --set battery\.capacity=200 A battery\.capacity: .*did you mean 200 Ah/m);
  const at = await stayput(['simulate', 'rig.yaml', '--at', '91,0', '--from', '2026-06-01', '--days', '2', '--json'], {
    cwd,
  });
  expect(JSON.parse(at.stdout).errors).toContainEqual(expect.objectContaining({ option: '--at', path: '' }));
  expect(at.stderr).toMatch(/^stayput: --at: /);
});
