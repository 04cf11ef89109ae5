/**
 * The nonnegative combination of columns that comes nearest to a target in the sense of least squares, after Lawson, Hanson (1974),
 * cited from memory: columns come in one at a time, the one that promises most first, and go out where they would turn negative.
 *
 * @param columns real columns of one length each, in the unit of the target
 * @param target what they shall add up to
 * @param most how many columns may be used at once, dimensionless
 * @returns a coefficient for each column, 0 or more, dimensionless
 */
export function nonnegativeFit(columns: readonly Float64Array[], target: Float64Array, most: number): Float64Array {
  const n = columns.length;
  const x = new Float64Array(n);
  const sizes = columns.map((column) => Math.sqrt(dot(column, column)));
  const whole = Math.sqrt(dot(target, target));
  let used: number[] = [];
  let rest = Float64Array.from(target);
  const barred = new Set<number>();
  for (let round = 0; round < 4 * most && used.length < most; round++) {
    const promise = (i: number): number => dot(columns[i]!, rest) / sizes[i]!;
    let best = -1;
    let largest = 1e-12 * whole;
    for (let i = 0; i < n; i++) {
      if (x[i]! > 0 || barred.has(i) || !(sizes[i]! > 0)) continue;
      const value = promise(i);
      if (value > largest) [best, largest] = [i, value];
    }
    if (best < 0) break;
    const before = dot(rest, rest);
    const solved = settle(columns, sizes, target, [...used, best], x);
    if (!solved.includes(best)) barred.add(best);
    used = solved;
    rest = Float64Array.from(target, (value, row) => used.reduce((sum, i) => sum - columns[i]![row]! * x[i]!, value));
    if (dot(rest, rest) <= 1e-20 * whole * whole) break;
    if (dot(rest, rest) > before * (1 - 1e-9)) barred.add(best);
  }
  return x;
}

/** The best coefficients of the columns wanted, written to `x`; columns that would turn negative are left out. Returns those that stay. */
function settle(
  columns: readonly Float64Array[],
  sizes: readonly number[],
  target: Float64Array,
  wanted: readonly number[],
  x: Float64Array,
): number[] {
  let used = [...wanted];
  for (;;) {
    const z = solve(
      used.map((i) => used.map((j) => dot(columns[i]!, columns[j]!) / (sizes[i]! * sizes[j]!))),
      used.map((i) => dot(columns[i]!, target) / sizes[i]!),
    );
    const next = z.map((value, at) => value / sizes[used[at]!]!);
    if (next.every((value) => value > 0)) {
      used.forEach((i, at) => (x[i] = next[at]!));
      return used;
    }
    // As far towards the new coefficients as all stay at 0 or above.
    let step = 1;
    next.forEach((value, at) => {
      const now = x[used[at]!]!;
      if (value <= 0) step = Math.min(step, now / (now - value));
    });
    used.forEach((i, at) => (x[i] = x[i]! + step * (next[at]! - x[i]!)));
    const leaving = used.filter((i, at) => next[at]! <= 0 && x[i]! <= 1e-14 * Math.abs(next[at]!) + Number.MIN_VALUE);
    const out = leaving.length > 0 ? leaving : [used[next.indexOf(Math.min(...next))]!];
    for (const i of out) x[i] = 0;
    used = used.filter((i) => !out.includes(i));
  }
}

/** Gaussian elimination of a symmetric matrix with ones on its diagonal; a trace is added to it, for columns that are nearly alike. */
function solve(matrix: number[][], right: number[]): number[] {
  const n = right.length;
  for (let i = 0; i < n; i++) matrix[i]![i]! += 1e-13;
  for (let i = 0; i < n; i++) {
    const pivot = Math.max(matrix[i]![i]!, 1e-15);
    for (let j = i + 1; j < n; j++) {
      const factor = matrix[j]![i]! / pivot;
      for (let k = i; k < n; k++) matrix[j]![k]! -= factor * matrix[i]![k]!;
      right[j]! -= factor * right[i]!;
    }
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) right[i]! -= matrix[i]![k]! * right[k]!;
    right[i]! /= Math.max(matrix[i]![i]!, 1e-15);
  }
  return right;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
