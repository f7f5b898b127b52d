/** Sum of all values, in their order. */
export function sumOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum;
}

/** Arithmetic mean; NaN of no values. */
export function meanOf(values: ArrayLike<number>): number {
  return sumOf(values) / values.length;
}

/** Mean of independent values and its standard error, from their scatter (n − 1); the error of a single value is 0. */
export function meanAndError(values: readonly number[]): { mean: number; standardError: number } {
  const mean = meanOf(values);
  const spread = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, values.length - 1);
  return { mean, standardError: Math.sqrt(spread / values.length) };
}

/** Mean of the values that are not NaN; NaN where there are none. */
export function meanOfPresent(values: ArrayLike<number> & Iterable<number>): number {
  let [sum, count] = [0, 0];
  for (const value of values)
    if (!Number.isNaN(value)) {
      sum += value;
      count++;
    }
  return count > 0 ? sum / count : Number.NaN;
}
