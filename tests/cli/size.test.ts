import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { filesIn, folderWith, RIG, stayput, TRIP } from './run-cli.js';

const example = (name: string) => fileURLToPath(new URL(`../../examples/${name}`, import.meta.url));
/** Invented. */
const PARTS = `name: Invented list
batteries:
  - { name: "<b>50 & more", chemistry: LFP, capacity: 50 Ah, mass: 6 kg, price: 230 }
  - { name: LFP 100, chemistry: LFP, capacity: 100 Ah, mass: 11 kg, price: 400 }
panels:
  - { name: P100, power: 100 W, mass: 6 kg, price: 90, area: 0.6 m2 }
limits: { batteries: 2, panels: 3, mass: 40 kg }
target: { unservedHours: 0 h }
`;
const folder = () => folderWith({ 'rig.yaml': RIG, 'trip.yaml': TRIP, 'parts.yaml': PARTS });
const JULY = [
  'size',
  'rig.yaml',
  'parts.yaml',
  '--at',
  '45,5',
  '--month',
  'jul',
  '--step',
  '1h',
  '--years',
  '3',
] as const;

test('the example answers 50 Ah against 100 Ah with kilograms, price and nights', async () => {
  const args = ['size', example('heron.yaml'), example('parts.yaml'), '--place', 'Porto', '--month', 'mar'];
  const { stdout, stderr, code } = await stayput([...args, '--step', '1h']);
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  expect(stdout.replace(/\n/g, ' ')).toMatch(
    /^50 Ah with .* would leave you without power \d+ nights? in 10 years; 100 Ah (never|\d nights?), for 5\.6 kg and 180 EUR more\./,
  );
  for (const words of [
    'nights',
    'what to buy',
    'lightest',
    'cheapest',
    'most reliable',
    'By hand',
    'combinations of the list',
    'licensed',
  ])
    expect(stdout).toContain(words);
  for (const line of stdout.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
});

test('--json is one document with the keys of the contract, and it adds up', async () => {
  const { stdout, stderr, code } = await stayput([...JULY, '--json'], { cwd: folder() });
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  const document = JSON.parse(stdout);
  expect(document).toMatchObject({ command: 'size', rig: 'Wren', span: 'July', weatherYears: 3, meets: true });
  expect(document.warnings).toEqual(expect.any(Array));
  expect(document.choices.length + document.lost.length).toBe(4 * 4);
  const prices: Record<string, [number, number]> = { '<b>50 & more': [6, 230], 'LFP 100': [11, 400], P100: [6, 90] };
  for (const choice of document.choices) {
    for (const key of ['batteryAh', 'solarW', 'massKg', 'price', 'unservedHoursYear'])
      expect(choice[key]).toEqual(expect.any(Number));
    expect(choice.meets).toEqual(expect.any(Boolean));
    let [massKg, price] = [0, 0];
    for (const { name, count } of choice.parts) {
      massKg += count * prices[name]![0];
      price += count * prices[name]![1];
    }
    expect(choice.massKg).toBeCloseTo(massKg, 9);
    expect(choice.price).toBeCloseTo(price, 9);
  }
  for (const key of ['dailyAh', 'batteryAh', 'solarW']) expect(document.worksheet[key]).toBeGreaterThan(0);
  for (const { why } of document.lost) expect(why).toMatch(/another does as well|lacks power|over a limit|cannot feed/);
});

test('--quiet gives the answer alone, and --plot a whole SVG with names as text', async () => {
  const cwd = folder();
  const { stdout, stderr, code } = await stayput([...JULY, '--quiet', '--plot', 'choices.svg'], { cwd });
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  expect(stdout.trim().split('\n').length).toBeLessThanOrEqual(3);
  const svg = readFileSync(join(cwd, 'choices.svg'), 'utf8');
  expect(svg).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
  for (const part of [
    '<title id="size-title">',
    '<desc id="size-desc">',
    'prefers-color-scheme: dark',
    '&lt;b&gt;50 &amp; more',
  ])
    expect(svg).toContain(part);
  expect(svg).not.toMatch(/NaN|undefined|Infinity|<b>/);
});

test('a target that nothing meets: what comes nearest, what stands in the way, exit code 1', async () => {
  const cwd = folder();
  writeFileSync(join(cwd, 'parts.yaml'), PARTS.replace('mass: 40 kg', 'mass: 12 kg'));
  const dark = ['size', 'rig.yaml', 'parts.yaml', '--at', '50,5', '--month', 'nov', '--step', '1h', '--years', '2'];
  const { stdout, code } = await stayput(dark, { cwd });
  expect(code).toBe(1);
  expect(stdout).toMatch(/^Nothing in the list meets the target: /);
  expect(stdout.replace(/\s+/g, ' ')).toMatch(/comes nearest.* would do with \d+ % of the load/);
  expect(stdout).toMatch(/stands in the way/);
  const document = JSON.parse((await stayput([...dark, '--json'], { cwd })).stdout);
  expect(document).toMatchObject({ meets: false, nearest: { loadFactor: expect.any(Number) } });
});

test('a trip, and several places, each of which must do', async () => {
  const cwd = folder();
  const trip = await stayput(['size', 'rig.yaml', 'parts.yaml', 'trip.yaml', '--step', '1h', '--json'], { cwd });
  expect(trip.code).toBe(0);
  expect(JSON.parse(trip.stdout)).toMatchObject({ span: 'the trip Invented round', weatherYears: 1 });
  const both = await stayput([...JULY, '--at', '60,10', '--json'], { cwd });
  expect(JSON.parse(both.stdout).places).toHaveLength(2);
});

test.each([
  [['size', 'rig.yaml', 'parts.yaml'], /where does the rig stand/],
  [['size', 'rig.yaml', 'parts.yaml', 'trip.yaml', '--place', 'Porto'], /trip file says where/],
  [['size', 'rig.yaml', 'parts.yaml', 'trip.yaml', '--month', 'jul'], /trip file says when/],
  [['size', 'rig.yaml', 'parts.yaml', '--place', 'Prto'], /did you mean/],
  [['size', 'rig.yaml', 'parts.yaml', '--at', '41,8', '--month', 'summer'], /oct, or|oct or jun-aug/],
  [['size', 'rig.yaml', 'parts.yaml', '--at', '41,8', '--days', '5'], /--days needs --from/],
  [['size', 'rig.yaml', 'trip.yaml', '--at', '41,8'], /trip/],
  [['size', 'rig.yaml', 'none.yaml', '--at', '41,8'], /none\.yaml/],
  [['size', 'rig.yaml', 'bad.yaml', '--at', '41,8'], /batteries\[0\]/],
] as const)('%j is refused in one line that says what is wrong', async (args, said) => {
  const cwd = folder();
  writeFileSync(join(cwd, 'bad.yaml'), 'batteries: [{ name: B, chemistry: LFP, capacity: 50 Ah, mass: 6 kg }]\n');
  const before = filesIn(cwd);
  const { stdout, stderr, code } = await stayput(args, { cwd });
  expect({ stdout, code }).toEqual({ stdout: '', code: 2 });
  expect(stderr).toMatch(said);
  expect(filesIn(cwd)).toEqual(before);
});
