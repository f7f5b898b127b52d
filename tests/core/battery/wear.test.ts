import { expect, test } from 'vitest';
import {
  calendarYears,
  cycleLife,
  lifeIsPredictable,
  rainflow,
  wear,
} from '../../../packages/core/src/battery/index.js';

const daily = (days: number, top: number, bottom: number) =>
  Float64Array.from({ length: days * 24 }, (_, h) => (h % 24 < 12 ? top : bottom));

test('a year of daily half discharges is 365 cycles of that depth', () => {
  const cycles = rainflow(daily(365, 1, 0.5));
  expect(cycles.reduce((n, { count }) => n + count, 0)).toBeCloseTo(364.5, 10);
  expect(cycles.every(({ range, mean }) => range === 0.5 && mean === 0.75)).toBe(true);
});

test('a constant or single value has no cycles', () => {
  expect(rainflow([])).toEqual([]);
  expect(rainflow([0.5])).toEqual([]);
  expect(rainflow([0.5, 0.5, 0.5])).toEqual([]);
});

test('years to 80 %: cycles and calendar are added', () => {
  const stepH = 1;
  const w = wear(daily(365, 1, 0.5), stepH, 25, 'AGM');
  const perYear = 364.5 / (8760 / 8766);
  for (const end of ['low', 'mid', 'high'] as const) {
    const expected = 1 / (perYear / cycleLife('AGM', 0.5)[end] + 1 / calendarYears('AGM', 25)[end]);
    expect(w.yearsTo80[end]).toBeCloseTo(expected, 6);
  }
  expect(w.yearsTo80.low).toBeLessThan(w.yearsTo80.mid);
  expect(w.yearsTo80.mid).toBeLessThan(w.yearsTo80.high);
  expect(w.equivalentFullCycles).toBeCloseTo(182.5, 10);
});

test('at rest only the calendar counts, and 10 K more about halves the life', () => {
  const rest = new Float64Array(8766).fill(0.6);
  const cool = wear(rest, 1, 25, 'LFP').yearsTo80.mid;
  const hot = wear(rest, 1, new Float64Array(8766).fill(35), 'LFP').yearsTo80.mid;
  expect(cool).toBeCloseTo(calendarYears('LFP', 25).mid, 10);
  expect(cool / hot).toBeGreaterThan(1.7);
  expect(cool / hot).toBeLessThan(2.2);
});

test('deeper cycles are fewer, and tiny ones keep the throughput of the shallowest known', () => {
  for (const chemistry of ['LFP', 'AGM', 'gel', 'flooded'] as const) {
    let before = Number.POSITIVE_INFINITY;
    for (let depth = 0; depth <= 1; depth += 0.05) {
      const { mid } = cycleLife(chemistry, depth);
      expect(mid).toBeLessThanOrEqual(before);
      before = mid;
    }
    expect(cycleLife(chemistry, 0.01).mid * 0.01).toBeCloseTo(cycleLife(chemistry, 0.1).mid * 0.1, 8);
  }
});

test('wear refuses an empty run and a step of nothing', () => {
  expect(() => wear(new Float64Array(0), 1, 25, 'LFP')).toThrow(RangeError);
  expect(() => wear(Float64Array.of(1), 0, 25, 'LFP')).toThrow(RangeError);
});

test('no life is told of lead-acid that was not filled for more than a fortnight (common practice, no source)', () => {
  expect(lifeIsPredictable('AGM', 14 * 24)).toBe(true);
  for (const chemistry of ['AGM', 'gel', 'flooded'] as const) expect(lifeIsPredictable(chemistry, 15 * 24)).toBe(false);
  expect(lifeIsPredictable('LFP', 400 * 24)).toBe(true);
});
