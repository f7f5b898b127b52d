import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { readRig } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { cautionsFor } from '../../packages/cli/src/show/cautions.js';
import { FLAT_RIG, filesIn, folderWith, RIG, SUMMER, stayput, stayputProcess, TRIP } from './run-cli.js';

test('a rig that makes or takes mains voltage is told that it can kill, one of 12 V alone is not', () => {
  const of = (more: string) =>
    cautionsFor(
      readRig(`battery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: a, power: 1 W }]\n${more}`).rig,
    );
  for (const more of ['inverter: { rating: 300 W }', 'mains: { current: 20 A }'])
    expect(of(more).join(' ')).toMatch(/Mains voltage can kill/);
  expect(of('').join(' ')).not.toMatch(/Mains voltage/);
});

const PARTS = `name: invented
batteries:
  - { name: B50, chemistry: LFP, capacity: 50 Ah, mass: 6 kg, price: 230 }
  - { name: B100, chemistry: LFP, capacity: 100 Ah, mass: 11 kg, price: 400 }
panels:
  - { name: P100, power: 100 W, mass: 6 kg, price: 90 }
limits: { batteries: 2, panels: 2 }
`;
const QUICK = ['--step', '1h', '--years', '1'] as const;
const REPORT = ['report', 'rig.yaml', 'trip.yaml', ...QUICK] as const;

const folder = (rig = RIG) => folderWith({ 'rig.yaml': rig, 'trip.yaml': TRIP, 'parts.yaml': PARTS });
const read = (cwd: string, name: string) => readFileSync(join(cwd, name), 'utf8');

/** What a reader of a wide screen sees: no tags, no style, each space a plain one; nor what names a cell on a phone. */
const seen = (html: string) =>
  html
    .replace(/<style>[\s\S]*?<\/style>|<span class="of">[^<]*<\/span>|<[^>]*>/g, ' ')
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ');
const whole = (value: number) => Math.round(value).toLocaleString('en-US');
const plain = (text: string) => text.replace(/\s+/g, ' ').trim();

