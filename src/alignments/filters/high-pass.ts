import { DividingNetworkError } from "../../errors";
import type { Frequency } from "../../quantity";
import type { ComplexParts, TransferFunction } from "../../response";
import { checkFilter, checkFrequency } from "./check-filter";
import { makeScaled, refuseScaled, type Filter, type PrototypeFunction } from "./filter";

/**
 * The high-pass filter (dimensionless, V per V) of a prototype: $s \to \omega_0/s$, the mirror image of `lowPass` on a
 * logarithmic frequency axis.
 *
 * @param prototype a low-pass function at ω = 1 rad/s without poles at zero: from `butterworth` and the like
 * @param corner Hz as a number, or text: `"2.5 kHz"`; 1 mHz to 1 MHz
 * @returns zeros, poles (rad/s) and gain of the filter
 * @throws DividingNetworkError `already-scaled` for a filter in place of a prototype; `invalid-argument`, `invalid-quantity`,
 *   `invalid-transfer-function`
 * @example
 * ```ts
 * import { butterworth, highPass } from "dividing-network/alignments";
 * import { levelDb, responseOf } from "dividing-network/response";
 *
 * levelDb(responseOf(highPass(butterworth(2), "1 kHz"), [500, 1000])); // [-12.3045, -3.0103]
 * ```
 */
export function highPass(prototype: PrototypeFunction, corner: Frequency): Filter {
  refuseScaled("highPass", "prototype", prototype);
  const { zeros, poles, gain } = checkFilter("highPass", "prototype", prototype);
  const w = 2 * Math.PI * checkFrequency("highPass", "corner", corner);
  const isZero = ({ re, im }: ComplexParts): boolean => re === 0 && im === 0;
  if (poles.some(isZero)) {
    throw new DividingNetworkError(
      "invalid-transfer-function",
      'highPass: "prototype.poles" must not lie at 0 rad/s, where a high-pass would need one at infinity',
      "Give a low-pass function, such as butterworth makes",
    );
  }
  const finite = zeros.filter((zero) => !isZero(zero));
  // A zero at 0 moves to infinity, where it cancels one of those that the poles bring to 0.
  const atZero = poles.length - finite.length - (zeros.length - finite.length);
  const level = gain * w ** (zeros.length - finite.length) * ratioOfProducts(finite, poles);
  return makeScaled(
    [...finite.map((zero) => mirrored(zero, w)), ...new Array<ComplexParts>(atZero).fill({ re: 0, im: 0 })],
    poles.map((pole) => mirrored(pole, w)),
    level,
  );
}

/** ω/z */
function mirrored({ re, im }: ComplexParts, w: number): ComplexParts {
  const size = re * re + im * im;
  return { re: (w * re) / size, im: im === 0 ? 0 : (-w * im) / size };
}

/** ∏(−z)/∏(−p), real for conjugate pairs. */
function ratioOfProducts(zeros: TransferFunction["zeros"], poles: TransferFunction["poles"]): number {
  const product = (list: readonly ComplexParts[]) =>
    list.reduce((value, { re, im }) => (im < 0 ? value : value * (im === 0 ? -re : re * re + im * im)), 1);
  return product(zeros) / product(poles);
}
