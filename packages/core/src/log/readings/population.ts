import { cholesky, normal, type RandomStream, type Task, uniform } from '../../math/index.js';

/** From one stage to the next the likelihood is sharpened so far that this share of the draws still counts. */
const KEPT = 0.5;
const MAX_STAGES = 30;
const MOVES_A_STAGE = 12;
/** Of a move over the population's spread: 2.38/√d is best for normal targets (Gelman, Roberts & Gilks 1996). */
const MOVE = 2.38;

/**
 * Draws from what is likely after some readings: scores, N(0, 1) each before, are led in stages through sharper and sharper likelihoods,
 * each time resampled by what the sharpening makes of them and moved by Metropolis steps that leave the stage's distribution as it is.
 * Source: sequential Monte Carlo samplers, Del Moral, Doucet & Jasra, J. R. Statist. Soc. B 68(3), 2006, p. 411 (section 3.3.2.3: tempered
 * distributions, MCMC kernels, systematic resampling).
 * @param logLikelihood of scores, by the readings; not normed
 * @returns equally likely draws
 */
export function* populationTask(
  count: number,
  axes: number,
  stream: RandomStream,
  logLikelihood: (scores: readonly number[]) => number,
): Task<number[][]> {
  let population = Array.from({ length: count }, () => {
    const scores = Array.from({ length: axes }, () => normal(stream));
    return { scores, likely: logLikelihood(scores) };
  });
  let sharpness = 0;
  for (let stage = 1; sharpness < 1; stage++) {
    const next = stage === MAX_STAGES ? 1 : sharper(population, sharpness);
    population = resampled(population, weights(population, next - sharpness), stream);
    sharpness = next;
    for (let round = 0; round < MOVES_A_STAGE; round++) {
      const spread = cholesky(covariance(population.map(({ scores }) => scores)));
      population = population.map((one) => {
        const step = one.scores.map(() => (MOVE / Math.sqrt(axes)) * normal(stream));
        const scores = one.scores.map(
          (score, i) => score + step.reduce((sum, z, k) => sum + (k <= i ? spread[i]![k]! * z : 0), 0),
        );
        const likely = logLikelihood(scores);
        const gain = logPrior(scores) - logPrior(one.scores) + sharpness * (likely - one.likely);
        return Math.log(uniform(stream)) < gain ? { scores, likely } : one;
      });
      yield;
    }
  }
  return population.map(({ scores }) => scores);
}

interface Draw {
  readonly scores: number[];
  readonly likely: number;
}

function weights(population: readonly Draw[], sharpening: number): number[] {
  const most = population.reduce((best, { likely }) => Math.max(best, likely), -Infinity);
  const raw = population.map(({ likely }) => Math.exp(sharpening * (likely - most)));
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map((one) => one / sum);
}

/** The sharpest likelihood, up to the whole of it, at which so many draws still count (effective sample size). */
function sharper(population: readonly Draw[], from: number): number {
  const worth = (sharpness: number) =>
    1 / weights(population, sharpness - from).reduce((sum, one) => sum + one * one, 0);
  const wanted = KEPT * population.length;
  if (worth(1) >= wanted) return 1;
  let [low, high] = [from, 1];
  for (let k = 0; k < 40; k++) {
    const middle = (low + high) / 2;
    if (worth(middle) >= wanted) low = middle;
    else high = middle;
  }
  return high;
}

/** Each as often as its weight asks for, to the next whole number either way. */
function resampled(population: readonly Draw[], shares: readonly number[], stream: RandomStream): Draw[] {
  const count = population.length;
  const start = uniform(stream);
  const drawn: Draw[] = [];
  let sum = 0;
  population.forEach((one, k) => {
    sum += shares[k]! * count;
    while (drawn.length < count && drawn.length + start < sum) drawn.push(one);
  });
  while (drawn.length < count) drawn.push(population.at(-1)!);
  return drawn;
}

/** Of rows of scores, with a little of its own on each axis so that none collapses. */
function covariance(rows: readonly (readonly number[])[]): number[][] {
  const axes = rows[0]!.length;
  const means = Array.from({ length: axes }, (_, i) => rows.reduce((sum, row) => sum + row[i]!, 0) / rows.length);
  return Array.from({ length: axes }, (_, i) =>
    Array.from({ length: axes }, (_, j) => {
      const sum = rows.reduce((total, row) => total + (row[i]! - means[i]!) * (row[j]! - means[j]!), 0);
      return sum / rows.length + (i === j ? 1e-6 : 0);
    }),
  );
}

const logPrior = (scores: readonly number[]) => -0.5 * scores.reduce((sum, score) => sum + score * score, 0);
