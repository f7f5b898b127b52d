import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { folderWith, RIG, stayput } from './run-cli.js';

/** Invented days of a year: as many dull ones in a row, every so often, as the year's list says. */
function daysOf(year: number, dull: number, change = (line: string, _day: number): string | undefined => line): string {
  const count = (Date.UTC(year + 1, 0, 1) - Date.UTC(year, 0, 1)) / 864e5;
  const lines = Array.from({ length: count }, (_, day) => {
    const date = new Date(Date.UTC(year, 0, 1 + day)).toISOString().slice(0, 10);
    return change(`${date},${day % 10 < dull ? 0.4 : 2.0},15,7`, day);
  }).filter((line) => line !== undefined);
  return `date,global kWh/m2,tmax C,tmin C\n${lines.join('\n')}\n`;
}

/** Invented. */
const PARTS = `batteries:
  - { name: B40, chemistry: LFP, capacity: 40 Ah, mass: 5 kg, price: 150 }
  - { name: B100, chemistry: LFP, capacity: 100 Ah, mass: 11 kg, price: 400 }
panels: [{ name: P100, power: 100 W, mass: 6 kg, price: 90 }]
limits: { batteries: 1, panels: 3 }
target: { unservedHours: 0 h }
`;
const inOneLine = (text: string) => text.replace(/\s+/g, ' ');
const STAY = ['stay', 'rig.yaml', '--place', 'Porto', '--months', 'nov', '--step', '1h'];
const SIZE = ['size', 'rig.yaml', 'parts.yaml', '--place', 'Porto', '--month', 'nov', '--step', '1h'];

function withYears(): string {
  const cwd = folderWith({ 'rig.yaml': RIG, 'parts.yaml': PARTS });
  mkdirSync(join(cwd, 'years'));
  [2, 5, 8].forEach((dull, k) => {
    writeFileSync(join(cwd, 'years', `${2011 + k}.csv`), daysOf(2011 + k, dull));
  });
  return cwd;
}

test('stay goes through a folder of real years, or a list, and tells how many its percentiles rest on', async () => {
  const cwd = withYears();
  const months = async (weather: string) => {
    const { stdout, code } = await stayput([...STAY, '--weather', weather, '--json'], { cwd });
    expect(code).toBe(0);
    return JSON.parse(stdout);
  };
  const all = await months('years');
  const listed = await months('years/2011.csv,years/2012.csv,years/2013.csv');
  const dullest = await months('years/2013.csv');
  expect(all.months).toEqual(listed.months);
  expect(all.months[0].weatherYears).toBe(3);
  expect(dullest.months[0].weatherYears).toBe(1);
  expect(all.months[0].parkedDaysP50).toBeGreaterThan(dullest.months[0].parkedDaysP50);
  const [low, p10, high] = ['Low', '', 'High'].map((end) => all.months[0][`parkedDaysP10${end}`]);
  expect(low).toBeLessThan(p10);
  expect(high).toBeGreaterThan(p10);
  const { stdout } = await stayput([...STAY, '--weather', 'years'], { cwd });
  expect(inOneLine(stdout)).toContain('weather of years, 3 years');
  expect(inOneLine(stdout)).toMatch(/the "9 in 10" of Nov, [\d.]+ days, rests on 3 weather years/);
});

test('size counts the nights without power in each real year, and in how many of them its target is met', async () => {
  const cwd = withYears();
  for (const weather of ['years', 'years/2011.csv,years/2012.csv,years/2013.csv']) {
    const { stdout, code } = await stayput([...SIZE, '--weather', weather, '--json'], { cwd });
    expect(code).toBe(0);
    const { weatherYears, choices } = JSON.parse(stdout);
    expect(weatherYears).toBe(3);
    const met = choices.map(({ yearsMet }: { yearsMet: number }) => yearsMet);
    expect(Math.max(...met)).toBe(3);
    expect(Math.min(...met)).toBeLessThan(3);
  }
  const { stdout } = await stayput([...SIZE, '--weather', 'years'], { cwd });
  expect(inOneLine(stdout)).toContain('weather of years, 3 years');
  expect(inOneLine(stdout)).toContain('nights without power in all 3 weather years');
});

test('days left out of a table are counted, with their lines; a table that lacks too many, or whose light has no unit, is refused', async () => {
  const cwd = withYears();
  const table = (name: string, text: string) => writeFileSync(join(cwd, name), text);
  table(
    'gaps.csv',
    daysOf(2012, 3, (line, day) =>
      day === 99 || day === 100 ? undefined : day === 199 ? line.replace(',7', ',77') : line,
    ),
  );
  table(
    'bright.csv',
    daysOf(2012, 3, (line, day) => (day === 320 ? line.replace(/,[\d.]+,/, ',9,') : line)),
  );
  table(
    'short.csv',
    daysOf(2012, 3, (line, day) => (day % 7 === 0 ? undefined : line)),
  );
  table('bare.csv', daysOf(2012, 3).replace(' kWh/m2', ''));
  const run = async (name: string) => {
    const { stdout, stderr, code } = await stayput([...STAY, '--weather', name], { cwd });
    return { code, said: inOneLine(code === 0 ? stdout : stderr) };
  };
  // 9 April, the 99th day after New Year, is line 101 of a whole table; two lines before line 200 are gone
  expect(await run('gaps.csv')).toMatchObject({
    code: 0,
    said: expect.stringMatching(
      /3 of 366 days left out, 2 of them not in the table \(the first 2012-04-09\), 1 of them for what stands on line 199;/,
    ),
  });
  expect(await run('bright.csv')).toMatchObject({
    code: 0,
    said: expect.stringMatching(/1 day left out for more light than a cloudless day has there, on line 322;/),
  });
  expect(await run('short.csv')).toMatchObject({
    code: 2,
    said: expect.stringContaining('at most 10 % can be filled'),
  });
  expect(await run('bare.csv')).toMatchObject({ code: 2, said: expect.stringContaining('no unit in its heading') });
});
