import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { filesIn, folderWith, RIG, stayput, TRIP } from './run-cli.js';

const YIELD = ['yield', 'rig.yaml', '--at', '41.7,-8.8', '--step', '1h', '--years', '2'] as const;
const folder = () => folderWith({ 'rig.yaml': RIG, 'trip.yaml': TRIP });

test('the answer comes first, in one sentence, and --quiet gives nothing else', async () => {
  const cwd = folder();
  const { stdout, stderr, code } = await stayput(YIELD, { cwd });
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  const sentence =
    /^Wren's 200 W at 41\.70, -8\.80 can give \d+ Wh a day over the year: \d+ Wh in\s\w{3}, [\d.]+ k?Wh in \w{3}\.$/;
  const quiet = await stayput([...YIELD, '--quiet'], { cwd });
  expect(quiet.stdout.trim().replace(/\n/g, ' ')).toMatch(sentence);
  expect(stdout.startsWith(quiet.stdout.trimEnd())).toBe(true);
  for (const words of ['Month', 'Jan', 'Dec', 'best tilt', 'Set up', 'What takes the rest', 'Have it checked'])
    expect(stdout).toContain(words);
  for (const line of stdout.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
});

test('--json is one document with the keys of the contract, and it adds up', async () => {
  const { stdout, stderr, code } = await stayput([...YIELD, '--json'], { cwd: folder() });
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  const document = JSON.parse(stdout);
  expect(document).toMatchObject({ command: 'yield', rig: 'Wren', warnings: [], weatherYears: 2 });
  expect(document.months).toHaveLength(12);
  const days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  let wh = 0;
  document.months.forEach((month: Record<string, number>, k: number) => {
    for (const key of ['month', 'poaKwhM2Day', 'yieldWhDay', 'peakSunHours'])
      expect(month[key]).toEqual(expect.any(Number));
    wh += month.yieldWhDay! * days[k]!;
  });
  expect(document.annualKwh).toBeCloseTo(wh / 1000, 9);
  expect(document.bestTiltDeg).toBeGreaterThan(25);
  expect(document.bestTiltDeg).toBeLessThan(45);
});

test('--plot writes a whole SVG whose text can be read, light and dark', async () => {
  const cwd = folder();
  const { stderr, code } = await stayput([...YIELD, '--plot', 'months.svg'], { cwd });
  expect({ stderr, code }).toEqual({ stderr: 'wrote months.svg\n', code: 0 });
  const svg = readFileSync(join(cwd, 'months.svg'), 'utf8');
  expect(svg).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
  for (const part of [
    '<title id="yield-title">',
    '<desc id="yield-desc">',
    'role="img"',
    'prefers-color-scheme: dark',
    '>Jan</text>',
  ])
    expect(svg).toContain(part);
  expect(svg.match(/<path[^>]* fill="#c27a16"[^>]*><title>\w{3}: [\d.,]+ k?Wh a day/g)).toHaveLength(12);
  expect(svg.match(/<path[^>]* fill="#c27a16"/g)).toHaveLength(13); // twelve months and the key
  expect(svg).not.toMatch(/NaN|undefined|Infinity/);

  const again = await stayput([...YIELD, '--plot', 'months.svg'], { cwd });
  expect(again.code).toBe(2);
  expect(again.stderr).toContain('--force');
  const printed = await stayput([...YIELD, '--plot', '-'], { cwd });
  expect(printed.stdout).toBe(svg);
  expect((await stayput([...YIELD, '--plot', '-', '--json'], { cwd })).code).toBe(2);
});

test('a name with signs of XML stays text in the picture', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG.replace('Wren', '"<b>Wren & \\"Co\\"</b>"') });
  const { stdout } = await stayput([...YIELD, '--plot', '-'], { cwd });
  expect(stdout).toContain('&lt;b&gt;Wren &amp; &quot;Co&quot;&lt;/b&gt;');
  expect(stdout).not.toContain('<b>');
});

test("a trip's first stop serves, and more stops are told of", async () => {
  const cwd = folder();
  const { stdout } = await stayput(['yield', 'rig.yaml', 'trip.yaml', '--step', '1h', '--json'], { cwd });
  const { warnings, place, weather } = JSON.parse(stdout);
  expect(place).toMatchObject({ latDeg: 41.7, lonDeg: -8.8 });
  expect(weather).toEqual({ kind: 'clear' });
  expect(warnings).toMatchObject([{ code: 'first_stop_only', text: expect.stringContaining('first stop') }]);
});

test('polar night is told as nothing, in months and in the answer', async () => {
  const cwd = folder();
  const args = ['yield', 'rig.yaml', '--at', '78,15', '--step', '1h', '--years', '1'];
  const { stdout, code } = await stayput(args, { cwd });
  expect(code).toBe(0);
  expect(stdout.split('\n').slice(0, 3).join(' ')).toMatch(/nothing in Jan, Nov,\s+Dec/);
  expect(stdout).not.toContain('NaN');
});