describe('report', () => {
  test('joins the commands on one page, in an order to read, the answer first', async () => {
    const cwd = folder();
    const { stdout, stderr, code } = await stayput([...REPORT, '--parts', 'parts.yaml', '--out', 'page.html'], { cwd });
    expect({ stdout, stderr, code }).toEqual({ stdout: '', stderr: 'wrote page.html\n', code: 0 });
    const html = read(cwd, 'page.html');
    expect(html).toMatch(/^<!doctype html>\n<html lang="en">[\s\S]*<\/html>\n$/);
    const headings = [...html.matchAll(/<h2 id="(\w+)"/g)].map(([, id]) => id);
    expect(headings).toEqual([
      'charge',
      'battery',
      'energy',
      'loads',
      'losses',
      'stay',
      'yield',
      'size',
      'wires',
      'findings',
      'rig',
      'assumptions',
      'cautions',
    ]);
    const simulated = await stayput(['simulate', 'rig.yaml', 'trip.yaml', '--step', '1h', '--quiet'], { cwd });
    const answer = /<p class="answer \w+">([\s\S]*?)<\/p>/.exec(html)![1]!;
    expect(seen(answer)).toContain(plain(simulated.stdout));
    expect(html.indexOf('class="answer')).toBeLessThan(html.indexOf('<svg'));
    for (const caution of ['electrical design', 'licensed person', 'below freezing', 'battery end'])
      expect(seen(html)).toContain(caution);
  });

  test('says what each command says by itself, and --json holds their documents', async () => {
    const cwd = folder();
    await stayput([...REPORT, '--out', 'page.html'], { cwd });
    const page = seen(read(cwd, 'page.html'));
    const { stdout } = await stayput([...REPORT, '--json'], { cwd });
    const joined = JSON.parse(stdout);
    const alone = async (...args: string[]) => JSON.parse((await stayput([...args, '--json'], { cwd })).stdout);
    expect(joined.simulate).toEqual(await alone('simulate', 'rig.yaml', 'trip.yaml', '--step', '1h'));
    expect(joined.stay).toEqual(await alone('stay', 'rig.yaml', 'trip.yaml', ...QUICK));
    expect(joined.yield).toEqual(await alone('yield', 'rig.yaml', 'trip.yaml', ...QUICK));
    expect(joined.wires).toEqual(await alone('wires', 'rig.yaml'));
    for (const { date, pvHarvestWh, lowestSoc } of joined.simulate.daily) {
      const day = `${Number(date.slice(8))} Jul`;
      expect(page).toMatch(
        new RegExp(`${day} .{0,40}\\b${whole(pvHarvestWh)} .{0,60}\\b${Math.round(100 * lowestSoc)} %`),
      );
    }
    for (const { month, yieldWhDay } of joined.yield.months)
      expect(page).toMatch(
        new RegExp(
          `${'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ')[month - 1]} [\\d.]+ ${whole(yieldWhDay)} `,
        ),
      );
    // values left open are there, under words and not under keys
    for (const { why } of joined.defaults) expect(page).toContain(plain(why));
    for (const { path } of joined.defaults) if (path.includes('.')) expect(page).not.toContain(path);
  });

  test('the same call gives the same bytes, and what the call leaves open is said, without the options that settle it', async () => {
    const cwd = folder();
    const call = ['report', 'rig.yaml', ...SUMMER, ...QUICK] as const;
    const [one, two] = [await stayput(call, { cwd }), await stayput(call, { cwd })];
    expect(one.code).toBe(0);
    expect(two.stdout).toBe(one.stdout);
    expect(seen(one.stdout)).toContain('simulated for 7 days');
    expect(seen(one.stdout)).not.toContain('--days');
  });

  test('a weather file of some days serves the trip; months are of the climate, and the page says so', async () => {
    const rows = Array.from({ length: 9 * 24 }, (_, hour) => {
      const at = new Date(Date.UTC(2026, 6, 2, hour)).toISOString().slice(0, 16);
      return `${at}Z,${hour % 24 > 6 && hour % 24 < 19 ? 400 : 0},20`;
    });
    const cwd = folderWith({
      'rig.yaml': RIG,
      'trip.yaml': TRIP.replace('weather: clear', 'weather: invented.csv'),
      'invented.csv': ['time,ghi W/m2,air temperature C', ...rows].join('\n'),
    });
    const { stdout, stderr, code } = await stayput(REPORT, { cwd });
    expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
    expect(seen(stdout)).toContain('stays and yields by month are of the climate');
  });

  test('a rig without a panel or a cable has a page too', async () => {
    const { stdout, code } = await stayput(['report', 'rig.yaml', ...SUMMER, ...QUICK], { cwd: folder(FLAT_RIG) });
    expect(code).toBe(0);
    expect(stdout).not.toMatch(/id="yield"|NaN|undefined|Infinity/);
  });

  test.each([
    [['report', 'rig.yaml'], /where does the rig stand/],
    [['report', 'rig.yaml', 'trip.yaml', '--place', 'Porto'], /trip file says where/],
    [['report', 'rig.yaml', 'trip.yaml', '--parts', 'none.yaml', '--step', '1h'], /none\.yaml/],
    [['report', 'rig.yaml', 'trip.yaml', '--out', 'rig.yaml'], /not written over/],
  ] as const)('%j is refused in one line that says what is wrong', async (args, said) => {
    const cwd = folder();
    const { stdout, stderr, code } = await stayput(args, { cwd });
    expect({ stdout, code }).toEqual({ stdout: '', code: 2 });
    expect(stderr).toMatch(said);
    expect(filesIn(cwd)).toEqual(['parts.yaml', 'rig.yaml', 'trip.yaml']);
  });
});

