import { checkNumber } from "../errors/internal";

/** What the arithmetic–geometric mean of two numbers gives on its way. */
export interface AgmSums {
  /** The common limit, in the unit of a and b. */
  readonly mean: number;
  /** $\sum_{n\ge 1} c_n = a - \mathrm{agm}(a, b)$, without the cancellation, in the unit of a and b. */
  readonly fall: number;
  /** $\sum_{n\ge 1} 2^n c_n^2$, in the square of the unit of a and b. */
  readonly squares: number;
}

/**
 * The arithmetic–geometric mean of a ≥ b > 0, with the sums of its halved differences $c_{n+1} = (a_n - b_n)/2$. They are taken as
 * $c_{n+1} = c_n^2/(4a_{n+1})$ from $c_0^2 = a^2 - b^2$, which is given: every term is positive and nothing cancels. Complete elliptic integrals
 * are made of these: $K(m) = \pi/(2\,\mathrm{agm})$ and $E(m)/K(m) = 1 - m/2 - \sum_{n\ge1} 2^{n-1}c_n^2$ for a = 1, b² = 1 − m.
 *
 * @param a the larger number, dimensionless or in any unit
 * @param b the smaller number, above 0, in the same unit
 * @param difference a² − b², as exactly as the caller knows it, in that unit's square
 * @returns the mean and the sums, in that unit and its square
 * @throws DividingNetworkError `invalid-argument`
 */
export function agmSums(a: number, b: number, difference: number): AgmSums {
  checkNumber("agmSums", "a", a, { above: 0 });
  checkNumber("agmSums", "b", b, { above: 0, max: a });
  checkNumber("agmSums", "difference", difference, { min: 0 });
  let fall = 0;
  let squares = 0;
  let square = difference;
  for (let power = 2; power < 4096; power *= 2) {
    const mean = (a + b) / 2;
    const c = square / (4 * mean);
    b = Math.sqrt(a * b);
    a = mean;
    square = c * c;
    fall += c;
    squares += power * square;
    if (c <= 1e-9 * mean) break;
  }
  // The next c counts beside a first one that is small itself; those after it are below rounding.
  return { mean: (a + b) / 2, fall: fall + square / (4 * a), squares };
}
