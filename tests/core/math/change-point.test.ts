import { expect, test } from 'vitest';
import { changePoint } from '../../../packages/core/src/math/index.js';

/** Nights of March with these draws, and a small scatter that repeats. */
const nights = (draws: readonly number[], scatter = 0.01) =>
  draws.map((amps, k) => ({
    date: `2026-03-${String(k + 1).padStart(2, '0')}`,
    alwaysOnA: amps + scatter * [0, 1, -1, 0.5, -0.5][k % 5]!,
  }));
const stepOf = (days: readonly { date: string; alwaysOnA: number }[]) =>
  changePoint(days, ({ alwaysOnA }) => alwaysOnA);
const flat = (amps: number, count: number) => new Array<number>(count).fill(amps);

test('a step up or down is found on its night, with both levels', () => {
  for (const [before, after] of [
    [0.15, 0.45],
    [0.45, 0.15],
  ] as const) {
    const step = stepOf(nights([...flat(before, 10), ...flat(after, 6)]))!;
    expect(step.date).toBe('2026-03-11');
    expect(Math.abs(step.before - before)).toBeLessThan(0.01);
    expect(Math.abs(step.after - after)).toBeLessThan(0.01);
    // pooled standard deviation 0.0075 A (n - 2 = 14 degrees), over 10 and 6 nights: worked by hand
    expect(step.standardError).toBeGreaterThan(0.003);
    expect(step.standardError).toBeLessThan(0.007);
  }
});

test.each([
  ['a level draw', flat(0.3, 20)],
  ['a creeping draw', Array.from({ length: 20 }, (_, k) => 0.2 + 0.02 * k)],
  ['one loud night', [...flat(0.2, 9), 0.9, ...flat(0.2, 9)]],
  ['two nights only', [...flat(0.2, 10), 0.5, 0.5]],
  ['less than can be read', [...flat(0.2, 10), ...flat(0.21, 10)]],
  ['five nights', [0.1, 0.1, 0.5, 0.5, 0.5]],
])('%s is no step', (_, draws) => {
  expect(stepOf(nights(draws))).toBeUndefined();
});

test('noise alone hardly ever makes one: none in 300 logs of 30 nights (Park and Miller draws, Box and Muller)', () => {
  let state = 12345;
  const uniform = () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
  const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  let found = 0;
  for (let log = 0; log < 300; log++)
    if (stepOf(Array.from({ length: 30 }, (_, k) => ({ date: `${k}`, alwaysOnA: 0.5 + 0.1 * normal() })))) found++;
  expect(found).toBe(0);
});
