/** Whether a symmetric n×n matrix (row-major) is positive definite, by Cholesky's factorisation. */
export function isPositiveDefinite(matrix: Float64Array, n: number): boolean {
  const l = Float64Array.from(matrix);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = l[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!;
      if (i !== j) l[i * n + j] = sum / l[j * n + j]!;
      else if (sum > 0) l[i * n + i] = Math.sqrt(sum);
      else return false;
    }
  }
  return true;
}
