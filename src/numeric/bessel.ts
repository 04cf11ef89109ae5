import { checkNumber } from "../errors/internal";

/**
 * Bessel function of the first kind and order 0, dimensionless. Below 25 by downward recurrence (Miller), normalised by
 * $J_0 + 2\sum J_{2m} = 1$; above by Hankel's asymptotic series to its smallest term. Absolute error below 1e-15 for |x| up to
 * 1e4, then growing with the rounding of x itself.
 *
 * @param x any finite number, dimensionless
 * @returns $J_0(x)$, dimensionless
 * @throws DividingNetworkError when x is not a finite number
 * @example
 * ```ts
 * import { besselJ0 } from "dividing-network/numeric";
 *
 * besselJ0(1); // 0.7651976866
 * ```
 */
export function besselJ0(x: number): number {
  const size = Math.abs(checkNumber("besselJ0", "x", x));
  return size < 25 ? recurrence(size, 0) : hankel(size, 0).j;
}

/**
 * Bessel function of the first kind and order 1, dimensionless, computed like `besselJ0`; odd in x, and right to about 1e-15 of
 * its own value near 0, so that $2J_1(x)/x$ is safe.
 *
 * @param x any finite number, dimensionless
 * @returns $J_1(x)$, dimensionless
 * @throws DividingNetworkError when x is not a finite number
 * @example
 * ```ts
 * import { besselJ1 } from "dividing-network/numeric";
 *
 * besselJ1(2); // 0.5767248078
 * ```
 */
export function besselJ1(x: number): number {
  const size = Math.abs(checkNumber("besselJ1", "x", x));
  const value = size < 25 ? recurrence(size, 1) : hankel(size, 1).j;
  return x < 0 ? -value : value;
}

function recurrence(x: number, order: 0 | 1): number {
  if (x < 0.5) return series(x, order);
  let above = 0;
  let value = 1e-300;
  let sum = 0;
  let first = 0;
  for (let n = 2 * Math.ceil(0.75 * x + 15); n > 0; n--) {
    // Here `value` is proportional to J of order n.
    if (n % 2 === 0) sum += 2 * value;
    if (n === 1) first = value;
    const below = ((2 * n) / x) * value - above;
    above = value;
    value = below;
  }
  return (order === 0 ? value : first) / (sum + value);
}

/** The power series, for small x. */
function series(x: number, order: 0 | 1): number {
  const quarter = (x * x) / 4;
  let term = 1;
  let sum = 1;
  for (let m = 1; m <= 8; m++) {
    term *= -quarter / (m * (m + order));
    sum += term;
  }
  return order === 0 ? sum : (sum * x) / 2;
}

/** J and Y of order 0 or 1 for x ≥ 25 by Hankel's series, whose smallest term is then far below rounding. */
export function hankel(x: number, order: 0 | 1): { j: number; y: number } {
  let p = 1;
  let q = 0;
  let term = 1;
  for (let m = 1; m <= 40; m++) {
    term *= (4 * order - (2 * m - 1) ** 2) / (m * 8 * x);
    if (Math.abs(term) < 1e-18) break;
    // The terms run P, Q, −P, −Q, …
    if (m % 4 === 1) q += term;
    else if (m % 4 === 2) p -= term;
    else if (m % 4 === 3) q -= term;
    else p += term;
  }
  // cos and sin of x − (2·order + 1)π/4 from those of x, which are right for large x where the difference would round.
  const cos = order === 0 ? Math.cos(x) + Math.sin(x) : Math.sin(x) - Math.cos(x);
  const sin = order === 0 ? Math.sin(x) - Math.cos(x) : -Math.sin(x) - Math.cos(x);
  const scale = 1 / Math.sqrt(Math.PI * x);
  return { j: scale * (p * cos - q * sin), y: scale * (p * sin + q * cos) };
}
