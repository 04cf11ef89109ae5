import { DividingNetworkError } from "../../errors";
import { checkNumber } from "../../errors/internal";
import { polynomialRoots } from "../../numeric";
import type { TransferFunction } from "../../response";
import { checkFilter, makeFilter } from "../filters/check-filter";
import { isScaled, makeScaled } from "../filters/filter";
import { fromPrecise, timesPrecise, toPrecise, multiplyPolynomials, polynomialFromRoots, toPreciseRoots } from "../../numeric/internal";

/**
 * What a constant-voltage (subtractive) crossover needs beside a given way: $1 - H(s)$ (dimensionless), so that both
 * sum to exactly 1. The derived way falls by 6 dB per octave only near a low-pass or high-pass with $H \to 1$ at one
 * end. After Small (1971).
 *
 * @param filter zeros and poles in rad/s, complex ones in conjugate pairs, and gain; as many poles as zeros or more
 * @returns zeros, poles (rad/s) and gain of 1 − H
 * @throws DividingNetworkError `invalid-transfer-function`; `invalid-argument` when H is 1 everywhere
 * @example
 * ```ts
 * import { butterworth, highPass, subtractive } from "dividing-network/alignments";
 * import { levelDb, responseOf } from "dividing-network/response";
 *
 * const high = highPass(butterworth(2), 1000);
 * levelDb(responseOf(subtractive(high), [1000])); // [1.760913]
 * ```
 */
export function subtractive(filter: TransferFunction): TransferFunction {
  const { zeros, poles, gain } = checkFilter("subtractive", "filter", filter);
  const numerator = polynomialFromRoots(toPreciseRoots(zeros)).map((value) => timesPrecise(value, toPrecise(gain)));
  const denominator = polynomialFromRoots(toPreciseRoots(poles));
  const difference = denominator.map((value, power) => {
    const other = numerator[power] ?? 0n;
    // The gain is a rounded number: where both coefficients agree to rounding, they are meant to cancel.
    const [rest, size] = [value - other, value < 0n ? -value : value];
    return (rest < 0n ? -rest : rest) <= size >> 46n ? 0n : rest;
  });
  while (difference.length > 1 && difference[difference.length - 1] === 0n) difference.pop();
  const leading = fromPrecise(difference[difference.length - 1]!);
  if (leading === 0) {
    throw new DividingNetworkError(
      "invalid-argument",
      'subtractive: "filter" must differ from 1, got a function that is 1 at every frequency',
    );
  }
  checkNumber("subtractive", "gain of the difference", leading);
  const roots = polynomialRoots(
    multiplyPolynomials(difference, [toPrecise(1 / leading)])
      .map(fromPrecise)
      .reverse(),
  );
  return isScaled(filter) ? makeScaled(roots, poles, leading) : makeFilter(roots, poles, leading);
}
