const HUBER = 1.345;
const MAX_ITERATIONS = 20;
/** The median of absolute values times this is the standard deviation of normal errors. */
const MAD_TO_SIGMA = 1.4826;

export interface Slope {
  readonly slope: number;
  readonly standardError: number;
  readonly clusters: number;
}

/**
 * Slope of a straight line through the origin that outliers hardly move: from the weighted median of y/x on, least squares with
 * Huber's weights (Huber, Robust Statistics 1981). The standard error is that over clusters (sandwich).
 * @param cluster of each point, any number; @returns undefined with fewer than three points
 */
export function robustSlope(x: readonly number[], y: readonly number[], cluster: readonly number[]): Slope | undefined {
  if (x.length < 3) return undefined;
  let slope = weightedMedian(x, y);
  let weight = x.map(() => 1);
  for (let turn = 0; turn < MAX_ITERATIONS; turn++) {
    const off = x.map((one, i) => Math.abs(y[i]! - slope * one));
    const scale = Math.max(1e-12, MAD_TO_SIGMA * off.toSorted((a, b) => a - b)[Math.floor(off.length / 2)]!);
    weight = off.map((one) => Math.min(1, (HUBER * scale) / Math.max(one, 1e-300)));
    slope = sum(x, (one, i) => weight[i]! * one * y[i]!) / sum(x, (one, i) => weight[i]! * one * one);
  }
  const scores = new Map<number, number>();
  x.forEach((one, i) => {
    const score = weight[i]! * one * (y[i]! - slope * one);
    scores.set(cluster[i]!, (scores.get(cluster[i]!) ?? 0) + score);
  });
  const squares = sum([...scores.values()], (score) => score * score);
  const few = scores.size / Math.max(1, scores.size - 1);
  const bread = sum(x, (one, i) => weight[i]! * one * one);
  return { slope, standardError: Math.sqrt(few * squares) / bread, clusters: scores.size };
}

/** The median of y/x, each counting by its |x|: the line of least absolute deviations. */
function weightedMedian(x: readonly number[], y: readonly number[]): number {
  const points = x.map((one, i) => ({ ratio: y[i]! / one, weight: Math.abs(one) })).filter(({ weight }) => weight > 0);
  points.sort((a, b) => a.ratio - b.ratio);
  const half = points.reduce((all, { weight }) => all + weight, 0) / 2;
  let below = 0;
  for (const { ratio, weight } of points) {
    below += weight;
    if (below >= half) return ratio;
  }
  return 0;
}

function sum(values: readonly number[], of: (value: number, i: number) => number): number {
  let all = 0;
  for (let i = 0; i < values.length; i++) all += of(values[i]!, i);
  return all;
}
