/** One counted cycle: a closed one counts 1, one that never closes counts a half. */
export interface RainflowCycle {
  readonly range: number;
  readonly mean: number;
  readonly count: number;
}

/**
 * Rainflow cycles of a series, by the three-point method with the residue counted as halves.
 * Source: ASTM E1049-85 (2011), section 5.4.4. Plateaus are one point; the first and last values are turning points.
 * @param series any unit, finite
 * @returns in the order in which the cycles close
 */
export function rainflow(series: ArrayLike<number>): RainflowCycle[] {
  const points = turningPoints(series);
  const cycles: RainflowCycle[] = [];
  const stack = new Float64Array(points.length);
  let start = 0; // of what is not yet discarded
  let end = 0;
  const add = (a: number, b: number, count: number) =>
    cycles.push({ range: Math.abs(b - a), mean: (a + b) / 2, count });
  for (const point of points) {
    stack[end++] = point;
    while (end - start >= 3) {
      const latest = Math.abs(stack[end - 1]! - stack[end - 2]!);
      const before = Math.abs(stack[end - 2]! - stack[end - 3]!);
      if (latest < before) break;
      if (end - start === 3) {
        add(stack[start]!, stack[start + 1]!, 0.5); // it contains the starting point
        start++;
      } else {
        add(stack[end - 3]!, stack[end - 2]!, 1);
        stack[end - 3] = stack[end - 1]!;
        end -= 2;
      }
    }
  }
  for (let i = start; i + 1 < end; i++) add(stack[i]!, stack[i + 1]!, 0.5);
  return cycles;
}

function turningPoints(series: ArrayLike<number>): number[] {
  const points: number[] = [];
  for (let i = 0; i < series.length; i++) {
    const value = series[i]!;
    const n = points.length;
    if (n > 0 && value === points[n - 1]) continue;
    if (n > 1 && points[n - 1]! > points[n - 2]! === value > points[n - 1]!) points[n - 1] = value;
    else points.push(value);
  }
  return points;
}
