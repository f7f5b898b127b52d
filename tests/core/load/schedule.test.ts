import { expect, test } from 'vitest';
import { scheduleColumns } from '../../../packages/core/src/load/index.js';
import { clock, plainDay, scheduled, sum, window } from './example.js';

const grid = { startMs: 0, stepH: 0.5, steps: 96 };
const days = [plainDay(0), plainDay(1)];

test('a load without a timetable is always on', () => {
  expect([...scheduleColumns(scheduled(), days, grid).onShare]).toEqual(new Array(96).fill(1));
});

test('a window that ends inside a step counts for the part it covers', () => {
  const { onShare } = scheduleColumns(scheduled({ when: [window(clock(1.25), clock(2.1))] }), days, grid);
  expect([...onShare.slice(2, 5)].map((s) => Number(s.toFixed(12)))).toEqual([0.5, 1, 0.2]);
  expect(sum(onShare) * grid.stepH).toBeCloseTo(2 * 0.85, 12);
});

test('hours a day are spread evenly over the window', () => {
  const load = scheduled({ when: [window(clock(9), clock(17))], hoursPerDay: 3 });
  const { onShare } = scheduleColumns(load, days, grid);
  expect(onShare[18]).toBeCloseTo(3 / 8, 12);
  expect(onShare[17]).toBe(0);
});

test('12 times a day for 40 seconds are 480 seconds', () => {
  const { onShare } = scheduleColumns(scheduled({ timesPerDay: 12, lastsH: 40 / 3600 }), days, grid);
  expect(sum(onShare) * grid.stepH * 3600).toBeCloseTo(2 * 480, 9);
});

test('hours that the window cannot hold are not demanded', () => {
  const { onShare } = scheduleColumns(scheduled({ when: [window(clock(9), clock(11))], hoursPerDay: 5 }), days, grid);
  expect(sum(onShare) * grid.stepH).toBeCloseTo(4, 12);
});

test('every third day is the first, then the fourth', () => {
  const week = Array.from({ length: 7 }, (_, i) => plainDay(i));
  const { onShare } = scheduleColumns(scheduled({ everyDays: 3 }), week, { ...grid, steps: 7 * 48 });
  expect(week.map((_, d) => onShare[d * 48])).toEqual([1, 0, 0, 1, 0, 0, 1]);
});

test('share and the use of a stop multiply what is drawn', () => {
  const busy = [plainDay(0, { use: { lamp: 1.5 } }), plainDay(1, { use: { other: 4 } })];
  const { onShare } = scheduleColumns(scheduled({ share: 0.8 }), busy, grid);
  expect(onShare[0]).toBeCloseTo(1.2, 12);
  expect(onShare[95]).toBeCloseTo(0.8, 12);
});

test('a grid that begins and ends inside days takes their part', () => {
  const { onShare } = scheduleColumns(scheduled({ when: [window(clock(22), clock(2))] }), days, {
    startMs: 12 * 3.6e6,
    stepH: 1,
    steps: 15,
  });
  expect([...onShare]).toEqual([0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 0]);
});

test('placed at random, runs are whole, differ by seed and hold the same energy', () => {
  const load = scheduled({ timesPerDay: 4, lastsH: 0.5, when: [window(clock(6), clock(22))] });
  const fine = { startMs: 0, stepH: 1 / 60, steps: 2880 };
  const [one, again, two] = [7, 7, 8].map((seed) => scheduleColumns(load, days, fine, { seed }).onShare);
  expect(one).toEqual(again);
  expect(one).not.toEqual(two);
  for (const column of [one!, two!]) {
    expect(sum(column) / 60).toBeCloseTo(4, 9);
    expect(column.filter((s) => s > 1 - 1e-9).length).toBeGreaterThan(8 * 28);
    expect(column.every((s, i) => s <= 1 + 1e-9 && (s === 0 || (i % 1440 >= 360 && i % 1440 < 1320)))).toBe(true);
  }
});

test('random runs fall evenly over their windows, and each load has its own', () => {
  const whole = { startMs: 0, stepH: 1 / 60, steps: 400 * 1440 };
  const year = Array.from({ length: 400 }, (_, d) => plainDay(d));
  const startsOf = (name: string, seed: number) => {
    const load = scheduled({ name, timesPerDay: 1, lastsH: 1 / 60, when: [window(clock(8), clock(20))] });
    const { onShare } = scheduleColumns(load, year, whole, { seed });
    return year.map((_, d) => (onShare.subarray(d * 1440, (d + 1) * 1440).findIndex((s) => s > 0) - 480) / 720);
  };
  const starts = startsOf('lamp', 3);
  // Evenly over 0..1: mean 1/2, variance 1/12; of 400 draws the mean is 0.0144 wide.
  const mean = starts.reduce((total, s) => total + s, 0) / 400;
  const variance = starts.reduce((total, s) => total + (s - mean) ** 2, 0) / 400;
  expect(Math.abs(mean - 0.5)).toBeLessThan(4 * 0.0144);
  expect(variance * 12).toBeGreaterThan(0.8);
  expect(variance * 12).toBeLessThan(1.2);
  const other = startsOf('pump', 3);
  const together = starts.reduce((total, s, d) => total + (s - 0.5) * (other[d]! - 0.5), 0) / 400 / (1 / 12);
  expect(Math.abs(together)).toBeLessThan(4 / Math.sqrt(400));
});
