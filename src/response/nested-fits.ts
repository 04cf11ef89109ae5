/** Least squares with one, two, … columns of a matrix, from one factorization. */
export interface NestedFits {
  /** Sum of the squared residuals with the first k columns, k = 0 for none. */
  readonly squares: Float64Array;
  /** The coefficients of the first k columns. */
  readonly coefficients: (k: number) => Float64Array;
  /** Length of that combination of the first k coefficients, in standard errors of a residual of 1. */
  readonly errorOf: (combination: Float64Array, k: number) => number;
}

/**
 * Fits `target` by the columns, m numbers each, by modified Gram–Schmidt with the target deflated along with them (as accurate as
 * Householder's reflections: Björck 1967). Overwrites both.
 */
export function nestedFits(columns: readonly Float64Array[], target: Float64Array): NestedFits {
  const n = columns.length;
  const upper = columns.map(() => new Float64Array(n));
  const right = new Float64Array(n);
  const squares = new Float64Array(n + 1);
  squares[0] = dot(target, target);
  for (let k = 0; k < n; k++) {
    const column = columns[k]!;
    const length = Math.sqrt(dot(column, column));
    upper[k]![k] = length;
    for (let i = 0; i < column.length; i++) column[i]! /= length;
    for (let j = k + 1; j < n; j++) upper[k]![j] = deflate(columns[j]!, column);
    right[k] = deflate(target, column);
    squares[k + 1] = dot(target, target);
  }
  return {
    squares,
    coefficients: (k) => {
      const out = right.slice(0, k);
      for (let i = k - 1; i >= 0; i--) {
        for (let j = i + 1; j < k; j++) out[i]! -= upper[i]![j]! * out[j]!;
        out[i]! /= upper[i]![i]!;
      }
      return out;
    },
    errorOf: (combination, k) => {
      const out = combination.slice(0, k);
      for (let i = 0; i < k; i++) {
        for (let j = 0; j < i; j++) out[i]! -= upper[j]![i]! * out[j]!;
        out[i]! /= upper[i]![i]!;
      }
      return Math.sqrt(dot(out, out));
    },
  };
}

/** Takes the unit vector's share off a vector and gives how much it was. */
function deflate(vector: Float64Array, unit: Float64Array): number {
  const share = dot(vector, unit);
  for (let i = 0; i < vector.length; i++) vector[i]! -= share * unit[i]!;
  return share;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
