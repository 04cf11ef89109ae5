/**
 * Eigenvalues and orthonormal eigenvectors of a small symmetric matrix by Jacobi's rotations, which keep small eigenvalues beside large
 * ones. `vectors[k]` belongs to `values[k]`; in no order.
 */
export function symmetricEigen(matrix: readonly ArrayLike<number>[]): {
  readonly values: Float64Array;
  readonly vectors: readonly Float64Array[];
} {
  const n = matrix.length;
  const a = matrix.map((row) => Float64Array.from(row));
  const vectors = a.map((_row, i) => Float64Array.from(a, (_value, j) => (i === j ? 1 : 0)));
  // Each sweep at least squares what is left beside the diagonal; a handful empties it.
  for (let sweep = 0; sweep < 30; sweep++) {
    let turned = false;
    for (let p = 0; p < n; p++) {
      for (let q = p + 1; q < n; q++) {
        const off = a[p]![q]!;
        if (Math.abs(off) <= 1e-18 * Math.sqrt(Math.abs(a[p]![p]! * a[q]![q]!))) continue;
        turned = true;
        const theta = (a[q]![q]! - a[p]![p]!) / (2 * off);
        const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.hypot(theta, 1));
        const c = 1 / Math.hypot(t, 1);
        const s = t * c;
        for (const row of a) [row[p], row[q]] = [c * row[p]! - s * row[q]!, s * row[p]! + c * row[q]!];
        turn(a[p]!, a[q]!, c, s);
        [a[p]![q], a[q]![p]] = [0, 0];
        turn(vectors[p]!, vectors[q]!, c, s);
      }
    }
    if (!turned) break;
  }
  return { values: Float64Array.from(a, (row, i) => row[i]!), vectors };
}

function turn(one: Float64Array, other: Float64Array, c: number, s: number): void {
  for (let k = 0; k < one.length; k++) [one[k], other[k]] = [c * one[k]! - s * other[k]!, s * one[k]! + c * other[k]!];
}
