import { cholesky, choleskySolve, forwardSolve } from '../../math/index.js';

/** A vehicle's scores, and what was shown of it: one value for each quantity. */
export interface Followed {
  readonly scores: readonly number[];
  readonly values: readonly number[];
}

/** What vehicles near those that were followed would show, and how much that scatters from weather to weather. */
export interface Response {
  /** expected values of all quantities */
  readonly mean: (scores: readonly number[]) => number[];
  /** covariance of what is left about the mean */
  readonly scatter: readonly (readonly number[])[];
}

/** So that too few vehicles for a term of the square give no wild one. */
const RIDGE = 1e-3;

/** A full square in the scores, by least squares through the vehicles that were followed (a response surface; Box & Wilson 1951). */
export function responseOf(followed: readonly Followed[]): Response {
  const rows = followed.map(({ scores }) => terms(scores));
  const width = rows[0]!.length;
  const quantities = followed[0]!.values.length;
  const normal = Array.from({ length: width }, (_, i) =>
    Array.from({ length: width }, (_, j) =>
      rows.reduce((sum, row) => sum + row[i]! * row[j]!, i === j && i > 0 ? RIDGE * rows.length : 0),
    ),
  );
  const lower = cholesky(normal);
  const coefficients = Array.from({ length: quantities }, (_, q) =>
    choleskySolve(
      lower,
      Array.from({ length: width }, (_, i) => rows.reduce((sum, row, k) => sum + row[i]! * followed[k]!.values[q]!, 0)),
    ),
  );
  const mean = (scores: readonly number[]) => {
    const row = terms(scores);
    return coefficients.map((of) => of.reduce((sum, one, i) => sum + one * row[i]!, 0));
  };
  const left = followed.map(({ scores, values }) => mean(scores).map((one, q) => values[q]! - one));
  const freedom = Math.max(1, followed.length - width);
  const scatter = Array.from({ length: quantities }, (_, p) =>
    Array.from({ length: quantities }, (_, q) => left.reduce((sum, one) => sum + one[p]! * one[q]!, 0) / freedom),
  );
  return { mean, scatter };
}

function terms(scores: readonly number[]): number[] {
  const row = [1, ...scores];
  for (let i = 0; i < scores.length; i++) for (let j = i; j < scores.length; j++) row.push(scores[i]! * scores[j]!);
  return row;
}

/**
 * Log-likelihood of what was read, normal about the response, with the scatter and the readings' own errors (a synthetic likelihood;
 * Wood, Nature 466, 2010, p. 1102).
 * @param read values of the first quantities of the response; @param sd of each
 */
export function likelihoodOf(
  { mean, scatter }: Response,
  read: readonly number[],
  sd: readonly number[],
): (scores: readonly number[]) => number {
  const covariance = read.map((_, p) => read.map((__, q) => scatter[p]![q]! + (p === q ? sd[p]! ** 2 : 0)));
  const lower = cholesky(covariance);
  return (scores) => {
    const expected = mean(scores);
    const z = forwardSolve(
      lower,
      read.map((value, k) => value - expected[k]!),
    );
    return -0.5 * z.reduce((sum, one) => sum + one * one, 0);
  };
}
