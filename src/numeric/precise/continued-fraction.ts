import { fromPrecise, overPrecise, timesPrecise, type Precise } from "./precise";
import type { PrecisePolynomial } from "./precise-polynomial";

/** One coefficient of a continued fraction, a/b, by its two parts. */
export interface Quotient {
  readonly a: number;
  readonly b: number;
  /** The two polynomials before the division, lowest power first. */
  readonly top: readonly number[];
  readonly bottom: readonly number[];
}

/** The coefficients of the powers of one parity, the others zero; lowest power first. */
export function parityPart(polynomial: PrecisePolynomial, odd: boolean): Precise[] {
  return polynomial.map((value, power) => ((power % 2 === 1) === odd ? value : 0n));
}

/**
 * Expands high/low = q₁s + 1/(q₂s + 1/(q₃s + …)) for `count` terms, as Cauer did: high and low hold the even or the odd
 * powers only, and the degree of high is one above that of low.
 *
 * @returns the coefficients, and the two polynomials that are left
 */
export function expandAtInfinity(
  high: PrecisePolynomial,
  low: PrecisePolynomial,
  count: number,
): { quotients: Quotient[]; high: Precise[]; low: Precise[] } {
  const quotients: Quotient[] = [];
  let degree = high.length - 1;
  let [top, bottom] = [[...high], [...low]];
  for (let step = 0; step < count; step++, degree--) {
    const [a, b] = [top[degree]!, bottom[degree - 1]!];
    if (b === 0n) break;
    quotients.push({
      a: fromPrecise(a),
      b: fromPrecise(b),
      top: top.slice(0, degree + 1).map(fromPrecise),
      bottom: bottom.slice(0, degree).map(fromPrecise),
    });
    const q = overPrecise(a, b);
    const rest = top.map((value, power) => (power >= degree ? 0n : value - timesPrecise(q, bottom[power - 1] ?? 0n)));
    [top, bottom] = [bottom, rest];
  }
  return { quotients, high: top, low: bottom };
}
