import { choleskyFactor } from "../numeric/internal";

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
