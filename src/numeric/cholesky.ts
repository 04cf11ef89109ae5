/**
 * Cholesky's factor of a symmetric n × n matrix (by rows), its lower triangle; undefined when the matrix is not positive definite: when
 * the square of an entry of the diagonal doesn't exceed `least`.
 */
export function choleskyFactor(matrix: Float64Array, n: number, least = 0): Float64Array | undefined {
  const l = Float64Array.from(matrix);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = l[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!;
      if (i !== j) l[i * n + j] = sum / l[j * n + j]!;
      else if (sum > least) l[i * n + i] = Math.sqrt(sum);
      else return undefined;
    }
  }
  return l;
}

/** Solves L·Lᵀ·x = right, in place. */
export function choleskySolve(l: Float64Array, right: Float64Array): void {
  const n = right.length;
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) right[i]! -= l[i * n + k]! * right[k]!;
    right[i]! /= l[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) right[i]! -= l[k * n + i]! * right[k]!;
    right[i]! /= l[i * n + i]!;
  }
}
