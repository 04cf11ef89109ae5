/** Cholesky's factor of a symmetric n×n matrix (row-major), lower triangle; undefined when the matrix is not positive definite. */
function choleskyFactor(matrix: Float64Array, n: number): Float64Array | undefined {
  const l = Float64Array.from(matrix);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = l[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!;
      if (i !== j) l[i * n + j] = sum / l[j * n + j]!;
      else if (sum > 0) l[i * n + i] = Math.sqrt(sum);
      else return undefined;
    }
  }
  return l;
}

/** Whether a symmetric n×n matrix (row-major) is positive definite. */
export function isPositiveDefinite(matrix: Float64Array, n: number): boolean {
  return choleskyFactor(matrix, n) !== undefined;
}

/**
 * How much of the least independent coil's flux is its own: the smallest 1/(A⁻¹)ᵢᵢ of a matrix of coupling factors, which is
 * 1 − k² for a pair; 0 when the matrix is not positive definite.
 */
export function leastIndependence(factors: Float64Array, n: number): number {
  const l = choleskyFactor(factors, n);
  if (l === undefined) return 0;
  let largest = 0;
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    // Column j of L⁻¹; the sum of its squares is (A⁻¹)ⱼⱼ.
    let sum = 0;
    for (let i = j; i < n; i++) {
      let value = i === j ? 1 : 0;
      for (let k = j; k < i; k++) value -= l[i * n + k]! * column[k]!;
      column[i] = value / l[i * n + i]!;
      sum += column[i]! ** 2;
    }
    largest = Math.max(largest, sum);
  }
  return 1 / largest;
}
