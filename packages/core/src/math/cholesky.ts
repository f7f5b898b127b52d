/** Lower triangle L of a symmetric positive definite matrix A = L·Lᵀ, row by row (Golub & Van Loan, Matrix Computations, algorithm 4.2.1). */
export function cholesky(matrix: readonly (readonly number[])[]): number[][] {
  const lower = matrix.map((row) => row.map(() => 0));
  for (let i = 0; i < matrix.length; i++)
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i]![j]!;
      for (let k = 0; k < j; k++) sum -= lower[i]![k]! * lower[j]![k]!;
      if (i === j && !(sum > 0)) throw new RangeError('the matrix is not positive definite');
      lower[i]![j] = i === j ? Math.sqrt(sum) : sum / lower[j]![j]!;
    }
  return lower;
}

/** Solves L·x = b. */
export function forwardSolve(lower: readonly (readonly number[])[], b: readonly number[]): number[] {
  const x: number[] = [];
  for (let i = 0; i < b.length; i++) {
    let sum = b[i]!;
    for (let k = 0; k < i; k++) sum -= lower[i]![k]! * x[k]!;
    x.push(sum / lower[i]![i]!);
  }
  return x;
}

/** Solves L·Lᵀ·x = b. */
export function choleskySolve(lower: readonly (readonly number[])[], b: readonly number[]): number[] {
  const x = forwardSolve(lower, b);
  for (let i = x.length - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let k = i + 1; k < x.length; k++) sum -= lower[k]![i]! * x[k]!;
    x[i] = sum / lower[i]![i]!;
  }
  return x;
}
