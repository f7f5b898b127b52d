import { levenbergMarquardt } from 'ml-levenberg-marquardt';

/** Half the width of a normal distribution's 90 % interval over its standard error. */
export const Z90 = 1.6449;
const ITERATIONS = 10;
const HUBER = 1.5;

/**
 * Half the width of a 90 % interval over its standard error, for so many degrees of freedom: Student's t by the first terms of
 * its expansion about the normal (Cornish & Fisher; within 1 % from 4 up).
 */
export function halfWidth90(degrees: number): number {
  const nu = Math.max(1, degrees);
  return Z90 + (Z90 ** 3 + Z90) / (4 * nu) + (5 * Z90 ** 5 + 16 * Z90 ** 3 + 3 * Z90) / (96 * nu * nu);
}

/** Observations and a model of them. */
export interface Fit {
  readonly observed: Float64Array;
  /** standard error of each */
  readonly sigma: Float64Array;
  /** what stands together in time: observations of one day */
  readonly cluster: ArrayLike<number>;
  readonly start: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  readonly model: (values: readonly number[]) => Float64Array;
}

export interface FitOutcome {
  readonly values: readonly number[];
  /** by the stated errors: what the observations could tell at best */
  readonly covariance: readonly (readonly number[])[];
  /** by the scatter of whole clusters about the fit (sandwich, Huber 1967; Liang & Zeger 1986): what they do tell */
  readonly clustered: readonly (readonly number[])[];
}

/** Least squares within bounds (Levenberg and Marquardt), with outliers held down (Huber) after a first pass. */
export function fitWithin(fit: Fit): FitOutcome {
  const { observed, low, high, model } = fit;
  let values = [...fit.start];
  let sigma = fit.sigma;
  for (let pass = 0; pass < 3; pass++) {
    values = minimised({ ...fit, sigma }, values);
    const modelled = model(values);
    sigma = fit.sigma.map(
      (one, i) => one * Math.sqrt(Math.max(1, Math.abs(observed[i]! - modelled[i]!) / one / HUBER)),
    );
  }
  const jacobian = values.map((value, k) =>
    slopeOf(model, values, k, Math.max(1e-6, 1e-4 * Math.abs(value)), low[k]!, high[k]!),
  );
  return { values, ...covariances(fit, model(values), sigma, jacobian) };
}

function minimised({ observed, sigma, low, high, model }: Fit, from: readonly number[]): number[] {
  // The library asks for one point at a time: the whole model is worked out once for each set of values. Its own weights are not
  // used (5.1.0 takes them one way in the step and the other way in the error); dividing by sigma comes to the same.
  const { parameterValues } = levenbergMarquardt(
    { x: Array.from(observed, (_, i) => i), y: observed.map((value, i) => value / sigma[i]!) },
    (values) => {
      const modelled = model(values);
      return (i) => modelled[i]! / sigma[i]!;
    },
    {
      initialValues: [...from],
      minValues: low,
      maxValues: high,
      gradientDifference: from.map((value) => Math.max(1e-6, 1e-4 * Math.abs(value))),
      maxIterations: ITERATIONS,
      damping: 1e-3,
    },
  );
  return parameterValues;
}

function slopeOf(
  model: Fit['model'],
  at: readonly number[],
  k: number,
  by: number,
  low: number,
  high: number,
): Float64Array {
  const moved = (value: number) => at.map((one, j) => (j === k ? Math.min(high, Math.max(low, value)) : one));
  const [below, above] = [moved(at[k]! - by), moved(at[k]! + by)];
  const [from, to] = [model(below), model(above)];
  return to.map((value, i) => (value - from[i]!) / (above[k]! - below[k]!));
}

function covariances(
  { observed, cluster }: Fit,
  modelled: Float64Array,
  sigma: Float64Array,
  jacobian: readonly Float64Array[],
): Pick<FitOutcome, 'covariance' | 'clustered'> {
  const size = jacobian.length;
  const zeros = () => Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const bread = zeros();
  const scores = new Map<number, number[]>();
  for (let i = 0; i < observed.length; i++) {
    const weight = 1 / sigma[i]! ** 2;
    const key = cluster[i]!;
    const score = scores.get(key) ?? new Array<number>(size).fill(0);
    scores.set(key, score);
    for (let a = 0; a < size; a++) {
      score[a] = score[a]! + weight * jacobian[a]![i]! * (observed[i]! - modelled[i]!);
      for (let b = 0; b < size; b++) bread[a]![b] = bread[a]![b]! + weight * jacobian[a]![i]! * jacobian[b]![i]!;
    }
  }
  const covariance = inverse(bread);
  const meat = zeros();
  for (const score of scores.values())
    for (let a = 0; a < size; a++) for (let b = 0; b < size; b++) meat[a]![b] = meat[a]![b]! + score[a]! * score[b]!;
  const few = scores.size / Math.max(1, scores.size - size);
  const clustered = product(product(covariance, meat), covariance).map((row) => row.map((value) => few * value));
  return { covariance, clustered };
}

function product(a: readonly (readonly number[])[], b: readonly (readonly number[])[]): number[][] {
  return a.map((row) => b[0]!.map((_, j) => row.reduce((sum, value, k) => sum + value * b[k]![j]!, 0)));
}

/** Gauss and Jordan, for a few rows; Infinity on the diagonal of what is not identifiable. */
function inverse(matrix: readonly (readonly number[])[]): number[][] {
  const size = matrix.length;
  const scale = matrix.map((row, i) => Math.sqrt(row[i]!) || 1);
  const work = matrix.map((row, i) => [
    ...row.map((value, j) => value / (scale[i]! * scale[j]!)),
    ...row.map((_, j) => (i === j ? 1 : 0)),
  ]);
  for (let k = 0; k < size; k++) {
    let pivot = k;
    for (let i = k + 1; i < size; i++) if (Math.abs(work[i]![k]!) > Math.abs(work[pivot]![k]!)) pivot = i;
    if (!(Math.abs(work[pivot]![k]!) > 1e-10))
      return matrix.map((row, i) => row.map((_, j) => (i === j ? Infinity : 0)));
    [work[k], work[pivot]] = [work[pivot]!, work[k]!];
    const by = work[k]![k]!;
    work[k] = work[k]!.map((value) => value / by);
    for (let i = 0; i < size; i++) {
      const factor = work[i]![k]!;
      if (i !== k && factor !== 0) work[i] = work[i]!.map((value, j) => value - factor * work[k]![j]!);
    }
  }
  return work.map((row, i) => row.slice(size).map((value, j) => value / (scale[i]! * scale[j]!)));
}