describe('--report and --plot', () => {
  const CALLS = {
    simulate: ['simulate', 'rig.yaml', 'trip.yaml', '--step', '1h'],
    stay: ['stay', 'rig.yaml', ...SUMMER.slice(0, 2), ...QUICK],
    yield: ['yield', 'rig.yaml', ...SUMMER.slice(0, 2), ...QUICK],
    size: ['size', 'rig.yaml', 'parts.yaml', ...SUMMER.slice(0, 2), '--month', 'jul', ...QUICK],
    wires: ['wires', 'cabled.yaml'],
  } as const;
  const CABLED = RIG.replace('power: 200 W', 'power: 200 W\n    cable: { length: 5 m, section: 6 mm2 }');

  test.each(Object.entries(CALLS))(
    '%s: a page and a picture beside the result, as it is without them',
    async (_, call) => {
      const cwd = folder();
      const files = folderWith({ 'rig.yaml': RIG, 'trip.yaml': TRIP, 'parts.yaml': PARTS, 'cabled.yaml': CABLED });
      const { stdout, stderr, code } = await stayput([...call, '--report', 'page.html', '--plot', 'picture.svg'], {
        cwd: files,
      });
      const without = await stayput(call, { cwd: files });
      expect({ stdout, code }).toEqual({ stdout: without.stdout, code: without.code });
      expect(stderr).toBe('wrote picture.svg\nwrote page.html\n');
      expect(read(files, 'picture.svg')).toMatch(
        /^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" viewBox=[\s\S]*<\/svg>\n$/,
      );
      const quiet = await stayput([...call, '--quiet'], { cwd: files });
      expect(seen(read(files, 'page.html'))).toContain(plain(quiet.stdout.split(/\n(?=- |danger|caution)/)[0]!));
      expect(filesIn(cwd)).toHaveLength(3);
    },
  );

  test.each([
    ['check', ['check', 'rig.yaml'], /Nothing dangerous|Dangerous as it is/],
    ['log', ['log', 'log.csv'], /Ah out of the battery a day|rows? over/],
  ] as const)('%s: a page and a picture beside the result, as it is without them', async (_, call, answer) => {
    const log = readFileSync(new URL('../../examples/log-parked.csv', import.meta.url), 'utf8');
    const cwd = folderWith({ 'rig.yaml': RIG, 'log.csv': log });
    const drawn = await stayput([...call, '--report', 'page.html', '--plot', 'picture.svg'], { cwd });
    const without = await stayput(call, { cwd });
    expect({ stdout: drawn.stdout, code: drawn.code }).toEqual({ stdout: without.stdout, code: without.code });
    expect(drawn.stderr).toContain('wrote picture.svg\nwrote page.html\n');
    expect(read(cwd, 'picture.svg')).toMatch(/^<svg [\s\S]*<title>[\s\S]*<\/svg>\n$/);
    expect(seen(read(cwd, 'page.html'))).toMatch(answer);
    const printed = await stayput([...call, '--plot', '-'], { cwd });
    expect(printed.stdout).toBe(read(cwd, 'picture.svg'));
  });

  test('a PNG is a PNG, drawn with the fonts that come with the program', async () => {
    const cwd = folder();
    const { stderr, code } = await stayputProcess([...CALLS.simulate, '--plot', 'soc.PNG', '--quiet'], { cwd });
    expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
    const png = readFileSync(join(cwd, 'soc.PNG'));
    expect([...png.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]); // PNG signature, W3C PNG 3rd ed. 5.2
    expect(png.readUInt32BE(16)).toBe(1520); // width, in IHDR
    expect(statSync(join(cwd, 'soc.PNG')).size).toBeGreaterThan(20_000); // less than half of it is drawn without letters
  });

  test.each([
    ['--plot', 'soc.jpg', /as \.svg or \.png/],
    ['--plot', 'soc', /as \.svg or \.png/],
    ['--report', 'page.pdf', /as \.html/],
    ['--report', 'page.svg', /as \.html/],
  ])('%s %s is refused before any work', async (option, path, said) => {
    const cwd = folder();
    const { stdout, stderr, code } = await stayput([...CALLS.simulate, option, path], { cwd });
    expect({ stdout, code }).toEqual({ stdout: '', code: 2 });
    expect(stderr).toMatch(said);
    expect(filesIn(cwd)).toHaveLength(3);
  });

  test.each([
    [['--plot', '-', '--report', '-'], /--plot - and --report - would both/],
    [['--plot', '-', '--json'], /--json and --plot -/],
    [['--plot', 'a.svg', '--out', 'a.svg'], /--out and --plot name the same file/],
    [['--trace', '-', '--report', '-'], /--trace - and --report -/],
  ])('%j would write two things to one place', async (options, said) => {
    const cwd = folder();
    const { stderr, code } = await stayput([...CALLS.simulate, ...options], { cwd });
    expect(code).toBe(2);
    expect(stderr).toMatch(said);
  });

  test('wires without a cable has nothing to draw, and says so', async () => {
    const { stderr, code } = await stayput(['wires', 'rig.yaml', '--plot', 'a.svg'], { cwd: folder() });
    expect(code).toBe(2);
    expect(stderr).toContain('no circuit of this rig has a cable');
  });
});
