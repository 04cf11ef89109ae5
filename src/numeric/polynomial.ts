import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/** A root of a real polynomial. */
export interface Root {
  /** Real part. */
  readonly re: number;
  /** Imaginary part. */
  readonly im: number;
}

/**
 * The roots (in the unit of the variable) of a polynomial with real coefficients: eigenvalues of the companion matrix,
 * each polished by Newton's method. Complex roots come as exact conjugate pairs, the one with the positive imaginary part first.
 *
 * @param coefficients highest power first, as polynomials are printed; length degree + 1, finite, not all zero
 * @returns the roots with their multiplicity, as many as the degree
 * @throws DividingNetworkError `invalid-argument`
 * @remarks An m-fold root is found to about the m-th root of the machine precision, as the coefficients determine it no better.
 * @example
 * ```ts
 * import { polynomialRoots } from "dividing-network/numeric";
 *
 * polynomialRoots([1, 2, 5]); // [{ re: -1, im: 2 }, { re: -1, im: -2 }]
 * ```
 */
export function polynomialRoots(coefficients: ArrayLike<number>): readonly Root[] {
  const given: unknown = coefficients;
  if (!Array.isArray(given) && !ArrayBuffer.isView(given))
    throw new DividingNetworkError(
      "invalid-argument",
      `polynomialRoots: "coefficients" must be an array of numbers, got ${show(coefficients)}`,
    );
  const all = coefficients.length > 201 ? [] : Array.from(coefficients);
  const bad = all.findIndex((value) => !Number.isFinite(value));
  const first = all.findIndex((value) => value !== 0);
  if (first < 0 || bad >= 0) {
    throw new DividingNetworkError(
      "invalid-argument",
      `polynomialRoots: "coefficients" must be at most 201 finite numbers that are not all zero, got ${show(bad >= 0 ? all[bad] : coefficients)}`,
    );
  }
  const last = all.length - 1 - [...all].reverse().findIndex((value) => value !== 0);
  const roots: Root[] = Array.from({ length: all.length - 1 - last }, () => ({ re: 0, im: 0 }));
  const rest = all.slice(first, last + 1);
  const n = rest.length - 1;
  if (n === 0) return roots;
  // The variable is scaled by a power of two near the roots' geometric mean: the companion matrix is then balanced, without rounding.
  const power = Math.round((Math.log2(Math.abs(rest[n]!)) - Math.log2(Math.abs(rest[0]!))) / n);
  const scale = 2 ** power;
  const monic = rest.map((value, k) => {
    const half = Math.trunc((power * k) / 2);
    return ((value * 2 ** -half) / rest[0]!) * 2 ** (half - power * k);
  });
  if (!monic.every(Number.isFinite)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `polynomialRoots: "coefficients" must span a smaller range, got ${show(coefficients)} from ${rest[0]} to ${rest[n]}`,
    );
  }
  for (const root of eigenvalues(monic)) roots.push(...polished(root, monic).map(({ re, im }) => ({ re: re * scale, im: im * scale })));
  return roots;
}

/** Eigenvalues of the companion matrix; of a conjugate pair the upper one only. */
function eigenvalues(monic: readonly number[]): Root[] {
  const n = monic.length - 1;
  const companion = Matrix.zeros(n, n);
  for (let k = 0; k < n; k++) companion.set(0, k, -monic[k + 1]!);
  for (let k = 1; k < n; k++) companion.set(k, k - 1, 1);
  balance(companion);
  const { realEigenvalues: re, imaginaryEigenvalues: im } = new EigenvalueDecomposition(companion, { assumeSymmetric: false });
  return re.map((value, k) => ({ re: value, im: im[k]! })).filter((root) => root.im >= 0);
}

/**
 * Scales rows and columns by powers of two until their sums agree to a factor of two (after Parlett and Reinsch, 1969), without which roots of very
 * different sizes would drown in rounding.
 */
function balance(matrix: Matrix): void {
  const n = matrix.rows;
  let changed = true;
  for (let round = 0; changed && round < 200; round++) {
    changed = false;
    for (let i = 0; i < n; i++) {
      let [row, column] = [0, 0];
      for (let k = 0; k < n; k++) {
        if (k === i) continue;
        row += Math.abs(matrix.get(i, k));
        column += Math.abs(matrix.get(k, i));
      }
      if (row === 0 || column === 0) continue;
      const power = Math.round(Math.log2(row / column) / 2);
      if (power === 0) continue;
      changed = true;
      for (let k = 0; k < n; k++) {
        matrix.set(i, k, matrix.get(i, k) * 2 ** -power);
        matrix.set(k, i, matrix.get(k, i) * 2 ** power);
      }
    }
  }
}

/** Newton's method from a good start, kept only while the residual falls; returns the root, and its conjugate if complex. */
function polished(start: Root, monic: readonly number[]): Root[] {
  let [x, y] = [start.re, start.im];
  let [pr, pi, dr, di] = valueAndSlope(monic, x, y);
  for (let step = 0; step < 20; step++) {
    const size = dr * dr + di * di;
    if (size === 0) break;
    const nx = x - (pr * dr + pi * di) / size;
    const ny = start.im === 0 ? 0 : y - (pi * dr - pr * di) / size;
    const next = valueAndSlope(monic, nx, ny);
    if (!(Math.hypot(next[0], next[1]) < Math.hypot(pr, pi))) break;
    [x, y, pr, pi, dr, di] = [nx, ny, ...next];
  }
  return y === 0 || start.im === 0
    ? [{ re: x, im: 0 }]
    : [
        { re: x, im: Math.abs(y) },
        { re: x, im: -Math.abs(y) },
      ];
}

function valueAndSlope(monic: readonly number[], x: number, y: number): [number, number, number, number] {
  let [pr, pi, dr, di] = [0, 0, 0, 0];
  for (const value of monic) {
    [dr, di] = [dr * x - di * y + pr, dr * y + di * x + pi];
    [pr, pi] = [pr * x - pi * y + value, pr * y + pi * x];
  }
  return [pr, pi, dr, di];
}