test('the example rig at five latitudes: the sun leans as it should', async () => {
  const rig = fileURLToPath(new URL('../../examples/heron.yaml', import.meta.url));
  const at = async (place: string) => {
    const args = ['yield', rig, '--at', place, '--weather', 'clear', '--step', '1h', '--json'];
    return JSON.parse((await stayput(args)).stdout);
  };
  const studies = await Promise.all(['65,25', '45,5', '25,55', '0,20', '-35,20'].map(at));
  const [north65, , , equator, south35] = studies;
  const dec = ({ months }: (typeof studies)[number]) => months[11].yieldWhDay;
  const jun = ({ months }: (typeof studies)[number]) => months[5].yieldWhDay;
  expect(dec(north65)).toBeGreaterThan(0);
  expect(studies.slice(0, 4).map(dec)).toEqual(
    studies
      .slice(0, 4)
      .map(dec)
      .toSorted((a, b) => a - b),
  );
  expect(Math.abs(dec(equator) / jun(equator) - 1)).toBeLessThan(0.15);
  expect(dec(south35)).toBeGreaterThan(2 * jun(south35));
  const [a, b, c, d] = studies.map(({ bestTiltDeg }) => bestTiltDeg);
  expect([a, b, c, d]).toEqual([a, b, c, d].toSorted((x, y) => y - x));
});

test('--set changes what is worked out', async () => {
  const cwd = folder();
  const annual = async (...more: string[]) =>
    JSON.parse((await stayput([...YIELD, '--json', ...more], { cwd })).stdout).annualKwh;
  const [one, two] = [
    await annual(),
    await annual('--set', 'solar[0].count=2', '--set', 'solar[0].controller.current=60 A'),
  ];
  expect(two / one).toBeGreaterThan(1.9);
  expect(two / one).toBeLessThan(2.05);
});

test.each([
  [['yield', 'rig.yaml'], /where does the rig stand/],
  [['yield', 'rig.yaml', 'trip.yaml', '--place', 'Porto'], /trip file says where/],
  [['yield', 'rig.yaml', '--place', 'Prto'], /did you mean/],
  [['yield', 'rig.yaml', '--at', '41,8', '--years', '0'], /1 to 1000/],
  [['yield', 'rig.yaml', '--at', '41,8', '--weather', 'none.epw'], /none\.epw/],
  [['yield', 'rig.yaml', '--at', '41,8', '--out', 'a.svg', '--plot', 'a.svg'], /same file/],
  [['yield', 'bare.yaml', '--at', '41,8'], /no solar array/],
] as const)('%j is refused in one line that says what is wrong', async (args, said) => {
  const cwd = folder();
  writeFileSync(join(cwd, 'bare.yaml'), RIG.replace(/solar:[\s\S]*?loads:/, 'loads:'));
  const before = filesIn(cwd);
  const { stdout, stderr, code } = await stayput(args, { cwd });
  expect({ stdout, code }).toEqual({ stdout: '', code: 2 });
  expect(stderr).toMatch(said);
  expect(filesIn(cwd)).toEqual(before);
});

test('a folder of real years, as tables of days, is gone through year by year; so are files named one by one', async () => {
  const daysOf = (year: number) => {
    const count = (Date.UTC(year + 1, 0, 1) - Date.UTC(year, 0, 1)) / 864e5;
    const rows = Array.from({ length: count }, (_, d) => {
      const date = new Date(Date.UTC(year, 0, 1 + d)).toISOString().slice(0, 10);
      return `${date},${d % 2 === 0 ? 1.2 : 1.6},18,8`;
    });
    return `date,global kWh/m2,tmax C,tmin C\n${rows.join('\n')}\n`;
  };
  const cwd = folderWith({
    'rig.yaml': RIG,
    '2012.csv': daysOf(2012),
    '2013.csv': daysOf(2013),
    'notes.md': 'not weather',
  });
  const run = (weather: string) =>
    stayput(['yield', 'rig.yaml', '--place', 'Porto', '--weather', weather, '--json'], { cwd });
  for (const weather of ['.', '2012.csv,2013.csv']) {
    const { stdout, code } = await run(weather);
    expect(code).toBe(0);
    expect(JSON.parse(stdout).weatherYears).toBe(2);
  }
  const withEmpty = () => {
    const without = folder();
    mkdirSync(join(without, 'empty'));
    return without;
  };
  const { stderr, code } = await stayput(['yield', 'rig.yaml', '--place', 'Porto', '--weather', './empty'], {
    cwd: withEmpty(),
  });
  expect(code).toBe(2);
  expect(stderr.replace(/\n/g, ' ')).toMatch(/is a folder without a weather file/);
});
