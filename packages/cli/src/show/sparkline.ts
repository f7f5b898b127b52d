import type { Run } from '@stayput/core';
import { HOUR_MS } from '@stayput/core/model';

const EIGHTHS = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'] as const;

/** A small picture of ratios 0..1, one cell each, all on the same scale from empty to full. */
export function sparkline(ratios: readonly number[]): string {
  return ratios.map((ratio) => EIGHTHS[Math.min(7, Math.max(0, Math.floor(ratio * 8)))]!).join('');
}

/** Means of so many equal stretches of a course. */
export function stretches(course: ArrayLike<number>, count: number): number[] {
  const edge = (k: number) => Math.round((k * course.length) / count);
  return Array.from({ length: count }, (_, k) => {
    const [from, to] = [edge(k), Math.max(edge(k) + 1, edge(k + 1))];
    let sum = 0;
    for (let i = from; i < to; i++) sum += course[Math.min(i, course.length - 1)]!;
    return sum / (to - from);
  });
}

/** The state of charge over each day of a run. */
export function socByDay({ trace, days }: Pick<Run, 'trace' | 'days'>): Float64Array[] {
  const { startMs, stepH, steps } = trace.grid;
  const first = days.map((day) => Math.max(0, Math.round((day.startMs - startMs) / (stepH * HOUR_MS))));
  return first.map((from, k) => trace.soc.subarray(from, first[k + 1] ?? steps));
}
