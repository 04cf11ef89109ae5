import { checkNumber } from "../../errors/internal";
import type { TransferFunction } from "../../response";
import { checkFilter } from "./check-filter";
import { fromPrecise, timesPrecise, toPrecise, polynomialFromRoots, toPreciseRoots } from "../../numeric/internal";

/**
 * Numerator and denominator of a transfer function as polynomials in s (the coefficient of $s^k$ in $(\mathrm{s/rad})^k$
 * up to a common factor), multiplied out in extended precision.
 *
 * @param filter zeros and poles in rad/s, complex ones in conjugate pairs, and gain
 * @returns `numerator` (with the gain in it) and `denominator` (monic), highest power first, as polynomials are printed
 * @throws DividingNetworkError `invalid-transfer-function`, `invalid-argument`
 * @example
 * ```ts
 * import { linkwitzRiley, polynomialsOf } from "dividing-network/alignments";
 *
 * polynomialsOf(linkwitzRiley(4)).denominator; // [1, 2.8284, 4, 2.8284, 1]
 * ```
 */
export function polynomialsOf(filter: TransferFunction): {
  readonly numerator: readonly number[];
  readonly denominator: readonly number[];
} {
  const { zeros, poles, gain } = checkFilter("polynomialsOf", "filter", filter);
  const factor = toPrecise(gain);
  const numerator = polynomialFromRoots(toPreciseRoots(zeros)).map((value) => fromPrecise(timesPrecise(value, factor)));
  const denominator = polynomialFromRoots(toPreciseRoots(poles)).map(fromPrecise);
  [...numerator, ...denominator].forEach((value) => checkNumber("polynomialsOf", "every coefficient", value));
  return Object.freeze({ numerator: Object.freeze(numerator.reverse()), denominator: Object.freeze(denominator.reverse()) });
}
