import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { readRig, stayStudy } from '../../../packages/core/src/index.js';
import { openStays } from '../../../packages/core/src/model.js';

const text = readFileSync(new URL('../../../examples/heron.yaml', import.meta.url), 'utf8');
const rigWith = (set: Record<string, unknown> = {}) => readRig(text, { set: set as Record<string, string> }).rig;
const porto = { place: 'Porto' };
const options = { years: 2, stepH: 1 } as const;

test('rig after rig at one place, the figures are those of a study that begins anew', async () => {
  const stays = openStays(porto, options);
  for (const set of [{}, { 'battery.capacity': '60 Ah' }, { 'cabin.gain': '15 degC' }, {}]) {
    const rig = rigWith(set);
    const anew = stayStudy(rig, porto, { ...options, months: [10] });
    expect(await stays.studyAsync(rig, { months: [10] })).toEqual(anew);
    const [row] = anew.months;
    const { weatherYears, ...glance } = await stays.glanceAsync(rig, 10);
    expect(weatherYears).toBe(2);
    expect(row).toMatchObject(glance);
  }
});

test('a month looked at alone comes to what it comes to within the year', async () => {
  const stays = openStays(porto, options);
  const rig = rigWith();
  const { months } = await stays.studyAsync(rig);
  for (const month of [1, 6, 10]) {
    const { parkedDaysP10, parkedDaysP50, darkDays } = await stays.glanceAsync(rig, month);
    // Stays that meet at midnight with charges 1e-4 apart are followed as one: which of them comes first moves days by 1e-5.
    expect(parkedDaysP10).toBeCloseTo(months[month - 1]!.parkedDaysP10, 3);
    expect(parkedDaysP50).toBeCloseTo(months[month - 1]!.parkedDaysP50, 3);
    expect(darkDays).toBeCloseTo(months[month - 1]!.darkDays, 3);
  }
});

test('a glance at fewer years is of the first of them', async () => {
  const stays = openStays(porto, options);
  const one = await stays.glanceAsync(rigWith(), 10, { years: 1 });
  const [row] = stayStudy(rigWith(), porto, { ...options, years: 1, months: [10] }).months;
  expect(one.weatherYears).toBe(1);
  expect(one.parkedDaysP10).toBe(row!.parkedDaysP10);
});

test('an abort is heard, and what is out of range refused', async () => {
  const stays = openStays(porto, options);
  const stop = new AbortController();
  stop.abort(new Error('moved on'));
  await expect(stays.glanceAsync(rigWith(), 10, { signal: stop.signal })).rejects.toThrow('moved on');
  await expect(stays.glanceAsync(rigWith(), 13)).rejects.toThrow('month must be 1 to 12');
  await expect(stays.glanceAsync(rigWith(), 1, { years: 0 })).rejects.toThrow('years');
  expect(() => openStays({} as never)).toThrow(TypeError);
});
