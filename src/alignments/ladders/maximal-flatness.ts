import { overPrecise, timesPrecise, type Precise, multiplyPolynomials, type PrecisePolynomial } from "../../numeric/internal";

/** A polynomial of a function whose power is flat at zero frequency as it was meant to be. */
export interface FlatFunction {
  /** D(s), lowest power first. */
  readonly denominator: Precise[];
  /** D(s)·D(−s) in powers of x = s². */
  readonly squared: Precise[];
  /** How many coefficients of `squared` after the constant are exactly 0. */
  readonly flat: number;
}

/**
 * Poles arrive as doubles, so that a maximally flat function has remains of rounding where |D|² should have zeros: in the coefficients that
 * directly follow the constant. They are removed from D itself, by the least relative change of its coefficients (Newton's
 * method), so that everything derived from D stays of one function: setting them to zero in |D|² alone leaves a numerator of the
 * reflection that belongs to another denominator, and the continued fraction of order 20 magnifies that by eleven decades.
 */
export function flattened(given: PrecisePolynomial): FlatFunction {
  const sizes = multiplyPolynomials(given, given).filter((_, power) => power % 2 === 0);
  let denominator = [...given];
  let squared = inSquares(denominator);
  let flat = 0;
  while (flat + 2 < squared.length && sizeOf(squared[flat + 1]!) <= sizes[flat + 1]! >> 45n) flat++;
  // The error is squared at each step: from 2⁻⁴⁵ of the coefficients to below the last place in three or four.
  const rounds = flat === 0 ? 0 : 6;
  for (let round = 0; round < rounds; round++) {
    const rest = sizes.slice(1, flat + 1).map((size, j) => overPrecise(squared[j + 1]!, size));
    if (rest.every((value) => sizeOf(value) < 1n << 40n)) break;
    denominator = corrected(denominator, sizes, rest);
    squared = inSquares(denominator);
  }
  squared.fill(0n, 1, flat + 1);
  return { denominator, squared, flat };
}

/** D(s)·D(−s) as a polynomial in x = s². */
function inSquares(denominator: PrecisePolynomial): Precise[] {
  const mirrored = denominator.map((value, power) => (power % 2 === 0 ? value : -value));
  return multiplyPolynomials(denominator, mirrored).filter((_, power) => power % 2 === 0);
}

/** One step: the relative changes δ of the coefficients with Jδ = −rest whose squares have the least sum, δ = −Jᵀ(JJᵀ)⁻¹ rest. */
function corrected(denominator: PrecisePolynomial, sizes: readonly Precise[], rest: readonly Precise[]): Precise[] {
  // ∂(coefficient of xʲ)/∂dᵢ · dᵢ = 2(−1)ⁱ dᵢ d₂ⱼ₋ᵢ
  const jacobian = rest.map((_, row) => {
    const j = row + 1;
    const last = denominator.length - 1;
    // D stays monic.
    return denominator.map((value, i) =>
      i === last ? 0n : overPrecise((i % 2 === 0 ? 2n : -2n) * timesPrecise(value, denominator[2 * j - i] ?? 0n), sizes[j]!),
    );
  });
  const dot = (a: readonly Precise[], b: readonly Precise[]): Precise => a.reduce((sum, value, i) => sum + timesPrecise(value, b[i]!), 0n);
  const weights = solved(jacobian.map((row, k) => [...jacobian.map((other) => dot(row, other)), rest[k]!]));
  return denominator.map(
    (value, i) =>
      value
      - timesPrecise(
        value,
        jacobian.reduce((sum, row, k) => sum + timesPrecise(row[i]!, weights[k]!), 0n),
      ),
  );
}

/** The solution of a positive definite system, given with its right side as last column, by elimination. */
function solved(rows: Precise[][]): Precise[] {
  const n = rows.length;
  for (let k = 0; k < n; k++) {
    for (let i = k + 1; i < n; i++) {
      if (rows[k]![k] === 0n) continue;
      const factor = overPrecise(rows[i]![k]!, rows[k]![k]!);
      for (let j = k; j <= n; j++) rows[i]![j]! -= timesPrecise(factor, rows[k]![j]!);
    }
  }
  const x = new Array<Precise>(n).fill(0n);
  for (let k = n - 1; k >= 0; k--) {
    const rest = rows[k]!.slice(k + 1, n).reduce((sum, value, i) => sum - timesPrecise(value, x[k + 1 + i]!), rows[k]![n]!);
    x[k] = rows[k]![k] === 0n ? 0n : overPrecise(rest, rows[k]![k]!);
  }
  return x;
}

function sizeOf(value: Precise): Precise {
  return value < 0n ? -value : value;
}
