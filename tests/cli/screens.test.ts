import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { folderWith, stayput } from './run-cli.js';

const examples = fileURLToPath(new URL('../../examples/', import.meta.url));
const RIGS = ['heron.yaml', 'heron-agm.yaml', 'thin-cable.yaml', 'log-parked.yaml'];
const at = (file: string) => `${examples}${file}`;
const WEEK = ['--place', 'Lisbon', '--from', '2026-10-04', '--days', '12'];
const SCREEN = 40;

/** A screen of a terminal: the last line end begins no line. */
const screen = async (...args: string[]) => (await stayput(args)).stdout.replace(/\n$/, '').split('\n');

test.each([
  ...RIGS.flatMap((rig) => [
    ['simulate', at(rig), ...WEEK],
    ['simulate', at(rig), at('frost.yaml')],
    ['check', at(rig)],
  ]),
  ['simulate', at('heron.yaml'), at('north-west-coast.yaml')],
  ['simulate', at('heron-agm.yaml'), at('north-west-coast.yaml')],
  ['simulate', at('heron.yaml'), at('coast-measured.yaml')],
])('%s %s %s fits a screen of 40 lines at 80 columns', async (...args) => {
  const lines = await screen(...args);
  expect(lines.length).toBeLessThanOrEqual(SCREEN);
  for (const line of lines) expect([...line].length).toBeLessThanOrEqual(80);
  expect(lines.join(' ')).toMatch(/local codes and the makers' instructions +stand above them/);
});

const DANGEROUS = {
  'rig.yaml': `
name: Dunlin
battery: { chemistry: LFP, capacity: 100 Ah, floor: 20 % }
solar: [{ power: 175 W }]
inverter: { rating: 600 W }
loads:
  - { name: kettle, power: 1000 W, hours: 0.2, inverter: true }
  - { name: laptop, power: 60 W, hours: 6, inverter: true }
`,
};

test('check says first what is dangerous, then what the rig is, and its defaults only when asked', async () => {
  const cwd = folderWith(DANGEROUS);
  const { stdout } = await stayput(['check', 'rig.yaml'], { cwd });
  const lines = stdout.split('\n');
  expect(lines[1]).toMatch(/^danger {2}loads\[0\]: kettle asks for 1,000 W/);
  expect(stdout.indexOf('danger ')).toBeLessThan(stdout.indexOf('Battery: LFP'));
  expect(stdout).not.toContain('battery.series');
  expect(stdout.replaceAll(/\s+/g, ' ')).toMatch(/--defaults lists the \d+ defaults taken/);
  expect((await stayput(['check', 'rig.yaml', '--defaults'], { cwd })).stdout).toMatch(
    /^battery\.series +1: none in series$/m,
  );
});

test('elsewhere one line counts the findings of the rig and names where its dangers are', async () => {
  const { stdout } = await stayput(['simulate', 'rig.yaml', ...WEEK], { cwd: folderWith(DANGEROUS) });
  expect(stdout).toMatch(/^The rig itself: 1 danger \(loads\[0\]\).*; stayput check says more\.$/m);
});

test('what went wrong has what was tried against it, with its figure; the tables come with --detail', async () => {
  const call = ['simulate', at('heron.yaml'), at('north-west-coast.yaml')];
  const { stdout } = await stayput(call);
  expect(stdout.replaceAll(/\s+/g, ' ')).toMatch(
    /What would help - Laptop for [\d.]+ (min|h) a day instead of 3\.0 h would cure that\. So would driving [\d.]+ (min|h) more every morning, or one more 175 W panel \(3\.10 kg, 190 EUR\)\./,
  );
  expect(stdout).not.toMatch(/^Day +sun/m);
  const detail = (await stayput([...call, '--detail'])).stdout;
  expect(detail).toMatch(/^Day +sun/m);
  expect(detail).toMatch(/^Energy +Wh/m);
  const { verdict, troubles, remedies } = JSON.parse((await stayput([...call, '--json'])).stdout);
  expect(stdout.replaceAll(/\s+/g, ' ').startsWith(verdict.text)).toBe(true);
  expect(troubles[0]).toMatchObject({
    code: 'ran_flat',
    level: 'bad',
    firstAt: expect.stringMatching(/^2026-10-\d\dT\d\d:\d\d/),
  });
  expect(remedies.tried[0].cure.code).toBe('less_use');
});
